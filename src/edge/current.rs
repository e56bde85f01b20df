//! Where a reader is, as data: the property `current` and the detail of `ply-moved`.

use super::plain::leaves_as;
use super::tree::label;
use crate::lesson::rules::{self, EnPassantForm};
use crate::lesson::{Lesson, NodeId};
use crate::notation::Comment;
use crate::text::Listed;
use crate::view::State;

/// The position on the board and how it was reached. Absent values are null.
#[derive(Debug)]
pub struct CurrentData {
    /// The node.
    pub node: NodeId,
    /// Half-moves from the start.
    pub ply: u32,
    /// The last move in English SAN.
    pub san: Option<String>,
    /// The last move as UCI writes it.
    pub uci: Option<String>,
    /// The position, six fields.
    pub fen: String,
    /// The SANs from the start.
    pub moves: Vec<String>,
    /// The label of the variation; null on the main line.
    pub line: Option<String>,
    /// The author's text after the last move.
    pub comment: Option<String>,
    /// The SANs at hand.
    pub next: Vec<String>,
    /// The SANs tried since the lesson was left.
    pub aside: Vec<String>,
}

leaves_as!(
    CurrentData,
    "node": node,
    "ply": ply,
    "san": san,
    "uci": uci,
    "fen": fen,
    "moves": moves,
    "line": line,
    "comment": comment,
    "next": next,
    "aside": aside,
);

/// Where a reader is. In an aside `node`, `line` and `comment` are those of the node left, the
/// rest those on the board.
pub fn current(lesson: &Lesson, state: &State) -> CurrentData {
    let id = state.node;
    let node = lesson.node(id);
    let last = state.last(lesson);
    let aside: Vec<String> = state.aside.iter().map(|tried| tried.san.clone()).listed();
    let mut moves = lesson.run(id);
    moves.extend(aside.iter().cloned());
    let against = state.onward(lesson);
    let next = match (aside.is_empty() && !state.waits(), &against) {
        (true, _) => &node.children[..],
        (_, against) => against.as_slice(),
    };
    let next = next.iter().map(|&id| lesson.node(id).san.to_string());
    let next = next.listed();
    let comment = match state.asking() {
        // What follows the question in its comment answers it.
        Some(asking) if asking.is_open() => Some(asking.question.prompt.text().to_owned()),
        _ => Comment::join(&node.comments),
    };
    CurrentData {
        node: id,
        ply: node.ply + aside.len() as u32,
        san: last.as_ref().map(|last| last.san.to_owned()),
        uci: last.as_ref().map(|last| rules::uci(last.played)),
        fen: rules::fen(state.position(lesson), EnPassantForm::Legal),
        moves,
        line: label(lesson, id),
        comment,
        next,
        aside,
    }
}
