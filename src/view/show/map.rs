//! The map: a drawing of the whole tree. Lines run left to right, branches leave downwards.

use crate::lesson::{Lesson, LineId, NodeId, is_transposition};
use crate::text::Listed;
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
    /// The label of each variation, and its last mark.
    pub labels: Vec<(String, (u32, u32))>,
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

/// The map of a lesson. Rows are filled from the top: a branch takes the first row below its
/// line that is free from where it leaves.
pub fn map(lesson: &Lesson, state: &State) -> Map {
    let hidden = state.hidden(lesson);
    let is_seen = |id: NodeId| !hidden.get(id as usize).copied().unwrap_or(false);
    let mut marks: Vec<(u32, u32)> = Vec::with_capacity(lesson.nodes.len());
    let mut rows: Vec<Option<u32>> = vec![None; lesson.lines.len()];
    // After the last mark of a row there is room for its label, and for how well it is held.
    let room = if state.recalling().is_some() { 3 } else { 1 };
    // For each row the first column that is taken from there on, going left.
    let mut taken: Vec<u32> = Vec::new();
    for line in layout_order(lesson) {
        let first = lesson.line(line).first;
        let column = lesson.node(first).ply;
        let above = lesson
            .line(line)
            .parent
            .and_then(|parent| rows[parent as usize]);
        let row = match above {
            None => 0,
            Some(above) => {
                let last = lesson
                    .line_nodes(line)
                    .last()
                    .map_or(column, |id| lesson.node(id).ply);
                let free = (above as usize + 1..taken.len()).find(|&row| taken[row] > last + room);
                free.unwrap_or(taken.len().max(above as usize + 1)) as u32
            }
        };
        while taken.len() <= row as usize {
            taken.push(u32::MAX);
        }
        taken[row as usize] = column.saturating_sub(1);
        rows[line as usize] = Some(row);
    }
    for id in lesson.ids() {
        let node = lesson.node(id);
        marks.push((node.ply, rows[node.line as usize].unwrap_or(0)));
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
    let mut labels = Vec::new();
    for (line, id) in lesson.lines.iter().zip(0..) {
        if id > 0 && is_seen(line.first) {
            let mut last = line.first;
            for node in lesson.line_nodes(id) {
                if !is_seen(node) {
                    break;
                }
                last = node;
            }
            let mark = marks.get(last as usize).copied();
            labels.push((line.label.clone(), mark.unwrap_or_default()));
        }
    }
    Map {
        labels,
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

/// Each line before those that leave it; of these the last branch first, so that later branches are
/// higher and no line crosses another.
fn layout_order(lesson: &Lesson) -> Vec<LineId> {
    let mut children: Vec<Vec<LineId>> = Vec::new();
    children.resize_with(lesson.lines.len(), Vec::new);
    for (id, line) in lesson.lines.iter().enumerate() {
        if let Some(parent) = line.parent {
            children[parent as usize].push(id as LineId); // the number of a line
        }
    }
    let mut order = vec![0];
    let mut at = 0;
    while at < order.len() {
        let next = children[order[at] as usize].iter();
        let column = |line: LineId| lesson.node(lesson.line(line).first).ply;
        let key = |&line: &LineId| u64::from(column(line)) << 32 | u64::from(line);
        let mut next = next.map(key).listed();
        next.sort_unstable();
        order.extend(next.iter().rev().map(|key| *key as LineId));
        at += 1;
    }
    order
}
