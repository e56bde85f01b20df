//! The part of a lesson that is recalled: the lines in which the reader plays only choices and the
//! other side anything that the lesson holds.

use super::schedule::{Progress, Standing};
use crate::lesson::{Lesson, NodeId};
use crate::text::Listed;
use shakmaty::{Color, Position};
use std::rc::Rc;

/// In the part.
const INSIDE: u8 = 1;
/// Where a line of the part ends.
const END: u8 = 2;
/// The end of a line that has been walked.
const MET: u8 = 4;
/// A node that has been on the board.
const SEEN: u8 = 8;
/// The first node of a position that has been asked.
const ANSWERED: u8 = 64;
/// Where a node's weight begins: two bits that say how soon its position should come.
const WEIGHT: u8 = 16;

/// The next nodes of the part.
fn on(lesson: &Lesson, node: NodeId, side: Color) -> Vec<NodeId> {
    match lesson.node(node).position.turn() == side {
        true => lesson.choices(node),
        false => lesson.moves(node).listed(),
    }
}

/// A part, and how far it has been walked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Scope {
    root: NodeId,
    side: Color,
    signs: Vec<u8>,
    /// For each node the first in the text that has its position.
    firsts: Rc<[NodeId]>,
}

impl Scope {
    /// The part after a node, for one side; missed positions come soon, those that wait come last.
    pub fn new(
        lesson: &Lesson,
        root: NodeId,
        side: Color,
        progress: &Progress,
        today: i32,
    ) -> Scope {
        let signs = vec![0; lesson.nodes.len()];
        let firsts = firsts(lesson).into();
        let mut part = Scope {
            root,
            side,
            signs,
            firsts,
        };
        let mut waiting = vec![root];
        while let Some(id) = waiting.pop() {
            let next = on(lesson, id, side);
            part.add(id, INSIDE | if next.is_empty() { END } else { 0 });
            if part.is_asked(lesson, id) {
                let weight = match progress.standing(lesson, id, today) {
                    Standing::Due { missed: true } => 3,
                    Standing::Changed => 2,
                    Standing::New | Standing::Due { .. } => 1,
                    Standing::Waiting { .. } => 0,
                };
                part.add(id, weight * WEIGHT);
            }
            waiting.extend(next);
        }
        part
    }

    /// What is noted of each node, in their order.
    pub fn signs(&self) -> &[u8] {
        &self.signs
    }

    /// The same, to be changed.
    pub fn signs_mut(&mut self) -> &mut [u8] {
        &mut self.signs
    }

    fn sign(&self, id: NodeId) -> u8 {
        self.signs.get(id as usize).copied().unwrap_or(0)
    }

    fn add(&mut self, id: NodeId, sign: u8) {
        if let Some(signs) = self.signs.get_mut(id as usize) {
            *signs |= sign;
        }
    }

    /// Whether the reader is asked at a node: to move, with a choice.
    pub fn is_asked(&self, lesson: &Lesson, id: NodeId) -> bool {
        let sign = self.sign(id);
        sign & INSIDE != 0 && sign & END == 0 && lesson.node(id).position.turn() == self.side
    }

    /// Whether two nodes have one position.
    pub fn is_same(&self, one: NodeId, other: NodeId) -> bool {
        self.first(one) == self.first(other)
    }

    fn first(&self, id: NodeId) -> NodeId {
        self.firsts.get(id as usize).copied().unwrap_or(id)
    }

    /// Notes that the reader was asked at a node, and so at all nodes of its position.
    pub fn answer(&mut self, id: NodeId) {
        self.add(self.first(id), ANSWERED);
    }

    /// Whether the reader is asked at a node whose position has not been asked before.
    pub fn is_new(&self, lesson: &Lesson, id: NodeId) -> bool {
        self.is_asked(lesson, id) && self.sign(self.first(id)) & ANSWERED == 0
    }

    /// Whether all positions have been asked; then every line counts as walked.
    pub fn is_done(&mut self, lesson: &Lesson) -> bool {
        for id in lesson.ids() {
            if self.is_new(lesson, id) {
                return false;
            }
        }
        for sign in &mut self.signs {
            if *sign & END != 0 {
                *sign |= MET;
            }
        }
        true
    }

    /// Whether a line ends at a node.
    pub fn is_end(&self, id: NodeId) -> bool {
        self.sign(id) & END != 0
    }

    /// Notes that a node is on the board. The end of a line is then met.
    pub fn see(&mut self, id: NodeId) {
        self.add(id, SEEN | if self.is_end(id) { MET } else { 0 });
    }

    /// The nodes at which the reader is asked, in the order of the text.
    pub fn asked(&self, lesson: &Lesson) -> Vec<NodeId> {
        let mut list = Vec::new();
        for id in lesson.ids() {
            if self.is_asked(lesson, id) {
                list.push(id);
            }
        }
        list
    }

    /// How many lines end in the part, and how many of them are still to be walked.
    pub fn ends(&self) -> (usize, usize) {
        let (mut ends, mut open) = (0, 0);
        for sign in &self.signs {
            ends += usize::from(sign & END != 0);
            open += usize::from(sign & (END | MET) == END);
        }
        (ends, open)
    }

    /// The end of a line after a node to which the next walk should lead: one that is still to be
    /// walked, where there is one, and of these one with the position that should come soonest;
    /// of several equal ones the seed chooses.
    pub fn target(&self, lesson: &Lesson, from: NodeId, seed: u32) -> NodeId {
        // Of those still to be walked, the heaviest; of equal ones the seed chooses.
        let mut best = (0, from);
        let mut waiting = vec![(from, 0)];
        while let Some((id, weight)) = waiting.pop() {
            let sign = self.sign(id);
            let own = if sign & SEEN == 0 {
                (sign / WEIGHT) & 3
            } else {
                0
            };
            let weight = own.max(weight);
            if sign & END != 0 {
                let open = u64::from(sign & MET == 0);
                let rank = open << 48 | u64::from(weight) << 32 | u64::from(mix(id ^ seed));
                if rank >= best.0 {
                    best = (rank, id);
                }
            }
            for next in on(lesson, id, self.side) {
                waiting.push((next, weight));
            }
        }
        best.1
    }

    /// The nodes from the root to one after it.
    pub fn way(&self, lesson: &Lesson, target: NodeId) -> Vec<NodeId> {
        let mut way = lesson.path(target);
        let root = way.iter().position(|&id| id == self.root);
        way.split_off(root.unwrap_or(0)) // the root is on the path
    }
}

/// Numbers of nodes in an order that no one expects: a step of multiplicative hashing (Knuth, The
/// Art of Computer Programming 3, section 6.4).
fn mix(number: u32) -> u32 {
    number
        .wrapping_mul(0x9e37_79b1)
        .rotate_left(15)
        .wrapping_mul(0x85eb_ca77)
}

/// The state of a part before it is recalled. Each position counts once.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// All positions at which the reader is asked.
    pub positions: u32,
    /// Never asked.
    pub new: u32,
    /// To be asked again today, those of `changed` too.
    pub due: u32,
    /// The author has removed a choice that was learned there.
    pub changed: u32,
    /// Those that wait.
    pub waiting: u32,
    /// The first day on which one of those that wait is due.
    pub next: Option<i32>,
}

/// The state of the part after a node, for a side on a day.
pub fn tally(lesson: &Lesson, root: NodeId, side: Color, progress: &Progress, today: i32) -> Tally {
    let part = Scope::new(lesson, root, side, progress, today);
    let mut tally = Tally::default();
    let firsts = firsts(lesson);
    let mut counted = vec![false; firsts.len()];
    for id in part.asked(lesson) {
        let first = firsts[id as usize] as usize; // a node of this lesson, as its first is
        if counted[first] {
            continue;
        }
        counted[first] = true;
        tally.positions += 1;
        match progress.standing(lesson, id, today) {
            Standing::New => tally.new += 1,
            Standing::Due { .. } => tally.due += 1,
            Standing::Changed => {
                tally.due += 1;
                tally.changed += 1;
            }
            Standing::Waiting { until } => {
                tally.waiting += 1;
                tally.next = Some(tally.next.map_or(until, |next| next.min(until)));
            }
        }
    }
    tally
}

/// For each node the first in the text that has its position.
pub(crate) fn firsts(lesson: &Lesson) -> Vec<NodeId> {
    let mut firsts: Vec<NodeId> = lesson.ids().listed();
    for &(first, other) in &lesson.same {
        firsts[other as usize] = first; // a node of this lesson
    }
    firsts
}
