//! Moves that the author marks as mistakes, and that nothing refutes.

use super::force::PAWN;
use super::signs::favours;
use super::spots::Spots;
use super::tell::{self, Told};
use super::words;
use crate::lesson::{Lesson, NodeId};
use crate::notation::word::nag;
use crate::search::{Deepest, MATES, balance_of, deepest};
use crate::text::Finding;
use rayon::prelude::*;
use shakmaty::{Chess, Position};

/// What became of a move that is marked as a mistake.
enum Marked {
    /// The lesson or a search shows what is wrong with it.
    Refuted,
    /// Nothing does, to this depth.
    Stands(u32),
}

/// The moves that are marked `??`, or `?` with a claim of material or mate, and that nothing refutes; with those that
/// are marked by a bare `?`, which is an opinion.
pub fn marked(
    lesson: &Lesson,
    spots: &Spots,
    budget: u64,
    is_report: bool,
) -> (Vec<Finding>, Vec<Told>) {
    let has = |id: NodeId, glyph: u8| lesson.node(id).nags.contains(&glyph);
    let all: Vec<NodeId> = lesson
        .ids()
        .filter(|&id| spots.number(id).is_some() && (has(id, 2) || has(id, 4)))
        .filter(|&id| !words::is_weighed(lesson, id))
        // An opinion is looked at only for a report.
        .filter(|&id| is_report || has(id, 4) || words::claims_force(lesson, id))
        .collect();
    let asked: Vec<Asked> = all
        .into_iter()
        .filter_map(|id| Asked::of(lesson, id))
        .collect();
    let weighed: Vec<(NodeId, Marked)> = asked
        .par_iter()
        .map(|asked| (asked.node, asked.searched(budget)))
        .collect();
    let (mut findings, mut told) = (Vec::new(), Vec::new());
    for (id, found) in weighed {
        let Marked::Stands(depth) = found else {
            continue;
        };
        let glyph = if has(id, 4) { 4 } else { 2 };
        match glyph == 4 || words::claims_force(lesson, id) {
            true => findings.push(tell::unrefuted(lesson, id, nag::sign(glyph), depth)),
            false => told.push(Told {
                span: lesson.node(id).span,
                kind: "opinion",
                text: format!(
                    "{}: no refutation found to {depth} half-moves, and a ? alone claims none",
                    lesson.numbered(id)
                ),
            }),
        }
    }
    (findings, told)
}

/// A move that nothing in the lesson refutes.
struct Asked<'a> {
    node: NodeId,
    before: &'a Chess,
    after: &'a Chess,
}

impl<'a> Asked<'a> {
    /// None for the start, and where the lesson refutes it.
    fn of(lesson: &'a Lesson, node: NodeId) -> Option<Asked<'a>> {
        let parent = lesson.node(node).parent?;
        let (before, after) = (&lesson.node(parent).position, &lesson.node(node).position);
        let asked = Asked {
            node,
            before,
            after,
        };
        (!lesson_refutes(lesson, node, balance_of(before, after.turn()))).then_some(asked)
    }

    fn searched(&self, budget: u64) -> Marked {
        let Deepest { value, depth, .. } = deepest(self.after, budget);
        let wins = value >= MATES || value - balance_of(self.before, self.after.turn()) >= PAWN;
        // It may throw away what another move wins.
        let gives_up = || deepest(self.before, budget).value + value >= PAWN;
        match wins || gives_up() {
            true => Marked::Refuted,
            false => Marked::Stands(depth),
        }
    }
}

/// Whether the lines of the lesson after a move win a pawn for the other side, mate, or end in a sign for it.
fn lesson_refutes(lesson: &Lesson, node: NodeId, before: i32) -> bool {
    let winner = lesson.node(node).position.turn();
    let mut waiting = vec![node];
    while let Some(id) = waiting.pop() {
        let it = lesson.node(id);
        let is_end = it.children.is_empty();
        // A capture counts once the answer to it has been made.
        let is_answered = it.position.turn() == winner || is_end;
        let wins = is_answered && balance_of(&it.position, winner) - before >= PAWN;
        let mates = is_end && it.position.turn() != winner && it.position.is_checkmate();
        if wins || mates || (is_end && favours(lesson, id, winner)) {
            return true;
        }
        waiting.extend(it.children.iter().copied());
    }
    false
}
