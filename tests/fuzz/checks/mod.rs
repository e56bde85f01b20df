//! What must hold for any input: shared by the fuzz targets and by `tests/native/regressions.rs`,
//! which replays what they found.

mod lessons;
mod words;

pub use lessons::{locators, print_parse, prose};
pub use words::{marks, san};

use plyline::check::author;
use plyline::text::{Findings, Source, limits};
use plyline::{lesson, notation};

/// Any bytes are read without a panic; tokens cover the text; every place is a place in it.
pub fn reader(bytes: &[u8]) {
    let (source, findings) = read(bytes);
    let text = source.text();
    let mut at = 0;
    for token in notation::lex(text) {
        assert_eq!(token.span.from, at, "a gap before {token:?}");
        assert!(
            token.span.to > at && text.is_char_boundary(token.span.to as usize),
            "{token:?}"
        );
        at = token.span.to;
    }
    assert_eq!(at as usize, text.len(), "the tokens end too early");
    assert!(findings.len() <= 2 * limits::FINDINGS + 4);
    let mut last = 0;
    for finding in findings.iter() {
        let fixes = finding.fix.iter().map(|fix| fix.span);
        let related = finding.related.iter().map(|other| other.span);
        for span in [finding.span].into_iter().chain(fixes).chain(related) {
            assert!(
                text.get(span.range()).is_some(),
                "no place in the text: {finding:?}"
            );
            let (from, to) = (source.place(span.from), source.place(span.to));
            assert!(
                (from.line, from.column) <= (to.line, to.column),
                "{finding:?}"
            );
        }
        assert!(
            finding.span.from >= last,
            "not in the order of the places: {finding:?}"
        );
        last = finding.span.from;
        assert!(!finding.message.is_empty());
    }
}

/// A text and everything that is found in it.
pub fn read(bytes: &[u8]) -> (Source, Findings) {
    let (source, mut findings) = Source::from_bytes("fuzz.pgn", bytes);
    let (syntax, mut written) = notation::parse(&source);
    written.sort();
    let (lessons, played) = lesson::validate(&source, &syntax);
    let mut file = author::File::default();
    for (at, (game, lesson)) in syntax.games.iter().zip(&lessons).enumerate() {
        let bytes = syntax.bytes_of(at);
        let mut found = written.within(&bytes);
        found.extend(played.within(&bytes));
        findings.extend(file.game(&source, game, lesson.as_ref(), found));
    }
    if syntax.games.is_empty() {
        findings.extend(written);
    }
    findings.sort();
    (source, findings)
}
