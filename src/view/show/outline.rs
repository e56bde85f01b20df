//! The outline as rows.

use super::moves::{MoveView, move_view};
use crate::lesson::{self, Lesson, LineId, NodeId};
use crate::view::words::Words;
use crate::view::{State, wording};

/// One row of the outline.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutlineRow {
    /// The line.
    pub line: LineId,
    /// Its label.
    pub label: String,
    /// How deep: 1 for a variation of the main line.
    pub depth: u32,
    /// Its first move.
    pub first: MoveView,
    /// The first words that the author says in it.
    pub words: String,
    /// Whether the reader is in it.
    pub is_current: bool,
}

pub(crate) fn rows(words: &Words, lesson: &Lesson, state: &State) -> Vec<OutlineRow> {
    let current = current_row(lesson, state.node);
    let mut rows = Vec::new();
    for entry in lesson::outline(lesson) {
        // What an open question hides is not shown here.
        if state.within(lesson, entry.node) == entry.node {
            rows.push(OutlineRow {
                line: entry.line,
                label: lesson.line(entry.line).label.clone(),
                depth: entry.depth,
                first: move_view(words, lesson, entry.node, true),
                words: wording::first_words_of_line(lesson, entry.line),
                is_current: current == Some(entry.line),
            });
        }
    }
    rows
}

/// The row of the outline that a node belongs to; none on the main line.
pub fn current_row(lesson: &Lesson, at: NodeId) -> Option<LineId> {
    Some(lesson.node(at).line).filter(|&line| line != 0)
}
