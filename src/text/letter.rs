//! What counts as part of a word.

/// Whether a character is a letter or a digit, near enough to tell words from punctuation: all
/// of ASCII exactly, elsewhere whole blocks of scripts. The exact tables of Unicode would cost
/// every page 3 kB.
pub fn is_letter_or_digit(letter: char) -> bool {
    letter.is_ascii_alphanumeric()
        || matches!(letter, '\u{c0}'..='\u{1fff}' | '\u{2c00}'..='\u{2fff}' | '\u{3040}'..='\u{d7ff}' | '\u{f900}'..='\u{fdff}' | '\u{10000}'..='\u{1efff}' | '\u{20000}'..)
}
