//! A still diagram: the lesson's board as a picture with its caption, nothing to act on.

use super::parts::captioned;
use super::picture::board::board;
use super::{Element, el};
use crate::view::{Caption, Diagram, Word, Words};
use core::slice::from_ref;

/// What is in the shadow root of a diagram.
pub fn diagram(words: &Words, diagram: &Diagram) -> Vec<Element> {
    let caption = caption(words, &diagram.caption);
    vec![still(diagram, caption).with("part", "figure")]
}

/// A still diagram of a lesson in its text.
pub(super) fn in_text(words: &Words, diagram: &Diagram, said: Option<Element>) -> Element {
    still(diagram, said.or_else(|| caption(words, &diagram.caption)))
}

fn still(diagram: &Diagram, caption: Option<Element>) -> Element {
    el("figure")
        .with("class", "still")
        .child(board(&diagram.board, Some(&diagram.description)))
        .maybe(caption)
}

/// What is shown instead if nothing can be drawn: the element's own content; a sentence
/// where it is bare.
pub fn missing(words: &Words, is_bare: bool) -> Vec<Element> {
    match is_bare {
        true => vec![
            el("p")
                .with("class", "failed")
                .text(words.get(Word::Missing)),
        ],
        false => vec![el("slot")],
    }
}

fn caption(words: &Words, caption: &Caption) -> Option<Element> {
    match caption {
        Caption::None => None,
        Caption::Turn(turn) => Some(el("figcaption").text(turn)),
        Caption::Start(turn) => Some(captioned(words, Word::After, &[], "", turn)),
        Caption::After(last, turn) => Some(captioned(words, Word::After, from_ref(last), "", turn)),
    }
}
