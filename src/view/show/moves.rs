//! A move as it is written on the page: its number, its name, its signs.

use crate::lesson::{Lesson, NodeId};
use crate::notation::word::nag;
use crate::view::numbers::number;
use crate::view::words::Words;

/// A move as written on the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MoveView {
    /// The node it leads to.
    pub node: NodeId,
    /// `7.` or `7…`; none if the line before makes it plain.
    pub number: Option<String>,
    /// The move.
    pub san: String,
    /// The signs after it.
    pub signs: String,
}

/// A move with its number, as written alone, in the letters of the words.
pub fn move_view(words: &Words, lesson: &Lesson, id: NodeId, numbered: bool) -> MoveView {
    let node = lesson.node(id);
    let before = &lesson.node(node.parent.unwrap_or(0)).position;
    let mut signs = String::new();
    // Signs of the move come right after it, the box after a narrow space, so that it is not taken for
    // a character that is missing; those of the position after a space.
    for of_the_move in [true, false] {
        for &glyph in &node.nags {
            let sign = nag::sign(glyph);
            if nag::is_of_the_move(glyph) == of_the_move && !sign.is_empty() {
                signs.push_str(match sign {
                    "\u{25a1}" => "\u{202f}",
                    _ if of_the_move => "",
                    _ => "\u{a0}",
                });
                signs.push_str(sign);
            }
        }
    }
    MoveView {
        node: id,
        number: number(before, numbered),
        san: words.san(&node.san),
        signs,
    }
}
