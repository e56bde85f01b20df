//! The positions of a lesson, each once however it is reached, and the moves that the lesson has there.

use crate::lesson::{Lesson, NodeId, position_key};
use shakmaty::{Chess, Move};
use std::collections::HashMap;

/// A position, and what the lesson has there.
#[derive(Debug)]
pub struct Spot {
    pub position: Chess,
    /// Each move once, with the first node that it leads to, in the order of the text.
    pub moves: Vec<(Move, NodeId)>,
}

/// The positions of a lesson that are weighed: all but those after a pass.
#[derive(Debug)]
pub struct Spots {
    pub list: Vec<Spot>,
    /// For each node its position among them; none for one that comes after a pass.
    of: Vec<Option<usize>>,
}

impl Spots {
    /// Those of a lesson.
    pub fn of(lesson: &Lesson) -> Spots {
        let mut list: Vec<Spot> = Vec::new();
        let mut known: HashMap<[u64; 10], usize> = HashMap::new();
        let mut of: Vec<Option<usize>> = Vec::new();
        for id in lesson.ids() {
            let node = lesson.node(id);
            let before = node.parent.map(|it| of.get(it as usize).copied().flatten());
            let is_weighed = match before {
                None => true,
                Some(before) => before.is_some() && node.played.is_some(),
            };
            if !is_weighed {
                of.push(None);
                continue;
            }
            let at = *known
                .entry(position_key(&node.position))
                .or_insert_with(|| {
                    list.push(Spot {
                        position: node.position.clone(),
                        moves: Vec::new(),
                    });
                    list.len() - 1
                });
            of.push(Some(at));
            if let Some((before, played)) = before.flatten().zip(node.played)
                && let Some(spot) = list.get_mut(before)
                && spot.moves.iter().all(|(other, _)| *other != played)
            {
                spot.moves.push((played, id));
            }
        }
        Spots { list, of }
    }

    /// The number of a node's position; none for one that is not weighed.
    pub fn number(&self, node: NodeId) -> Option<usize> {
        self.of.get(node as usize).copied().flatten()
    }

    /// The moves that the lesson has at a position.
    pub fn moves_at(&self, position: &Chess) -> Vec<Move> {
        let wanted = position_key(position);
        let spot = self
            .list
            .iter()
            .find(|it| position_key(&it.position) == wanted);
        spot.map_or(Vec::new(), |it| {
            it.moves.iter().map(|(played, _)| *played).collect()
        })
    }
}
