//! Lines that are lifted.

use super::given::{lift, made};

#[track_caller]
fn lifted(text: &str, at: &str, after: &str) {
    let changed = made(text, &lift(at));
    assert_eq!(changed.text, after);
    assert!(changed.splices.len() <= 2, "{:?}", changed.splices);
}

#[test]
fn from_the_third_place_a_line_changes_places_with_the_one_before() {
    lifted(
        "1. e4 e5 (1... c5 2. Nf3) (1... e6 {French}) 2. Nf3 *",
        "e4 e6",
        "1. e4 e5 (1... e6 {French}) (1... c5 2. Nf3) 2. Nf3 *",
    );
}

#[test]
fn from_the_second_place_it_becomes_the_line_and_the_old_one_its_variation() {
    lifted(
        "1. e4 e5 (1... c5 2. Nf3) 2. Nc3 Nf6 *",
        "e4 c5 Nf3",
        "1. e4 c5 (1... e5 2. Nc3 Nf6) 2. Nf3 *",
    );
    lifted(
        "1. e4 (1. d4 d5) 1... e5 *",
        "d4",
        "1. d4 (1. e4 e5) 1... d5 *",
    );
    lifted(
        "1. e4 e5 {open} (1... c5 {sharp}) (1... e6) 2. Nc3 *",
        "e4 c5",
        "1. e4 c5 {sharp} (1... e5 {open} 2. Nc3) (1... e6) *",
    );
}

#[test]
fn the_words_before_its_first_move_stand_after_that_move() {
    lifted(
        "1. e4 e5 ({or} 1... c5! {sharp}) *",
        "e4 c5",
        "1. e4 c5! {or} {sharp} (1... e5) *",
    );
}

#[test]
fn a_line_beside_the_first_move_of_another_is_lifted_too() {
    lifted(
        "1. e4 e5 (1... c5 (1... e6) 2. Nf3) *",
        "e4 e6",
        "1. e4 e5 (1... e6) (1... c5 2. Nf3) *",
    );
}

#[test]
fn a_comment_to_the_end_of_its_line_does_not_swallow_the_bracket() {
    lifted(
        "1. e4 e5 (1... c5) 2. Nc3 ; calm\n*",
        "e4 c5",
        "1. e4 c5 (1... e5 2. Nc3 ; calm\n)\n*",
    );
}
