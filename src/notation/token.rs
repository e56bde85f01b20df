//! The pieces that a PGN text is cut into.

use crate::text::Span;

/// One piece of the text. The tokens of a text follow each other without a gap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Token {
    /// What it is.
    pub kind: TokenKind,
    /// Where it is.
    pub span: Span,
}

/// What a token is (PGN standard, sections 5 to 7, and what people really type).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TokenKind {
    /// White space.
    Space,
    /// `[`
    TagOpen,
    /// `]`
    TagClose,
    /// A tag's name.
    TagName,
    /// A tag's value with its quotes; without the closing one where the line ended first.
    TagValue,
    /// Digits of a move number.
    Number,
    /// One or more periods or ellipses.
    Dots,
    /// A move, or any other word of the movetext.
    Word,
    /// `$` and digits (or nothing).
    Nag,
    /// `(`
    Open,
    /// `)`
    Close,
    /// `{…}`, or to the end of the text where the brace is not closed.
    Comment,
    /// `;` to the end of the line.
    LineComment,
    /// `%` in the first column, to the end of the line.
    Escape,
    /// `1-0`, `0-1`, `1/2-1/2` or `*`.
    Result,
    /// A run of characters that PGN has no use for.
    Stray,
}
