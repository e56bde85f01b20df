//! A piece of notation without tags of its own, read as moves from a position.

use crate::lesson::rules::{EnPassantForm, fen};
use crate::lesson::{Lesson, validate};
use crate::notation::{Syntax, parse};
use crate::text::{Findings, Source};
use shakmaty::Chess;

/// What was read.
pub struct Placed {
    /// The piece, after the tags with which it is read.
    pub source: Source,
    /// The byte of the source at which it begins.
    pub from: usize,
    pub syntax: Syntax,
    pub lesson: Lesson,
    pub findings: Findings,
}

/// Reads a piece from a position, with these tags besides, each a line; none where it holds no game.
pub fn placed(position: &Chess, tags: &str, text: &str) -> Option<Placed> {
    let tags = format!(
        "[FEN \"{}\"]\n{tags}\n",
        fen(position, EnPassantForm::Legal)
    );
    let source = Source::new("piece", format!("{tags}{text}"));
    let (syntax, mut findings) = parse(&source);
    let (lessons, more) = validate(&source, &syntax);
    findings.extend(more);
    Some(Placed {
        from: tags.len(),
        lesson: lessons.into_iter().next().flatten()?,
        source,
        syntax,
        findings,
    })
}
