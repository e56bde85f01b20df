//! A still diagram: the lesson's board as a picture with its caption, nothing to act on.

use super::board::board;
use super::figure::shown;
use super::{Element, el};
use crate::view::{Caption, Diagram, Word, Words};

/// What stands in the shadow root of a diagram.
pub fn diagram(words: &Words, diagram: &Diagram) -> Vec<Element> {
    let figure = el("figure")
        .with("class", "still")
        .with("part", "figure")
        .child(board(&diagram.board, Some(&diagram.description)))
        .maybe(caption(words, &diagram.caption));
    vec![figure]
}

/// What stands there instead where nothing can be shown: the element's own content; a sentence
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
    let text = el("figcaption");
    Some(match caption {
        Caption::None => return None,
        Caption::Turn(turn) => text.text(turn),
        Caption::Start(turn) => text.text(words.get(Word::Start)).text(turn),
        Caption::After(last, turn) => {
            let word = words.get(Word::After);
            let (before, after) = word.split_once("{move}").unwrap_or((word, ""));
            text.text(before)
                .child(el("b").child(shown(last)))
                .text(after)
                .text(turn)
        }
    })
}
