//! The map: a drawing of the whole tree. Lines run left to right, branches leave downwards.

use crate::lesson::{Lesson, NodeId, is_transposition};
use crate::view::State;

/// A map of a lesson.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Map {
    /// One mark for each node, in their order: half-move (column) and row.
    pub marks: Vec<(u32, u32)>,
    /// How many columns and rows there are.
    pub size: (u32, u32),
    /// The nodes that an open question hides, which have no mark.
    pub hidden: Vec<bool>,
    /// For each node what joins it to the node before: from (column, row) to (column, row).
    pub joins: Vec<((u32, u32), (u32, u32))>,
    /// Nodes that are one position, by two paths.
    pub transpositions: Vec<(NodeId, NodeId)>,
    /// The column of the first branch point: the moves before it take little room.
    pub first: u32,
    /// The label of each variation, and its first mark.
    pub labels: Vec<(String, (u32, u32))>,
    /// What is said of a line at its end, and its last mark.
    pub counts: Vec<(String, (u32, u32))>,
}

/// The part of the map that a reader has seen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// The nodes from the start to the one on the board.
    pub path: Vec<NodeId>,
    /// Which nodes have been on the board.
    pub read: Vec<bool>,
    /// The nodes whose positions were missed in a recall.
    pub missed: Vec<NodeId>,
}

/// The map of a lesson. Each line has a row of its own, in the order of the text, which is that of
/// their letters.
pub fn map(lesson: &Lesson, state: &State) -> Map {
    let hidden = state.hidden(lesson);
    let is_seen = |id: NodeId| !hidden.get(id as usize).copied().unwrap_or(false);
    let mut rows = Vec::new();
    let mut labels = Vec::new();
    let mut row = 0;
    let mut first = u32::MAX;
    for (line, id) in lesson.lines.iter().zip(0..) {
        let is_shown = is_seen(line.first);
        row += u32::from(is_shown && id > 0);
        rows.push(row);
        if is_shown && id > 0 {
            let ply = lesson.node(line.first).ply;
            first = first.min(ply.saturating_sub(1));
            labels.push((line.label.clone(), (ply, row)));
        }
    }
    let mut marks: Vec<(u32, u32)> = Vec::with_capacity(lesson.nodes.len());
    for id in lesson.ids() {
        let node = lesson.node(id);
        let row = rows.get(node.line as usize).copied();
        marks.push((node.ply, row.unwrap_or(0)));
    }
    let mut joins = Vec::new();
    let mut size = (1, 1);
    for id in lesson.ids().filter(|&id| is_seen(id)) {
        let (x, y) = marks[id as usize];
        size = (size.0.max(x + 1), size.1.max(y + 1));
        if let Some(parent) = lesson.node(id).parent {
            joins.push((marks[parent as usize], (x, y)));
        }
    }
    let mut transpositions = Vec::new();
    for &(one, other) in &lesson.same {
        if is_seen(one) && is_seen(other) && is_transposition(lesson, one, other) {
            transpositions.push((one, other));
        }
    }
    Map {
        first: if labels.is_empty() { 0 } else { first },
        labels,
        counts: Vec::new(),
        transpositions,
        marks,
        size,
        joins,
        hidden,
    }
}

/// The part of the map that a reader has seen.
pub fn way(lesson: &Lesson, state: &State) -> Way {
    Way {
        path: lesson.path(state.node),
        read: state.read.clone(),
        missed: Vec::new(),
    }
}
