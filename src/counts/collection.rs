//! What was counted for a whole lesson.

use super::said::{Counted, Of};
use crate::lesson::rules::position_name;
use crate::lesson::{Lesson, NodeId};
use shakmaty::{Color, Position};
use std::collections::BTreeMap;

/// What was counted for a lesson: of which games, and at each position, which is named by the first four
/// fields of its FEN. The moves have no numbers yet, and no nodes.
#[derive(Clone, Debug, Default)]
pub struct Collection {
    pub of: Of,
    pub at: BTreeMap<String, Counted>,
}

impl Collection {
    /// Whether it was counted for a lesson with this start.
    pub fn is_of(&self, lesson: &Lesson) -> bool {
        self.at
            .contains_key(&position_name(&lesson.node(0).position))
    }

    /// What was counted at a position of the lesson, its moves as a reader sees them.
    pub fn at(&self, lesson: &Lesson, node: NodeId) -> Option<Counted> {
        let position = &lesson.node(node).position;
        let mut counted = self.at.get(&position_name(position))?.clone();
        let number = position.fullmoves();
        let dots = match position.turn() {
            Color::White => ".",
            Color::Black => "\u{2026}",
        };
        let children = &lesson.node(node).children;
        for next in &mut counted.next {
            let has = |id: &&NodeId| *lesson.node(**id).san == *next.shown;
            next.node = children.iter().find(has).copied();
            next.shown = format!("{number}{dots}{}", next.shown);
        }
        Some(counted)
    }

    /// The branch points of the lesson with what was counted at each, in the order of the lesson.
    pub fn branches(&self, lesson: &Lesson) -> Vec<(NodeId, Counted)> {
        let mut list = Vec::new();
        for node in lesson.ids() {
            if lesson.is_branch_point(node)
                && let Some(counted) = self.at(lesson, node)
            {
                list.push((node, counted));
            }
        }
        list
    }
}
