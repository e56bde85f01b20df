//! Texts that are broken, too large or meant to do harm, and a reader who goes away.

use super::run::{codes, findings, folder, json_lines, plyline, run, run_on};
use std::collections::HashSet;
use std::fs;
use std::process::{Command, Stdio};

#[test]
fn bytes_that_are_not_utf_8_are_read_as_latin_1_with_a_warning() {
    let (code, found) = findings("latin", b"1. e4 {Gr\xfcn} e5 {.} *");
    assert_eq!((code, codes(&found)), (0, vec!["P004"]));
    assert_eq!(
        (&found[0]["column"], &found[0]["endColumn"]),
        (&10.into(), &11.into())
    );
}

#[test]
fn bad_input_gives_findings_and_never_ends_the_program_otherwise() {
    let start = |tag: &str| format!("[{tag}]\n\n1. e4 *");
    let cases: [(&str, Vec<u8>, &[&str]); 9] = [
        ("empty", Vec::new(), &["P001"]),
        ("blank", b"\r\n \n".to_vec(), &["P001"]),
        ("words", b"Milk, eggs".to_vec(), &["P011"]),
        ("nul", b"1. e4 \0\0 e5 {.} *".to_vec(), &["P005"]),
        (
            "nested",
            format!("1. e4 {}", "(1. d4 ".repeat(100_000)).into(),
            &["P046", "P024", "P008", "P009"],
        ),
        (
            "open",
            format!("1. e4 {}", "(".repeat(100_000)).into(),
            &["P008", "P014"],
        ),
        (
            "closed",
            format!("1. e4 {}", ")".repeat(100_000)).into(),
            &["P015", "P003"],
        ),
        ("variant", start("Variant \"Atomic\"").into(), &["P021"]),
        (
            "array",
            start("FEN \"bbqnnrkr/pppppppp/8/8/8/8/PPPPPPPP/BBQNNRKR w HFhf - 0 1\"").into(),
            &["P021"],
        ),
    ];
    for (name, text, wanted) in cases {
        let (code, found) = findings(name, text);
        let mut kinds = codes(&found);
        let mut seen = HashSet::new();
        // That a line ends without a comment does not matter here.
        kinds.retain(|kind| *kind != "P060" && seen.insert(kind.to_owned()));
        assert_eq!((code, &kinds[..]), (1, wanted), "{name}");
    }
}

#[test]
fn a_comment_of_20_megabytes_is_too_long_and_is_not_read() {
    let mut text = b"1. e4 {".to_vec();
    text.resize(20_000_000, b'x');
    let (code, found) = findings("long", text);
    assert_eq!((code, codes(&found)), (1, vec!["P002"]));
}

#[test]
fn a_file_that_cannot_be_decoded_names_itself_and_the_reason_and_the_others_are_checked() {
    let folder = folder("decode");
    let utf_16 = |mark: [u8; 2], low: usize| -> Vec<u8> {
        let letters = "1. e4 0-0 *".bytes();
        let pairs = letters.flat_map(|byte| if low == 0 { [byte, 0] } else { [0, byte] });
        mark.into_iter().chain(pairs).collect()
    };
    let files = [
        ("a.pgn", utf_16([0xff, 0xfe], 0)),
        ("b.pgn", utf_16([0xfe, 0xff], 1)),
        ("c.pgn", b"1. e4 Ke3 *".to_vec()),
    ];
    for (name, bytes) in &files {
        fs::write(folder.join(name), bytes).expect("a file for the test");
    }
    for words in [
        &["check", "--format", "json", "."][..],
        &["check", "--fix", "--format", "json", "."],
    ] {
        let done = run(&folder, words);
        let said: Vec<&str> = done.err.lines().collect();
        let reason = "this text is UTF-16, which is not read; save it as UTF-8";
        let wanted = ["a", "b"].map(|name| format!("plyline: ./{name}.pgn: {reason}"));
        assert_eq!(
            (done.code, said),
            (2, wanted.iter().map(String::as_str).collect())
        );
        assert_eq!(codes(&json_lines(&done.out)), ["P012"]);
    }
    for (name, bytes) in &files {
        assert_eq!(
            &fs::read(folder.join(name)).expect("the file"),
            bytes,
            "{name}"
        );
    }
}

#[test]
fn nothing_of_a_text_reaches_the_terminal_that_a_terminal_obeys() {
    let evil = "\u{1b}[31m\u{9b}2J\u{202e}\u{7}";
    let text =
        format!("[Event \"{evil}\"]\n[Event \"{evil}\"]\n1. e4 {{{evil}}} {evil} Qh9{evil} *");
    for words in [
        &["check"][..],
        &["tree"],
        &["tree", "--emit", "tokens"],
        &["tree", "--emit", "syntax"],
    ] {
        let done = run_on("evil", &text, &[words, &["a.pgn"]].concat());
        let said = done.out + &done.err;
        assert!(said.contains("31m") && said.contains('\n'), "{said}");
        let obeyed = |letter: char| letter != '\n' && (letter.is_control() || letter == '\u{202e}');
        assert!(!said.contains(obeyed), "{words:?}: {said:?}");
    }
}

#[test]
fn a_reader_who_goes_away_is_no_failure_and_the_exit_code_still_tells_what_was_found() {
    let folder = folder("pipe");
    // Findings for some hundred kilobytes, more than a pipe holds.
    fs::write(
        folder.join("a.pgn"),
        "1. e4 ".to_owned() + &"] ".repeat(900),
    )
    .expect("a file");
    let mut command = plyline(&folder, &["check", "--format", "json", "a.pgn"]);
    let mut child = command
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("the program ends");
    assert_eq!(output.status.code(), Some(1));
    assert_eq!(String::from_utf8_lossy(&output.stderr), "");
}

#[test]
fn an_error_after_more_findings_than_are_kept_is_shown_and_counts() {
    // Each of these results has a hint, and the kept hints are fewer.
    let text = format!("{}1. e4 {{.}} ) *\n", "1. e4 {.} 1/2\n\n".repeat(1_100));
    let done = run_on("late", &text, &["check", "a.pgn"]);
    assert_eq!(done.code, 1);
    assert!(done.out.contains("error[P015]"), "the error is shown");
    assert!(done.err.starts_with("1 error, "), "{}", done.err);
    // As many errors are kept; the finding says that there are more.
    let text = format!("{}1. e4 {{.}} *\n", "1. e4 {.} ) *\n\n".repeat(1_100));
    let code = |game: &str| run_on("errors", &text, &["tree", "a.pgn", "--game", game]).code;
    assert_eq!(code("1100"), 1);
    assert_eq!(code("1101"), 0);
}

#[test]
#[cfg(unix)]
fn a_pipe_in_a_folder_is_passed_over_and_named() {
    let folder = folder("pipe");
    fs::write(folder.join("a.pgn"), "1. e4 {.} *").expect("a file for the test");
    let made = Command::new("mkfifo").arg(folder.join("b.pgn")).status();
    assert!(made.expect("mkfifo").success());
    let done = run(&folder, &["check", "."]);
    assert_eq!(done.code, 2);
    assert!(
        done.err.contains("b.pgn: this is not a file"),
        "{}",
        done.err
    );
    assert!(done.err.contains("in 1 file"), "{}", done.err);
}
