//! Questions and recall on lessons by chance: what holds whatever an author writes and a reader
//! plays.

mod again;
mod asked;
mod chosen;
mod outside;
mod recall;
mod store;

use crate::support::author::write;
use crate::support::chance::Chance;
use crate::support::{lesson, read};
use plyline::ask::open_question::{Intent, OpenQuestion, update};
use plyline::ask::{Question, Verdict, Wish, answers, verdict};
use plyline::lesson::{Attempt, Lesson, attempt_word, replay};
use plyline::notation::Letters;
use plyline::text::limits;
use shakmaty::Position;
use std::time::{Duration, Instant};

/// Lessons by chance; one takes some milliseconds without optimization.
const LESSONS: u64 = 60;

fn each(mut look: impl FnMut(&Lesson, &mut Chance)) {
    for seed in 1..=LESSONS {
        let mut chance = Chance::new(seed);
        let written = write(&mut chance);
        let mut read = read(&written.text);
        let lesson = read.lessons.remove(0).expect("a start that can be used");
        look(&lesson, &mut chance);
    }
}

/// What the text of a lesson says of a move at a node, found independently of plyline: by comparing
/// the squares and signs of the children.
fn expected(lesson: &Lesson, node: u32, san: &str) -> &'static str {
    let bare = |san: &str| san.trim_end_matches(['+', '#']).to_owned();
    let all = &lesson.node(node).children;
    let moves: Vec<u32> = all
        .iter()
        .copied()
        .filter(|&id| lesson.node(id).san != "--")
        .collect();
    let weak = |id: u32| {
        lesson
            .node(id)
            .nags
            .iter()
            .any(|nag| [2, 4, 6].contains(nag))
    };
    let is_it = |id: u32| bare(&lesson.node(id).san) == bare(san);
    let written: Vec<u32> = moves
        .iter()
        .copied()
        .filter(|&id| lesson.node(id).choice().is_some())
        .collect();
    let condition = |id: u32| lesson.node(id).choice().map(|choice| choice.words());
    let takes_place = written
        .iter()
        .any(|&id| condition(id).is_some_and(|words| words.is_empty()));
    let first = moves.iter().copied().find(|&id| !weak(id));
    let right: Vec<u32> = match takes_place {
        true => written,
        false => written.into_iter().chain(first).collect(),
    };
    match moves.iter().copied().find(|&id| is_it(id)) {
        _ if right.iter().any(|&id| is_it(id)) => "right",
        Some(id) if weak(id) => "weaker",
        Some(_) => "fair",
        None => "other",
    }
}

#[test]
fn each_legal_move_has_the_verdict_that_the_text_gives_it() {
    let mut seen = [("right", 0), ("fair", 0), ("weaker", 0), ("other", 0)];
    each(|lesson, _| {
        for id in lesson.ids() {
            let position = &lesson.node(id).position;
            for played in position.legal_moves() {
                let tried = replay(position, played).expect("a legal move");
                let wanted = expected(lesson, id, &tried.san);
                let said = verdict(lesson, id, &[], &Attempt::Played(tried.clone()));
                let said = said.expect("a legal move has a verdict");
                assert_eq!(said.word(), wanted, "{} at {id}", tried.san);
                if let Verdict::Other {
                    stands: Some(there),
                } = said
                {
                    let name = plyline::lesson::rules::position_name;
                    assert_eq!(name(&lesson.node(there).position), name(&tried.position));
                }
                for (word, count) in &mut seen {
                    *count += u32::from(*word == wanted);
                }
            }
        }
    });
    assert!(seen.iter().all(|(_, count)| *count > 5), "{seen:?}");
}

#[test]
fn a_move_that_is_not_legal_is_illegal_with_a_reason_wherever_it_is_tried() {
    let mut refused = 0;
    each(|lesson, chance| {
        let words = ["Kd9", "e9", "Nb1", "Qh5", "O-O", "a8=Q", "exd5", "Rh8"];
        for id in lesson.ids() {
            let attempt = attempt_word(
                &lesson.node(id).position,
                chance.pick(&words),
                Letters::ENGLISH,
            );
            match (&attempt, verdict(lesson, id, &[], &attempt)) {
                (Attempt::Refused(reason), Some(Verdict::Illegal { reason: said })) => {
                    assert!(*reason == said && !said.message.is_empty());
                    refused += 1;
                }
                (Attempt::NoMove, said) => assert_eq!(said, None),
                (Attempt::Played(_), Some(said)) => assert_ne!(said.word(), "illegal"),
                (attempt, said) => panic!("{attempt:?} has {said:?}"),
            }
        }
    });
    assert!(refused > 100, "{refused}");
}

#[test]
fn a_question_has_a_right_answer_or_is_refused() {
    let (mut asked, mut refused) = (0, 0);
    each(|lesson, _| {
        for id in lesson.ids() {
            let right = answers(lesson, id, &[]);
            match Question::of_comment(lesson, id) {
                None => assert!(lesson.node(id).ask().is_none()),
                Some(Ok(question)) => {
                    assert_eq!(question.answers(lesson), right);
                    assert!(!right.is_empty());
                    asked += 1;
                }
                Some(Err(_)) => {
                    assert!(right.is_empty());
                    refused += 1;
                }
            }
        }
    });
    assert!(asked > 0 && refused > 0, "{asked} asked, {refused} refused");
}

#[test]
fn as_many_moves_in_a_row_as_the_limit_are_asked_and_one_more_is_refused() {
    let lesson = lesson("1. e4 e5 2. Nf3 {x} *");
    let question = |moves: u32| {
        let moves = &moves.to_string();
        let wish = Wish {
            moves,
            ..Wish::default()
        };
        Question::new(&lesson, &wish, Letters::ENGLISH)
    };
    assert!(question(limits::QUESTION_MOVES).is_ok());
    assert!(question(limits::QUESTION_MOVES + 1).is_err());
}

#[test]
fn orders_are_tried_up_to_a_limit() {
    // With e3 first the bishop is shut in, so that none of 5,040 orders of the rest ends there.
    let text =
        "1. d4 a6 2. Bf4 b6 3. a3 c6 4. b3 d6 5. c3 e6 6. e3 f6 7. f3 g6 8. g3 h6 9. h3 {x} *";
    let lesson = lesson(text);
    let moves = &limits::QUESTION_MOVES.to_string();
    let wish = Wish {
        at: "1...a6",
        moves,
        ..Wish::default()
    };
    let question = Question::new(&lesson, &wish, Letters::ENGLISH).expect("a question");
    let tries = |word| {
        let mut state = OpenQuestion::new(&question, 0);
        let position = state.position(&lesson, &question);
        let intent = Intent::Try(attempt_word(position, word, Letters::ENGLISH));
        update(&lesson, &question, &mut state, intent);
        state.way.len()
    };
    let begun = Instant::now();
    assert_eq!((tries("e3"), tries("h3")), (0, 2));
    // Without optimization one unit of the search takes some twenty microseconds.
    let bound = Duration::from_micros(200) * limits::ORDER_LOOKS as u32;
    assert!(begun.elapsed() < bound, "{:?}", begun.elapsed());
}

/// The place of a node.
fn place(node: u32) -> plyline::lesson::prose::Place {
    plyline::lesson::prose::Place::of(node)
}
