//! Carets are under their place also after letters that take two columns or none.

use super::fixtures::{all, folder};
use crate::cli::run::run;
use std::fs;

/// The columns that the letters of the fixtures take. Source: Unicode Standard Annex 11 (wide
/// and full-width letters take two; only the blocks that are in the fixtures are listed) and
/// the General Category of combining marks, which take none.
fn columns(text: &str) -> usize {
    let width = |letter: char| match letter {
        '\u{300}'..='\u{36f}' => 0,
        '\u{3000}'..='\u{30ff}' | '\u{4e00}'..='\u{9fff}' => 2,
        _ => 1,
    };
    text.chars().map(width).sum()
}

/// From which column to which one the carets of a report go, counted after the bar at the
/// left; and the line of the source above them.
fn carets(report: &str) -> (usize, usize, &str) {
    let lines: Vec<&str> = report.lines().collect();
    let under = lines
        .iter()
        .position(|line| line.contains('^'))
        .expect("a line with carets");
    let bar = lines[under].find("| ").expect("a bar") + 2;
    let marks = &lines[under][bar..];
    let from = marks.find('^').expect("a caret");
    let count = marks.chars().filter(|&sign| sign == '^').count();
    (from, from + count, &lines[under - 1][bar..])
}

#[test]
fn carets_are_under_the_place_whatever_stands_before_it() {
    for (name, word) in [
        ("P012-tab.pgn", "Nh5"),
        ("P012-wide.pgn", "Nb4"),
        ("P012-combining.pgn", "Nb4"),
        ("P012-long.pgn", "Nb3"),
    ] {
        let report = run(&folder(), &["check", name]).out;
        let (from, to, line) = carets(&report);
        let before = line.find(word).expect("the word");
        assert_eq!(from, columns(&line[..before]), "{report}");
        assert_eq!(to - from, columns(word), "{report}");
    }
}

#[test]
fn the_fixtures_of_the_test_above_hold_what_they_are_for() {
    let holds = |name: &str, wanted: fn(char) -> bool| {
        let text = fs::read_to_string(folder().join(name)).expect("a fixture");
        let line = text
            .lines()
            .find(|line| line.contains("Nb4") || line.contains("Nh5"));
        let line = line.expect("the line with the place");
        let before = line.find("Nb4").or(line.find("Nh5")).expect("the place");
        assert!(line[..before].contains(wanted), "{name}");
    };
    holds("P012-tab.pgn", |letter| letter == '\t');
    holds("P012-wide.pgn", |letter| letter >= '\u{4e00}');
    holds("P012-combining.pgn", |letter| letter == '\u{301}');
}

#[test]
fn where_the_words_of_a_place_are_shown_the_carets_are_as_wide_as_they() {
    let mut count = 0;
    for fixture in all() {
        let report = fixture.report();
        let found = fixture.findings();
        let text = String::from_utf8_lossy(&fixture.bytes()).into_owned();
        // The first finding of each fixture whose line is shown whole.
        let number = |key: &str| found[0][key].as_u64().expect("a number") as usize;
        let Some(line) = text.lines().nth(number("line") - 1) else {
            continue;
        };
        if number("line") != number("endLine") || !report.contains(&format!("| {line}\n")) {
            continue;
        }
        count += 1;
        let cut = |column: usize| -> String { line.chars().take(column - 1).collect() };
        let (from, to) = (number("column"), number("endColumn"));
        let wanted = (
            columns(&cut(from)),
            columns(&cut(to)).max(columns(&cut(from)) + 1),
        );
        let (first, last, _) = carets(&report);
        assert_eq!((first, last), wanted, "{report}");
    }
    assert!(count > 60, "only {count} fixtures were looked at");
}
