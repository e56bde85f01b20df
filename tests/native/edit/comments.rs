//! Comments: new, changed, taken out.

use super::given::{becomes, comment};
use plyline::edit::Edit;

#[test]
fn a_comment_comes_after_its_move_and_signs_and_before_variations() {
    becomes(
        "1. e4 e5 *",
        &comment("e4", "", "wide"),
        "1. e4 {wide} 1... e5 *",
    );
    becomes(
        "1. e4 $1 (1. d4) e5 *",
        &comment("e4", "", "wide"),
        "1. e4 $1 {wide} (1. d4) e5 *",
    );
    becomes(
        "1. e4 e5 (1... c5) *",
        &comment("e4 c5", "", "sharp"),
        "1. e4 e5 (1... c5 {sharp}) *",
    );
    becomes(
        "1. e4 *",
        &comment("", "", "The start."),
        "{The start.} 1. e4 *",
    );
    becomes("*", &comment("", "", "The start."), "{The start.} *");
}

#[test]
fn a_comment_that_has_no_words_left_goes() {
    becomes(
        "1. e4 {wide} e5 *",
        &comment("e4", "wide", " "),
        "1. e4 e5 *",
    );
    becomes(
        "1. e4 e5 (1... c5 {sharp}) *",
        &comment("e4 c5", "sharp", ""),
        "1. e4 e5 (1... c5) *",
    );
    becomes(
        "1. e4\n{wide}\n1... e5 *",
        &comment("e4", "wide", ""),
        "1. e4\n1... e5 *",
    );
    becomes("1. e4{wide}e5 *", &comment("e4", "wide", ""), "1. e4 e5 *");
}

#[test]
fn words_that_stay_are_not_touched() {
    becomes(
        "1. e4 {one  two\n  three four} *",
        &comment("e4", "one two three four", "one 2 three four"),
        "1. e4 {one  2\n  three four} *",
    );
    becomes(
        "1. e4 { one two } *",
        &comment("e4", "one two", "one two three"),
        "1. e4 { one two three } *",
    );
    becomes(
        "1. e4 {one two} *",
        &comment("e4", "one two", "two"),
        "1. e4 {two} *",
    );
    becomes(
        "1. e4 {one two three} *",
        &comment("e4", "one two three", "one three"),
        "1. e4 {one three} *",
    );
}

#[test]
fn paragraphs_are_parted_by_an_empty_line() {
    becomes(
        "1. e4 {one} *",
        &comment("e4", "one", "one\n\ntwo"),
        "1. e4 {one\n\ntwo} *",
    );
    becomes(
        "1. e4 {one\n\ntwo} *",
        &comment("e4", "one\n\ntwo", "one two"),
        "1. e4 {one two} *",
    );
}

#[test]
fn a_comment_with_a_brace_ends_its_line() {
    becomes(
        "1. e4 e5 *",
        &comment("e4", "", "a } here"),
        "1. e4 ;a } here\n1... e5 *",
    );
    becomes(
        "1. e4 (1. d4) *",
        &comment("d4", "", "a }"),
        "1. e4 (1. d4 ;a }\n) *",
    );
    becomes(
        "1. e4 {a} e5 *",
        &comment("e4", "a", "a }"),
        "1. e4 ;a }\ne5 *",
    );
}

#[test]
fn comments_to_the_end_of_their_lines_do_not_become_one() {
    becomes(
        "1. e4 {a} ;b\n*",
        &comment("e4", "a", "a }"),
        "1. e4 ;a }\n{} ;b\n*",
    );
    let second = Edit::Comment {
        at: vec!["e4".to_owned()],
        nth: 1,
        was: "b".to_owned(),
        text: "b }".to_owned(),
    };
    becomes("1. e4 ;a\n{b} *", &second, "1. e4 ;a\n{} ;b }\n*");
}

#[test]
fn a_line_comment_stays_one() {
    becomes(
        "1. e4 ; one two\n e5 *",
        &comment("e4", "one two", "one three"),
        "1. e4 ; one three\n e5 *",
    );
    becomes(
        "1. e4 ; one\n ; two\n e5 *",
        &comment("e4", "one two", "one two three"),
        "1. e4 ; one\n ; two three\n e5 *",
    );
}

#[test]
fn new_words_are_wrapped_and_old_lines_stay() {
    let words =
        "the bishop looks at f7 and White will castle on the next move while Black has to decide";
    becomes(
        "1. e4 e5 2. Nf3 Nc6 3. Bc4 *",
        &comment("e4 e5 Nf3 Nc6 Bc4", "", words),
        "1. e4 e5 2. Nf3 Nc6 3. Bc4 {the bishop looks at f7 and White will castle on the\nnext move while Black has to decide} *",
    );
}

#[test]
fn no_line_begins_with_a_percent_sign() {
    let words = format!("{} %eval", "x".repeat(70));
    becomes(
        "1. e4 *",
        &comment("e4", "", &words),
        &format!("1. e4 {{{}\n %eval}} *", "x".repeat(70)),
    );
}

#[test]
fn a_comment_before_a_lines_first_move_is_the_first_of_its_position() {
    let text = "1. e4 c6 ({Open:} 1... e5 {is played most.} 2. Nf3) 2. d4 *";
    let nth = |nth, was: &str, text: &str| Edit::Comment {
        at: vec!["e4".to_owned(), "e5".to_owned()],
        nth,
        was: was.to_owned(),
        text: text.to_owned(),
    };
    becomes(
        text,
        &nth(0, "Open:", "The open games:"),
        "1. e4 c6 ({The open games:} 1... e5 {is played most.} 2. Nf3) 2. d4 *",
    );
    becomes(
        text,
        &nth(0, "Open:", ""),
        "1. e4 c6 (1... e5 {is played most.} 2. Nf3) 2. d4 *",
    );
    becomes(
        text,
        &nth(1, "is played most.", "is old."),
        "1. e4 c6 ({Open:} 1... e5 {is old.} 2. Nf3) 2. d4 *",
    );
    becomes(
        text,
        &nth(2, "", "More."),
        "1. e4 c6 ({Open:} 1... e5 {is played most.} {More.} 2. Nf3) 2. d4 *",
    );
}
