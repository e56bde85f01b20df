//! The figure beside the text: board, caption, and the moves that go on from here.

use super::board::{Board, board};
use super::lines::{MoveView, move_view};
use super::{State, wording};
use crate::lesson::{Lesson, NodeId};

/// The board with what belongs to it. All of it changes with a step, and nothing else does
/// but two marks in the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    /// The board.
    pub board: Board,
    /// What it shows, for a reader who does not see it.
    pub description: String,
    /// The last move, for the caption; none at the start.
    pub last: Option<MoveView>,
    /// Whose turn it is, or how it ended.
    pub turn: &'static str,
    /// The moves at hand where there are several; empty elsewhere.
    pub next: Vec<NextMove>,
    /// Whether a step back is possible.
    pub can_back: bool,
    /// Whether a step on is possible.
    pub can_next: bool,
    /// The last move in words, for the ear.
    pub said: String,
}

/// One of the moves at a branch point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NextMove {
    /// The node it leads to.
    pub node: NodeId,
    /// The label of its line, or the word for the main line.
    pub label: String,
    /// The move.
    pub shown: MoveView,
    /// The first words that the author says of it.
    pub words: String,
}

/// The figure of a state.
pub fn figure(lesson: &Lesson, state: &State) -> Figure {
    let node = lesson.node(state.node);
    let board = board(lesson, state);
    let next = match lesson.is_branch_point(state.node) {
        true => node
            .children
            .iter()
            .map(|&child| next_move(lesson, child))
            .collect(),
        false => Vec::new(),
    };
    Figure {
        description: wording::describe(&board),
        last: node.parent.map(|_| move_view(lesson, state.node, true)),
        turn: wording::turn(&node.position),
        next,
        can_back: node.parent.is_some(),
        can_next: !node.children.is_empty(),
        said: wording::say(lesson, state.node),
        board,
    }
}

fn next_move(lesson: &Lesson, id: NodeId) -> NextMove {
    let label = lesson.label(id);
    NextMove {
        node: id,
        label: if label.is_empty() {
            wording::MAIN
        } else {
            label
        }
        .to_owned(),
        shown: move_view(lesson, id, true),
        words: wording::first_words(lesson, id),
    }
}
