//! Every limit of `src/text/limits.rs` has a finding and a test; those that are not met
//! elsewhere are here.

use crate::support::{codes, read};
use plyline::lesson::{self, LocateError, locate};
use plyline::notation;
use plyline::text::{Code, Findings, Source, limits};
use plyline::view;
use std::fs;
use std::path::Path;

fn of(findings: &Findings, code: Code) -> Vec<&plyline::text::Finding> {
    findings.iter().filter(|it| it.code == code).collect()
}

#[test]
fn every_limit_is_named_by_a_test() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let source = |path: &str| fs::read_to_string(root.join(path)).expect("a source file");
    let text = source("src/text/limits.rs");
    let names: Vec<&str> = text
        .lines()
        .filter_map(|line| line.strip_prefix("pub const ")?.split(':').next())
        .collect();
    assert!(names.len() >= 7, "{names:?}");
    let tests = [
        "tests/native/lesson/reading.rs",
        "tests/native/findings/limits.rs",
        "tests/native/ask/mod.rs",
        "tests/native/ask/again.rs",
        "tests/native/ask/store.rs",
    ]
    .map(source);
    let tests = tests.concat();
    for name in names {
        assert!(
            tests.contains(&format!("limits::{name}")),
            "no test names {name}"
        );
    }
}

#[test]
fn a_bracket_is_looked_for_in_no_more_bytes_than_the_limit() {
    let related = |length: usize| {
        let words = "x".repeat(length);
        let text = format!("1. e4 {{{words}}} e5 (1... c5 2. Nf3 {{x}} 2. d4 {{y}} *");
        let found = read(&text).findings;
        let open = of(&found, Code::OpenVariation);
        assert_eq!(open.len(), 1);
        open[0].related.len()
    };
    assert!(related(100) > 0, "the place of its end");
    assert_eq!(related(limits::BRACKET_BYTES), 0, "none is looked for");
}

#[test]
fn a_text_as_long_as_the_limit_is_read_and_one_byte_more_is_not() {
    let text = |length: usize| {
        let (start, end) = ("1. e4 {", "} *");
        let words = "x".repeat(length - start.len() - end.len());
        format!("{start}{words}{end}")
    };
    assert_eq!(codes(&read(&text(limits::TEXT_BYTES))), Vec::<&str>::new());
    assert_eq!(codes(&read(&text(limits::TEXT_BYTES + 1))), ["P002"]);
}

#[test]
fn as_many_tags_as_the_limit_are_read_and_more_are_told_once() {
    let tags =
        |count: usize| -> String { (0..count).map(|at| format!("[T{at} \"\"]\n")).collect() };
    let within = read(&format!("{}1. e4 {{x}} *", tags(limits::TAGS)));
    assert_eq!(codes(&within), Vec::<&str>::new());
    let text = tags(limits::TAGS + 9) + "1. e4 {x} *\n" + &tags(limits::TAGS + 9) + "1. d4 {x} *";
    let over = read(&text);
    assert_eq!(codes(&over), ["P029", "P029"], "once a game");
    for lesson in over.lessons.iter().flatten() {
        assert_eq!((lesson.tags.len(), lesson.nodes.len()), (limits::TAGS, 2));
    }
}

#[test]
fn a_run_of_moves_longer_than_the_limit_names_no_place() {
    let turns = limits::LOCATOR_MOVES / 4 + 1;
    let read = read(&"Nf3 Nf6 Ng1 Ng8 ".repeat(turns));
    let lesson = read.lessons[0].as_ref().expect("a lesson");
    let run = |count: usize| -> String {
        let words = ["Nf3", "Nf6", "Ng1", "Ng8"].iter().cycle();
        let words: Vec<&str> = words.take(count).copied().collect();
        format!("1.{}", words.join("_"))
    };
    let longest = limits::LOCATOR_MOVES;
    assert_eq!(locate(lesson, &run(longest)), Ok(longest as u32));
    assert_eq!(locate(lesson, &run(longest + 1)), Err(LocateError::None));
}

#[test]
fn a_link_to_a_run_longer_than_the_limit_is_an_error_that_does_not_quote_it_all() {
    let run = "Nf3_Nf6_Ng1_Ng8_".repeat(limits::LOCATOR_MOVES / 4 + 1);
    let found = read(&format!("1. Nf3 {{[there](#1.{run})}} *")).findings;
    let found = of(&found, Code::LocatorNone);
    assert_eq!(found.len(), 1);
    let quoted = found[0].message.chars().count();
    assert!(quoted < limits::QUOTED + 60, "{}", found[0].message);
}

#[test]
fn a_message_quotes_no_more_than_the_limit() {
    let long = "x".repeat(5_000);
    for (text, code) in [
        (format!("1. {long} *"), Code::NotAMove),
        (format!("1. Q{long} *"), Code::NotAMove),
        (format!("[Variant \"{long}\"] *"), Code::OtherChess),
        (format!("[Letters \"{long}\"] *"), Code::UnknownLetters),
        (format!("[{long} \"\"] [{long} \"\"] *"), Code::TagTwice),
        (format!("[Result \"{long}\"] 1-0"), Code::ResultDisagrees),
        (format!("1. e4 {{[a]({long})}} *"), Code::RefusedLink),
        (
            format!("1. e4 {{[a](#line {long})}} *"),
            Code::LocatorByLabel,
        ),
        (
            format!("1. {}e4 *", "\u{2659}".repeat(3_000)),
            Code::NotAMove,
        ),
    ] {
        let found = read(&text).findings;
        let found = of(&found, code);
        assert!(!found.is_empty(), "{code:?}");
        let quoted = found[0].message.matches('x').count();
        assert!(quoted <= limits::QUOTED + 1, "{}", found[0].message);
        for finding in read(&text).findings.iter() {
            let help = finding.help.as_deref().unwrap_or_default();
            let length = finding.message.chars().count().max(help.chars().count());
            assert!(length < limits::QUOTED + 120, "{}: {help}", finding.message);
        }
    }
}

#[test]
fn links_beyond_the_limit_of_looks_are_told_once_and_not_checked() {
    // Each link is compared with the move of every position.
    let (links, moves) = (5_000, 5_000);
    assert!(links * moves > limits::LINK_LOOKS);
    let words = ["Nf3", "Nf6", "Ng1", "Ng8"].iter().cycle();
    let words: Vec<&str> = words.take(moves).copied().collect();
    let text = format!("{} {{{}}} *", words.join(" "), "[a](#1.Nf3) ".repeat(links));
    let found = read(&text).findings;
    assert_eq!(of(&found, Code::TooManyLinks).len(), 1);
    assert!(of(&found, Code::LocatorNone).is_empty());
    let few = read("1. Nf3 {[a](#1.Nf3)} *").findings;
    assert!(of(&few, Code::TooManyLinks).is_empty());
}

#[test]
fn a_recap_has_as_many_rows_as_the_limit_and_says_that_there_were_more() {
    let recap = |decisions: usize| {
        let moves = (0..decisions).map(|at| {
            let [ours, theirs] = [["Nf3", "Nf6"], ["Ng1", "Ng8"]][at % 2];
            format!("{}. {ours} {{Said.}} {theirs} ", at + 1)
        });
        let source = Source::new("a.pgn", moves.collect::<String>() + "*");
        let (syntax, _) = notation::parse(&source);
        let (mut lessons, _) = lesson::validate(&source, &syntax);
        let lesson = lessons.remove(0).expect("a lesson");
        let recap = view::recap(
            &view::Words::default(),
            &lesson,
            shakmaty::Color::White,
            |_| true,
        );
        (recap.rows.len(), recap.is_cut)
    };
    assert_eq!(recap(limits::RECAP_ROWS), (limits::RECAP_ROWS, false));
    assert_eq!(recap(limits::RECAP_ROWS + 1), (limits::RECAP_ROWS, true));
}
