//! A table of texts that a language's file can replace: by key in the source, by name in the file.

use super::{cut, split};
use std::borrow::Cow;

/// A table: the enum `Word` of its keys, `TEXTS` with each name and its English text, and `Words`, the texts of one
/// language.
macro_rules! table {
    ($($key:ident $name:literal $english:literal;)*) => {
        /// The key of a text.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Word {
            $($key,)*
        }

        /// Every key by its name in a language's file, and its English text.
        pub const TEXTS: &[(&str, &str)] = &[$(($name, $english),)*];

        /// The texts of one language.
        #[derive(Clone, Debug)]
        pub struct Words($crate::text::Texts);

        impl Default for Words {
            fn default() -> Words {
                Words::with(std::iter::empty())
            }
        }

        impl Words {
            /// English, with these texts in place of its own: names and texts in turn; unknown names are ignored.
            pub fn with<'a>(others: impl Iterator<Item = &'a str>) -> Words {
                // One text each: in the page each text of a table costs its place too.
                const ENGLISH: &str = concat!($($english, "\0"),*);
                const NAMES: &str = concat!($($name, "\0"),*);
                Words($crate::text::Texts::of(ENGLISH, NAMES, others))
            }

            /// A text with each `{name}` replaced.
            pub fn fill(&self, word: Word, values: &[(&str, &str)]) -> String {
                self.0.fill(word as usize, values)
            }
        }
    };
}
pub(crate) use table;

/// The texts of one language, in the order of their keys.
#[derive(Clone, Debug)]
pub struct Texts(Vec<Cow<'static, str>>);

impl Texts {
    /// `english` and `names` have a NUL after each text; `others` has names and texts in turn.
    pub fn of<'a>(
        english: &'static str,
        names: &'static str,
        mut others: impl Iterator<Item = &'a str>,
    ) -> Texts {
        let mut texts = Vec::new();
        for text in split(english, 0) {
            texts.push(Cow::Borrowed(text));
        }
        while let (Some(name), Some(text)) = (others.next(), others.next()) {
            let at = split(names, 0).position(|known| known == name && !name.is_empty());
            if let Some(place) = at.and_then(|at| texts.get_mut(at)) {
                *place = Cow::Owned(text.to_owned());
            }
        }
        Texts(texts)
    }

    /// The text at a place of the table.
    pub fn at(&self, place: usize) -> &str {
        self.0.get(place).map_or("", |text| text)
    }

    /// The same with each `{name}` replaced; one that is not known is left out.
    pub fn fill(&self, place: usize, values: &[(&str, &str)]) -> String {
        let mut text = String::new();
        let mut rest = self.at(place);
        while let Some((before, after)) = cut(rest, "{") {
            text.push_str(before);
            let Some((name, tail)) = cut(after, "}") else {
                break;
            };
            for (known, value) in values {
                if *known == name {
                    text.push_str(value);
                }
            }
            rest = tail;
        }
        text.push_str(rest);
        text
    }
}
