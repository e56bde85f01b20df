//! How findings are printed: for a run on GitHub, strictly, by code, and short beside other output.

use super::run::{folder, run, run_on};
use plyline::text::Code;
use std::fs;

const MIXED: &str = "1. e4 e5 (1... c5) 3. Nf3 (2. O-O) Nc6 {.} *";

#[test]
fn findings_for_github_are_one_escaped_command_a_line() {
    // The form: npm `@actions/core` 3.0.1, `lib/command.js` (the command, and which characters
    // are escaped) and `lib/core.d.ts` (columns, the last one counting in).
    let folder = folder("github");
    fs::write(folder.join("50%, a:b.pgn"), MIXED).expect("a file for the test");
    let done = run(&folder, &["check", "--format", "github", "."]);
    let wanted = "\
::notice file=50%25%2C a%3Ab.pgn,line=1,col=16,endLine=1,endColumn=17,title=P060::line A ends without a \
word or an assessment
::warning file=50%25%2C a%3Ab.pgn,line=1,col=20,endLine=1,endColumn=21,title=P022::the move here is number 2., not 3.: \
moves may be missing before it%0Ahelp: if none is missing, write 2.
::error file=50%25%2C a%3Ab.pgn,line=1,col=31,endLine=1,endColumn=33,title=P037::White cannot castle on the king's \
side: the bishop on f1 and the knight on g1 stand in the way
";
    assert_eq!(done.out, wanted);
    assert_eq!(done.code, 1);
}

#[test]
fn a_place_over_several_lines_has_no_columns_for_github() {
    let text = "1. e4 e5 {Ask: what\nnow?} *";
    let done = run_on(
        "github-lines",
        text,
        &["check", "--format", "github", "a.pgn"],
    );
    let wanted = "::warning file=a.pgn,line=1,endLine=2,title=P048::";
    assert!(done.out.starts_with(wanted), "{}", done.out);
}

#[test]
fn strict_counts_warnings_as_errors_and_never_hints() {
    let cases = [
        ("1. e4 {.} *", 0, 0),
        ("1. e4 *", 0, 0),
        ("1. e4 {.} () *", 0, 1),
        ("1. e4 Ke3 *", 1, 1),
    ];
    for (text, usual, strict) in cases {
        let code = |words: &[&str]| run_on("strict", text, words).code;
        assert_eq!(code(&["check", "a.pgn"]), usual, "{text}");
        assert_eq!(code(&["check", "--strict", "a.pgn"]), strict, "{text}");
    }
}

#[test]
fn a_code_is_explained_with_its_severity_and_an_example() {
    let here = folder("explain");
    for word in ["P014", "p014"] {
        let done = run(&here, &["check", "--explain", word]);
        assert_eq!((done.code, done.err.as_str()), (0, ""));
        assert!(done.out.starts_with("P014, an error: "), "{}", done.out);
        assert!(done.out.lines().any(|line| line.starts_with("    (1. d4)")));
        let longest = done.out.lines().map(|line| line.chars().count()).max();
        assert!(longest < Some(80), "{}", done.out);
    }
}

#[test]
fn all_codes_are_explained_in_the_order_of_their_numbers() {
    let done = run(&folder("explain"), &["check", "--explain", "all"]);
    let told: Vec<&str> = done
        .out
        .lines()
        .filter_map(|line| line.split_once(", a").map(|(code, _)| code))
        .filter(|code| code.len() == 4 && code.starts_with('P'))
        .collect();
    let wanted: Vec<&str> = Code::all().iter().map(|code| code.id()).collect();
    assert_eq!((done.code, told), (0, wanted));
}

#[test]
fn a_code_that_is_not_there_is_answered_with_a_sentence() {
    for word in ["P999", "14", ""] {
        let done = run(&folder("explain"), &["check", "--explain", word]);
        assert_eq!((done.code, done.out.as_str()), (2, ""));
        let wanted = format!(
            "plyline: no finding has the code {word}; `plyline check --explain all` lists them\n"
        );
        assert_eq!(done.err, wanted);
    }
}

#[test]
fn beside_a_tree_a_hint_takes_one_line_and_the_rest_is_shown_whole() {
    let text = "1. e4 (1. d4) (1. c4) 1... e5 () *";
    let done = run_on("calm", text, &["tree", "a.pgn", "--json"]);
    let wanted = "\
hint[P060]: line A ends without a word or an assessment (a.pgn:1:11)
hint[P060]: line B ends without a word or an assessment (a.pgn:1:19)
hint[P060]: the main line ends without a word or an assessment (a.pgn:1:28)

warning[P016]: this variation has no move
 --> a.pgn:1:31
  |
1 | 1. e4 (1. d4) (1. c4) 1... e5 () *
  |                               ^^

1 warning, 3 hints in 1 file
";
    assert_eq!((done.code, done.err.as_str()), (0, wanted));
}

#[test]
fn a_report_has_one_blank_line_between_findings_and_none_within() {
    let text = "[Event \"a\"]\n[Event \"b\"]\n\n1. e4 e5 3. Nf4 {x} () ) (1. d4 0-0 *";
    for words in [
        &["check", "a.pgn"][..],
        &["tree", "a.pgn"],
        &["export", "a.pgn"],
    ] {
        let done = run_on("blank", text, words);
        let said = if words[0] == "check" {
            done.out
        } else {
            done.err
        };
        assert!(said.matches("\n\n").count() > 3, "{said}");
        assert!(
            !said.contains("\n\n\n") && !said.starts_with('\n'),
            "{said}"
        );
        for part in said.trim_end().split("\n\n") {
            let is_whole = part.contains("[P") || part.contains(" in 1 file");
            assert!(is_whole, "{part:?} belongs to no finding in {said}");
        }
    }
}
