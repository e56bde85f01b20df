//! The words of assessments in English, by the names that a language's file uses too.

use crate::text::{Texts, table};

table! {
    Title "engine" "engine";
    For "engineFor" "{score} for {side}";
    Level "engineLevel" "0.0";
    Mate "engineMate" "mate in {count} for {side}";
    Mated "engineMated" "mate";
    Least "engineLeast" "at least {score}";
    Most "engineMost" "at most {score}";
    Depth "engineDepth" ", depth {depth}";
    White "engineWhite" "White";
    Black "engineBlack" "Black";
    Source "engineSource" "source";
    By "engineBy" "{name}; {limit}; {date}.";
    Nodes "engineNodes" "{n} positions searched for each";
    Half "engineHalf" "depth {n} for each";
    Seconds "engineSeconds" "{n} s for each";
    Line "engineLine" "Its line: {line}.";
    Only "engineOnly" "Computed, not written by your teacher.";
}

/// The texts of one language.
#[derive(Clone, Debug)]
pub struct Words(Texts);

impl Default for Words {
    fn default() -> Words {
        Words::with(std::iter::empty())
    }
}

impl Words {
    /// English, with these texts in place of its own: names and texts in turn; unknown names are ignored.
    pub fn with<'a>(others: impl Iterator<Item = &'a str>) -> Words {
        Words(texts(others))
    }

    /// A text with each `{name}` replaced.
    pub fn fill(&self, word: Word, values: &[(&str, &str)]) -> String {
        self.0.fill(word as usize, values)
    }
}
