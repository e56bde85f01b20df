//! What the native tests share: a text to a lesson, in one call.
#![allow(dead_code)] // each test file uses a part of it

pub mod author;
pub mod chance;
pub mod intents;

use plyline::lesson::{Lesson, NodeId};
use plyline::notation::Syntax;
use plyline::text::{Findings, Severity, Source};

/// Everything that a text says.
pub struct Read {
    pub source: Source,
    pub lessons: Vec<Option<Lesson>>,
    pub findings: Findings,
}

/// Reads a text as the program does, and on wasm as the page does.
pub fn read(text: &str) -> Read {
    let source = Source::new("test.pgn", text);
    let (syntax, mut findings) = plyline::notation::parse(&source);
    let (lessons, more) = plyline::lesson::validate(&source, &syntax);
    findings.extend(more);
    findings.sort();
    let findings = checked(&source, &syntax, &lessons, &findings);
    Read {
        source,
        lessons,
        findings,
    }
}

/// What the program says of all games, and on wasm the page.
fn checked(
    source: &Source,
    syntax: &Syntax,
    lessons: &[Option<Lesson>],
    found: &Findings,
) -> Findings {
    if syntax.games.is_empty() {
        return found.clone();
    }
    let mut all = Findings::default();
    #[cfg(not(target_family = "wasm"))]
    let mut file = plyline::check::author::File::default();
    for (at, (game, lesson)) in syntax.games.iter().zip(lessons).enumerate() {
        let found = found.within(&syntax.bytes_of(at));
        #[cfg(not(target_family = "wasm"))]
        let found = file.game(source, game, lesson.as_ref(), found);
        #[cfg(target_family = "wasm")]
        let found = plyline::check::page::game(source, game, lesson.as_ref(), found);
        all.extend(found);
    }
    all.sort();
    all
}

/// The one lesson of a text.
pub fn lesson(text: &str) -> Lesson {
    let source = Source::new("test.pgn", text);
    let (syntax, _) = plyline::notation::parse(&source);
    let (mut lessons, _) = plyline::lesson::validate(&source, &syntax);
    assert_eq!(lessons.len(), 1, "one game in {text:?}");
    lessons.remove(0).expect("a game whose start can be used")
}

/// The SANs of a lesson's nodes in the order of the text.
pub fn sans(lesson: &Lesson) -> Vec<&str> {
    lesson
        .nodes
        .iter()
        .skip(1)
        .map(|node| node.san.as_str())
        .collect()
}

/// The node of a locator that a test knows to be right.
pub fn node(lesson: &Lesson, locator: &str) -> NodeId {
    plyline::lesson::locate(lesson, locator)
        .unwrap_or_else(|error| panic!("{locator:?} names {error:?}"))
}

/// The codes of the errors and warnings, in order.
pub fn codes(read: &Read) -> Vec<&'static str> {
    let grave = read
        .findings
        .iter()
        .filter(|finding| finding.severity() > Severity::Hint);
    grave.map(|finding| finding.code.id()).collect()
}
