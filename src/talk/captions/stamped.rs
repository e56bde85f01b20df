//! Text with stamps: `[4:27]`, `(4:27)` anywhere, or `4:27` at the start of a line, before what is said from then on.

use super::{Cue, Part};
use crate::notation::comment::clock::{Millis, clock};
use crate::text::Span;

/// A stamp: its bytes and its time.
type Stamp = (usize, usize, Millis);

/// Whether the text has one.
pub fn has_stamp(text: &str) -> bool {
    stamps(text).next().is_some()
}

/// What is said from each stamp to the next. Text before the first is said from the start on.
pub fn read(text: &str) -> Vec<Cue> {
    let mut cues: Vec<Cue> = Vec::new();
    let (mut from, mut time) = (0, 0);
    let end = (text.len(), text.len(), Millis::MAX);
    for (at, after, next) in stamps(text).chain([end]) {
        let lines = lines(text, from, at);
        if !lines.is_empty() {
            cues.push(Cue {
                from: time,
                to: Some(next).filter(|next| *next > time && *next < Millis::MAX),
                lines,
            });
        }
        (from, time) = (after, next);
    }
    cues
}

fn lines(text: &str, from: usize, to: usize) -> Vec<Vec<Part>> {
    let mut lines = Vec::new();
    let mut at = from;
    for line in text.get(from..to).unwrap_or_default().split('\n') {
        if !line.trim().is_empty() {
            lines.push(vec![Part {
                at: None,
                text: line.to_owned(),
                span: Span::new(at, at + line.len()),
            }]);
        }
        at += line.len() + 1;
    }
    lines
}

fn stamps(text: &str) -> impl Iterator<Item = Stamp> {
    let mut at = 0;
    std::iter::from_fn(move || {
        loop {
            let rest = text.get(at..).filter(|rest| !rest.is_empty())?;
            let here = at;
            let first = rest.chars().next()?;
            let is_line_start = here == 0 || text.as_bytes().get(here - 1) == Some(&b'\n');
            let found = match first {
                '[' => bracketed(rest, ']'),
                '(' => bracketed(rest, ')'),
                '0'..='9' if is_line_start => clock(rest).filter(|(_, length)| {
                    let after = rest.get(*length..).unwrap_or_default();
                    after.is_empty() || after.starts_with(char::is_whitespace)
                }),
                _ => None,
            };
            match found {
                Some((time, length)) => {
                    at += length;
                    return Some((here, at, time));
                }
                None => {
                    // To the next place where one can begin.
                    let skip = first.len_utf8();
                    let next = rest[skip..].find(['[', '(', '\n']).map(|it| it + skip);
                    at += match next {
                        Some(next) if rest.as_bytes().get(next) == Some(&b'\n') => next + 1,
                        Some(next) => next,
                        None => rest.len(),
                    };
                }
            }
        }
    })
}

fn bracketed(text: &str, close: char) -> Option<(Millis, usize)> {
    let (time, length) = clock(text.get(1..)?)?;
    let rest = text.get(1 + length..)?;
    rest.starts_with(close).then_some((time, length + 2))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stamp_holds_until_the_next() {
        let cues = read("[0:05] hello (see [1] there)\nand on\n0:35 next [1:04:27.5] last");
        let seen: Vec<(Millis, Option<Millis>, usize)> = cues
            .iter()
            .map(|it| (it.from, it.to, it.lines.len()))
            .collect();
        assert_eq!(
            seen,
            [
                (5_000, Some(35_000), 2),
                (35_000, Some(3_867_500), 1),
                (3_867_500, None, 1)
            ]
        );
    }
}
