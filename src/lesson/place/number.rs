//! Move numbers as people write them, and the words around them.

use shakmaty::{Chess, Position};

/// A move number as people write it.
#[derive(Clone, Copy)]
pub(crate) struct Number {
    pub(crate) value: u32,
    /// Three dots or an ellipsis name Black's move, fewer White's, no dots either side's.
    pub(crate) side: Option<shakmaty::Color>,
}

impl Number {
    /// Whether a move from this position has this number.
    pub(crate) fn agrees(self, before: &Chess) -> bool {
        self.value == before.fullmoves().get() && self.side.is_none_or(|side| side == before.turn())
    }
}

/// The number before a word and the word without it; none if it is no number that a move
/// can have.
pub(crate) fn number(word: &str) -> Option<(Option<Number>, &str)> {
    let digits = word.bytes().take_while(u8::is_ascii_digit).count();
    let (digits, rest) = match word.starts_with("0-0") {
        true => ("", word),
        false => word.split_at(digits),
    };
    let word = rest.trim_start_matches(['.', '\u{2026}']);
    if digits.is_empty() {
        return Some((None, word));
    }
    let side = match rest.len() - word.len() {
        0 => None,
        1 => Some(shakmaty::Color::White),
        _ => Some(shakmaty::Color::Black),
    };
    let value = digits.parse().ok()?;
    Some((Some(Number { value, side }), word))
}

/// A move's word without the number before it, which may be wrong; none if it is no number that
/// a move can have.
pub fn unnumbered(word: &str) -> Option<&str> {
    number(word).map(|(_, word)| word)
}

/// The words of a run, separated by white space or `_`.
pub(crate) fn words(run: &str) -> impl Iterator<Item = &str> {
    let space = |letter: char| letter.is_whitespace() || letter == '_';
    run.split(space).filter(|word| !word.is_empty())
}
