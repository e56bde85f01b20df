//! A still diagram: the lesson's board as a picture with its caption, nothing to act on.

use super::parts::captioned;
use super::picture::board::board;
use super::{Element, el};
#[cfg(not(target_family = "wasm"))]
use crate::view::Board;
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

/// The address of the picture of a board that is described so.
#[cfg(not(target_family = "wasm"))]
pub type Pictures<'a> = &'a dyn Fn(&Board, &str) -> String;

/// The same where its picture is a file of its own: the picture, and what is below it.
#[cfg(not(target_family = "wasm"))]
pub fn in_file(
    words: &Words,
    diagram: &Diagram,
    said: Option<Element>,
    pictures: Pictures<'_>,
) -> Element {
    let address = pictures(&diagram.board, &diagram.description);
    el("figure")
        .child(img(&address, &diagram.description))
        .maybe(said.or_else(|| caption(words, &diagram.caption)))
}

/// The picture of a board in a file of its own. It loads when it is seen.
#[cfg(not(target_family = "wasm"))]
pub fn img(address: &str, description: &str) -> Element {
    el("img")
        .with("src", address.to_owned())
        .with("alt", description.to_owned())
        .with("width", "360")
        .with("height", "360")
        .with("loading", "lazy")
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
        Caption::Own => Some(el("figcaption").child(el("slot"))),
        Caption::After(last, turn) => Some(captioned(words, Word::After, from_ref(last), "", turn)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::given::lesson;
    use crate::markup::html;
    use shakmaty::Color;

    #[test]
    fn the_words_of_its_author_are_the_caption_and_the_move_where_there_are_none() {
        let (words, lesson) = (Words::default(), lesson("1. e4 e5 *"));
        let mut shown = crate::view::diagram(&words, &lesson, 1, Color::White, None);
        let captioned = |shown: &Diagram| {
            let text = html(&diagram(&words, shown));
            let from = text.find("<figcaption>").unwrap_or(text.len());
            text[from..].to_owned()
        };
        let of_the_move = captioned(&shown);
        assert!(of_the_move.contains("e4") && of_the_move.contains("Black to move"));
        shown.caption = Caption::Own;
        assert_eq!(
            captioned(&shown),
            "<figcaption><slot></slot></figcaption></figure>"
        );
    }
}
