//! Moves named in prose without a number: rule 3 of `prose.rs`.

use super::{Ahead, Missed, Reading};
use crate::lesson::NodeId;
use crate::lesson::place::Place;
use crate::lesson::rules;
use crate::notation::mention::Mention;
use shakmaty::{Color, Position};

/// How far on along its line a move may be, in half-moves.
const FAR: u32 = 8;

/// Where the lesson may hold a move, seen from what was named last; the first that fits counts.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Rank {
    /// After the move that a word such as `the former` means.
    Listed,
    /// In a list: in the place of the last, or the next of the same side.
    Beside,
    Plan,
    Next,
    Instead,
    /// Further on along the line: how many half-moves.
    Along(u32),
    /// At a branch of the way to it, of which nothing was told yet.
    Branch,
    /// On the way to it, once more.
    Again,
    /// After one of the moves named last, or after one named before them.
    AfterLast,
    AfterNamed,
    /// After the first move of a branch.
    Near,
    Elsewhere,
}

/// How many moves count as named last.
const LAST: usize = 4;

impl Reading<'_> {
    /// A move without a number.
    pub(super) fn unnumbered(
        &self,
        mention: &Mention,
        last: &Place,
        ahead: &Ahead,
    ) -> Result<Place, Option<Missed>> {
        let (lesson, around, shape) = (self.lesson, &mention.around, &mention.shape);
        let fresh = self.count == 0;
        let dots = mention.side.is_some();
        if mention.written.has_zeros && !around.is_sided && !self.joined && ahead.run.is_empty() {
            return Err(None); // a score
        }
        // A run shows its sides itself.
        let side = mention.side.or(match ahead.run {
            [] => around.spoken,
            _ => None,
        });
        let returned = around.is_main || self.context.returned;
        let from = match returned {
            true => self.left_main(last.node),
            false => last.clone(),
        };
        let listed = around.listed.and_then(|it| self.context.listed(it));
        let mut fitting = Vec::new();
        let all = lesson.orders().all_by(lesson, shape, side);
        let is_all = all.is_some();
        for node in all.unwrap_or_else(|| self.around(mention, side, from.node)) {
            let of = lesson.node(node);
            let (Some(parent), Some(played)) = (of.parent, of.played) else {
                continue;
            };
            let mut rank = self.rank(node, &from);
            if listed.as_ref() == Some(&Place::of(parent)) {
                rank = Rank::Listed;
            }
            // Far away the word has to be as the lesson has it: `Be2` is not `Bxe2`.
            let same = Place::of(parent).can_be_meant(lesson, shape);
            let is_near = rank <= Rank::Instead;
            if is_near || same && played.is_capture() == shape.capture {
                fitting.push((node, parent, rank));
            }
        }
        let only = is_all && fitting.len() == 1;
        let elsewhere = !is_all || !fitting.is_empty();
        let mut best = None;
        let mut found = Vec::new();
        for (node, parent, mut rank) in fitting {
            let turn = lesson.node(node).position.turn();
            if mention.written.has_check && !lesson.node(node).position.is_check() {
                continue; // `Be2+` ions
            }
            match rank {
                Rank::Instead if around.is_beside || around.is_listed => rank = Rank::Beside,
                Rank::Along(2) if around.is_listed => rank = Rank::Plan,
                // The other side's moves are left out where they are clear: `if Nxd4 then Bb5+`.
                Rank::Along(far)
                    if !returned
                        && self.context.last.is_some()
                        && (far % 2 == 0 || dots || !self.joined || around.is_listed) =>
                {
                    rank = self.after_named(parent).unwrap_or(Rank::Near);
                }
                Rank::Branch if self.is_told(node) => rank = Rank::Elsewhere,
                _ => {}
            }
            // What may come is no other choice, and a sentence may begin with a name.
            let is_far = rank > Rank::Instead && !(dots && rank <= Rank::Branch);
            let may_come = matches!(rank, Rank::Listed | Rank::Next | Rank::Along(_));
            if around.is_ahead && !may_come || around.starts && is_far {
                continue;
            }
            let (run, list) = (
                self.run_held(node, ahead.run),
                self.list_held(node, ahead.list),
            );
            let held = run + list;
            let whole = held > 0 && held == ahead.run.len() + ahead.list.len();
            let clear =
                side.is_some() || held > 0 || mention.written.has_check || self.joined && only;
            if rank > Rank::Again && !clear || rank == Rank::Again && fresh && side.is_none() {
                continue;
            }
            if mention.written.is_bare && !dots {
                let says = around.says_move || around.is_listed || run > 0 && whole;
                let near = rank < Rank::Again
                    || whole
                    || rank == Rank::Again && side.is_some()
                    || rank == Rank::AfterLast;
                if !says || !near {
                    continue;
                }
            }
            let other = run > 0 && around.spoken == Some(turn);
            let key = (usize::MAX - held, rank, other);
            match best {
                Some(known) if known < key => continue,
                Some(known) if known == key => {}
                _ => found.clear(),
            }
            best = Some(key);
            found.push(node);
        }
        let held = best.is_some_and(|(held, rank, _)| rank < Rank::Again || held < usize::MAX);
        if !held {
            if let Some(place) = self.beside(mention, last, ahead.run, side, elsewhere) {
                return Ok(place);
            }
            // A move beside the lesson, once more.
            let mut again = last.clone();
            while (!fresh || side.is_some()) && !again.aside.is_empty() {
                let turn = again.position(lesson).turn();
                if side.is_none_or(|side| side != turn) && again.is_by(lesson, shape) {
                    return Ok(again);
                }
                again.aside.pop();
            }
        }
        match found.as_slice() {
            [] => Err(None),
            [one] => Ok(Place::of(*one)),
            _ => Err(Some(Missed::Several(found))),
        }
    }

    /// A legal move that the lesson does not hold: next, or in the place of what was named last.
    /// `elsewhere` if the lesson holds such a move elsewhere.
    fn beside(
        &self,
        mention: &Mention,
        last: &Place,
        run: &[&Mention],
        side: Option<Color>,
        elsewhere: bool,
    ) -> Option<Place> {
        let (lesson, around, shape) = (self.lesson, &mention.around, &mention.shape);
        let dots = mention.side.is_some();
        let is_beside = around.is_beside || around.is_listed;
        if mention.written.has_zeros || mention.written.is_bare && !dots && !around.is_listed {
            return None;
        }
        if run.is_empty() && (self.count == 0 || !self.joined && !dots) {
            return None;
        }
        let at = |place: &Place| {
            let turn = place.position(lesson).turn();
            if side.is_some_and(|side| side != turn) || !place.can_be_meant(lesson, shape) {
                return None;
            }
            let place = place.after(lesson, shape)?;
            let check = !mention.written.has_check || place.position(lesson).is_check();
            (check && self.run(&place, run).0 == run.len()).then_some(place)
        };
        let before = last.before(lesson);
        let before = before.filter(|_| !around.is_ahead && !last.is_full());
        let (next, instead) = (at(last), before.as_ref().and_then(at));
        if is_beside {
            return instead.or(next.filter(|_| around.is_listed));
        }
        // A check is answered.
        let is_answer = around.is_answer || last.position(lesson).is_check();
        if side.is_none() && !is_answer {
            // The side that has just moved may be meant too.
            let other = || rules::pass(last.position(lesson));
            let both = || other().is_some_and(|other| rules::resolve(&other, shape).is_ok());
            if run.is_empty() && elsewhere
                || next.is_some() && (instead.is_some() || run.is_empty() && both())
            {
                return None;
            }
        }
        next.or(instead)
    }

    /// The nodes not far from a node to which such a move of a side leads: where the lesson has too
    /// many to look at all.
    fn around(&self, mention: &Mention, side: Option<Color>, node: NodeId) -> Vec<NodeId> {
        let lesson = self.lesson;
        let mut list = Vec::new();
        let mut look = |node: NodeId| {
            let place = Place::of(node);
            let fits = side.is_none_or(|side| place.position(lesson).turn() == side);
            list.extend(place.child(lesson, &mention.shape).filter(|_| fits));
        };
        let (mut back, mut on) = (Some(node), lesson.next_on_line(node));
        for _ in 0..=FAR {
            if let Some(node) = back {
                look(node);
                back = lesson.node(node).parent;
            }
            if let Some(node) = on {
                look(node);
                on = lesson.next_on_line(node);
            }
        }
        list
    }

    /// How a node is seen from a place.
    fn rank(&self, node: NodeId, from: &Place) -> Rank {
        let lesson = self.lesson;
        let orders = lesson.orders();
        let here = from.node;
        let Some(parent) = lesson.node(node).parent else {
            return Rank::Elsewhere;
        };
        let before = match from.aside.len() {
            0 if parent == here => return Rank::Next,
            0 => lesson.node(here).parent,
            1 => Some(here),
            _ => None,
        };
        if before == Some(parent) {
            return Rank::Instead;
        }
        if from.aside.is_empty()
            && orders.leads_to(here, node)
            && lesson.node(parent).line == lesson.node(here).line
        {
            return match lesson.node(node).ply - lesson.node(here).ply {
                far @ ..=FAR => Rank::Along(far),
                _ => Rank::Elsewhere,
            };
        }
        if orders.leads_to(node, here) {
            return Rank::Again;
        }
        if orders.leads_to(parent, here) {
            return Rank::Branch;
        }
        let near = lesson.node(parent).parent;
        let near = near.is_some_and(|it| orders.leads_to(it, here));
        let far = if near { Rank::Near } else { Rank::Elsewhere };
        self.after_named(parent).unwrap_or(far)
    }

    /// How near the moves after a node are, where that was named.
    fn after_named(&self, node: NodeId) -> Option<Rank> {
        for (at, place) in self.context.played.iter().rev().enumerate() {
            if *place == Place::of(node) {
                return Some(if at < LAST {
                    Rank::AfterLast
                } else {
                    Rank::AfterNamed
                });
            }
        }
        None
    }

    /// Whether something after a node was named.
    fn is_told(&self, node: NodeId) -> bool {
        let orders = self.lesson.orders();
        let after = |place: &Place| orders.leads_to(node, place.node) && *place != Place::of(node);
        self.context.played.iter().any(after)
    }

    /// How many moves of a run the lesson holds after a node.
    fn run_held(&self, node: NodeId, run: &[&Mention]) -> usize {
        let mut at = Place::of(node);
        for (count, mention) in run.iter().enumerate() {
            match at.child(self.lesson, &mention.shape) {
                Some(next) => at = Place::of(next),
                None => return count,
            }
        }
        run.len()
    }

    /// How many moves of a list the lesson holds in the place of a node's move, or as the next of
    /// the same side.
    fn list_held(&self, node: NodeId, list: &[&Mention]) -> usize {
        let lesson = self.lesson;
        let parent = Place::of(lesson.node(node).parent.unwrap_or(node));
        let mut at = node;
        for (count, mention) in list.iter().enumerate() {
            let mut next = parent.child(lesson, &mention.shape);
            for &answer in lesson.node(at).children.iter().take(FAR as usize) {
                next = next.or_else(|| Place::of(answer).child(lesson, &mention.shape));
            }
            match next {
                Some(next) => at = next,
                None => return count,
            }
        }
        list.len()
    }

    /// Where the main line was left on the way to a node.
    fn left_main(&self, node: NodeId) -> Place {
        let lesson = self.lesson;
        let mut at = node;
        while let line = lesson.line(lesson.node(at).line)
            && line.parent.is_some()
            && let Some(parent) = lesson.node(line.first).parent
        {
            at = parent;
        }
        Place::of(at)
    }
}
