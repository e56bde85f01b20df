//! One question, as a reader answers it.

use super::{LESSONS, each};
use crate::support::{lesson, node};
use plyline::ask::open_question::{Effect, Hint, How, Intent, OpenQuestion, update};
use plyline::ask::{Question, Verdict, Wish};
use plyline::lesson::{Attempt, Lesson, attempt_typed, replay};
use plyline::notation::Letters;
use shakmaty::Position;
use std::collections::BTreeSet;

/// A question with its reader.
struct Reader<'a> {
    lesson: &'a Lesson,
    question: Question,
    state: OpenQuestion,
}

impl<'a> Reader<'a> {
    fn new(lesson: &'a Lesson, wish: Wish) -> Reader<'a> {
        Reader::seeded(lesson, wish, 0)
    }

    fn seeded(lesson: &'a Lesson, wish: Wish, seed: u32) -> Reader<'a> {
        let question = Question::new(lesson, &wish, Letters::ENGLISH).expect("a question");
        let state = OpenQuestion::new(&question, seed);
        Reader {
            lesson,
            question,
            state,
        }
    }

    fn does(&mut self, intent: Intent) -> Vec<Effect> {
        update(self.lesson, &self.question, &mut self.state, intent)
    }

    /// Plays a move; the effects in words.
    fn plays(&mut self, word: &str) -> String {
        let position = self.state.position(self.lesson, &self.question);
        let attempt = attempt_typed(position, word, Letters::ENGLISH);
        self.told(Intent::Try(attempt))
    }

    /// Does something; the effects in words.
    fn told(&mut self, intent: Intent) -> String {
        let effects = self.does(intent);
        let words = effects.iter().map(|effect| match effect {
            Effect::Judged(verdict) => verdict.word().to_owned(),
            Effect::Replied => self.state.way.last().expect("a reply").san.clone(),
            Effect::Hinted => match self.state.hint.as_ref().expect("a hint") {
                Hint::Words(words) => words.text().to_owned(),
                Hint::Idea(idea) => format!("{idea:?}"),
                Hint::Piece(square) => format!("from {square}"),
                Hint::Square(square) => format!("to {square}"),
                Hint::Move(san) => format!("play {san}"),
            },
            Effect::Settled => match self.state.settled.expect("it is settled") {
                How::Answered => "answered".to_owned(),
                How::Shown => "shown".to_owned(),
            },
            Effect::Opened => "opened".to_owned(),
        });
        words.collect::<Vec<_>>().join(", ")
    }

    fn way(&self) -> String {
        let sans: Vec<&str> = self
            .state
            .way
            .iter()
            .map(|tried| tried.san.as_str())
            .collect();
        sans.join(" ")
    }
}

const TEXT: &str = "1. e4 e5 {Ask: How does White attack? Hint: at once. Because: it gains time.} \
                    2. Nf3 (2. f4?! exf4 3. Nf3) (2. Nc3) Nc6 3. Bb5 {x} *";

fn at(at: &str) -> Wish<'_> {
    Wish {
        at,
        ..Wish::default()
    }
}

#[test]
fn a_right_move_settles_and_another_leaves_the_question_open() {
    let lesson = lesson(TEXT);
    let mut reader = Reader::new(&lesson, at("1...e5"));
    assert_eq!(reader.plays("Nc3"), "fair");
    assert_eq!(reader.plays("f4"), "weaker");
    assert_eq!(reader.plays("h4"), "other");
    assert_eq!(reader.plays("Nh4"), "illegal");
    assert_eq!(reader.plays("hello"), "", "no move is no try");
    assert_eq!((reader.state.tries, reader.way().as_str()), (3, ""));
    assert_eq!(reader.plays("nf3"), "right, answered");
    assert_eq!((reader.state.tries, reader.way().as_str()), (4, "Nf3"));
    assert_eq!(reader.state.node, Some(node(&lesson, "1...e5 2.Nf3")));
    assert_eq!(reader.plays("Nc6"), "", "it is settled");
}

#[test]
fn hints_go_from_the_authors_words_to_the_piece_the_square_and_the_move() {
    let lesson = lesson(TEXT);
    let mut reader = Reader::new(&lesson, at("1...e5"));
    let hints: Vec<String> = (0..5).map(|_| reader.told(Intent::Hint)).collect();
    assert_eq!(hints, ["at once.", "from g1", "to f3", "play Nf3", ""]);
    assert_eq!((reader.state.hints, reader.state.tries), (4, 0));
    let mut reader = Reader::new(&lesson, at("1.e4"));
    assert_eq!(
        reader.told(Intent::Hint),
        "from e7",
        "nothing is said there"
    );
}

#[test]
fn the_answer_is_shown_on_request_and_the_question_begins_again_from_any_state() {
    let lesson = lesson(TEXT);
    let mut reader = Reader::new(
        &lesson,
        Wish {
            moves: "2",
            ..at("1...e5")
        },
    );
    reader.plays("h4");
    assert_eq!(reader.told(Intent::Show), "shown");
    assert_eq!(reader.way(), "Nf3 Nc6 Bb5");
    assert_eq!(reader.does(Intent::Show), [], "it is settled");
    assert_eq!(reader.told(Intent::Again), "opened");
    assert_eq!(
        (
            reader.way().as_str(),
            reader.state.tries,
            reader.state.settled
        ),
        ("", 0, None)
    );
    reader.plays("Nf3");
    reader.does(Intent::Again);
    assert_eq!((reader.way().as_str(), reader.state.rounds), ("", 2));
}

#[test]
fn moves_in_a_row_are_answered_by_the_page_and_end_where_the_lesson_does() {
    let lesson = lesson(TEXT);
    let mut reader = Reader::new(
        &lesson,
        Wish {
            moves: "5",
            ..at("1...e5")
        },
    );
    assert_eq!(reader.plays("Nf3"), "right, Nc6");
    assert_eq!(reader.plays("Bc4"), "other");
    assert_eq!(reader.way(), "Nf3 Nc6", "what is not right is taken back");
    assert_eq!(reader.plays("Bb5"), "right, answered");
}

#[test]
fn a_move_accepted_beside_the_lesson_settles() {
    let lesson = lesson(TEXT);
    let mut reader = Reader::new(
        &lesson,
        Wish {
            accept: "d4",
            moves: "3",
            ..at("1...e5")
        },
    );
    assert_eq!(
        reader.plays("Nf3"),
        "fair",
        "accepted moves replace the choices"
    );
    assert_eq!(reader.plays("d4"), "right, answered");
    assert_eq!(reader.state.node, None);
}

const ORDERS: &str =
    "1. d4 d5 2. Nf3 Nf6 3. Bf4 e6 {x} (3... g6 4. e3 Bg7 5. h3 {x}) 4. e3 c5 5. c3 {x} *";

#[test]
fn another_order_that_ends_in_the_position_asked_for_is_right() {
    let lesson = lesson(ORDERS);
    let mut reader = Reader::new(
        &lesson,
        Wish {
            moves: "3",
            ..at("1...d5")
        },
    );
    assert_eq!(reader.plays("Bf4"), "right, Nf6");
    assert_eq!(reader.state.node, None, "the lesson does not hold it");
    assert_eq!(reader.told(Intent::Hint), "from g1");
    assert_eq!(reader.plays("c3"), "other");
    assert_eq!(reader.plays("Nf3"), "right, e6");
    assert_eq!(
        reader.state.node,
        Some(node(&lesson, "3.Bf4 e6")),
        "home again"
    );
    assert_eq!(reader.plays("e3"), "right, answered");
    assert_eq!(reader.state.node, Some(node(&lesson, "e6 4.e3")));
}

#[test]
fn another_order_that_ends_elsewhere_is_not_right() {
    let lesson = lesson(ORDERS);
    let mut reader = Reader::new(
        &lesson,
        Wish {
            moves: "2",
            ..at("1...d5")
        },
    );
    assert_eq!(
        reader.plays("e3"),
        "other",
        "that is the third move, and two are asked for"
    );
    let mut reader = Reader::new(
        &lesson,
        Wish {
            moves: "3",
            ..at("1...d5")
        },
    );
    assert_eq!(reader.plays("e3"), "other", "it shuts the bishop in");
    let mut reader = Reader::new(&lesson, at("1...d5"));
    assert_eq!(reader.plays("Bf4"), "other", "one move has one order");
}

#[test]
fn another_order_in_which_the_reply_takes_what_it_should_not_is_not_right() {
    // Played at once, the knight does not take on d4 but is taken there.
    let lesson = lesson("1. Nf3 Nc6 2. a3 Nd4 3. Nxd4 {x} *");
    let two = Wish {
        moves: "2",
        ..at("1...Nc6")
    };
    let mut reader = Reader::new(&lesson, two);
    assert_eq!(reader.plays("Nd4"), "other");
    assert_eq!(reader.plays("a3"), "right, Nd4");
    assert_eq!(reader.plays("Nxd4"), "right, answered");
}

#[test]
fn the_answer_is_shown_from_another_order_too() {
    let lesson = lesson(ORDERS);
    let mut reader = Reader::new(
        &lesson,
        Wish {
            moves: "3",
            ..at("1...d5")
        },
    );
    reader.plays("Bf4");
    assert_eq!(reader.told(Intent::Show), "shown");
    assert_eq!(reader.way(), "Bf4 Nf6 Nf3 e6 e3");
    assert_eq!(reader.state.node, Some(node(&lesson, "e6 4.e3")));
}

#[test]
fn rounds_after_each_other_meet_all_replies() {
    let lesson = lesson(
        "1. e4 e5 (1... c5 2. Nf3 d6 (2... e6 3. d4 {x}) 3. d4 {x}) \
         2. Nf3 Nc6 (2... d6 3. d4 {x}) 3. Bb5 {x} *",
    );
    let mut met = BTreeSet::new();
    let mut reader = Reader::seeded(
        &lesson,
        Wish {
            moves: "3",
            ..Wish::default()
        },
        7,
    );
    for _ in 0..4 {
        while reader.state.settled.is_none() {
            let answers = reader.state.answers(&lesson, &reader.question);
            let san = answers.first().expect("a right move").san.to_owned();
            reader.plays(&san);
        }
        met.insert(reader.way());
        reader.does(Intent::Again);
    }
    let wanted = [
        "e4 c5 Nf3 d6 d4",
        "e4 c5 Nf3 e6 d4",
        "e4 e5 Nf3 Nc6 Bb5",
        "e4 e5 Nf3 d6 d4",
    ];
    assert_eq!(met.into_iter().collect::<Vec<_>>(), wanted);
}

#[test]
fn whoever_plays_the_answers_or_asks_for_them_comes_to_the_end_of_any_question() {
    let (mut asked, mut replied) = (0, 0);
    each(|lesson, chance| {
        for id in lesson.ids() {
            let at = &plyline::lesson::place::address::address(lesson, &super::place(id));
            let moves = &(1 + chance.below(8)).to_string();
            let wish = Wish {
                at,
                moves,
                ..Wish::default()
            };
            let Ok(question) = Question::new(lesson, &wish, Letters::ENGLISH) else {
                continue;
            };
            let mut state = OpenQuestion::new(&question, chance.below(9) as u32);
            for turn in 0..40 {
                let position = state.position(lesson, &question);
                let intent = match chance.below(12) {
                    0 => Intent::Hint,
                    1 if turn > 20 => Intent::Show,
                    2 => Intent::Try(attempt_typed(position, "Kd9", Letters::ENGLISH)),
                    3..=6 => match position.legal_moves().first() {
                        Some(&played) => {
                            Intent::Try(Attempt::Played(replay(position, played).expect("legal")))
                        }
                        None => Intent::Hint,
                    },
                    _ => match state.answers(lesson, &question).first() {
                        Some(answer) => Intent::Try(Attempt::Played(
                            replay(position, answer.played).expect("a right move is legal"),
                        )),
                        None => Intent::Show,
                    },
                };
                let mut next = state.clone();
                let effects = update(lesson, &question, &mut next, intent.clone());
                assert!(
                    next.way.len() >= state.way.len(),
                    "right moves stay on the board"
                );
                assert!(next.found() <= question.moves as usize);
                let right = effects
                    .iter()
                    .any(|it| matches!(it, Effect::Judged(Verdict::Right { .. })));
                let shown = intent == Intent::Show;
                assert_eq!(
                    next.way != state.way,
                    right || (shown && state.settled.is_none())
                );
                if state.settled.is_some() {
                    assert_eq!((&next, effects.len()), (&state, 0));
                }
                if let (Some(node), Some(tried)) = (next.node, next.way.last()) {
                    let name = plyline::lesson::rules::position_name;
                    assert_eq!(name(&lesson.node(node).position), name(&tried.position));
                }
                replied += effects
                    .iter()
                    .filter(|it| matches!(it, Effect::Replied))
                    .count();
                state = next;
            }
            update(lesson, &question, &mut state, Intent::Show);
            assert!(state.settled.is_some());
            asked += 1;
        }
    });
    assert!(
        asked > LESSONS && replied > 100,
        "{asked} asked, {replied} replies"
    );
}

#[test]
fn a_hint_for_castling_names_the_kings_squares() {
    let lesson = lesson("1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 Nf6 5. O-O {x} *");
    let mut reader = Reader::new(&lesson, at("4...Nf6"));
    assert_eq!(reader.told(Intent::Hint), "from e1");
    assert_eq!(reader.told(Intent::Hint), "to g1");
    assert_eq!(reader.plays("e1g1"), "right, answered");
}
