//! The positions of a lesson, to be found again in games.

use crate::lesson::rules::{after, key, meant, position_name};
use crate::lesson::{Lesson, NodeId, PositionKey};
use shakmaty::san::San;
use shakmaty::{Chess, Position};
use std::collections::{HashMap, HashSet};

/// The position after a move in SAN; none if it cannot be played.
pub fn step(position: &Chess, san: &str) -> Option<Chess> {
    let san: San = san.trim_end_matches(['+', '#']).parse().ok()?;
    Some(after(position, meant(position, &san)?))
}

/// For each node of a lesson whether it comes by or after a pass.
pub fn passed(lesson: &Lesson) -> Vec<bool> {
    let mut passed = vec![false; lesson.nodes.len()];
    for node in lesson.ids() {
        let it = lesson.node(node);
        let after = it.parent.is_some_and(|before| passed[before as usize]); // one a node
        passed[node as usize] = after || (node != 0 && it.played.is_none());
    }
    passed
}

/// The positions of a lesson by what they are, not by how they are reached: two nodes of one position are
/// one entry, at the first.
#[derive(Debug)]
pub struct Positions {
    all: Vec<(NodeId, Chess)>,
    at: HashMap<PositionKey, usize>,
    /// The squares that are taken in each, which is quickly compared and seldom the same.
    taken: HashSet<u64>,
    /// The fewest men of one: men never come back.
    fewest: usize,
}

impl Positions {
    /// These positions, each numbered as a node of its own.
    pub fn from<'a>(all: impl IntoIterator<Item = &'a Chess>) -> Positions {
        let mut positions = Positions::none();
        for (node, position) in all.into_iter().enumerate() {
            positions.add(node as NodeId, position);
        }
        positions
    }

    fn none() -> Positions {
        Positions {
            all: Vec::new(),
            at: HashMap::new(),
            taken: HashSet::new(),
            fewest: usize::MAX,
        }
    }

    /// Those of a lesson, in the order of its nodes. A position that follows a pass is none of a game.
    pub fn of(lesson: &Lesson) -> Positions {
        let mut positions = Positions::none();
        for (node, is_passed) in lesson.ids().zip(passed(lesson)) {
            if !is_passed {
                positions.add(node, &lesson.node(node).position);
            }
        }
        positions
    }

    fn add(&mut self, node: NodeId, position: &Chess) {
        let key = key(position);
        if self.at.contains_key(&key) {
            return;
        }
        let taken = position.board().occupied();
        self.at.insert(key, self.all.len());
        self.taken.insert(taken.0);
        self.fewest = self.fewest.min(taken.count());
        self.all.push((node, position.clone()));
    }

    /// How many there are.
    pub fn count(&self) -> usize {
        self.all.len()
    }

    /// Each with the first node that has it.
    pub fn iter(&self) -> impl Iterator<Item = (NodeId, &Chess)> {
        self.all.iter().map(|(node, position)| (*node, position))
    }

    /// The number of a position, from 0; none if the lesson does not have it.
    pub fn find(&self, position: &Chess) -> Option<usize> {
        let taken = position.board().occupied().0;
        let is_near = self.taken.contains(&taken);
        is_near.then(|| self.at.get(&key(position)).copied())?
    }

    /// Whether a game at this position can still come to one of them.
    pub fn may_come(&self, position: &Chess) -> bool {
        position.board().occupied().count() >= self.fewest
    }

    /// The first four fields of the FEN of each.
    pub fn names(&self) -> Vec<String> {
        self.all
            .iter()
            .map(|(_, position)| position_name(position))
            .collect()
    }
}
