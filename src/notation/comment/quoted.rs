//! Figures about games that an author quotes from elsewhere: `Counts: 1906 games, 41 35 24, from SOURCE`.

use crate::text::{cut, split};

/// The word with which such a paragraph begins.
pub const WORD: &str = "Counts:";

/// A figure that was quoted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quoted<'a> {
    /// How many games there were.
    pub games: u64,
    /// How many of a hundred White won, were drawn, Black won.
    pub shares: [u64; 3],
    /// Where the figure comes from.
    pub source: &'a str,
}

/// What a paragraph quotes that begins with the word; none where it is written otherwise.
pub fn quoted(paragraph: &str) -> Option<Quoted<'_>> {
    let rest = paragraph.trim().strip_prefix(WORD)?;
    let (games, rest) = cut(rest, ", ")?;
    let (written, source) = cut(rest, ", from ")?;
    let (games, word) = number(games.trim())?;
    let mut shares = [0; 3];
    let mut known = 0;
    for share in split(written, b' ') {
        if !share.is_empty() {
            let (share, after) = number(share)?;
            *shares.get_mut(known)? = share;
            known += 1;
            if !matches!(after, "" | "%") {
                return None;
            }
        }
    }
    let source = source.trim();
    let source = source.strip_suffix('.').unwrap_or(source);
    let is_read = matches!(word.trim(), "game" | "games") && known == 3 && !source.is_empty();
    is_read.then_some(Quoted {
        games,
        shares,
        source,
    })
}

/// The number with which a text begins, whose thousands may be apart by commas, and what comes after it.
fn number(text: &str) -> Option<(u64, &str)> {
    let mut number = 0_u64;
    let mut length = 0;
    for sign in text.bytes() {
        match sign {
            b'0'..=b'9' => {
                let digit = u64::from(sign - b'0');
                number = number.saturating_mul(10).saturating_add(digit);
            }
            b',' if length > 0 => {}
            _ => break,
        }
        length += 1;
    }
    // One byte a digit or comma.
    (length > 0).then(|| (number, &text[length..]))
}
