//! Lessons within pages: fences in lists and quotations, blocks of HTML, and what must not happen to the rest.

use super::given::{comment, drop, keep};
use plyline::edit::{Edit, Why, edit_post, spliced};
use plyline::post::Kind;

#[track_caller]
fn becomes(kind: Kind, page: &str, edit: &Edit, after: &str) {
    let changed = edit_post(page, kind, 0, edit).unwrap_or_else(|refused| panic!("{refused:?}"));
    assert_eq!(changed.text, after);
    assert_eq!(spliced(page, &changed.splices), after);
}

#[track_caller]
fn spoils(kind: Kind, page: &str, edit: &Edit) {
    let refused = edit_post(page, kind, 0, edit).expect_err("a reason");
    assert_eq!(refused.why, Why::SpoilsPage, "{}", refused.reason);
}

#[test]
fn a_fence_is_changed_and_the_page_around_it_is_not() {
    let page = "# One\n\n```pgn\n1. e4 *\n```\n\nMore 1.e4.\n";
    becomes(
        Kind::Markdown,
        page,
        &keep("e4", "e5"),
        &page.replace("e4 *", "e4 e5 *"),
    );
}

#[test]
fn an_empty_fence_gets_its_first_line() {
    becomes(
        Kind::Markdown,
        "```pgn\n```\n",
        &keep("", "e4"),
        "```pgn\n1. e4 *\n```\n",
    );
    becomes(
        Kind::Markdown,
        "- a\n\n  ```pgn\n  ```\n",
        &keep("", "e4"),
        "- a\n\n  ```pgn\n  1. e4 *\n  ```\n",
    );
    becomes(
        Kind::Markdown,
        "> ```pgn\r\n> ```\r\n",
        &keep("", "e4"),
        "> ```pgn\r\n> 1. e4 *\r\n> ```\r\n",
    );
}

#[test]
fn new_lines_have_the_marks_of_the_quotation_or_list_that_holds_them() {
    becomes(
        Kind::Markdown,
        "> ```pgn\n> 1. e4 e5\n> 2. Nf3 Nc6\n> *\n> ```\n\nMore\n",
        &keep("e4 e5 Nf3 Nc6", "Bb5"),
        "> ```pgn\n> 1. e4 e5\n> 2. Nf3 Nc6\n> 3. Bb5\n> *\n> ```\n\nMore\n",
    );
    becomes(
        Kind::Markdown,
        "1. a\n\n   ```pgn\n   1. e4 e5\n     (1... c5)\n   *\n   ```\n2. b\n",
        &keep("e4", "e6"),
        "1. a\n\n   ```pgn\n   1. e4 e5\n     (1... c5)\n     (1... e6)\n   *\n   ```\n2. b\n",
    );
}

#[test]
fn lines_that_go_take_their_marks_with_them() {
    becomes(
        Kind::Markdown,
        "> ```pgn\n> 1. e4 e5\n>   (1... c5)\n> 2. Nf3 *\n> ```\n",
        &drop("e4 c5"),
        "> ```pgn\n> 1. e4 e5\n> 2. Nf3 *\n> ```\n",
    );
}

#[test]
fn line_ends_of_the_file_are_kept() {
    becomes(
        Kind::Markdown,
        "```pgn\r\n1. e4 e5\r\n2. Nf3 Nc6\r\n*\r\n```\r\n",
        &keep("e4 e5 Nf3 Nc6", "Bb5"),
        "```pgn\r\n1. e4 e5\r\n2. Nf3 Nc6\r\n3. Bb5\r\n*\r\n```\r\n",
    );
}

#[test]
fn in_html_signs_are_entities() {
    let page = "<ply-line><pre>1. e4 {R &amp; B} *</pre></ply-line><p>a &amp; b</p>\n";
    becomes(
        Kind::Html,
        page,
        &comment("e4", "R & B", "R & B < Q"),
        &page.replace("B}", "B &lt; Q}"),
    );
    becomes(
        Kind::Html,
        page,
        &comment("e4", "R & B", "B"),
        &page.replace("R &amp; ", ""),
    );
    becomes(
        Kind::Html,
        page,
        &comment("e4", "R & B", "R > B"),
        &page.replace("R &amp; B", "R > B"),
    );
}

#[test]
fn an_empty_line_in_a_block_of_html_within_markdown_does_not_end_the_block() {
    becomes(
        Kind::Markdown,
        "<ply-line>\n<pre>1. e4 {a} *</pre>\n</ply-line>\n",
        &comment("e4", "a", "a\n\nb"),
        "<ply-line>\n<pre>1. e4 {a\n&#32;\nb} *</pre>\n</ply-line>\n",
    );
    becomes(
        Kind::Markdown,
        "```pgn\n1. e4 {a} *\n```\n",
        &comment("e4", "a", "a\n\nb"),
        "```pgn\n1. e4 {a\n\nb} *\n```\n",
    );
}

#[test]
fn a_line_of_backticks_that_would_end_the_fence_is_refused() {
    let (wide, more) = ("x".repeat(77), "y".repeat(77));
    spoils(
        Kind::Markdown,
        "```pgn\n1. e4 *\n```\n\nMore\n",
        &comment("e4", "", &format!("{wide} ``` {more}")),
    );
}

#[test]
fn marks_of_template_languages_are_not_written() {
    let page = "```pgn\n1. e4 *\n```\n";
    becomes(
        Kind::Markdown,
        page,
        &comment("e4", "", "%eval"),
        "```pgn\n1. e4 { %eval} *\n```\n",
    );
    spoils(Kind::Markdown, page, &comment("e4", "", "a {{b"));
}

#[test]
fn a_lesson_that_is_elsewhere_missing_or_not_closed_is_refused() {
    for (page, reason) in [
        (
            "<ply-line src=\"a.pgn\"></ply-line>",
            "the notation of this lesson is in a file of its own, a.pgn",
        ),
        ("<p>Nothing</p>", "this lesson is not in the file any more"),
        (
            "<ply-line></ply-line>",
            "this element has no notation, so there is no place for a move",
        ),
    ] {
        let refused = edit_post(page, Kind::Html, 0, &keep("", "e4")).expect_err("a reason");
        assert_eq!(
            (refused.why, refused.reason.as_str()),
            (Why::NotInFile, reason)
        );
    }
    let refused = edit_post("```pgn\n1. e4 *\n", Kind::Markdown, 0, &keep("e4", "e5"));
    assert_eq!(refused.expect_err("a reason").why, Why::NotInFile);
}

#[test]
fn of_several_lessons_the_one_of_that_number_changes() {
    let page = "```pgn\n1. e4 *\n```\n\n```pgn\n1. d4 *\n```\n";
    let changed = edit_post(page, Kind::Markdown, 1, &keep("d4", "d5")).expect("a change");
    assert_eq!(changed.text, page.replace("d4", "d4 d5"));
}
