//! Where a reader is, as data: the property `current` and the detail of `ply-moved`.

use super::tree::label;
use crate::lesson::rules::{self, EnPassantForm};
use crate::lesson::{Lesson, NodeId, Said};
use serde::Serialize;

/// The position on the board and how it was reached. Absent values are null.
#[derive(Debug, Serialize)]
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

/// Where a reader at this node is.
pub fn current(lesson: &Lesson, id: NodeId) -> CurrentData {
    let node = lesson.node(id);
    let moved = node.parent.is_some();
    let sans = |ids: &[NodeId]| {
        ids.iter()
            .map(|&id| lesson.node(id).san.to_string())
            .collect()
    };
    CurrentData {
        node: id,
        ply: node.ply,
        san: moved.then(|| node.san.to_string()),
        uci: moved.then(|| rules::uci(node.played)),
        fen: rules::fen(&node.position, EnPassantForm::Legal),
        moves: sans(&lesson.path(id)[1..]), // a path begins with node 0
        line: label(lesson, id),
        comment: Said::join(&node.comments),
        next: sans(&node.children),
        aside: Vec::new(),
    }
}
