//! Positions that are reached by more than one path.

use super::rules::key;
use super::tree::{Lesson, NodeId};

/// Pairs of nodes with one position: the first in the text, and each other. Two nodes are the
/// same position when the first four fields of their FEN agree.
pub fn same_positions(lesson: &Lesson) -> Vec<(NodeId, NodeId)> {
    let mut keys: Vec<([u64; 10], NodeId)> = lesson
        .ids()
        .map(|id| (key(&lesson.node(id).position), id))
        .collect();
    keys.sort_unstable();
    let mut pairs = Vec::new();
    let mut first = 0;
    for at in 1..keys.len() {
        if keys[at].0 != keys[first].0 {
            first = at;
            continue;
        }
        pairs.push((keys[first].1, keys[at].1));
    }
    pairs
}

/// Whether two nodes of one position are where their paths first meet: not two children of
/// one node, nor both one move behind a position that they share already.
pub fn is_transposition(lesson: &Lesson, one: NodeId, other: NodeId) -> bool {
    let (a, b) = (lesson.node(one), lesson.node(other));
    let (Some(before_a), Some(before_b)) = (a.parent, b.parent) else {
        return false; // back at the start
    };
    let position = |id: NodeId| key(&lesson.node(id).position);
    before_a != before_b && (a.san != b.san || position(before_a) != position(before_b))
}
