//! Every word on screen and every word spoken, by key. English is complete here; another
//! language is a file of its own that names the same keys (`www/words/de.js`).

pub mod actions;
mod answers;
pub(crate) mod moved;
pub mod recalled;
pub mod sentence;
pub mod spoken;
mod table;
pub mod verdicts;
pub mod wording;

use self::table::{ENGLISH, english, index};
pub use self::table::{TEXTS, Word};
use crate::lesson::{Lesson, NodeId};
use crate::notation::Letters;
use crate::text::{Listed, cut, split};
use std::borrow::Cow;

/// The texts of one language, and the letters in which it writes pieces.
#[derive(Clone, Debug)]
pub struct Words {
    /// One text a key, in the order of [`TEXTS`].
    texts: Vec<Cow<'static, str>>,
    /// The letters of moves that are shown.
    letters: &'static Letters,
}

impl Default for Words {
    fn default() -> Words {
        Words {
            texts: split(ENGLISH, b'\0').map(Cow::Borrowed).listed(),
            letters: Letters::ENGLISH,
        }
    }
}

impl Words {
    /// English, with these texts in place of its own; unknown names are ignored.
    pub fn with(others: impl IntoIterator<Item = (String, String)>) -> Words {
        let mut words = Words::default();
        for (name, text) in others {
            if let Some(at) = index(&name) {
                words.texts[at] = Cow::Owned(text); // one text a name
            }
        }
        words
    }

    /// The same with moves in these letters.
    pub fn lettered(mut self, letters: &'static Letters) -> Words {
        self.letters = letters;
        self
    }

    /// The letters in which moves are shown.
    pub fn letters(&self) -> &'static Letters {
        self.letters
    }

    /// A move in English SAN, as it is shown.
    pub fn san(&self, san: &str) -> String {
        self.letters.write(san)
    }

    /// The move that leads to a node with its number, as it is shown.
    pub(crate) fn numbered(&self, lesson: &Lesson, id: NodeId) -> String {
        self.san(&lesson.numbered(id))
    }

    /// A text.
    pub fn get(&self, word: Word) -> &str {
        self.texts.get(word as usize).map_or("", |text| text)
    }

    /// The parts of a text before and after one `{name}`, whose value is not text; all of it before
    /// if it has none.
    pub fn around(&self, word: Word, name: &str) -> (&str, &str) {
        let text = self.get(word);
        cut(text, name).unwrap_or((text, ""))
    }

    /// A text with each `{name}` replaced.
    pub fn fill(&self, word: Word, values: &[(&str, &str)]) -> String {
        let mut text = String::new();
        let mut rest = self.get(word);
        while let Some((before, after)) = cut(rest, "{") {
            text.push_str(before);
            let Some((name, tail)) = cut(after, "}") else {
                break;
            };
            let value = values.iter().find(|(known, _)| *known == name);
            text.push_str(value.map_or("", |(_, value)| value));
            rest = tail;
        }
        text.push_str(rest);
        text
    }

    /// The text of this name; empty for an unknown one, and for a reason's code where the
    /// checker's own sentence is used.
    pub fn named(&self, name: &str) -> &str {
        index(name)
            .and_then(|at| self.texts.get(at))
            .map_or("", |text| text)
    }
}

/// Ends a text with a full stop, if it does not end as a sentence does.
fn close(text: &mut String) {
    for letter in text.chars().rev() {
        match letter {
            '"' | '\'' | ')' | '\u{201c}' | '\u{201d}' | '\u{2019}' => {}
            '.' | '!' | '?' | '\u{2026}' => return,
            _ => break,
        }
    }
    text.push('.');
}

/// Adds a sentence to a text, if there is one.
fn add(text: &mut String, sentence: &str) {
    if !text.is_empty() && !sentence.is_empty() {
        text.push(' ');
    }
    text.push_str(sentence);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_names_have_one_number() {
        for (at, (name, _)) in TEXTS.iter().enumerate() {
            assert_eq!(index(name), Some(at), "{name}");
        }
    }

    #[test]
    fn values_stand_in_the_place_of_their_names() {
        let words = Words::default();
        let text = words.fill(
            Word::Moves,
            &[("piece", "white bishop"), ("to", "b5"), ("from", "f1")],
        );
        assert_eq!(text, "white bishop from f1 to b5");
        assert_eq!(words.fill(Word::Line, &[]), "line ");
    }

    #[test]
    fn a_language_replaces_what_it_names_and_keeps_the_rest() {
        let one = [
            ("back".to_owned(), "zur\u{fc}ck".to_owned()),
            ("x".to_owned(), String::new()),
        ];
        let words = Words::with(one);
        assert_eq!(words.get(Word::Back), "zur\u{fc}ck");
        assert_eq!(words.get(Word::Next), "next");
    }
}
