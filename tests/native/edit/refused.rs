//! What is refused, why, and the way out.

use super::given::{change, comment, drop, keep, lift, refused, sign};
use plyline::edit::Why;

#[test]
fn a_place_that_is_gone() {
    let said = refused("1. e4 e5 *", &keep("e4 c5", "Nf3"));
    assert_eq!(
        (said.why, said.reason.as_str()),
        (Why::PlaceGone, "the lesson does not hold e4 c5")
    );
    assert_eq!(said.help, "it was changed elsewhere: read it again");
}

#[test]
fn a_comment_that_is_not_what_the_author_saw() {
    let said = refused("1. e4 {narrow} *", &comment("e4", "wide", "wider"));
    assert_eq!(
        (said.why, said.reason.as_str()),
        (
            Why::CommentGone,
            "this comment is now \u{201c}narrow\u{201d}"
        )
    );
    let said = refused("1. e4 *", &comment("e4", "wide", "wider"));
    assert_eq!(said.why, Why::CommentGone);
}

#[test]
fn a_move_that_cannot_be_played_and_what_is_none() {
    let said = refused("1. e4 *", &keep("e4", "Ke6"));
    assert_eq!(said.why, Why::NoMove);
    assert!(said.reason.contains("king"), "{}", said.reason);
    assert_eq!(refused("1. e4 *", &keep("e4", "hello")).why, Why::NoMove);
}

#[test]
fn a_move_that_is_there_already_takes_no_other_place() {
    let said = refused("1. e4 (1. d4) *", &change("e4", "d4"));
    assert_eq!(
        (said.why, said.reason.as_str()),
        (Why::ThereAlready, "d4 is given at this position already")
    );
}

#[test]
fn what_is_asked_of_the_start_or_the_main_line() {
    for edit in [drop(""), sign("", &[1]), lift("e4"), change("", "d4")] {
        assert_eq!(refused("1. e4 *", &edit).why, Why::NotHere);
    }
}

#[test]
fn a_comment_that_pgn_cannot_hold() {
    assert_eq!(
        refused("1. e4 *", &comment("e4", "", "a }\n\nb")).why,
        Why::NoComment
    );
}

#[test]
fn a_variation_that_is_not_closed() {
    assert_eq!(
        refused("1. e4 (1. d4 d5", &keep("d4 d5", "c4")).why,
        Why::Broken
    );
}

#[test]
fn unread_words_that_would_be_lost() {
    assert_eq!(
        refused("1. e4 e5 (1... Ke5) 2. Nf3 *", &drop("e4 e5")).why,
        Why::Broken
    );
}
