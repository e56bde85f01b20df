//! A lesson's text changes while it is read: its reader stays where they are, with what they opened, folded and tried.

use crate::support::lesson;
use plyline::lesson::{Lesson, locate};
use plyline::notation::Letters;
use plyline::view::{Intent, State, carry, resume, update};
use shakmaty::Color;

const OLD: &str = "1. d4 d5 2. c4 (2. Nf3 Nf6) 2... e6 {Ask: What now?} 3. Nc3! *";
/// The same with a line before the others, so that every number of a position after it is another.
const NEW: &str =
    "1. d4 (1. e4 e5) 1... d5 2. c4 (2. Nf3 Nf6 3. g3) 2... e6 {Ask: What now?} 3. Nc3! Be7 *";

fn begins(lesson: &Lesson) -> State {
    State::new(lesson, 0, Color::White)
}

fn done(lesson: &Lesson, intents: &[Intent]) -> State {
    let mut state = begins(lesson);
    for intent in intents {
        state = update(lesson, &state, intent.clone(), Letters::ENGLISH).0;
    }
    state
}

/// The state in the new text; nothing where that is another lesson.
fn stays(old: &Lesson, was: &State, new: &Lesson) -> Option<State> {
    let mut state = begins(new);
    resume(new, &mut state, &carry(was), Some(old)).then_some(state)
}

fn at(lesson: &Lesson, locator: &str) -> u32 {
    locate(lesson, locator).expect("a place of the lesson")
}

#[test]
fn the_reader_stays_at_the_position_that_the_same_moves_lead_to() {
    let (old, new) = (lesson(OLD), lesson(NEW));
    let was = done(
        &old,
        &[
            Intent::Open(at(&old, "2.Nf3 Nf6")),
            Intent::Turn,
            Intent::Desk,
        ],
    );
    let state = stays(&old, &was, &new).expect("the same lesson");
    assert_eq!(state.node, at(&new, "2.Nf3 Nf6"));
    assert_eq!((state.side, state.desk), (Color::Black, true));
}

#[test]
fn an_opened_answer_stays_open_and_a_folded_line_stays_folded() {
    let (old, new) = (lesson(OLD), lesson(NEW));
    let line = old.node(at(&old, "2.Nf3")).line;
    let was = done(&old, &[Intent::OpenAll, Intent::Fold(line)]);
    let state = stays(&old, &was, &new).expect("the same lesson");
    assert_eq!(state.settled(), [at(&new, "2.c4 e6")]);
    assert_eq!(state.folded, [new.node(at(&new, "2.Nf3")).line]);
}

#[test]
fn a_move_tried_beside_the_lesson_is_a_move_of_it_once_the_text_holds_it() {
    let old = lesson(OLD);
    let mut was = done(&old, &[Intent::Open(at(&old, "2.Nf3 Nf6"))]);
    was = update(&old, &was, Intent::Play("g3".into()), Letters::ENGLISH).0;
    was = update(&old, &was, Intent::Play("Bf5".into()), Letters::ENGLISH).0;
    assert_eq!(was.aside.len(), 2);
    let new = lesson(NEW);
    let state = stays(&old, &was, &new).expect("the same lesson");
    assert_eq!(state.node, at(&new, "2.Nf3 Nf6 3.g3"));
    let left: Vec<&str> = state.aside.iter().map(|it| it.san.as_str()).collect();
    assert_eq!(left, ["Bf5"]);
}

#[test]
fn where_the_move_on_the_board_is_taken_out_the_reader_is_at_the_one_before_it() {
    let (old, new) = (lesson(NEW), lesson(OLD));
    let was = done(&old, &[Intent::Open(at(&old, "2.Nf3 Nf6 3.g3"))]);
    let state = stays(&old, &was, &new).expect("the same lesson");
    assert_eq!(state.node, at(&new, "2.Nf3 Nf6"));
}

#[test]
fn a_lesson_with_another_start_or_other_first_moves_is_another_lesson() {
    let old = lesson(OLD);
    let was = done(&old, &[Intent::Open(at(&old, "2.Nf3"))]);
    for other in [
        "1. e4 e5 *",
        "[FEN \"4k3/8/8/8/8/8/8/4K2R w K - 0 1\"]\n\n1. O-O *",
    ] {
        let new = lesson(other);
        assert_eq!(stays(&old, &was, &new), None, "{other}");
    }
}

#[test]
fn the_first_move_of_an_empty_lesson_leaves_its_author_there() {
    let (old, new) = (lesson("*"), lesson("1. d4 *"));
    let was = done(&old, &[Intent::Play("d4".into())]);
    let state = stays(&old, &was, &new).expect("the same lesson");
    assert_eq!((state.node, state.aside.len()), (1, 0));
}
