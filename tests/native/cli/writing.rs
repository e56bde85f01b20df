//! `plyline new`, `merge` and `compare`: what is written and printed, and the exit codes.

use super::run::{Run, json_lines, run, site};
use serde_json::{Value, json};
use std::fs;
use std::path::Path;

#[track_caller]
fn new(folder: &Path, words: &[&str], file: &str) -> String {
    let done = run(folder, &[&["new"], words].concat());
    assert_eq!((done.code, done.out.trim()), (0, file), "{}", done.err);
    fs::read_to_string(folder.join(file)).expect("the new file")
}

#[test]
fn a_new_lesson_is_a_page_of_markdown_unless_its_name_says_otherwise() {
    let folder = site("new", &[]);
    assert_eq!(
        new(&folder, &["slow-lines"], "slow-lines.md"),
        "# Slow lines\n\n```pgn\n*\n```\n"
    );
    assert_eq!(
        new(
            &folder,
            &["a.pgn", "--side", "black", "--from", "1.e4 c6"],
            "a.pgn"
        ),
        "[Event \"A\"]\n[Side \"black\"]\n\n1. e4 c6 *\n"
    );
    let page = new(&folder, &["b.html"], "b.html");
    assert!(
        page.contains("<ply-line>\n<pre>\n*\n</pre>\n</ply-line>"),
        "{page}"
    );
    let fen = "4k3/8/8/8/8/8/4P3/4K3 w - - 0 1";
    let from = new(&folder, &["c.pgn", "--from", fen], "c.pgn");
    assert!(
        from.contains(&format!("[SetUp \"1\"]\n[FEN \"{fen}\"]\n\n*\n")),
        "{from}"
    );
    for name in ["slow-lines.md", "a.pgn", "b.html", "c.pgn"] {
        let checked = run(&folder, &["check", name]);
        assert_eq!(checked.code, 0, "{}{}", checked.out, checked.err);
    }
}

#[test]
fn a_file_that_is_there_stays() {
    let folder = site("new-there", &[("a.md", "mine\n")]);
    let done = run(&folder, &["new", "a"]);
    assert_eq!((done.code, done.out.as_str()), (2, ""));
    assert!(
        done.err.contains("a.md: this is there already"),
        "{}",
        done.err
    );
    assert_eq!(
        fs::read_to_string(folder.join("a.md")).expect("the file"),
        "mine\n"
    );
}

#[test]
fn moves_that_cannot_be_played_make_no_file() {
    let folder = site("new-bad", &[]);
    let done = run(&folder, &["new", "a", "--from", "1.e4 Ke4"]);
    assert_eq!(done.code, 2);
    assert!(
        done.err.contains("Ke4 cannot be played there"),
        "{}",
        done.err
    );
    assert!(!folder.join("a.md").exists());
}

fn merge(folder: &Path, words: &[&str]) -> Run {
    run(folder, &[&["merge"], words].concat())
}

/// The moves of printed PGN without tags.
fn moves(done: &Run) -> String {
    assert_eq!(done.code, 0, "{}", done.err);
    let (_, text) = done.out.split_once("\n\n").expect("tags and moves");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn merged_lessons_hold_the_moves_and_words_of_both_and_equal_words_once() {
    let folder = site(
        "merge",
        &[
            ("a.pgn", "[Event \"One\"]\n\n1. e4 {wide} e5 2. Nf3 *\n"),
            (
                "b.pgn",
                "[Event \"Two\"]\n\n1. e4 {wide} {open} c5! {sharp} *\n",
            ),
        ],
    );
    let done = merge(&folder, &["a.pgn", "b.pgn"]);
    assert_eq!(
        moves(&done),
        "1. e4 {wide} {open} 1... e5 (1... c5 $1 {sharp}) 2. Nf3 *"
    );
    assert!(done.out.starts_with("[Event \"One\"]\n"), "{}", done.out);
    let done = merge(&folder, &["a.pgn", "b.pgn", "--sources"]);
    assert_eq!(
        moves(&done),
        "1. e4 {wide (a.pgn, b.pgn)} {open (b.pgn)} 1... e5 (1... c5 $1 {sharp (b.pgn)}) 2. Nf3 *"
    );
}

#[test]
fn a_position_that_stands_already_gets_the_moves_and_the_other_road_a_link() {
    let folder = site(
        "merge-positions",
        &[
            ("a.pgn", "1. d4 d5 2. c4 e6 *\n"),
            ("b.pgn", "1. c4 e6 2. d4 d5 3. Nc3 *\n"),
        ],
    );
    let done = merge(&folder, &["a.pgn", "b.pgn"]);
    assert_eq!(
        moves(&done),
        "1. d4 (1. c4 e6 2. d4 d5 {This is the position after [2...e6](#1.d4_d5_2.c4_e6).}) 1... d5 2. c4 e6 3. Nc3 *"
    );
    fs::write(folder.join("c.pgn"), &done.out).expect("a file");
    let checked = run(&folder, &["check", "--strict", "c.pgn"]);
    assert_eq!(checked.code, 0, "{}{}", checked.out, checked.err);
}

#[test]
fn where_files_choose_differently_both_are_named() {
    let folder = site(
        "merge-choices",
        &[("a.pgn", "1. e4 e5 *\n"), ("b.pgn", "1. d4 *\n")],
    );
    let done = merge(&folder, &["a.pgn", "b.pgn"]);
    assert_eq!(
        done.err,
        "plyline: at the start the files choose differently: e4 (a.pgn); d4 (b.pgn)\n"
    );
}

#[test]
fn of_a_game_with_unread_words_nothing_is_printed() {
    let folder = site(
        "merge-unread",
        &[("a.pgn", "1. e4 *\n"), ("b.pgn", "1. Ke4 *\n")],
    );
    let done = merge(&folder, &["a.pgn", "b.pgn"]);
    assert_eq!((done.code, done.out.as_str()), (1, ""));
    assert!(
        done.err.contains("b.pgn: not all of this can be read"),
        "{}",
        done.err
    );
}

const OLD: &str = "[Side \"white\"]\n\n1. e4 e5 {open} (1... c5) 2. Nf3 *\n";
const NEW: &str = "[Side \"black\"]\n\n1. e4 $1 e5 {closed} (1... e6 2. d4) 2. Nf3 *\n";

fn compared(words: &[&str]) -> Run {
    let folder = site(
        &format!("compare{}", words.len()),
        &[("a.pgn", OLD), ("b.pgn", NEW)],
    );
    run(&folder, &[&["compare", "a.pgn", "b.pgn"], words].concat())
}

#[test]
fn changes_are_told_a_line_each() {
    let done = compared(&[]);
    assert_eq!(done.code, 0, "{}", done.err);
    let wanted = "the tag Side is now \u{201c}black\u{201d}\n\
        1.e4 has ! and had no sign\n\
        after 1.e4, gone: 1... c5 (1 move)\n\
        after 1.e4, new: 1... e6 2. d4 (2 moves)\n\
        after 1...e5, the comment is now: closed\n";
    assert_eq!(done.out, wanted);
}

#[test]
fn a_program_reads_each_change_with_its_place_and_both_values() {
    let done = compared(&["--format", "json"]);
    let line = |kind: &str, at: Value, was: Value, now: Value| json!({ "file": "b.pgn", "game": 1, "kind": kind, "at": at, "was": was, "now": now });
    let with = |mut line: Value, moves: u64| {
        line["moves"] = json!(moves);
        line
    };
    let none = Value::Null;
    let wanted = [
        line(
            "tag",
            json!([]),
            json!(["Side", "white"]),
            json!(["Side", "black"]),
        ),
        line("signs", json!(["e4"]), json!([]), json!([1])),
        with(
            line(
                "dropped",
                json!(["e4", "c5"]),
                json!("1... c5"),
                none.clone(),
            ),
            1,
        ),
        with(
            line("added", json!(["e4", "e6"]), none, json!("1... e6 2. d4")),
            2,
        ),
        line(
            "comment",
            json!(["e4", "e5"]),
            json!("open"),
            json!("closed"),
        ),
    ];
    assert_eq!(json_lines(&done.out), wanted);
}

#[test]
fn folders_are_compared_file_by_file_and_pages_lesson_by_lesson() {
    let page = |moves: &str| format!("# A\n\n```pgn\n{moves}\n```\n");
    let (old, new) = (page("1. e4 *"), page("1. e4 e5 *"));
    let folder = site(
        "compare-folders",
        &[
            ("old/a.md", &old),
            ("old/b.pgn", "1. d4 *\n"),
            ("new/a.md", &new),
        ],
    );
    let done = run(&folder, &["compare", "old", "new", "--format", "markdown"]);
    assert_eq!(
        done.out,
        "## What changed\n\n- a.md: after 1.e4, new: 1... e5 (1 move)\n- b.pgn: the lesson is gone, 1 move\n"
    );
}

#[test]
fn what_cannot_be_compared_is_said() {
    let folder = site(
        "compare-bad",
        &[("a.pgn", "1. Ke4 *\n"), ("b/c.pgn", "1. e4 *\n")],
    );
    assert_eq!(run(&folder, &["compare", "a.pgn", "b"]).code, 2);
    assert_eq!(run(&folder, &["compare", "a.pgn", "b/c.pgn"]).code, 2);
    assert_eq!(run(&folder, &["compare", "none.pgn", "b/c.pgn"]).code, 2);
}
