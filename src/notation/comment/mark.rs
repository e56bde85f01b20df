//! Marks in comments: `@c5` a square, `@b4-b5` an arrow, `@f3-d2-c4` a route; with `!` strong
//! or a plan to play, with `?` weak or a plan to stop.

use crate::text::is_letter_or_digit;
use shakmaty::Square;

/// What the comment says about the squares.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkKind {
    /// Only "look here".
    Plain,
    /// A strong square, a plan to play.
    Strong,
    /// A weak square, a plan to stop.
    Weak,
}

impl MarkKind {
    /// Its name in data.
    pub fn word(self) -> &'static str {
        match self {
            MarkKind::Plain => "plain",
            MarkKind::Strong => "strong",
            MarkKind::Weak => "weak",
        }
    }
}

/// A square, an arrow (two squares) or a route (more).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// What it says.
    pub kind: MarkKind,
    /// Where, in the order written; never empty.
    pub squares: Vec<Square>,
}

impl Mark {
    /// The words that stay in the sentence: `c5`, `b4–b5`.
    pub fn text(&self) -> String {
        let mut text = String::new();
        for (index, square) in self.squares.iter().enumerate() {
            if index > 0 {
                text.push('\u{2013}');
            }
            text.push(square.file().char());
            text.push(square.rank().char());
        }
        text
    }
}

/// Reads the mark that begins at the `@` at the start of `rest`, and its length in bytes.
/// `before` is the character in front of it: a letter, a digit or one of `. _ + -` there
/// makes it part of something else, such as an address.
pub fn read(before: Option<char>, rest: &str) -> Option<(Mark, usize)> {
    if before
        .is_some_and(|letter| is_letter_or_digit(letter) || matches!(letter, '.' | '_' | '+' | '-'))
    {
        return None;
    }
    let after = rest.strip_prefix('@')?;
    let (kind, mut tail) = match after.chars().next()? {
        '!' => (MarkKind::Strong, &after[1..]),
        '?' => (MarkKind::Weak, &after[1..]),
        _ => (MarkKind::Plain, after),
    };
    let mut squares = Vec::new();
    while let Some(square) = square_at(tail) {
        squares.push(square);
        tail = &tail[2..];
        match tail.strip_prefix('-') {
            Some(next) if square_at(next).is_some() => tail = next,
            _ => break,
        }
    }
    let ends = tail
        .chars()
        .next()
        .is_none_or(|letter| !is_letter_or_digit(letter));
    (!squares.is_empty() && ends).then(|| (Mark { kind, squares }, rest.len() - tail.len()))
}

/// The length of such a mark.
pub(super) fn length(before: Option<char>, rest: &str) -> Option<usize> {
    read(before, rest).map(|(_, length)| length)
}

/// Reads a word of a list of marks, where the `@` may be left out.
pub fn read_word(word: &str) -> Option<Mark> {
    let mut signed = String::with_capacity(word.len() + 1);
    signed.push('@');
    signed.push_str(word.strip_prefix('@').unwrap_or(word));
    let (mark, length) = read(None, &signed)?;
    (length == signed.len()).then_some(mark)
}

/// The length of something that looks like a mark but names no square of the board, `@i9`.
pub(crate) fn no_square(before: Option<char>, rest: &str) -> Option<usize> {
    if before.is_some_and(|letter| {
        letter == '@' || is_letter_or_digit(letter) || matches!(letter, '.' | '_' | '+' | '-')
    }) {
        return None;
    }
    let signed = rest.strip_prefix('@')?;
    let name = signed.strip_prefix(['!', '?']).unwrap_or(signed).as_bytes();
    let looks = name.first()?.is_ascii_lowercase() && name.get(1)?.is_ascii_digit();
    let ends = name.get(2).is_none_or(|byte| !byte.is_ascii_alphanumeric());
    (looks && ends).then_some(rest.len() - name.len() + 2)
}

/// Whether a word is a small letter and a digit, as the name of a square is.
#[cfg(not(target_family = "wasm"))]
pub fn looks_like_a_square(word: &str) -> bool {
    matches!(word.as_bytes(), [file, rank] if file.is_ascii_lowercase() && rank.is_ascii_digit())
}

fn square_at(text: &str) -> Option<Square> {
    // A square's name is two ASCII characters, so slicing after it is on a boundary.
    Square::from_ascii(text.as_bytes().get(..2)?).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read_text(text: &str) -> Option<(&'static str, String, usize)> {
        read(None, text).map(|(mark, length)| (mark.kind.word(), mark.text(), length))
    }

    #[test]
    fn squares_arrows_and_routes_are_read_with_their_sign() {
        assert_eq!(read_text("@c5, then"), Some(("plain", "c5".into(), 3)));
        assert_eq!(
            read_text("@!b4-b5."),
            Some(("strong", "b4\u{2013}b5".into(), 7))
        );
        assert_eq!(
            read_text("@?f3-d2-c4"),
            Some(("weak", "f3\u{2013}d2\u{2013}c4".into(), 10))
        );
    }

    #[test]
    fn in_a_list_the_sign_before_a_mark_may_be_left_out() {
        let text = |word| read_word(word).map(|mark| (mark.kind.word(), mark.text()));
        assert_eq!(text("c5"), Some(("plain", "c5".into())));
        assert_eq!(text("@!c5"), Some(("strong", "c5".into())));
        assert_eq!(text("?b4-b5"), Some(("weak", "b4\u{2013}b5".into())));
        for word in ["", "@", "i9", "c5,", "c5-", "@@c5", "!!c5"] {
            assert_eq!(text(word), None, "{word}");
        }
    }

    #[test]
    fn what_is_no_mark_is_text() {
        for text in ["@i9", "@c5d", "@", "@!", "@@c5", "c5"] {
            assert_eq!(read_text(text), None, "{text}");
        }
        assert_eq!(read(Some('a'), "@c5"), None, "part of an address");
    }
}
