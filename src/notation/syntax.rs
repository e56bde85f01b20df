//! The syntax tree: what the text holds and where, before the rules of chess are applied.
//! Lines are an arena, so that deep nesting is walked by loops.

use crate::text::{KeptText, Source, Span};
use core::ops::Range;

/// A whole text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Syntax {
    /// Its games, in the order of the text.
    pub games: Vec<Game>,
}

impl Syntax {
    /// The bytes that belong to a game: from where the game before it ended, or the text
    /// begins, to where the next one begins.
    pub fn bytes_of(&self, game: usize) -> Range<u32> {
        let start = |at: usize| self.games.get(at).map_or(u32::MAX, |game| game.span.from);
        let from = if game == 0 { 0 } else { start(game) };
        from..start(game + 1)
    }
}

/// One game: tags, lines, and how it ended.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Game {
    /// From its first token to its last.
    pub span: Span,
    /// The tag pairs as written.
    pub tags: Vec<Tag>,
    /// Every line of moves; line 0 is the main line.
    pub lines: Vec<Line>,
    /// How many words of its lines should be moves.
    pub words: usize,
    /// The termination marker in the standard's form, and where it is.
    pub result: Option<(&'static str, Span)>,
    /// Whether it holds words or moves that are in none of these, so that a text made of them would
    /// lose something. A sign that means nothing is no loss.
    pub passed_over: bool,
}

impl Game {
    /// What it is called: its event, else its players; empty if it has neither.
    pub fn name(&self, source: &Source) -> String {
        let tag = |name| self.tags.iter().find(|tag| source.slice(tag.name) == name);
        let value = |name| tag(name).map(|tag| tag.value.as_str());
        let known = |name| value(name).filter(|value| !value.is_empty() && *value != "?");
        match (known("Event"), known("White"), known("Black")) {
            (Some(event), ..) => event.to_owned(),
            (None, Some(white), Some(black)) => format!("{white} \u{2013} {black}"),
            _ => String::new(),
        }
    }
}

/// One tag pair.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tag {
    /// From bracket to bracket.
    pub span: Span,
    /// Where its name is.
    pub name: Span,
    /// Its value, without quotes and protecting backslashes.
    pub value: KeptText,
    /// Where its value is, quotes included.
    pub value_span: Span,
}

/// Number of a line in its game.
pub type LineIx = usize;

/// Moves in a row with what is between them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Line {
    /// From the opening parenthesis to the closing one; for the main line its movetext.
    pub span: Span,
    /// What it holds.
    pub items: Vec<Item>,
}

/// One thing in a line and where it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Item {
    /// Where.
    pub span: Span,
    /// What.
    pub kind: ItemKind,
}

/// What can be in a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ItemKind {
    /// A move number and how many dots follow it (an ellipsis is three).
    Number {
        /// The number, saturating.
        number: u32,
        /// Periods after it.
        dots: u32,
    },
    /// A word that should be a move.
    Move,
    /// A numeric annotation glyph, from `$n`.
    Nag(u8),
    /// A comment; the span holds its braces or its semicolon.
    Comment,
    /// A variation beside the move before it.
    Variation(LineIx),
}
