//! The program as its users meet it: what is printed where, and the exit code.

mod assets;
mod bake;
mod bake_said;
mod engine;
mod export;
mod fix;
mod hostile;
mod listen;
mod png;
mod posts;
mod report;
pub mod run;
mod tally;
mod weigh;
mod writing;

use run::{codes, findings, fixtures, folder, json_lines, keys, run, run_on};
use serde_json::Value;
use std::fs;

#[test]
fn findings_are_shown_with_their_line_their_place_and_the_way_out() {
    // To renew: `cd tests/cli; plyline check mistakes.pgn >mistakes.txt`, and read it.
    let done = run(&fixtures(), &["check", "mistakes.pgn"]);
    let wanted = fs::read_to_string(fixtures().join("mistakes.txt")).expect("the wanted text");
    assert_eq!(done.out, wanted);
    let counts = "5 errors, 4 warnings, 2 hints in 1 file; check --fix fixes 1\n";
    assert_eq!(done.err, counts);
    assert_eq!(done.code, 1);
}

#[test]
fn the_outline_has_the_main_line_first_and_variations_with_their_labels_further_in() {
    let text = "[Event \"Short\"]\n1. d4 d5 (1... Nf6 2. c4 e6 {a} (2... g6! 3. Nc3 {b} (3. g3 $10))) \
                (1... f5 {c}) 2. c4 e6 3. Nc3 Nf6 4. cxd5 exd5 5. Bg5 Be7 6. e3 c6 7. Qc2 Nbd7 8. Bd3 \
                O-O 9. Nge2 Re8 1/2-1/2";
    let done = run_on("outline", text, &["tree", "a.pgn"]);
    let wanted = "\
Game 1: Short
  1.d4 d5 2.c4 e6 3.Nc3 Nf6 4.cxd5 exd5 5.Bg5 Be7 6.e3 c6 7.Qc2 Nbd7 8.Bd3 O-O
  9.Nge2 Re8 1/2-1/2
    A  1...Nf6 2.c4 e6
      A1  2...g6! 3.Nc3
        A1a  3.g3=
    B  1...f5

";
    assert_eq!(done.out, wanted);
    assert_eq!((done.code, done.err.as_str()), (0, ""));
}

#[test]
fn a_text_without_an_error_exits_with_0_also_where_there_are_warnings_and_hints() {
    let start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";
    let (code, found) = findings("warnings", format!("[FEN \"{start}\"] 1. e4 7. e5 {{.}} *"));
    assert_eq!((code, codes(&found)), (0, vec!["P026", "P022"]));
    let done = run_on("clean", "1. e4 e5 {.} *", &["check", "a.pgn"]);
    assert_eq!((done.code, done.out.as_str()), (0, ""));
    assert_eq!(done.err, "nothing found in 1 file\n");
}

#[test]
fn a_finding_in_json_has_the_keys_of_the_contract_in_their_order() {
    // Design, section 8.
    let (code, found) = findings("keys", "1. e4 (1. e4 e5 {.}) 3. e5 {.} *");
    assert_eq!((code, codes(&found)), (0, vec!["P046", "P022"]));
    let place = ["line", "column", "endLine", "endColumn"];
    let first = ["file", "code", "severity", "message"];
    let wanted = [&first[..], &place[..], &["help", "fix", "related"]].concat();
    // serde_json sorts the keys of what it reads, so their order is looked up in the text.
    let done = run_on(
        "keys",
        "1. e4 (1. e4 e5 {.}) 3. e5 {.} *",
        &["check", "--format", "json", "a.pgn"],
    );
    let line = done.out.lines().next().expect("a finding");
    let at: Vec<_> = wanted
        .iter()
        .map(|key| line.find(&format!("\"{key}\":")))
        .collect();
    assert!(at.is_sorted() && at[0] == Some(1), "{line}");
    assert_eq!(keys(&found[0]).len(), wanted.len());
    assert_eq!(found[0]["file"], "a.pgn");
    assert_eq!(found[0]["severity"], "warning");
    assert_eq!(found[0]["fix"], Value::Null);
    let related = &found[0]["related"][0];
    assert_eq!(related["message"], "the first one");
    assert_eq!(
        place.map(|key| related[key].as_u64()),
        [1, 4, 1, 6].map(Some)
    );
    assert_eq!(found[1]["related"], Value::Array(Vec::new()));
    let fix = &found[1]["fix"];
    assert_eq!((keys(fix).len(), &fix["text"]), (5, &Value::from("1...")));
    assert_eq!(place.map(|key| fix[key].as_u64()), [1, 22, 1, 24].map(Some));
}

#[test]
fn columns_count_unicode_scalars_from_1_and_the_end_is_exclusive() {
    // Counted by hand: a clef outside the basic plane, a letter of two bytes, a tab.
    let (_, found) = findings("columns", "\u{feff}1. e4\r\n{\u{1d11e}\u{fc}\t} Qh9+?! *");
    let place = ["line", "column", "endLine", "endColumn"];
    assert_eq!(
        place.map(|key| found[0][key].as_u64()),
        [2, 7, 2, 10].map(Some)
    );
}

#[test]
fn a_missing_file_is_named_with_its_reason_and_the_others_are_still_checked() {
    let done = run_on(
        "missing",
        "1. e4 Qh9 *",
        &["check", "--format", "json", "b.pgn", "a.pgn"],
    );
    assert_eq!(codes(&json_lines(&done.out)), ["P011"]);
    assert_eq!(done.code, 2);
    assert!(
        done.err.starts_with("plyline: b.pgn: ") && done.err.lines().count() == 1,
        "{}",
        done.err
    );
}

#[test]
fn a_folder_is_walked_for_its_pgn_files_in_order_and_each_file_is_read_once() {
    let folder = folder("walk");
    for name in [
        "b.pgn",
        "a/z.PGN",
        "a/notes.txt",
        ".hidden/c.pgn",
        "d/e/f.pgn",
    ] {
        let path = folder.join(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("a folder for the test");
        fs::write(path, "1. e5 *").expect("a file for the test");
    }
    let done = run(&folder, &["check", "--format", "json", ".", "./b.pgn"]);
    let found = json_lines(&done.out);
    let files: Vec<_> = found
        .iter()
        .map(|finding| finding["file"].as_str())
        .collect();
    assert_eq!(files, ["./a/z.PGN", "./b.pgn", "./d/e/f.pgn"].map(Some));
    assert_eq!(done.code, 1);
    assert_eq!(run(&folder, &["check", ".hidden/.."]).code, 1);
}

#[test]
fn a_folder_without_pgn_files_could_not_be_checked() {
    let done = run(&folder("none"), &["check", "."]);
    assert_eq!((done.code, done.out.as_str()), (2, ""));
    assert_eq!(
        done.err,
        "plyline: .: there is no .pgn, .md or .html file in this folder\n"
    );
}

#[test]
fn bad_arguments_exit_with_2() {
    let here = folder("arguments");
    for words in [
        &[][..],
        &["check"],
        &["check", "--format", "xml", "a.pgn"],
        &["tree", "a.pgn", "--game", "0"],
        &["tree", "a.pgn", "--json", "--emit", "tokens"],
        &["check", "--explain", "P014", "a.pgn"],
        &["export"],
        &["play"],
    ] {
        let done = run(&here, words);
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{words:?}");
    }
}

#[test]
fn every_command_explains_itself_with_an_example() {
    for words in [
        &["--help"][..],
        &["check", "--help"],
        &["tree", "--help"],
        &["export", "--help"],
        &["assets", "--help"],
    ] {
        let done = run(&fixtures(), words);
        assert_eq!(done.code, 0);
        assert!(
            done.out.contains("Example") && done.out.contains("plyline"),
            "{}",
            done.out
        );
    }
}

#[test]
fn a_game_of_another_kind_of_chess_prints_no_tree_and_the_others_do() {
    let text = "[Variant \"Atomic\"]\n\n1. e4 *\n\n[Event \"b\"]\n\n1. d4 *";
    let done = run_on("other", text, &["tree", "a.pgn", "--json"]);
    let trees = json_lines(&done.out);
    assert_eq!((done.code, trees.len()), (1, 1));
    assert_eq!(trees[0]["tags"]["Event"], "b");
    assert!(done.err.starts_with("error[P021]"), "{}", done.err);
}

#[test]
fn the_questions_of_a_lesson_are_listed_after_its_lines_with_the_side_to_move_and_the_answers() {
    let text = "{Ask: How does White begin?} 1. e4 e5 2. Nf3 {Ask: And Black?} Nc6 {Choose: solid} \
                (2... Nf6 {Choose: sharp}) 3. Bb5 {Ask: What now?} *";
    let done = run_on("questions", text, &["tree", "a.pgn"]);
    let wanted = "  asks at the start, White to move: 1.e4 (How does White begin?)\n  \
                  asks after 2.Nf3, Black to move: 2...Nc6 or 2...Nf6 (And Black?)\n  \
                  asks after 3.Bb5, Black to move: no answer (What now?)\n";
    assert!(done.out.contains(wanted), "{}", done.out);
}

#[test]
fn a_tree_in_json_is_one_line_a_game() {
    let text = "1. e4! {best} ({or} 1. d4 $10) e5 {.} *\n\n[Event \"2\"]\n\n1. -- e5 1-0";
    let done = run_on("json", text, &["tree", "a.pgn", "--json"]);
    assert_eq!((done.code, done.err.as_str()), (0, ""));
    let trees = json_lines(&done.out);
    assert_eq!(trees.len(), 2);
    let node = &trees[0]["nodes"][1];
    let wanted = serde_json::json!({
        // The FEN is that of the PGN standard, 16.1.4, but that an en passant square is named
        // only where the capture is legal.
        "id": 1, "parent": 0, "children": [3], "ply": 1, "san": "e4", "uci": "e2e4",
        "fen": "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 1",
        "nags": [1], "before": null, "comment": "best", "marks": [], "choice": null, "ask": null,
        "line": null
    });
    assert_eq!(node, &wanted);
    let sideline = &trees[0]["nodes"][2];
    assert_eq!(
        (&sideline["before"], &sideline["line"]),
        (&"or".into(), &"A".into())
    );
    assert_eq!(
        (&trees[1]["result"], &trees[1]["nodes"][1]["uci"]),
        (&"1-0".into(), &"0000".into())
    );
}

#[test]
fn a_game_is_chosen_by_its_number_and_only_its_own_findings_are_told() {
    let text = "1. e4 Qh9 *\n1. d4 *\n1. c4 ) *";
    for (number, code, errors) in [("1", 1, 1), ("2", 0, 0), ("3", 1, 1)] {
        let done = run_on(
            "chosen",
            text,
            &["tree", "a.pgn", "--json", "--game", number],
        );
        assert_eq!(
            (done.code, json_lines(&done.out).len()),
            (code, 1),
            "game {number}"
        );
        assert_eq!(
            done.err.matches("error[").count(),
            errors,
            "game {number}: {}",
            done.err
        );
    }
}

#[test]
fn a_game_that_is_not_there_prints_nothing_and_is_an_error() {
    let done = run_on(
        "absent",
        "1. e4 *",
        &["tree", "a.pgn", "--json", "--game", "2"],
    );
    assert_eq!((done.code, done.out.as_str()), (1, ""));
    assert!(done.err.starts_with("error[P043]"), "{}", done.err);
    let done = run_on("no-game", "", &["tree", "a.pgn", "--json"]);
    assert_eq!((done.code, done.out.as_str()), (1, ""));
    assert!(done.err.starts_with("error[P001]"), "{}", done.err);
}

#[test]
fn where_a_game_is_not_there_the_findings_that_may_be_the_reason_are_told() {
    let text = "1. e4 Ke3 {never closed\n\n[Event \"b\"] 1. d4 *";
    let done = run_on(
        "swallowed",
        text,
        &["tree", "a.pgn", "--json", "--game", "2"],
    );
    let codes: Vec<&str> = done
        .err
        .lines()
        .filter_map(|line| line.strip_prefix("error[")?.get(..4))
        .collect();
    assert_eq!(codes, ["P043", "P007"], "{}", done.err);
}

#[test]
fn what_a_reader_sees_is_shown_as_data_as_html_and_as_a_picture() {
    let text = "[Variant \"Atomic\"] 1. e4 *\n\n[Event \"b\"] 1. d4 {<b>} *";
    let view = run_on("view", text, &["tree", "a.pgn", "--emit", "view"]);
    assert!(view.out.starts_with("Page {"), "{}", view.out);
    assert_eq!(view.out.matches("Page {").count(), 1);
    let html = run_on("html", text, &["tree", "a.pgn", "--emit", "html"]);
    assert!(html.out.starts_with("<div") && html.out.ends_with("</div>\n"));
    assert!(html.out.contains("&lt;b&gt;") && html.out.lines().count() == 1);
    let picture = run_on("picture", text, &["tree", "a.pgn", "--emit", "picture"]);
    assert!(picture.out.starts_with("<svg ") && picture.out.ends_with("</svg>\n"));
    assert!(picture.out.contains("<title>White: king e1, ") && picture.out.lines().count() == 1);
}

#[test]
fn tokens_and_syntax_are_shown_step_by_step() {
    let tokens = run_on(
        "tokens",
        "1.e4 {a\nb}",
        &["tree", "a.pgn", "--emit", "tokens"],
    );
    let words: Vec<Vec<&str>> = tokens
        .out
        .lines()
        .map(|line| line.split_whitespace().collect())
        .collect();
    assert_eq!(words[0], ["0..1", "Number", "\"1\""]);
    assert_eq!(words.last().expect("a token")[..2], ["5..10", "Comment"]);
    let syntax = run_on(
        "syntax",
        "1. e4 (1. d4 $1) *",
        &["tree", "a.pgn", "--emit", "syntax"],
    );
    let wanted = "\
game 1, bytes 0..18
  line 0
    number 1.
    move \"e4\"
    line 1
      number 1.
      move \"d4\"
      nag 1
  result *
";
    assert_eq!(syntax.out, wanted);
}
