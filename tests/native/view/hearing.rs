//! What a reader hears: marks, comments after a move, and answers to questions about the position.

use crate::support::lesson;
use plyline::lesson::Lesson;
use plyline::notation::Letters;
use plyline::view::{Command, Intent, State, Words, spoken, update};
use shakmaty::Color;

fn begin(lesson: &Lesson) -> State {
    State::new(lesson, 0, Color::White)
}

/// The state after these intents.
fn after(lesson: &Lesson, intents: &[Intent]) -> State {
    intents.iter().fold(begin(lesson), |state, intent| {
        update(lesson, &state, intent.clone(), Letters::ENGLISH).0
    })
}

fn heard(lesson: &Lesson, intents: &[Intent]) -> String {
    spoken::said(&Words::default(), lesson, &after(lesson, intents))
}

/// What is heard of the comment after 1.e4.
fn comment(text: &str) -> String {
    let lesson = lesson(&format!("1. e4 {{{text}}} *"));
    heard(&lesson, &[Intent::Next(None), Intent::Ask(Command::Comment)])
}

#[test]
fn marks_are_said_in_one_sentence_after_the_words_of_the_comment() {
    assert_eq!(
        comment("threatens mate on @!h7, and the pawn on @?d5 falls."),
        "threatens mate on h7, and the pawn on d5 falls. Marked: h7, a strong square; d5, a weak square."
    );
    assert_eq!(
        comment("the plan @!b4-b5"),
        "the plan b4\u{2013}b5. Marked: the arrow from b4 to b5, a plan to play."
    );
    assert_eq!(
        comment("the knight goes @!f3-d2-c4, against @?c6-c5!"),
        "the knight goes f3\u{2013}d2\u{2013}c4, against c6\u{2013}c5! \
         Marked: the way from f3 through d2 to c4, a plan to play; the arrow from c6 to c5, a plan to stop."
    );
}

#[test]
fn a_mark_is_said_once_and_one_that_says_only_its_square_not_again() {
    assert_eq!(
        comment("look at @e4, at @!e5 and again at @!e5."),
        "look at e4, at e5 and again at e5. Marked: e5, a strong square."
    );
    assert_eq!(comment("look at @e4."), "look at e4.");
}
