//! The text of a comment token with its white space folded, and where each byte of it is in the
//! source.

use crate::text::{Span, has, run};
use std::borrow::Cow;

/// Where the bytes of a folded text are in its source.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Places {
    /// The byte of the source at which the text begins.
    from: u32,
    /// A byte of the text, and how many bytes in total were folded away before it; in the order of
    /// the text. Empty for most comments.
    folded: Box<[(u32, u32)]>,
}

impl Places {
    fn at(&self, byte: u32) -> u32 {
        let before = self.folded.partition_point(|&(at, _)| at <= byte);
        let away = before.checked_sub(1).and_then(|ix| self.folded.get(ix));
        self.from + byte + away.map_or(0, |&(_, away)| away)
    }

    /// The place in the source of a byte range of the text.
    pub(super) fn span(&self, from: usize, to: usize) -> Span {
        let (from, to) = (from as u32, to as u32);
        Span {
            from: self.at(from),
            to: match to > from {
                // What was folded away after the last byte is no part of it.
                true => self.at(to - 1) + 1,
                false => self.at(from),
            },
        }
    }

    /// The places of the part of the text that begins at this byte.
    pub(super) fn part(&self, from: usize) -> Places {
        let byte = from as u32;
        let start = self.at(byte);
        let away = start - self.from - byte;
        let mut folded = Vec::new();
        for &(at, all) in &self.folded {
            if at > byte {
                folded.push((at - byte, all - away));
            }
        }
        Places {
            from: start,
            folded: folded.into(),
        }
    }
}

/// The text of a comment token that is one command of another program with one word, as a clock
/// that a server writes after each move.
#[cfg(not(target_family = "wasm"))]
pub(super) fn one_command(token: &str, from: u32) -> Option<(&str, Places)> {
    let open = token.strip_prefix('{')?.trim_ascii_start();
    let text = open.strip_suffix('}')?.trim_ascii_end();
    let word = |text| run(text, |byte| byte.is_ascii_graphic() && byte != b']');
    let name = text.strip_prefix("[%")?;
    let value = name[word(name)..].strip_prefix(' ')?;
    let places = Places {
        from: from + (token.len() - open.len()) as u32,
        folded: Box::default(),
    };
    (value[word(value)..] == *"]").then_some((text, places))
}

/// The text of one comment token, or of several that begin with `;` on lines that follow each
/// other: delimiters off, white space folded to single spaces, blank lines kept as `\n\n`.
/// `from` is where the token begins in the source.
pub(super) fn fold(token: &str, from: u32) -> (Cow<'_, str>, Places) {
    let open = token.strip_prefix(['{', ';']).unwrap_or(token);
    let from = from + (token.len() - open.len()) as u32;
    if token.starts_with(';') && has(open, b'\n') {
        return letter_by_letter(open, from, true);
    }
    let inner = match token.starts_with(';') {
        true => open,
        false => open.strip_suffix('}').unwrap_or(open),
    };
    let start = inner.trim_ascii_start();
    let from = from + (inner.len() - start.len()) as u32;
    // Most comments have single spaces between plain words, and need no change.
    let inner = start.trim_ascii_end();
    let mut last = b' ';
    let fine = run(inner, |byte| {
        let before = core::mem::replace(&mut last, byte);
        byte.is_ascii_graphic() || (byte == b' ' && before != b' ')
    });
    if fine < inner.len() {
        return letter_by_letter(inner, from, false);
    }
    let folded = Box::default();
    (Cow::Borrowed(inner), Places { from, folded })
}

/// `is_lines` for lines of `;`, which are one paragraph; the sign of each is no part of it.
fn letter_by_letter(inner: &str, from: u32, is_lines: bool) -> (Cow<'_, str>, Places) {
    let mut text = String::with_capacity(inner.len());
    let mut folded = Vec::new();
    let (mut first, mut away) = (0, 0);
    let (mut space, mut breaks) = (false, 0);
    for (at, letter) in inner.char_indices() {
        if letter.is_whitespace() {
            space = true;
            breaks += u32::from(letter == '\n');
            continue;
        }
        if is_lines && core::mem::take(&mut breaks) > 0 && letter == ';' {
            continue;
        }
        if text.is_empty() {
            first = at;
        } else if space {
            text.push_str(if breaks > 1 { "\n\n" } else { " " });
        }
        (space, breaks) = (false, 0);
        let now = at - first - text.len();
        if now != away {
            folded.push((text.len() as u32, now as u32));
            away = now;
        }
        text.push(letter);
    }
    let places = Places {
        from: from + first as u32,
        folded: folded.into(),
    };
    (Cow::Owned(text), places)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn assert_folds(token: &str, wanted: &str) {
        let source = format!("e4 {token}");
        let (text, places) = fold(token, 3);
        assert_eq!(text, wanted);
        for (at, letter) in text.char_indices() {
            let span = places.span(at, at + letter.len_utf8());
            let there = source.get(span.range()).expect("a letter");
            let is_it = there == letter.to_string();
            assert!(is_it || letter.is_whitespace(), "{letter:?}, not {there:?}");
        }
    }

    #[test]
    fn white_space_folds_and_blank_lines_part_paragraphs() {
        assert_folds("{ a\n b \n \n\tc }", "a b\n\nc");
        assert_folds("{ plain words }", "plain words");
        assert_folds("; to the end ", "to the end");
        assert_folds("{open", "open");
        assert_folds("{\u{a0}\u{e9}\u{e9}\r\nb  c}", "\u{e9}\u{e9} b c");
        assert_folds("{ \n }", "");
    }

    #[test]
    fn lines_of_semicolons_are_one_paragraph_without_their_signs() {
        assert_folds(";one\n; two; three\r\n  ;\n;;four", "one two; three ;four");
        assert_folds(";\n;one", "one");
    }

    #[test]
    fn a_part_of_a_text_knows_its_own_places() {
        let source = "{a\n\n\nb   c  d}";
        let (text, places) = fold(source, 0);
        assert_eq!(text, "a\n\nb c d");
        let part = places.part(3);
        for (at, letter) in [(0, "b"), (2, "c"), (4, "d")] {
            assert_eq!(source.get(part.span(at, at + 1).range()), Some(letter));
        }
        assert_eq!(source.get(part.span(0, 3).range()), Some("b   c"));
    }
}
