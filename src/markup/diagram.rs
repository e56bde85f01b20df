//! A still diagram: the lesson's board as a picture with its caption, nothing to act on.

use super::board::board;
use super::figure::shown;
use super::lesson::notes;
use super::{Element, el};
use crate::view::{Caption, Diagram, Word, Words};

/// What stands in the shadow root of a diagram; `found` is what its author is told.
pub fn diagram(words: &Words, diagram: &Diagram, found: &[String]) -> Vec<Element> {
    let figure = el("figure")
        .with("class", "still")
        .with("part", "figure")
        .child(board(&diagram.board, Some(&diagram.description)))
        .maybe(caption(words, &diagram.caption));
    let mut tree = vec![figure];
    if !found.is_empty() {
        tree.push(notes(words, found));
    }
    tree
}

/// What stands there instead when it cannot be shown: what its author is told, and the element's
/// own content; a sentence where it has none.
pub fn missing(words: &Words, sentence: Option<Word>, found: &[String]) -> Vec<Element> {
    let mut tree = Vec::new();
    if sentence.is_some() || !found.is_empty() {
        let mut body = el("div").with("class", "failed");
        if let Some(sentence) = sentence {
            body = body.child(el("p").text(words.get(sentence)));
        }
        if !found.is_empty() {
            body = body.child(notes(words, found));
        }
        tree.push(body);
    }
    tree.push(el("slot"));
    tree
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
