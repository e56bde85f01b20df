//! `plyline export`: the standard's export format, what is held back, and chapters.

use super::run::{json_lines, run_on};
use std::fs;
use std::path::Path;

const ROSTER: &str = "[Event \"?\"]\n[Site \"?\"]\n[Date \"????.??.??\"]\n[Round \"?\"]\n\
                      [White \"?\"]\n[Black \"?\"]\n[Result \"*\"]\n\n";

#[test]
fn the_sample_game_of_the_standard_is_printed_byte_for_byte() {
    // PGN standard (Edwards, 1994-03-12), section 2.3, in the export format.
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/support/sample-game.pgn");
    let sample = fs::read_to_string(path).expect("the sample game");
    let done = run_on("sample", &sample, &["export", "a.pgn"]);
    assert_eq!(done.code, 0, "{}", done.err);
    assert_eq!(done.out.trim_end(), sample.trim_end());
}

#[test]
fn games_are_parted_by_a_blank_line_and_read_back_as_the_same_trees() {
    // PGN standard, 8: a game is its tags, a blank line, its moves, a blank line (as in 2.3).
    let text = "1.e4 0-0 $1 *"; // a bad move, for the next line's sake
    assert_eq!(run_on("export-bad", text, &["export", "a.pgn"]).out, "");
    let text = "1. e2e4! {a} (1. d4 {b\n\nc}) e5 {.} * 1. \u{2658}f3 +=";
    let done = run_on("export-two", text, &["export", "a.pgn"]);
    let wanted = format!(
        "{ROSTER}1. e4 $1 {{a}} (1. d4 {{b\n\nc}}) 1... e5 {{.}} *\n\n{ROSTER}1. Nf3 $14 *\n\n"
    );
    assert_eq!((done.code, done.out.as_str()), (0, wanted.as_str()));
    let nodes = |text: &str| -> Vec<_> {
        let done = run_on("export-again", text, &["tree", "a.pgn", "--json"]);
        let mut trees = json_lines(&done.out);
        trees.iter_mut().map(|tree| tree["nodes"].take()).collect()
    };
    assert_eq!(nodes(&done.out), nodes(text));
}

#[test]
fn a_game_that_was_not_read_whole_is_held_back_and_the_others_are_printed() {
    let cases = [
        ("an unread move", "1. d4 Ke3 e5"),
        (
            "a tag that cannot be read",
            "[Event \"?\"]\n[Site x]\n1. d4 {.}",
        ),
        ("a variation beside no move", "(1. c4) 1. d4 {.}"),
        ("words in a variation without moves", "1. d4 {.} ({kept?})"),
    ];
    for (what, game) in cases {
        let text = format!("1. e4 {{.}} * {game} * 1. c4 {{.}} *");
        let done = run_on("held-back", &text, &["export", "a.pgn"]);
        let wanted = format!("{ROSTER}1. e4 {{.}} *\n\n{ROSTER}1. c4 {{.}} *\n\n");
        assert_eq!(
            (done.code, done.out.as_str()),
            (1, wanted.as_str()),
            "{what}"
        );
        let said = "plyline: game 2 is not printed, because it was not read whole";
        assert!(done.err.contains(said), "{what}: {}", done.err);
    }
}

#[test]
fn a_sign_that_means_nothing_holds_no_game_back() {
    for (game, code) in [("1. e4 $300 e5 {.} *", 0), ("1. e4 e5 {.} < *", 1)] {
        let done = run_on("sign", game, &["export", "a.pgn"]);
        let wanted = format!("{ROSTER}1. e4 e5 {{.}} *\n\n");
        assert_eq!((done.code, done.out), (code, wanted), "{game}");
        let checked = run_on("sign", game, &["check", "a.pgn"]);
        assert_eq!(checked.code, code, "{game}");
    }
}

#[test]
fn what_was_read_of_a_game_is_printed_when_that_is_asked_for() {
    let done = run_on(
        "partial",
        "1. e4 e5 2. Ke3 d6 *",
        &["export", "--partial", "a.pgn"],
    );
    assert_eq!(
        (done.code, done.out),
        (1, format!("{ROSTER}1. e4 e5 *\n\n"))
    );
    assert!(done.err.starts_with("error[P012]"), "{}", done.err);
    assert!(!done.err.contains("not printed"), "{}", done.err);
}

#[test]
fn one_game_is_exported_by_its_number() {
    let text = "1. e4 {.} * 1. d4 Ke3 * 1. c4 {.} *";
    let done = run_on("export-third", text, &["export", "a.pgn", "--game", "3"]);
    assert_eq!((done.code, done.err.as_str()), (0, ""));
    assert_eq!(done.out, format!("{ROSTER}1. c4 {{.}} *\n\n"));
    let done = run_on("export-fourth", text, &["export", "a.pgn", "--game", "4"]);
    assert_eq!((done.code, done.out.as_str()), (1, ""));
    assert!(done.err.starts_with("error[P043]"), "{}", done.err);
}

#[test]
fn a_text_that_cannot_be_read_at_all_exports_nothing() {
    let done = run_on("export-none", "", &["export", "a.pgn"]);
    assert_eq!((done.code, done.out.as_str()), (1, ""));
    let done = run_on("export-missing", "", &["export", "b.pgn"]);
    assert_eq!((done.code, done.out.as_str()), (2, ""));
    assert!(done.err.starts_with("plyline: b.pgn: "), "{}", done.err);
}

#[test]
fn chapters_are_printed_as_webvtt_or_as_a_list() {
    let text = "[Event \"Answers\"]\n\n1. e4 {Hear: 0:04} e5 (1... c5 {Hear: 1:05}) *";
    let done = run_on("chapters", text, &["export", "a.pgn", "--chapters", "text"]);
    let wanted = "0:00 Answers\n1:05 A 1...c5\n";
    assert_eq!((done.code, done.out.as_str()), (0, wanted), "{}", done.err);
    let done = run_on("chapters", text, &["export", "a.pgn", "--chapters", "vtt"]);
    let wanted = "WEBVTT\n\n00:00:00.000 --> 00:01:05.000\nAnswers\n\n00:01:05.000 --> 99:59:59.999\nA 1...c5\n";
    assert_eq!((done.code, done.out.as_str()), (0, wanted), "{}", done.err);
}

#[test]
fn a_lesson_without_times_says_what_writes_them() {
    let done = run_on(
        "timeless",
        "1. e4 {.} *",
        &["export", "a.pgn", "--chapters", "vtt"],
    );
    assert_eq!((done.code, done.out.as_str()), (1, ""));
    assert!(done.err.contains("a.pgn: no chapters"), "{}", done.err);
    assert!(done.err.contains("plyline listen"), "{}", done.err);
}

#[test]
fn chapters_are_of_one_lesson_that_was_read_whole() {
    let text = "1. e4 {Hear: 0:04} * 1. d4 {Hear: 0:05} Ke3 *";
    let chapters = ["export", "a.pgn", "--chapters", "text"];
    let done = run_on("chapters-two", text, &chapters);
    assert_eq!((done.code, done.out.as_str()), (2, ""));
    assert!(done.err.contains("say which by --game"), "{}", done.err);
    let of = |more: &[&str]| run_on("chapters-of", text, &[&chapters, more].concat());
    assert_eq!(of(&["--game", "1"]).out, "0:00 1.e4\n");
    let done = of(&["--game", "2"]);
    assert_eq!((done.code, done.out.as_str()), (1, ""));
    assert!(done.err.contains("game 2 is not printed"), "{}", done.err);
    let done = of(&["--game", "2", "--partial"]);
    assert_eq!((done.code, done.out.as_str()), (1, "0:00 1.d4\n"));
}
