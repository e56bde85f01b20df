//! What counts as part of a word, and how much of one is quoted.

use super::limits;

/// Whether a character is a letter or a digit, near enough to tell words from punctuation: all
/// of ASCII exactly, elsewhere whole blocks of scripts. The exact tables of Unicode would cost
/// every page 3 kB.
pub fn is_letter_or_digit(letter: char) -> bool {
    letter.is_ascii_alphanumeric()
        || matches!(letter, '\u{c0}'..='\u{1fff}' | '\u{2c00}'..='\u{2fff}' | '\u{3040}'..='\u{d7ff}' | '\u{f900}'..='\u{fdff}' | '\u{10000}'..='\u{1efff}' | '\u{20000}'..)
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
