//! A figure that the author quotes from elsewhere, as a sentence.

use super::words::{Word, Words};
use crate::notation::comment::quoted::quoted;

/// The sentence for a paragraph that quotes a figure; none for another paragraph.
pub fn quote(words: &Words, paragraph: &str) -> Option<String> {
    let it = quoted(paragraph)?;
    let [white, drawn, black] = it.shares.map(|share| words.percent(share));
    let values = [
        ("games", words.number(it.games)),
        ("white", white),
        ("drawn", drawn),
        ("black", black),
    ];
    let values: Vec<(&str, &str)> = values
        .iter()
        .map(|(name, text)| (*name, text.as_str()))
        .collect();
    let said = words.fill(Word::Many, &values);
    Some(words.fill(Word::Quoted, &[("source", it.source), ("said", &said)]))
}
