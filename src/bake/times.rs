//! The times of a talk in what is baked: in the words in which the script writes them where nothing plays them.

use super::alone::say;
use crate::markup::{Element, Markup};
use crate::notation::comment::hear::{WORD, passages};

/// The name of the sentence in files of words.
pub const NAME: &str = "hearTimes";

/// The sentence in which readers see the times of a position, in one language.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Heard(String);

impl Default for Heard {
    /// The English one, as in `www/page/apart/talk/talk.js`.
    fn default() -> Heard {
        Heard("hear {times}".to_owned())
    }
}

impl Heard {
    /// The one of these texts that has its name; else the English one.
    pub fn with<'a>(texts: impl IntoIterator<Item = [&'a str; 2]>) -> Heard {
        let mut texts = texts.into_iter();
        let own = texts.find(|[name, _]| *name == NAME);
        own.map_or_else(Heard::default, |[_, text]| Heard(text.to_owned()))
    }

    /// What readers see of a paragraph of times: when each passage begins. None where the paragraph holds anything else.
    fn said(&self, paragraph: &str) -> Option<String> {
        passages(paragraph)?;
        let times = paragraph.trim().strip_prefix(WORD)?;
        let times = times.trim_end().trim_end_matches('.').split(',');
        let begin = |passage: &str| {
            let from = passage.split(['-', '\u{2013}']).next().unwrap_or(passage);
            from.trim().to_owned()
        };
        let times: Vec<String> = times.map(begin).collect();
        Some(self.0.replace("{times}", &times.join(", ")))
    }

    /// Writes so the times below an element: where nothing else is in the paragraph.
    pub fn write(&self, it: &mut Element) {
        say(it, &|text| self.said(text));
    }

    /// The same in the text of a lesson only, where the script looks for them.
    pub fn write_lines(&self, it: &mut Element) {
        let lines = ("class", "lines");
        if it
            .attributes
            .iter()
            .any(|(name, value)| (*name, &**value) == lines)
        {
            return self.write(it);
        }
        for child in &mut it.children {
            if let Markup::Element(child) = child {
                self.write_lines(child);
            }
        }
    }
}
