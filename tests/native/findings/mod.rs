//! Every code of a finding: a text that has it with the report that it gives, the paragraph
//! that explains it, and the page `www/findings.md` that is made of both.
//!
//! `UPDATE_EXPECT=1 cargo test --test native findings` writes the reports and the page again; read
//! the difference before you keep it.

mod carets;
mod fixtures;
mod limits;
mod page;

use crate::cli::run::{folder, json_lines, run};
use fixtures::{Fixture, all, expect};
use plyline::text::Code;
use std::collections::BTreeSet;
use std::fs;

/// Codes without a fixture, each with the reason and the test that has it.
const EXCUSED: &[(&str, &str)] = &[
    ("P002", "needs 16 MB of text: tests/native/cli/hostile.rs"),
    (
        "P003",
        "needs a thousand findings: tests/native/lesson/reading.rs",
    ),
    (
        "P010",
        "needs 100,000 moves: tests/native/lesson/reading.rs",
    ),
    (
        "P043",
        "is about a number that was asked for: tests/native/cli/mod.rs",
    ),
    (
        "P063",
        "needs thousands of links: tests/native/findings/limits.rs",
    ),
    ("P065", "is about a page: tests/pages/"),
    ("P210", "needs an engine: tests/native/cli/engine.rs"),
    ("P211", "needs an engine: tests/native/cli/engine.rs"),
    ("P212", "needs an engine: tests/native/cli/engine.rs"),
    ("P300", "is about a talk: tests/native/cli/listen.rs"),
    ("P301", "is about a talk: tests/native/cli/listen.rs"),
    ("P302", "is about a talk: tests/native/cli/listen.rs"),
    ("P303", "is about a talk: tests/native/cli/listen.rs"),
    ("P304", "is about a talk: tests/native/cli/listen.rs"),
    ("P305", "is about a talk: tests/native/cli/listen.rs"),
    ("P306", "is about a talk: tests/native/cli/listen.rs"),
    ("P307", "is about a talk: tests/native/cli/listen.rs"),
    ("P308", "is about a talk: tests/native/cli/listen.rs"),
    ("P309", "needs more than a test has: src/talk/mod.rs"),
    ("P310", "is about a talk: tests/native/cli/listen.rs"),
    ("P311", "is about a talk: tests/native/cli/listen.rs"),
];

#[test]
fn each_fixture_gives_the_report_beside_it() {
    for fixture in all() {
        expect(&fixture.path.with_extension("txt"), &fixture.report());
    }
}

#[test]
fn each_code_has_a_fixture_or_a_reason_why_not() {
    let shown: BTreeSet<String> = all().iter().map(|it| it.code().to_owned()).collect();
    let excused: BTreeSet<String> = EXCUSED.iter().map(|(code, _)| (*code).to_owned()).collect();
    let wanted: BTreeSet<String> = Code::all()
        .iter()
        .map(|code| code.id().to_owned())
        .collect();
    assert_eq!(&shown | &excused, wanted);
    assert_eq!(
        &shown & &excused,
        BTreeSet::new(),
        "what has a fixture needs no excuse"
    );
}

#[test]
fn a_fixture_has_findings_of_its_own_code_alone() {
    for fixture in all() {
        let found = fixture.findings();
        assert!(!found.is_empty(), "{} has no finding", fixture.name);
        for finding in found {
            assert_eq!(
                finding["code"],
                fixture.code(),
                "in {}: {finding}",
                fixture.name
            );
        }
    }
}

#[test]
fn no_report_is_left_without_its_text() {
    for entry in fs::read_dir(fixtures::folder()).expect("the fixtures") {
        let path = entry.expect("a fixture").path();
        if path.extension().is_some_and(|ending| ending == "txt") {
            let is_there = |ending| path.with_extension(ending).exists();
            assert!(
                is_there("pgn") || is_there("md"),
                "{} is of no text",
                path.display()
            );
        }
    }
}

#[test]
fn after_one_mending_a_second_finds_nothing_to_mend() {
    for fixture in all() {
        let folder = folder("findings-fix");
        let name = fixture.copy();
        let copy = folder.join(name);
        let before = fixture.bytes();
        fs::write(&copy, &before).expect("a copy of the fixture");
        let first = run(&folder, &["check", "--fix", "--format", "json", name]);
        let after = fs::read(&copy).expect("the copy");
        let had = fixture
            .findings()
            .iter()
            .any(|finding| !finding["fix"].is_null());
        assert_eq!(
            after != before,
            had,
            "{} is changed if it has a fix",
            fixture.name
        );
        let left = json_lines(&first.out);
        for finding in &left {
            assert!(
                finding["fix"].is_null(),
                "{}: left is {finding}",
                fixture.name
            );
        }
        let second = run(&folder, &["check", "--fix", "--format", "json", name]);
        assert_eq!(
            (second.out, second.code),
            (first.out, first.code),
            "{}",
            fixture.name
        );
        assert_eq!(
            fs::read(&copy).expect("the copy"),
            after,
            "{}",
            fixture.name
        );
    }
}

#[test]
fn a_mend_of_a_hint_or_a_warning_leaves_the_moves_as_they_were() {
    let nodes = |fixture: &Fixture, bytes: &[u8]| -> Vec<serde_json::Value> {
        let folder = folder("findings-moves");
        fs::write(folder.join("a.pgn"), bytes).expect("a copy of the fixture");
        let done = run(&folder, &["tree", "a.pgn", "--json"]);
        assert_eq!(done.code, 0, "{}", fixture.name);
        let mut trees = json_lines(&done.out);
        trees.iter_mut().map(|tree| tree["nodes"].take()).collect()
    };
    let mut count = 0;
    for fixture in all().into_iter().filter(Fixture::is_notation) {
        let found = fixture.findings();
        let is_error = found.iter().any(|finding| finding["severity"] == "error");
        if is_error || found.iter().all(|finding| finding["fix"].is_null()) {
            continue;
        }
        count += 1;
        let folder = folder("findings-mended");
        fs::write(folder.join("a.pgn"), fixture.bytes()).expect("a copy of the fixture");
        run(&folder, &["check", "--fix", "a.pgn"]);
        let mended = fs::read(folder.join("a.pgn")).expect("the copy");
        assert_eq!(
            nodes(&fixture, &mended),
            nodes(&fixture, &fixture.bytes()),
            "{}",
            fixture.name
        );
    }
    assert!(count > 20, "only {count} fixtures were looked at");
}
