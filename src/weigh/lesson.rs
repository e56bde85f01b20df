//! All that is weighed of one lesson, and what there is to say of it.

use super::force::{DEEP, HALF, PAWN, PIECE, Shown, TWO_PAWNS, What, comes_to, lost, to_be_had};
use super::spots::{Spot, Spots};
use super::tell::{self, Told};
use super::{claims, marked, signs, words};
use crate::lesson::rules::after;
use crate::lesson::{Lesson, NodeId};
use crate::search::MATES;
use crate::text::{Code, Finding, Findings, Related};
use rayon::prelude::*;
use shakmaty::{Chess, Color, Move, Position};
use std::collections::{HashMap, HashSet};

/// What was found.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Weighed {
    /// In the order of their places.
    pub findings: Findings,
    /// What was confirmed, and what was not found; only where that is asked for.
    pub told: Vec<Told>,
}

/// A move with its position's number.
type Played = (usize, Move);

/// What a search found at one position.
struct Found {
    /// For each move of the lesson that loses something: what, and whether the lesson shows the reply.
    lost: Vec<(Move, Shown, bool)>,
    /// What is to be had, where no move of the lesson has it.
    chance: Option<Shown>,
}

/// Weighs a lesson; `budget` is how many positions are looked at for a move that is suspected. `is_report` says
/// whether what is confirmed is wanted too.
pub fn weigh(lesson: &Lesson, budget: u64, is_report: bool) -> Weighed {
    let spots = Spots::of(lesson);
    let known = known(lesson, &spots);
    let least = if is_report { PAWN } else { TWO_PAWNS };
    let all: Vec<Spot<'_>> = spots.iter().collect();
    let found: Vec<Found> = all
        .par_iter()
        .enumerate()
        .map(|(at, spot)| {
            let is_known = |played: Move| known.contains(&(at, played));
            found(&spots, spot, least, budget, is_report, &is_known)
        })
        .collect();
    let mut fold = Fold {
        lesson,
        spots: &spots,
        all: &all,
        known,
        is_gambit: words::is_gambit(lesson),
        offered: lesson
            .ids()
            .filter(|&id| words::gives(lesson, id))
            .filter_map(|id| spots.number(id))
            .collect(),
        findings: Vec::new(),
        told: Vec::new(),
    };
    fold.all(&found);
    let (mut list, mut told) = (fold.findings, fold.told);
    for (more, other) in [
        marked::marked(lesson, &spots, budget, is_report),
        signs::signs(lesson, &spots, budget),
        claims::claims(lesson, &spots, budget, is_report),
    ] {
        list.extend(more);
        told.extend(other);
    }
    let mut findings = Findings::default();
    for finding in list {
        findings.push(finding);
    }
    findings.sort();
    told.sort_by_key(|it| it.span.from);
    if !is_report {
        told.clear();
    }
    Weighed { findings, told }
}

/// The moves of which the author says somewhere that they are weak, that something is given, or that they were weighed.
fn known(lesson: &Lesson, spots: &Spots) -> HashSet<Played> {
    let mut known = HashSet::new();
    for id in lesson.ids() {
        let is_known =
            lesson.is_weak(id) || words::gives(lesson, id) || words::is_weighed(lesson, id);
        if let Some(played) = played(lesson, spots, id).filter(|_| is_known) {
            known.insert(played);
        }
    }
    known
}

/// The move that leads to a node, with the position before it; none for the start and what is not weighed.
fn played(lesson: &Lesson, spots: &Spots, id: NodeId) -> Option<Played> {
    let node = lesson.node(id);
    Some((spots.number(node.parent?)?, node.played?))
}

fn found(
    spots: &Spots,
    spot: &Spot<'_>,
    least: i32,
    budget: u64,
    is_report: bool,
    is_known: &dyn Fn(Move) -> bool,
) -> Found {
    let position = spot.position;
    let mut all = Vec::new();
    for &played in spot.moves {
        // What the author knows is searched only to confirm it.
        if is_known(played) && !is_report {
            continue;
        }
        if let Some(shown) = lost(position, played, least, budget) {
            let is_answered = is_answered(spots, spot, played, &shown, budget);
            all.push((played, shown, is_answered));
        }
    }
    let is_asked = spot.moves.iter().any(|&played| !is_known(played));
    let chance = is_asked
        .then(|| to_be_had(position, PIECE, budget))
        .flatten();
    let chance = chance.filter(|chance| {
        let wanted = match chance.what {
            What::Mate(_) => MATES,
            What::Material(gain) => chance.value - gain + PIECE,
        };
        let depth = deep(chance);
        let has = |played: Move| comes_to(position, played, wanted, depth, budget);
        !spot.moves.iter().any(|&played| has(played))
    });
    Found { lost: all, chance }
}

/// How deep a move is searched that may have what was found: a mate also where it takes a move more.
fn deep(shown: &Shown) -> u32 {
    match shown.what {
        What::Mate(_) => shown.depth.max(DEEP),
        What::Material(_) => shown.depth,
    }
}

/// Whether the lesson has a reply that wins what a move loses.
fn is_answered(spots: &Spots, spot: &Spot<'_>, played: Move, shown: &Shown, budget: u64) -> bool {
    let next = after(spot.position, played);
    let wanted = match shown.what {
        What::Mate(_) => MATES,
        What::Material(_) => -shown.value - HALF,
    };
    let depth = deep(shown).saturating_sub(1);
    let mut replies = spots.moves_at(&next).iter();
    replies.any(|&reply| comes_to(&next, reply, wanted, depth, budget))
}

/// What was found, on its way to one finding for one mistake.
struct Fold<'a> {
    lesson: &'a Lesson,
    spots: &'a Spots,
    all: &'a [Spot<'a>],
    known: HashSet<Played>,
    is_gambit: bool,
    /// The positions to which a move leads of which its author says that something is given, by any order.
    offered: HashSet<usize>,
    findings: Vec<Finding>,
    told: Vec<Told>,
}

/// A finding that the moves after it belong to while the same side goes on to have what it gave.
#[derive(Clone, Copy)]
struct Open {
    finding: usize,
    winner: Color,
    /// What it has by force, less what the other side has, in hundredths of a pawn, or mate.
    value: i32,
}

impl Fold<'_> {
    fn all(&mut self, found: &[Found]) {
        let mut open: Vec<Option<Open>> = Vec::new();
        let mut told: HashMap<Played, Option<Open>> = HashMap::new();
        let mut passed: HashMap<usize, Open> = HashMap::new();
        for id in self.lesson.ids() {
            let before = self.lesson.node(id).parent;
            let before = before.and_then(|it| open.get(it as usize).copied().flatten());
            let Some(played) = played(self.lesson, self.spots, id) else {
                open.push(None);
                continue;
            };
            // The same move of the same position is told once.
            if let Some(known) = told.get(&played) {
                open.push(*known);
                continue;
            }
            let now = self.one(id, played, found, before, &mut passed);
            told.insert(played, now);
            open.push(now);
        }
    }

    /// Says what there is to say of one move; what stays open after it.
    fn one(
        &mut self,
        id: NodeId,
        played: Played,
        found: &[Found],
        before: Option<Open>,
        passed: &mut HashMap<usize, Open>,
    ) -> Option<Open> {
        let (found, spot) = (found.get(played.0)?, self.all.get(played.0)?);
        let start = spot.position;
        let turn = start.turn();
        let is_known = self.known.contains(&played);
        let lost = found.lost.iter().find(|(other, ..)| *other == played.1);
        if let Some((_, shown, is_answered)) = lost {
            let code = match shown.what {
                What::Material(lost) if lost < TWO_PAWNS => None,
                What::Material(lost) if lost < PIECE => Some(Code::LosesSome),
                _ => Some(Code::LosesByForce),
            };
            let is_gambit = self.is_gambit && matches!(shown.what, What::Material(_));
            match code.filter(|_| !(is_known || *is_answered || is_gambit)) {
                Some(code) => {
                    let finding = tell::loss(code, self.lesson, id, start, shown);
                    return Some(self.push(finding, (turn.other(), -shown.value), before));
                }
                None => self.report(id, start, shown, code.is_none()),
            }
        }
        let chance = found.chance.as_ref().filter(|it| {
            let is_offered = self.is_offered(id) && matches!(it.what, What::Material(_));
            !is_known && !is_offered
        })?;
        let finding = tell::chance(self.lesson, id, start, chance);
        let before = before.or(passed.get(&played.0).copied());
        let now = self.push(finding, (turn, chance.value), before);
        passed.insert(played.0, now);
        Some(now)
    }

    /// Whether the author says that what is to be had before a move is offered.
    fn is_offered(&self, id: NodeId) -> bool {
        let before = self
            .lesson
            .node(id)
            .parent
            .and_then(|it| self.spots.number(it));
        self.is_gambit || before.is_some_and(|it| self.offered.contains(&it))
    }

    /// Adds a finding, or adds its place to the one that it belongs to: that by which the same side had as much.
    fn push(
        &mut self,
        finding: Finding,
        (winner, value): (Color, i32),
        before: Option<Open>,
    ) -> Open {
        let same = before.filter(|it| it.winner == winner && value <= it.value + HALF);
        if let Some(open) = same
            && let Some(first) = self.findings.get_mut(open.finding)
        {
            first.related.push(Related {
                span: finding.span,
                message: "and here it is still so".to_owned(),
                elsewhere: None,
            });
            return open;
        }
        self.findings.push(finding);
        Open {
            finding: self.findings.len() - 1,
            winner,
            value,
        }
    }

    /// What a move loses that the author knows of, or that is not much.
    fn report(&mut self, id: NodeId, start: &Chess, shown: &Shown, is_little: bool) {
        self.told.push(Told {
            span: self.lesson.node(id).span,
            kind: match (is_little, self.is_gambit || words::gives(self.lesson, id)) {
                (true, _) => "offers a pawn",
                (false, true) => "given",
                (false, false) => "trap",
            },
            text: tell::loses(self.lesson, id, start, shown),
        });
    }
}
