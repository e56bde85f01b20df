//! `plyline weigh`: which lessons of which files are weighed, and how it ends.

use super::run::{json_lines, run, site};
use serde_json::Value;
use std::path::Path;

/// White's knight may jump into a capture.
const HANGS: &str = "[SetUp \"1\"]\n[FEN \"4k3/8/3p4/2p1p3/8/5N2/4P3/7K w - - 0 1\"]\n\n1. Nd4 *\n";
const BUDGET: &[&str] = &["weigh", "--budget", "60000"];

fn weigh(folder: &Path, words: &[&str]) -> super::run::Run {
    run(folder, &[BUDGET, words].concat())
}

/// File, line, column and code of what is told.
fn told(out: &str) -> Vec<(String, u64, u64, String)> {
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let lines = json_lines(out).into_iter();
    lines
        .map(|it| {
            let number = |name: &str| it[name].as_u64().unwrap_or_default();
            (
                text(&it["file"]),
                number("line"),
                number("column"),
                text(&it["code"]),
            )
        })
        .collect()
}

#[test]
fn lessons_of_posts_pages_and_the_files_that_they_name_are_weighed_each_once_at_their_place() {
    let element = HANGS.replace('\n', "&#10;");
    let page = format!("<p>A page.</p>\n<ply-line><pre>{element}</pre></ply-line>\n");
    let fence =
        format!("# A post\n\n```pgn\n{HANGS}```\n\n<ply-line src=\"more/b.pgn\"></ply-line>\n");
    let folder = site(
        "weigh",
        &[("a.md", &fence), ("c.html", &page), ("more/b.pgn", HANGS)],
    );
    let done = weigh(&folder, &["--format", "json", "a.md", "c.html"]);
    let at = |file: &str, line, column| (file.to_owned(), line, column, "P200".to_owned());
    let column = "<ply-line><pre>".len() + element.find("Nd4").expect("the move") + 1;
    let wanted = [
        at("a.md", 7, 4),
        at("c.html", 2, column as u64),
        at("more/b.pgn", 4, 4),
    ];
    assert_eq!(told(&done.out), wanted);
    assert_eq!((done.code, done.err.as_str()), (0, ""));
}

#[test]
fn a_warning_fails_only_where_that_is_asked_for() {
    let folder = site(
        "weigh-strict",
        &[("a.pgn", HANGS), ("b.pgn", "1. e4 e5 *\n")],
    );
    assert_eq!(weigh(&folder, &["a.pgn"]).code, 0);
    assert_eq!(weigh(&folder, &["--strict", "a.pgn"]).code, 1);
    let clean = weigh(&folder, &["--strict", "b.pgn"]);
    assert_eq!((clean.code, clean.out.as_str()), (0, ""));
    assert_eq!(clean.err, "nothing found in 1 file\n");
}

#[test]
fn the_report_has_a_line_for_what_was_confirmed() {
    let shown = HANGS.replace("Nd4", "Nd4? exd4");
    let folder = site("weigh-report", &[("a.pgn", &shown)]);
    let done = weigh(&folder, &["--report", "a.pgn"]);
    let wanted = "a.pgn:4:4: trap: 1.Nd4 loses a knight by force: 1...exd4 (searched ";
    assert!(done.out.starts_with(wanted), "{}", done.out);
    let done = weigh(&folder, &["--report", "--format", "json", "a.pgn"]);
    let lines = json_lines(&done.out);
    assert_eq!((lines.len(), &lines[0]["told"]), (1, &Value::from("trap")));
}

#[test]
fn what_cannot_be_read_is_said_and_the_rest_is_weighed() {
    let folder = site(
        "weigh-unread",
        &[
            ("a.pgn", "1. e4 e5 2. Ke3 *\n"),
            ("b.pgn", HANGS),
            ("empty.md", "# Nothing\n"),
        ],
    );
    let done = weigh(
        &folder,
        &["--format", "json", "a.pgn", "none.pgn", "b.pgn", "empty.md"],
    );
    assert_eq!(done.code, 2);
    assert_eq!(told(&done.out).len(), 1, "{}", done.out);
    assert!(
        done.err.contains("a.pgn: not all of this can be read"),
        "{}",
        done.err
    );
    assert!(done.err.contains("none.pgn: "), "{}", done.err);
}

#[test]
fn a_budget_of_nothing_is_refused() {
    let folder = site("weigh-budget", &[("a.pgn", HANGS)]);
    let done = run(&folder, &["weigh", "--budget", "0", "a.pgn"]);
    assert_eq!(done.code, 2);
    assert!(done.err.contains("--budget"), "{}", done.err);
}
