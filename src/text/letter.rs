//! What counts as part of a word, and how much of one is quoted.

use super::limits;

/// Whether a character is a letter or a digit, near enough to tell words from punctuation: all
/// of ASCII exactly, elsewhere whole blocks of scripts. The exact tables of Unicode would cost
/// every page 3 kB.
pub fn is_letter_or_digit(letter: char) -> bool {
    letter.is_ascii_alphanumeric()
        || matches!(letter, '\u{c0}'..='\u{1fff}' | '\u{2c00}'..='\u{2fff}' | '\u{3040}'..='\u{d7ff}' | '\u{f900}'..='\u{fdff}' | '\u{10000}'..='\u{1efff}' | '\u{20000}'..)
}

/// Whether a character is a letter, as near as that.
pub fn is_letter(letter: char) -> bool {
    is_letter_or_digit(letter) && !letter.is_ascii_digit()
}

/// Whether a letter is small, in the scripts that have small letters and as near as a sentence
/// needs: the tables of Unicode would cost every page some kilobytes.
pub fn is_small(letter: char) -> bool {
    matches!(letter, 'a'..='z' | '\u{df}'..='\u{ff}' | '\u{3b1}'..='\u{3c9}' | '\u{430}'..='\u{45f}')
}

/// How many bytes at the start of a text fulfil a condition. A plain loop, for the page is
/// built for size, which leaves iterators in their pieces. A condition that holds for no byte
/// above 127, or for all, ends on a whole character.
pub fn run(text: &str, mut wanted: impl FnMut(u8) -> bool) -> usize {
    let bytes = text.as_bytes();
    let mut at = 0;
    while at < bytes.len() && wanted(bytes[at]) {
        at += 1;
    }
    at
}

/// The start of a text, as long as a message quotes it: someone else's text may have megabytes.
pub fn quote(text: &str) -> String {
    let mut letters = text.chars();
    let mut short: String = letters.by_ref().take(limits::QUOTED).collect();
    if letters.next().is_some() {
        short.push('\u{2026}');
    }
    short
}
