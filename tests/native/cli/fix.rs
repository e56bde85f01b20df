//! `plyline check --fix`: certain fixes and nothing else, every other byte as it was.

use super::run::{Run, codes, folder, json_lines, run};
use std::fs;
use std::path::Path;

/// Fixes a text, which becomes the file `a.pgn` of a folder of its own; what is there after.
fn fixed(name: &str, text: impl AsRef<[u8]>) -> (Run, Vec<u8>) {
    let folder = folder(name);
    fs::write(folder.join("a.pgn"), text).expect("a file for the test");
    let done = run(&folder, &["check", "--fix", "a.pgn"]);
    (done, content(&folder))
}

fn content(folder: &Path) -> Vec<u8> {
    fs::read(folder.join("a.pgn")).expect("the file of the test")
}

#[test]
fn what_is_certain_is_mended_and_every_other_byte_stays() {
    let text = "\
% an escape line\n\
[Event  \"odd   spaces\" ]\n\
[FEN \"4k3/P6p/8/8/8/8/4B3/R3K2R w KQ - 0 1\"]\n\
\n\
1.  0-0\t{a  b}   Kd7 ( 1 h7-h5!? ; rest\n\
) 3. a8=Q {kept} $1  h5 3. Kh1 Ke9 *  \n";
    let wanted = "\
% an escape line\n\
[Event  \"odd   spaces\" ]\n\
[SetUp \"1\"]\n\
[FEN \"4k3/P6p/8/8/8/8/4B3/R3K2R w KQ - 0 1\"]\n\
\n\
1.  O-O\t{a  b}   Kd7 ( 1... h5!? ; rest\n\
) 2. a8=Q {kept} $1  h5 3. Kh1 Ke9 *  \n";
    let (done, after) = fixed("fix-bytes", text);
    assert_eq!(String::from_utf8_lossy(&after), wanted);
    for line in [
        "a.pgn:3:1: put in [SetUp \"1\"] [P026]\n",
        "a.pgn:6:5: 0-0 -> O-O [P030]\n",
        "a.pgn:6:24: 1 -> 1... [P045]\n",
        "a.pgn:6:29: h7-h5!? -> h5!? [P030]\n",
        "a.pgn:7:3: 3. -> 2. [P022]\n\n",
    ] {
        assert!(done.out.contains(line), "{line} is not in {}", done.out);
    }
    assert!(done.err.starts_with("5 places fixed; "), "{}", done.err);
    assert_eq!(done.code, 1, "Ke9 is left: {}", done.out);
}

#[test]
fn byte_order_mark_and_line_ends_are_the_files_own() {
    let fen = "[FEN \"4k3/8/8/8/8/8/8/4K2R w K - 0 1\"]";
    let text = format!("\u{feff}{fen}\r\n\r\n1. 0-0 {{\u{265e}}}\r\n*");
    let (done, after) = fixed("fix-crlf", text);
    let wanted = format!("\u{feff}[SetUp \"1\"]\r\n{fen}\r\n\r\n1. O-O {{\u{265e}}}\r\n*");
    assert_eq!(String::from_utf8_lossy(&after), wanted);
    assert_eq!(done.code, 0);
}

#[test]
fn latin_1_stays_latin_1_and_the_warning_about_it_keeps_its_place() {
    let text = b"[FEN \"4k3/8/8/8/8/8/8/4K2R w K - 0 1\"]\n\n1. 0-0 {Gr\xfcn\xa0\xff} *\n";
    let (done, after) = fixed("fix-latin", text);
    let wanted =
        b"[SetUp \"1\"]\n[FEN \"4k3/8/8/8/8/8/8/4K2R w K - 0 1\"]\n\n1. O-O {Gr\xfcn\xa0\xff} *\n";
    assert_eq!(after, wanted);
    assert!(done.out.contains("warning[P004]") && done.out.contains(" --> a.pgn:4:11\n"));
    assert_eq!(done.code, 0);
}

#[test]
fn a_mended_move_lets_the_next_be_read_and_mended_until_nothing_is_left() {
    let (done, after) = fixed("fix-rounds", "1. e4 e5 2. nf3 Nc66 3. Bb5 a6 4. 0-0 {.} *");
    assert_eq!(
        String::from_utf8_lossy(&after),
        "1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. O-O {.} *"
    );
    assert_eq!(
        (done.code, done.out.lines().count()),
        (0, 4),
        "{}",
        done.out
    );
}

#[test]
fn a_comment_is_never_taken_away_also_where_it_stands_within_what_is_mended() {
    let text = "1 {between} ... e4 {.} e5 2 ; and here\n... Nf3 {.} *";
    let (_, after) = fixed("fix-comment", text);
    let after = String::from_utf8_lossy(&after).into_owned();
    assert!(
        after.contains("{between}") && after.contains("; and here\n"),
        "{after}"
    );
}

#[test]
fn a_text_that_its_mends_would_make_too_long_is_left_alone() {
    let (start, end) = ("[FEN \"4k3/8/8/8/8/8/8/4K3 w - - 0 1\"]\n1. Kd2 {", "} *");
    let words = "x".repeat(plyline::text::limits::TEXT_BYTES - start.len() - end.len());
    let text = format!("{start}{words}{end}");
    let (done, after) = fixed("fix-long", &text);
    assert!(
        after == text.as_bytes(),
        "the file has {} bytes now",
        after.len()
    );
    assert_eq!(done.code, 2);
    assert!(
        done.err.contains("not fixed: with its fixes"),
        "{}",
        done.err
    );
    assert!(done.out.starts_with("hint[P026]"), "{}", done.out);
}

#[test]
fn two_lines_that_belong_at_one_place_are_both_put_in() {
    let text = "[FEN \"4k3/8/8/8/8/8/8/5B1K w - - 0 1\"]\n1. Fb5+ Rd8 {.} *";
    let (done, after) = fixed("fix-place", text);
    let wanted = format!("[Letters \"fr\"]\n[SetUp \"1\"]\n{text}");
    assert_eq!(String::from_utf8_lossy(&after), wanted);
    let told =
        "a.pgn:1:1: put in [Letters \"fr\"] [P054]\na.pgn:2:1: put in [SetUp \"1\"] [P026]\n\n";
    assert_eq!((done.code, done.out.as_str()), (0, told));
}

#[test]
fn a_second_run_finds_nothing_to_mend_and_does_not_touch_the_file() {
    let folder = folder("fix-again");
    fs::write(folder.join("a.pgn"), "1.e2-e4 0-0 *").expect("a file for the test");
    assert_eq!(run(&folder, &["check", "--fix", "a.pgn"]).code, 1);
    let touched = || {
        let about = fs::metadata(folder.join("a.pgn")).expect("the file of the test");
        about.modified().expect("a time")
    };
    let (before, bytes) = (touched(), content(&folder));
    let done = run(&folder, &["check", "--fix", "--format", "json", "a.pgn"]);
    assert!(!done.err.contains("->"), "{}", done.err);
    for finding in json_lines(&done.out) {
        assert!(finding["fix"].is_null(), "{finding}");
    }
    assert_eq!((touched(), content(&folder)), (before, bytes));
    let names: Vec<_> = fs::read_dir(&folder)
        .expect("the folder of the test")
        .collect();
    assert_eq!(
        names.len(),
        1,
        "nothing else is left in the folder: {names:?}"
    );
}

#[test]
fn for_programs_findings_alone_go_to_standard_output() {
    for format in ["json", "github"] {
        let folder = folder("fix-format");
        fs::write(folder.join("a.pgn"), "1. e2-e4 Ke3 *").expect("a file for the test");
        let done = run(&folder, &["check", "--fix", "--format", format, "a.pgn"]);
        assert!(
            done.err.starts_with("a.pgn:1:4: e2-e4 -> e4 [P030]\n"),
            "{}",
            done.err
        );
        assert_eq!(done.out.lines().count(), 1, "{}", done.out);
    }
}

#[test]
fn strict_and_fix_look_at_what_is_left() {
    let folder = folder("fix-strict");
    fs::write(folder.join("a.pgn"), "1. e4 e5 3. Nf3 Nc6 3. Bc4 {.} *")
        .expect("a file for the test");
    assert_eq!(run(&folder, &["check", "--strict", "a.pgn"]).code, 1);
    assert_eq!(
        run(&folder, &["check", "--strict", "--fix", "a.pgn"]).code,
        0
    );
}

#[test]
fn of_many_games_all_are_mended_also_beyond_the_findings_that_are_kept() {
    let (done, after) = fixed("fix-many", "1. e2e4 {.} *\n".repeat(3_000));
    assert_eq!(
        String::from_utf8_lossy(&after),
        "1. e4 {.} *\n".repeat(3_000)
    );
    assert_eq!((done.code, done.out.lines().count()), (0, 3_001));
}

#[test]
fn a_file_that_cannot_be_read_does_not_hinder_the_mending_of_others() {
    let folder = folder("fix-others");
    fs::write(folder.join("a.pgn"), "1. e2e4 {.} *").expect("a file for the test");
    let done = run(&folder, &["check", "--fix", "none.pgn", "a.pgn"]);
    assert_eq!((done.code, content(&folder)), (2, b"1. e4 {.} *".to_vec()));
    assert!(done.err.starts_with("plyline: none.pgn: "), "{}", done.err);
}

#[cfg(unix)]
#[test]
fn permissions_and_links_are_kept_and_a_write_protected_file_is_left_alone() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let folder = folder("fix-permissions");
    let set = |mode| {
        fs::write(folder.join("real"), "1. e2e4 {.} *").expect("a file for the test");
        let mode = fs::Permissions::from_mode(mode);
        fs::set_permissions(folder.join("real"), mode).expect("permissions for the test");
    };
    set(0o640);
    symlink("real", folder.join("a.pgn")).expect("a link for the test");
    assert_eq!(run(&folder, &["check", "--fix", "a.pgn"]).code, 0);
    assert_eq!(content(&folder), b"1. e4 {.} *");
    let about = fs::symlink_metadata(folder.join("a.pgn")).expect("the link");
    assert!(about.is_symlink());
    let about = fs::metadata(folder.join("real")).expect("the file");
    assert_eq!(about.permissions().mode() & 0o777, 0o640);
    fs::remove_file(folder.join("real")).expect("the file");
    set(0o440);
    let done = run(&folder, &["check", "--fix", "a.pgn"]);
    assert_eq!(
        (done.code, content(&folder)),
        (2, b"1. e2e4 {.} *".to_vec())
    );
    let wanted = "plyline: a.pgn: not fixed: the file is write-protected\n";
    assert!(done.err.starts_with(wanted), "{}", done.err);
    assert!(
        done.out.starts_with("hint[P030]"),
        "it is still checked: {}",
        done.out
    );
}

#[test]
fn without_an_error_the_moves_are_the_same_before_and_after() {
    let text = "[FEN \"4k3/P6p/8/8/8/8/4B3/R3K2R w KQ - 0 1\"] 1. 0-0! (1. a8q {x}) 4. h6 {.} \
                (1 ... h7-h5 $14) 2. Be2-b5 {.} *\n\n1. \u{2659}e4 e5 2. Ng1f3 Nb8-c6 {.} *";
    let folder = folder("fix-same");
    fs::write(folder.join("a.pgn"), text).expect("a file for the test");
    let nodes = || {
        let done = run(&folder, &["tree", "a.pgn", "--json"]);
        let mut trees = json_lines(&done.out);
        let nodes: Vec<_> = trees.iter_mut().map(|tree| tree["nodes"].take()).collect();
        (done.code, nodes)
    };
    let before = nodes();
    assert_eq!((before.0, before.1.len()), (0, 2));
    let done = run(&folder, &["check", "--fix", "--format", "json", "a.pgn"]);
    assert!(done.err.matches(" -> ").count() >= 8, "{}", done.err);
    let left = json_lines(&done.out);
    assert_eq!(nodes(), before, "left: {:?}", codes(&left));
}

#[test]
fn a_number_that_falls_back_to_one_is_told_and_not_mended() {
    let text = "1. e4 e5 2. Nf3 Nc6 {ok}\n\n1. d4 d5 {ok} *\n";
    let (done, after) = fixed("restart", text);
    assert_eq!(after, text.as_bytes());
    assert!(
        done.out.contains("after a result such as `*`"),
        "{}",
        done.out
    );
}

#[test]
fn a_capture_of_nothing_is_mended_only_where_all_else_can_be_played() {
    let (_, after) = fixed("fix-taking", "1. e4 e5 2. Nf3 Nc6 3. Nxc3 Nf6 *");
    assert_eq!(after, b"1. e4 e5 2. Nf3 Nc6 3. Nc3 Nf6 *");
    // What it took may be missing because of the same slip.
    let text = "1. e4 e5 2. Nf3 Nc6 3. Nxc3 Nf6 4. Bb8 *";
    let (_, after) = fixed("fix-taking-doubt", text);
    assert_eq!(after, text.as_bytes());
}
