//! Changes of a text that come in rounds, kept as one list of changes of the first text, so
//! that every byte that nobody changed is the byte that was there.

use crate::text::{Code, Span};
use std::ops::Range;

/// One stretch of the first text and what is there now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// Which bytes of the first text; none if something was put in.
    pub first: Range<usize>,
    /// Which bytes of the text as it is now.
    pub now: Range<usize>,
    /// What is there now.
    pub text: String,
    /// The findings that it fixes, each code once.
    pub codes: Vec<Code>,
}

/// A change of the text as it is now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// Where.
    pub span: Span,
    /// The new text.
    pub text: String,
    /// The finding that it fixes.
    pub code: Code,
}

/// All changes so far, in the order of their places. No two share a byte.
#[derive(Debug, Default)]
pub struct Edits {
    list: Vec<Edit>,
}

/// What is in a round: an edit of an earlier one, or a change.
enum Part {
    Edit(Edit),
    Change(Change),
}

impl Part {
    fn range(&self) -> Range<usize> {
        match self {
            Part::Edit(edit) => edit.now.clone(),
            Part::Change(change) => change.span.range(),
        }
    }
}

impl Edits {
    /// The edits, in the order of their places.
    pub fn iter(&self) -> std::slice::Iter<'_, Edit> {
        self.list.iter()
    }

    /// Whether nothing is changed.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Makes one round of changes and gives the text after it; none if nothing can be changed. Of
    /// changes that overlap the first is made; the others wait for the next round, if they are
    /// still found then.
    pub fn round(&mut self, now: &str, changes: Vec<Change>) -> Option<String> {
        let changes = apart(now, changes);
        if changes.is_empty() {
            return None;
        }
        let edits = std::mem::take(&mut self.list).into_iter().map(Part::Edit);
        let mut parts: Vec<Part> = edits.chain(changes.into_iter().map(Part::Change)).collect();
        parts.sort_by_key(|part| (part.range().start, part.range().end));
        let mut text = String::with_capacity(now.len());
        let mut at = 0; // how far `now` is copied
        let mut first = 0; // the byte of the first text that is there
        let mut parts = parts.into_iter().peekable();
        while let Some(part) = parts.next() {
            // Parts that share a byte become one edit.
            let mut range = part.range();
            let mut group = vec![part];
            while let Some(part) = parts.next_if(|part| part.range().start < range.end) {
                range.end = range.end.max(part.range().end);
                group.push(part);
            }
            text.push_str(&now[at..range.start]);
            first += range.start - at;
            let edit = join(now, range.clone(), group, first, text.len());
            text.push_str(&edit.text);
            (at, first) = (range.end, edit.first.end);
            self.list.push(edit);
        }
        text.push_str(&now[at..]);
        Some(text)
    }

    /// Removes edits that change nothing in the end.
    pub fn settle(&mut self, first: &str) {
        self.list
            .retain(|edit| first[edit.first.clone()] != edit.text);
    }
}

/// Changes that change something and share no byte, in the order of their places.
fn apart(now: &str, mut changes: Vec<Change>) -> Vec<Change> {
    changes.sort_by_key(|change| (change.span.from, change.span.to));
    let mut last: Option<Span> = None;
    changes.retain(|change| {
        let is_free = last.is_none_or(|last| last.to <= change.span.from && last != change.span);
        let old = now.get(change.span.range());
        let wanted = is_free && old.is_some_and(|old| old != change.text);
        if wanted {
            last = Some(change.span);
        }
        wanted
    });
    changes
}

/// One edit of parts that lie in `range` of the text as it is: `first` is the byte of the first
/// text where they begin, `at` the byte of the text as it will be.
fn join(now: &str, range: Range<usize>, parts: Vec<Part>, first: usize, at: usize) -> Edit {
    let mut text = String::new();
    let mut codes = Vec::new();
    let mut copied = range.start;
    // As many bytes of the first text as of this one, but for what the edits put there.
    let mut length = range.len();
    for part in parts {
        match part {
            Part::Edit(edit) => {
                length = length + edit.first.len() - edit.now.len();
                codes.extend(edit.codes);
            }
            Part::Change(change) => {
                let span = change.span.range();
                text.push_str(&now[copied..span.start]);
                text.push_str(&change.text);
                copied = span.end;
                codes.push(change.code);
            }
        }
    }
    text.push_str(&now[copied..range.end]);
    let mut kept: Vec<Code> = Vec::new();
    codes.retain(|code| {
        let is_new = !kept.contains(code);
        kept.push(*code);
        is_new
    });
    Edit {
        first: first..first + length,
        now: at..at + text.len(),
        text,
        codes,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn change(from: usize, to: usize, text: &str) -> Change {
        Change {
            span: Span::new(from, to),
            text: text.to_owned(),
            code: Code::Spelling,
        }
    }

    /// The edits as (bytes of the first text, what is there).
    fn told(edits: &Edits) -> Vec<(Range<usize>, &str)> {
        edits
            .iter()
            .map(|edit| (edit.first.clone(), edit.text.as_str()))
            .collect()
    }

    /// The first text with the edits made in it.
    fn spliced(first: &str, edits: &Edits) -> String {
        let mut text = String::new();
        let mut at = 0;
        for edit in edits.iter() {
            text += &first[at..edit.first.start];
            assert_eq!(text.len(), edit.now.start);
            text += &edit.text;
            at = edit.first.end;
        }
        text + &first[at..]
    }

    #[test]
    fn changes_of_several_rounds_are_changes_of_the_first_text() {
        let first = "0123456789";
        let mut edits = Edits::default();
        let rounds = [
            (vec![change(2, 4, "abc"), change(7, 7, "X")], "01abc456X789"),
            // Before an edit, in it and over its end, and after what was put in.
            (
                vec![change(0, 0, "-"), change(4, 7, "YZ"), change(9, 9, "!")],
                "-01abYZ6X!789",
            ),
            // From an untouched byte over a whole edit to another untouched one.
            (vec![change(2, 8, "")], "-0X!789"),
        ];
        let mut now = first.to_owned();
        for (changes, wanted) in rounds {
            now = edits.round(&now, changes).expect("a change");
            assert_eq!(now, wanted);
            assert_eq!(spliced(first, &edits), wanted);
        }
        assert_eq!(
            told(&edits),
            [(0..0, "-"), (1..7, ""), (7..7, "X"), (7..7, "!")]
        );
    }

    #[test]
    fn of_changes_in_each_others_way_the_first_is_made() {
        let mut edits = Edits::default();
        let changes = vec![
            change(1, 3, "x"),
            change(2, 4, "y"),
            change(5, 5, "in"),
            change(5, 5, "in"),
        ];
        assert_eq!(edits.round("abcdef", changes).as_deref(), Some("axdeinf"));
        assert_eq!(told(&edits), [(1..3, "x"), (5..5, "in")]);
    }

    #[test]
    fn what_changes_nothing_or_lies_outside_is_no_change() {
        let mut edits = Edits::default();
        assert_eq!(
            edits.round(
                "äb",
                vec![change(0, 2, "ä"), change(1, 2, "x"), change(2, 9, "x")]
            ),
            None
        );
        let there = edits
            .round("ab", vec![change(0, 1, "x")])
            .expect("a change");
        edits
            .round(&there, vec![change(0, 1, "a")])
            .expect("a change");
        edits.settle("ab");
        assert_eq!(told(&edits), []);
    }
}
