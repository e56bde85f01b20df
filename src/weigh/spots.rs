//! The positions of a lesson, each once however it is reached, and the moves that the lesson has there.

use crate::games::{Positions, passed};
use crate::lesson::{Lesson, NodeId};
use shakmaty::{Chess, Move};

/// A position, and what the lesson has there.
#[derive(Clone, Copy, Debug)]
pub struct Spot<'a> {
    pub position: &'a Chess,
    /// Each move once, in the order of the text.
    pub moves: &'a [Move],
}

/// The positions of a lesson that are weighed: all but those after a pass.
#[derive(Debug)]
pub struct Spots {
    positions: Positions,
    /// The moves at each.
    moves: Vec<Vec<Move>>,
    /// For each node its position among them; none for one that comes after a pass.
    of: Vec<Option<usize>>,
}

impl Spots {
    /// Those of a lesson.
    pub fn of(lesson: &Lesson) -> Spots {
        let positions = Positions::of(lesson);
        let passed = passed(lesson).into_iter();
        let of: Vec<Option<usize>> = passed
            .zip(&lesson.nodes)
            .map(|(is_passed, node)| positions.find(&node.position).filter(|_| !is_passed))
            .collect();
        let mut moves = vec![Vec::new(); positions.count()];
        let mut spots = Spots {
            positions,
            moves: Vec::new(),
            of,
        };
        for id in lesson.ids() {
            let node = lesson.node(id);
            let before = node.parent.and_then(|it| spots.number(it));
            if let Some((before, played)) = before.zip(node.played)
                && let Some(there) = moves.get_mut(before)
                && !there.contains(&played)
            {
                there.push(played);
            }
        }
        spots.moves = moves;
        spots
    }

    /// The number of a node's position; none for one that is not weighed.
    pub fn number(&self, node: NodeId) -> Option<usize> {
        self.of.get(node as usize).copied().flatten()
    }

    /// Each position with its moves, in the order of their numbers.
    pub fn iter(&self) -> impl Iterator<Item = Spot<'_>> {
        let all = self.positions.iter().zip(&self.moves);
        all.map(|((_, position), moves)| Spot { position, moves })
    }

    /// The moves that the lesson has at a position.
    pub fn moves_at(&self, position: &Chess) -> &[Move] {
        let there = self
            .positions
            .find(position)
            .and_then(|at| self.moves.get(at));
        there.map_or(&[], Vec::as_slice)
    }
}
