//! Texts found in texts, and put together from parts. What std has for it is made for long texts,
//! and its tables and special cases cost every page two kilobytes.

use super::run;

/// Where a text first has the other, in bytes.
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

/// What stands before and behind the first place where a text has the other.
pub fn cut<'a>(text: &'a str, at: &str) -> Option<(&'a str, &'a str)> {
    let start = find(text, at)?;
    Some((&text[..start], &text[start + at.len()..]))
}

/// The parts of a text between the places where it has a sign of ASCII.
pub fn split(text: &str, at: u8) -> impl Iterator<Item = &str> {
    let mut rest = Some(text);
    core::iter::from_fn(move || {
        let text = rest?;
        let (part, behind) = text.split_at(run(text, |byte| byte != at));
        rest = behind.get(1..);
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

#[cfg(test)]
mod tests {
    use super::*;

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
