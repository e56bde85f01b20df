//! Changes of a text as values that can be turned back and made after each other: what is taken back is computed in a
//! file that others have changed meanwhile.

use crate::text::shared_ends;
use similar::{Algorithm, DiffOp, capture_diff_slices};

/// Some bytes of a text and what comes in their place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hunk {
    /// The first byte, in the text before the change.
    pub from: usize,
    pub was: String,
    pub now: String,
}

impl Hunk {
    fn end(&self) -> usize {
        self.from + self.was.len()
    }
}

/// The text with some changes, which are in the order of their places and apart from each other; none where it does not
/// have what they replace.
pub fn applied(text: &str, hunks: &[Hunk]) -> Option<String> {
    let mut made = String::with_capacity(text.len());
    let mut from = 0;
    for hunk in hunks {
        made += text.get(from..hunk.from)?;
        if text.get(hunk.from..hunk.end())? != hunk.was {
            return None;
        }
        made += &hunk.now;
        from = hunk.end();
    }
    made += text.get(from..)?;
    Some(made)
}

/// The changes that turn the text after some changes into that before them.
pub fn inverse(hunks: &[Hunk]) -> Vec<Hunk> {
    let mut shift = 0;
    let turned = hunks.iter().map(|hunk| {
        let from = hunk.from.saturating_add_signed(shift);
        shift += hunk.now.len() as isize - hunk.was.len() as isize;
        Hunk {
            from,
            was: hunk.now.clone(),
            now: hunk.was.clone(),
        }
    });
    turned.collect()
}

/// Two changes of one text, each as it is made after the other; none where they touch the same bytes.
pub fn past(one: &[Hunk], two: &[Hunk]) -> Option<(Vec<Hunk>, Vec<Hunk>)> {
    let is_apart = |one: &Hunk, two: &Hunk| {
        let is_before = |one: &Hunk, two: &Hunk| one.end() <= two.from;
        let is_one_place = one.was.is_empty() && two.was.is_empty() && one.from == two.from;
        !is_one_place && (is_before(one, two) || is_before(two, one))
    };
    if !one
        .iter()
        .all(|one| two.iter().all(|two| is_apart(one, two)))
    {
        return None;
    }
    Some((shifted(one, two), shifted(two, one)))
}

/// Changes as they are made after others that are apart from them.
fn shifted(hunks: &[Hunk], others: &[Hunk]) -> Vec<Hunk> {
    let moved = hunks.iter().map(|hunk| {
        let before = others.iter().filter(|it| it.end() <= hunk.from);
        let shift = before.map(|it| it.now.len() as isize - it.was.len() as isize);
        Hunk {
            from: hunk.from.saturating_add_signed(shift.sum()),
            ..hunk.clone()
        }
    });
    moved.collect()
}

/// Where a byte of a text is after some changes; none where it is among what they replace.
pub fn moved(byte: usize, hunks: &[Hunk]) -> Option<usize> {
    let mut shift = 0;
    for hunk in hunks {
        if hunk.end() <= byte {
            shift += hunk.now.len() as isize - hunk.was.len() as isize;
        } else if hunk.from < byte {
            return None;
        } else {
            break;
        }
    }
    Some(byte.saturating_add_signed(shift))
}

/// Most lines or words that are compared one by one; a stretch of more counts as one change.
const PARTS: usize = 20_000;

/// What turns one text into another: of the lines that differ the words, without the letters at their ends that are the
/// same.
pub fn difference(old: &str, new: &str) -> Vec<Hunk> {
    if old == new {
        return Vec::new();
    }
    let mut hunks = Vec::new();
    for (at, was, now) in unlike(old, new, lines) {
        for (within, was, now) in unlike(was, now, words) {
            hunks.push(smallest(at + within, was, now));
        }
    }
    hunks
}

fn lines(text: &str) -> Vec<&str> {
    text.split_inclusive('\n').collect()
}

fn words(text: &str) -> Vec<&str> {
    text.split_inclusive(char::is_whitespace).collect()
}

/// The stretches that differ, each with its place in the first text; `parts` cuts a text into what is compared.
fn unlike<'a>(
    old: &'a str,
    new: &'a str,
    parts: fn(&str) -> Vec<&str>,
) -> Vec<(usize, &'a str, &'a str)> {
    let (old_parts, new_parts) = (parts(old), parts(new));
    if old_parts.len().max(new_parts.len()) > PARTS {
        return vec![(0, old, new)];
    }
    let (old_at, new_at) = (places(&old_parts), places(&new_parts));
    let mut list = Vec::new();
    // The place of what is put in is counted here: the library gives one that can be off after it has moved things.
    let (mut old_part, mut new_part) = (0, 0);
    for op in capture_diff_slices(Algorithm::Myers, &old_parts, &new_parts) {
        let (old_end, new_end) = (
            old_part + op.old_range().len(),
            new_part + op.new_range().len(),
        );
        if !matches!(op, DiffOp::Equal { .. }) {
            let was = old_at[old_part]..old_at[old_end];
            let now = new_at[new_part]..new_at[new_end];
            list.push((was.start, &old[was], &new[now]));
        }
        (old_part, new_part) = (old_end, new_end);
    }
    list
}

/// Where each part begins, and where the last one ends.
fn places(parts: &[&str]) -> Vec<usize> {
    let mut at = vec![0];
    let mut end = 0;
    for part in parts {
        end += part.len();
        at.push(end);
    }
    at
}

/// One change without the letters at its ends that stay the same.
pub fn smallest(from: usize, was: &str, now: &str) -> Hunk {
    let (first, last) = shared_ends(was, now);
    Hunk {
        from: from + first,
        was: was[first..was.len() - last].to_owned(),
        now: now[first..now.len() - last].to_owned(),
    }
}
