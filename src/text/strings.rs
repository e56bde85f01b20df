//! Small functions on texts: which characters are letters, searching, splitting and joining. Those
//! of std are made for long texts, and their tables and special cases cost every page two
//! kilobytes.

use super::limits;

/// The byte at which a text first holds the other.
pub fn find(text: &str, wanted: &str) -> Option<usize> {
    let (text, wanted) = (text.as_bytes(), wanted.as_bytes());
    let mut at = 0;
    while at + wanted.len() <= text.len() {
        if text[at..].starts_with(wanted) {
            return Some(at);
        }
        at += 1;
    }
    None
}

/// Whether a text has a sign of ASCII.
pub fn has(text: &str, sign: u8) -> bool {
    text.bytes().any(|byte| byte == sign)
}

/// The text before and after the first place where it holds the other.
pub fn cut<'a>(text: &'a str, at: &str) -> Option<(&'a str, &'a str)> {
    let start = find(text, at)?;
    Some((&text[..start], &text[start + at.len()..]))
}

/// The parts of a text between the places where it has a sign of ASCII.
pub fn split(text: &str, at: u8) -> impl Iterator<Item = &str> {
    let mut rest = Some(text);
    core::iter::from_fn(move || {
        let text = rest?;
        let (part, after) = text.split_at(run(text, |byte| byte != at));
        rest = after.get(1..);
        Some(part)
    })
}

/// The parts in one text, with a text between each and the next.
pub fn join(parts: &[impl AsRef<str>], between: &str) -> String {
    let mut text = String::new();
    for (at, part) in parts.iter().enumerate() {
        if at > 0 {
            text.push_str(between);
        }
        text.push_str(part.as_ref());
    }
    text
}

/// Lists what an iterator gives. `collect` does the same faster where much is listed, with three
/// functions for each kind of iterator where this is one.
pub trait Listed: Iterator + Sized {
    /// All of it.
    fn listed(self) -> Vec<Self::Item> {
        let mut list = Vec::new();
        for item in self {
            list.push(item);
        }
        list
    }
}

impl<I: Iterator> Listed for I {}

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

/// How many bytes at the start of a text fulfil a condition. A plain loop, because the page is
/// built for size, which does not inline iterators. A condition that holds for no byte above
/// 127, or for all, ends on a whole character.
pub fn run(text: &str, mut wanted: impl FnMut(u8) -> bool) -> usize {
    let bytes = text.as_bytes();
    let mut at = 0;
    while at < bytes.len() && wanted(bytes[at]) {
        at += 1;
    }
    at
}

/// A text as a book sets it: three dots are one sign, the apostrophe between letters is curved, and
/// no line ends after the hyphen of "f-pawn".
pub fn typeset(text: &str) -> String {
    let bytes = text.as_bytes();
    let at_letter = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_alphabetic);
    let mut set = String::new();
    let (mut from, mut at) = (0, 0);
    while at < bytes.len() {
        let after = at_letter(at.wrapping_sub(1)) && at_letter(at + 1);
        let alone = !bytes
            .get(at.wrapping_sub(2))
            .is_some_and(u8::is_ascii_alphanumeric);
        let (length, sign) = match bytes[at] {
            b'.' if bytes[at..].starts_with(b"...") => (3, "\u{2026}"),
            b'\'' if after => (1, "\u{2019}"),
            // With a word joiner after it, which has no width and is not searched for.
            b'-' if after && alone => (1, "-\u{2060}"),
            _ => (0, ""),
        };
        if length > 0 {
            set.push_str(&text[from..at]);
            set.push_str(sign);
            from = at + length;
        }
        at += length.max(1);
    }
    set.push_str(&text[from..]);
    set
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_set_as_in_a_book() {
        assert_eq!(typeset("7...Bd6 and ...g6"), "7\u{2026}Bd6 and \u{2026}g6");
        assert_eq!(typeset("the king's 'side'"), "the king\u{2019}s 'side'");
        assert_eq!(typeset("the f-pawn, e4-e5"), "the f-\u{2060}pawn, e4-e5");
        assert_eq!(
            typeset("counter-attack -\u{e4}.."),
            "counter-attack -\u{e4}.."
        );
        assert_eq!(typeset("f-pawn's"), "f-\u{2060}pawn\u{2019}s");
    }

    #[test]
    fn a_text_is_cut_where_it_first_has_another() {
        assert_eq!(cut("a--b--c", "--"), Some(("a", "b--c")));
        assert_eq!(cut("a-b", "--"), None);
        assert_eq!(find("\u{e9}nd", "nd"), Some(2));
        assert_eq!(find("n", "nd"), None);
    }

    #[test]
    fn a_text_is_split_at_each_sign() {
        assert_eq!(split("a, b,,", b',').listed(), ["a", " b", "", ""]);
        assert_eq!(split("", b',').listed(), [""]);
    }

    #[test]
    fn parts_are_joined_with_a_text_between_them() {
        assert_eq!(join(&["d4", "d5", "c4"], ", "), "d4, d5, c4");
        assert_eq!(join(&["d4"], ", "), "d4");
        assert_eq!(join(&[""; 0], ", "), "");
    }
}
