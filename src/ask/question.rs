//! A question: a position of a lesson, what is asked of it, and which moves answer it.

use super::question_error::{Fault, no_answer, place};
use super::verdict::{Answer, answers};
use crate::lesson::{Attempt, Lesson, NodeId, Tried, attempt_word, locate, unnumbered};
use crate::notation::Letters;
use crate::notation::comment::Ask;
use crate::notation::comment::passage::Passage;
use crate::text::limits;

/// A question that can be answered: it has at least one right move.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// The position asked about.
    pub node: NodeId,
    /// What is asked; may be empty.
    pub prompt: Passage,
    /// The author's help on request; empty if there is none.
    pub hint: Passage,
    /// Why the answer is right, in the author's words; empty if nothing is said.
    pub because: Passage,
    /// The moves that are right at the position in place of its choices; where there are none, its
    /// choices are.
    pub accepted: Vec<Tried>,
    /// How many moves are to be found in a row, from 1 to [`limits::QUESTION_MOVES`]. Where the
    /// lesson ends sooner, so does the question.
    pub moves: u32,
}

/// The place of a question that names none.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DefaultPosition {
    /// At the start of the lesson that it names.
    #[default]
    Start,
    /// At the end of the main line of its own lesson.
    End,
}

/// What an author writes to ask a question, as it is written.
#[derive(Clone, Copy, Debug, Default)]
pub struct Wish<'a> {
    /// The locator of the position; empty for that of `place`.
    pub at: &'a str,
    /// The place of the question without a locator.
    pub place: DefaultPosition,
    /// What is asked; where it is empty, what the comment at the position asks.
    pub prompt: &'a str,
    /// The moves that are right, between spaces, commas or `_`, with numbers or without; empty for
    /// the choices.
    pub accept: &'a str,
    /// How many moves are to be found in a row; empty for one.
    pub moves: &'a str,
}

impl<'a> Wish<'a> {
    /// The question of a lesson's own tags; without `At` it asks at the end of its main line.
    pub fn of_tags(lesson: &'a Lesson) -> Wish<'a> {
        let tag = |name| lesson.tag(name).unwrap_or_default();
        Wish {
            at: tag("At"),
            place: DefaultPosition::End,
            prompt: "",
            accept: tag("Accept"),
            moves: tag("Moves"),
        }
    }
}

impl Question {
    /// The question that a comment of the lesson asks at a node; none if none is asked.
    ///
    /// # Errors
    /// [`Fault::NoAnswer`], which the checker reports as P048.
    pub fn of_comment(lesson: &Lesson, node: NodeId) -> Option<Result<Question, Fault>> {
        lesson.get(node)?.ask()?;
        let question = Question::at(lesson, node, "");
        Some(question.with_answer(lesson))
    }

    /// The question that an author wants; accepted moves that are not English SAN are read with
    /// `letters`, those that the lesson is shown with.
    ///
    /// # Errors
    /// Where the position, the accepted moves or the number of moves cannot be read, or where
    /// nothing is right: each is a [`Fault`].
    pub fn new(lesson: &Lesson, wish: &Wish, letters: &Letters) -> Result<Question, Fault> {
        let node = match (wish.at.trim(), wish.place) {
            ("", DefaultPosition::Start) => 0,
            ("", DefaultPosition::End) => lesson.line_nodes(0).last().unwrap_or(0),
            (locator, _) => {
                locate(lesson, locator).map_err(|error| Fault::Place(locator.to_owned(), error))?
            }
        };
        let mut question = Question::at(lesson, node, wish.prompt.trim());
        question.moves = moves(wish.moves.trim())?;
        question.accepted = accepted(lesson, node, wish.accept, letters)?;
        question.with_answer(lesson)
    }

    /// A question with what the comment at its position says.
    fn at(lesson: &Lesson, node: NodeId, prompt: &str) -> Question {
        let ask = lesson.node(node).ask();
        let words = |part: Option<&Passage>| part.cloned().unwrap_or_default();
        Question {
            node,
            prompt: match prompt {
                "" => words(ask.map(|ask| &ask.prompt)),
                prompt => Passage::read(prompt),
            },
            hint: words(ask.and_then(Ask::hint)),
            because: words(ask.and_then(Ask::because)),
            accepted: Vec::new(),
            moves: 1,
        }
    }

    fn with_answer(self, lesson: &Lesson) -> Result<Question, Fault> {
        match self.answers(lesson).is_empty() {
            true => Err(no_answer(lesson, self.node)),
            false => Ok(self),
        }
    }

    /// The moves that are right at its position, at least one.
    pub fn answers<'a>(&'a self, lesson: &'a Lesson) -> Vec<Answer<'a>> {
        answers(lesson, self.node, &self.accepted)
    }

    /// The first of its right moves that a prompt names and so gives away.
    pub fn told<'a>(&'a self, lesson: &'a Lesson, prompt: &str) -> Option<Answer<'a>> {
        let mut answers = self.answers(lesson).into_iter();
        answers.find(|answer| names_move(prompt, answer.san))
    }
}

/// Whether a prompt has this move, in English SAN, for one of its words; check signs do not count.
pub fn names_move(prompt: &str, san: &str) -> bool {
    let bare = |word: &str| word.trim_end_matches(['+', '#']).len();
    let san = &san[..bare(san)];
    let mut words = prompt.split(|letter: char| {
        letter.is_whitespace() || matches!(letter, ',' | '.' | ';' | ':' | '?' | '!' | '(' | ')')
    });
    words.any(|word| word[..bare(word)] == *san)
}

fn moves(written: &str) -> Result<u32, Fault> {
    let most = limits::QUESTION_MOVES;
    match written.parse() {
        _ if written.is_empty() => Ok(1),
        Ok(moves) if (1..=most).contains(&moves) => Ok(moves),
        _ => Err(Fault::Moves(written.to_owned())),
    }
}

fn accepted(
    lesson: &Lesson,
    node: NodeId,
    written: &str,
    letters: &Letters,
) -> Result<Vec<Tried>, Fault> {
    let position = &lesson.node(node).position;
    let mut list: Vec<Tried> = Vec::new();
    let gap = |letter: char| letter.is_whitespace() || letter == ',' || letter == '_';
    for word in written.split(gap) {
        let bare = unnumbered(word).unwrap_or(word);
        if bare.is_empty() {
            continue; // a number alone, as in `5. Nf3`
        }
        let fault = |reason| {
            let there = place(lesson, node);
            Err(Fault::Accepted(word.to_owned(), reason, there))
        };
        match attempt_word(position, bare, letters) {
            // A pass is read, but no reader can play it.
            Attempt::Played(tried) if tried.played.is_some() => {
                if list.iter().all(|known| known.played != tried.played) {
                    list.push(tried);
                }
            }
            Attempt::Refused(reason) => return fault(Some(reason)),
            Attempt::Played(_) | Attempt::Promotes | Attempt::NoMove => return fault(None),
        }
    }
    Ok(list)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::LocateError;
    use crate::lesson::given::lesson;
    use crate::text::Span;

    const TEXT: &str = "1. d4 d5 {Ask: How is the centre met? Hint: from the side. Because: it is a \
                        gambit that costs nothing.} 2. c4 (2. Nf3 e6) 2... e6 3. Nc3 {done} *";

    fn wished(wish: Wish) -> Result<Question, Fault> {
        Question::new(&lesson(TEXT), &wish, Letters::ENGLISH)
    }

    fn sans(question: &Question) -> Vec<String> {
        let lesson = lesson(TEXT);
        let answers = question.answers(&lesson).into_iter();
        answers.map(|answer| answer.san.to_owned()).collect()
    }

    #[test]
    fn a_comment_asks_with_its_prompt_its_hint_and_its_reason() {
        let lesson = lesson(TEXT);
        let question = Question::of_comment(&lesson, 2)
            .expect("asked")
            .expect("an answer");
        assert_eq!(question.prompt.text(), "How is the centre met?");
        assert_eq!(question.hint.text(), "from the side.");
        assert_eq!(
            question.because.text(),
            "it is a gambit that costs nothing."
        );
        assert_eq!(
            (question.moves, sans(&question)),
            (1, vec!["c4".to_owned()])
        );
        assert_eq!(Question::of_comment(&lesson, 1), None);
        assert_eq!(Question::of_comment(&lesson, 99), None);
    }

    #[test]
    fn a_question_stands_where_its_locator_says_else_at_the_start_or_the_end() {
        let node = |wish| wished(wish).map(|question| question.node);
        assert_eq!(
            node(Wish {
                at: "1...d5",
                ..Wish::default()
            }),
            Ok(2)
        );
        assert_eq!(node(Wish::default()), Ok(0));
        let end = Wish {
            place: DefaultPosition::End,
            ..Wish::default()
        };
        let Err(Fault::NoAnswer(7, what, asks)) = node(end) else {
            panic!("no move follows");
        };
        assert_eq!(
            what,
            "after 3.Nc3, at the end of the main line, no move follows"
        );
        assert_eq!(asks.as_deref(), Some("1...d5"));
        assert_eq!(
            node(Wish {
                accept: "Nf6",
                ..end
            }),
            Ok(7)
        );
        let at = |at| {
            node(Wish {
                at,
                ..Wish::default()
            })
        };
        let fault = |at: &str, error| Err(Fault::Place(at.to_owned(), error));
        assert_eq!(at("9.Kd2"), fault("9.Kd2", LocateError::None));
        assert_eq!(at("e6"), fault("e6", LocateError::Several(vec![5, 6])));
    }

    #[test]
    fn the_prompt_written_beside_it_goes_before_that_of_the_comment() {
        let at = Wish {
            at: "1...d5",
            ..Wish::default()
        };
        let prompt = |wish| {
            let question = wished(wish).expect("a question");
            question.prompt.text().to_owned()
        };
        assert_eq!(
            prompt(Wish {
                prompt: " What now? ",
                ..at
            }),
            "What now?"
        );
        assert_eq!(prompt(at), "How is the centre met?");
    }

    #[test]
    fn accepted_moves_replace_the_choices_and_are_read_as_people_write_them() {
        let at = Wish {
            at: "1...d5",
            ..Wish::default()
        };
        let question = wished(Wish {
            accept: "2.Nf3, 2. e3 Bf4! Nf3",
            ..at
        })
        .expect("moves");
        assert_eq!(sans(&question), ["Nf3", "e3", "Bf4"]);
        let fault = |accept| wished(Wish { accept, ..at }).expect_err("a fault");
        let there = "after 1...d5".to_owned();
        let no_move = |word: &str| Fault::Accepted(word.to_owned(), None, there.clone());
        assert_eq!(fault("c4 hello"), no_move("hello"));
        assert_eq!(fault("--"), no_move("--"));
        let Fault::Accepted(word, Some(reason), _) = fault("c4 Nd5") else {
            panic!("a move that is not legal");
        };
        assert_eq!(word, "Nd5");
        assert!(reason.message.contains("knight"), "{}", reason.message);
        let german = Letters::of("de").expect("German letters");
        let wish = Wish {
            accept: "Sf3",
            ..at
        };
        let question = Question::new(&lesson(TEXT), &wish, german).expect("a German move");
        assert_eq!(sans(&question), ["Nf3"]);
    }

    #[test]
    fn the_number_of_moves_is_a_number_within_bounds() {
        let moves = |moves| {
            wished(Wish {
                moves,
                ..Wish::default()
            })
            .map(|it| it.moves)
        };
        assert_eq!((moves(""), moves(" 3 ")), (Ok(1), Ok(3)));
        for bad in ["0", "9", "-1", "two", "99999999999"] {
            assert_eq!(moves(bad), Err(Fault::Moves(bad.to_owned())));
        }
    }

    #[test]
    fn a_prompt_that_names_a_right_move_is_told() {
        let at = Wish {
            at: "1...d5",
            ..Wish::default()
        };
        let question = wished(Wish {
            accept: "Nf3 c4",
            ..at
        });
        let question = question.expect("a question");
        let lesson = lesson(TEXT);
        let told = |prompt| {
            let told = question.told(&lesson, prompt);
            told.map(|answer| answer.san.to_owned())
        };
        assert_eq!(told("Is c4 good?"), Some("c4".to_owned()));
        assert_eq!(told("What is good?"), None);
    }

    #[test]
    fn each_fault_is_told_with_a_code_and_a_way_out_where_one_is_known() {
        let told = |wish| {
            let finding = wished(wish).expect_err("a fault").finding(Span::default());
            (
                finding.code.id(),
                finding.message.clone(),
                finding.help.is_some(),
            )
        };
        let at = |at| Wish {
            at,
            ..Wish::default()
        };
        let accept = |accept| Wish {
            accept,
            ..Wish::default()
        };
        let place = |code, message: &str| (code, message.to_owned(), true);
        assert_eq!(
            told(at("9.Kd2")),
            place(
                "P041",
                "\u{201c}9.Kd2\u{201d} names no place of this lesson"
            )
        );
        assert_eq!(
            told(at("e6")),
            place("P042", "\u{201c}e6\u{201d} names 2 places of this lesson")
        );
        assert_eq!(
            told(at("3.Nc3")),
            (
                "P048",
                "this question has no answer: after 3.Nc3, at the end of the main line, no move follows"
                    .to_owned(),
                true,
            )
        );
        assert_eq!(
            told(accept("hello")).1,
            "the accepted \u{201c}hello\u{201d} is no move"
        );
        assert_eq!(told(accept("e5")).0, "P012");
        let moves = told(Wish {
            moves: "many",
            ..Wish::default()
        });
        assert_eq!((moves.0, moves.2), ("P066", true));
    }
}
