//! Changes of a text at places, all at once.

use std::ops::Range;

/// Changes that do not overlap; at one place they stand in the order in which they were made.
#[derive(Debug, Default)]
pub struct Edits(Vec<(Range<usize>, String)>);

impl Edits {
    /// Puts a text in place of these bytes.
    pub fn replace(&mut self, bytes: Range<usize>, text: impl Into<String>) {
        self.0.push((bytes, text.into()));
    }

    /// Puts a text before this byte.
    pub fn insert(&mut self, at: usize, text: impl Into<String>) {
        self.replace(at..at, text);
    }

    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The text with all changes. What lies within bytes that are replaced by an earlier change is
    /// not done.
    pub fn apply(mut self, text: &str) -> String {
        self.0
            .sort_by_key(|(bytes, _)| (bytes.start, bytes.end > bytes.start));
        let mut made = String::with_capacity(text.len());
        let mut from = 0;
        for (bytes, new) in &self.0 {
            let Some(kept) = text.get(from..bytes.start) else {
                continue;
            };
            made += kept;
            made += new;
            from = bytes.end;
        }
        made += text.get(from..).unwrap_or_default();
        made
    }
}

/// How many bytes two texts share at their beginning, and how many after that at their end: whole letters.
pub fn shared_ends(one: &str, two: &str) -> (usize, usize) {
    let same = |(one, two): &(char, char)| one == two;
    let length = |letters: &mut dyn Iterator<Item = (char, char)>| -> usize {
        letters.map(|(letter, _)| letter.len_utf8()).sum()
    };
    let first = length(&mut one.chars().zip(two.chars()).take_while(same));
    let (one, two) = (&one[first..], &two[first..]);
    let last = length(&mut one.chars().rev().zip(two.chars().rev()).take_while(same));
    (first, last)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_two_texts_share_at_their_ends_is_counted_once_and_in_whole_letters() {
        assert_eq!(shared_ends("abba", "aba"), (2, 1));
        assert_eq!(shared_ends("\u{e9}x\u{e8}", "\u{e9}y\u{e9}"), (2, 0)); // the last two share a byte
        assert_eq!(shared_ends("same", "same"), (4, 0));
    }

    #[test]
    fn changes_are_made_in_the_order_of_their_places_and_none_within_another() {
        let mut edits = Edits::default();
        edits.insert(5, "!");
        edits.replace(0..1, "A");
        edits.insert(5, "?");
        edits.replace(2..4, "x");
        edits.insert(3, "never");
        assert_eq!(edits.apply("abcde"), "Abxe!?");
    }
}
