//! Assessments drawn: a word that opens the number, and in it one that opens where that comes from.

use super::said::{Assessment, Limit, Of, sentence};
use super::words::{Word, Words};
use crate::lesson::numbered;
use crate::markup::{Element, el};
use shakmaty::Color;

/// What is inside the element `details` of an assessment: closed it shows one word. `first` is the side to move, and the
/// number of its move.
pub fn assessment(words: &Words, of: &Of, it: &Assessment, first: (Color, u32)) -> Vec<Element> {
    let summary = el("summary").text(&words.fill(Word::Title, &[]));
    let said = el("p").text(&(words.fill(Word::Title, &[]) + ": " + &sentence(words, it)));
    let source = el("details").child(el("summary").text(&words.fill(Word::Source, &[])));
    let line = (!it.line.is_empty()).then(|| {
        let line = words.fill(
            Word::Line,
            &[("line", &numbered(first, "\u{2026}", &it.line))],
        );
        el("p").text(&line)
    });
    vec![summary, said, source.children(from(words, of)).maybe(line)]
}

/// The same for a page without a script, after what says where that is.
#[cfg(not(target_family = "wasm"))]
pub fn listed(words: &Words, it: &Assessment, place: Element) -> Element {
    place.text(&sentence(words, it)).text(".")
}

/// Who computed it, and how far.
pub fn from(words: &Words, of: &Of) -> Vec<Element> {
    let limit = match of.limit {
        Some(Limit::Nodes(n)) => words.fill(Word::Nodes, &[("n", &n.to_string())]),
        Some(Limit::Depth(n)) => words.fill(Word::Half, &[("n", &n.to_string())]),
        Some(Limit::Seconds(n)) => words.fill(Word::Seconds, &[("n", &n.to_string())]),
        None => String::new(),
    };
    let values = [
        ("name", of.name.as_str()),
        ("limit", &limit),
        ("date", &of.date),
    ];
    vec![
        el("p").text(&words.fill(Word::By, &values)),
        el("p").text(&words.fill(Word::Only, &[])),
    ]
}
