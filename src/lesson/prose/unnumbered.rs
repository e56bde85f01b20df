//! Moves named in prose without a number: rule 3 of `prose.rs`.

use super::{Ahead, Missed, Reading};
use crate::lesson::NodeId;
use crate::lesson::place::Place;
use crate::lesson::rules;
use crate::notation::mention::Mention;
use shakmaty::{Color, Position};

/// How far on along its line a move may be, in half-moves.
const FAR: u32 = 8;

// Where the lesson may hold a move, seen from what was named last; the first that fits counts.
// Numbers, because they cost a page less than an enum that is compared.
/// After the move that a word such as `the former` means.
const LISTED: u32 = 0;
/// In a list: in the place of the last, or the next of the same side.
const BESIDE: u32 = 1;
const PLAN: u32 = 2;
const NEXT: u32 = 3;
const INSTEAD: u32 = 4;
/// Further on along the line, by as many half-moves as are added.
const ALONG: u32 = 5;
/// At a branch of the way to it, of which nothing was told yet.
const BRANCH: u32 = ALONG + FAR + 1;
/// On the way to it, once more.
const AGAIN: u32 = BRANCH + 1;
/// After one of the moves named last, or after one named before them.
const AFTER_LAST: u32 = BRANCH + 2;
const AFTER_NAMED: u32 = BRANCH + 3;
const ELSEWHERE: u32 = BRANCH + 4;

/// More than a run and a list can hold together.
const HELD: u32 = 32;

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
        let all = lesson.orders().all_by(lesson, shape, side);
        let is_all = all.is_some();
        let mut fitting = Vec::new();
        for node in all.unwrap_or_else(|| self.around(mention, side, &from)) {
            let Some(parent) = lesson.node(node).parent else {
                continue;
            };
            let mut rank = self.rank(node, parent, &from);
            if listed.as_ref() == Some(&Place::of(parent)) {
                rank = LISTED;
            }
            // Far away the word has to be as the lesson has it: `Be2` is not `Bxe2`.
            let played = lesson.node(node).played;
            let takes = played.is_some_and(|played| played.is_capture());
            if rank <= NEXT
                || takes == shape.capture && Place::of(parent).can_be_meant(lesson, shape)
            {
                fitting.push((node, parent, rank));
            }
        }
        let only = is_all && fitting.len() == 1;
        let elsewhere = !is_all || !fitting.is_empty();
        let is_list = around.is_listed;
        let mut best = u32::MAX;
        let mut found = Vec::new();
        for (node, parent, mut rank) in fitting {
            let position = &lesson.node(node).position;
            if mention.written.has_check && !position.is_check() {
                continue; // `Be2+` ions
            }
            if rank == INSTEAD && (around.is_beside || is_list) {
                rank = BESIDE;
            } else if rank == ALONG + 2 && is_list {
                rank = PLAN;
            } else if rank == BRANCH && self.is_told(node) {
                rank = ELSEWHERE;
            } else if (ALONG..BRANCH).contains(&rank)
                && !returned
                && self.context.last.is_some()
                && ((rank - ALONG).is_multiple_of(2) || dots || !self.joined || is_list)
            {
                // The other side's moves are left out where they are clear: `if Nxd4 then Bb5+`.
                rank = self.after_named(parent).unwrap_or(ELSEWHERE);
            }
            // What may come is no other choice, and a sentence may begin with a name.
            let may_come = matches!(rank, LISTED | NEXT | ALONG..BRANCH);
            let is_far = rank > INSTEAD && !(dots && rank <= BRANCH);
            if around.is_ahead && !may_come || around.starts && is_far {
                continue;
            }
            let run = self.run(&Place::of(node), ahead.run).1;
            let held = run + self.list_held(node, parent, ahead.list);
            let whole = held > 0 && held == ahead.run.len() + ahead.list.len();
            let clear =
                side.is_some() || held > 0 || mention.written.has_check || self.joined && only;
            if rank > AGAIN && !clear || rank == AGAIN && fresh && side.is_none() {
                continue;
            }
            if mention.written.is_bare && !dots {
                let says = around.says_move || is_list || run > 0 && whole;
                let near =
                    rank < AGAIN || whole || rank == AGAIN && side.is_some() || rank == AFTER_LAST;
                if !says || !near {
                    continue;
                }
            }
            let other = run > 0 && around.spoken == Some(position.turn());
            let key = (HELD - held as u32) << 8 | rank << 1 | u32::from(other);
            if key < best {
                found.clear();
                best = key;
            }
            if key == best {
                found.push(node);
            }
        }
        if best >= HELD << 8 | AGAIN << 1 {
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

    /// The nodes on the way to a place, and on from it, to which such a move of a side leads: where
    /// the lesson has too many to look at all.
    fn around(&self, mention: &Mention, side: Option<Color>, from: &Place) -> Vec<NodeId> {
        let lesson = self.lesson;
        let mut list = Vec::new();
        let mut at = Some(from.node);
        for _ in 0..FAR {
            let Some(node) = at else { break };
            let place = Place::of(node);
            if side.is_none_or(|side| place.position(lesson).turn() == side) {
                list.extend(place.child(lesson, &mention.shape));
            }
            at = lesson.node(node).parent;
        }
        list
    }

    /// How a node is seen from a place.
    fn rank(&self, node: NodeId, parent: NodeId, from: &Place) -> u32 {
        let lesson = self.lesson;
        let orders = lesson.orders();
        let here = from.node;
        let is_held = from.aside.is_empty();
        if is_held && parent == here {
            return NEXT;
        }
        let before = match from.aside.len() {
            0 => lesson.node(here).parent,
            1 => Some(here),
            _ => None,
        };
        if before == Some(parent) {
            return INSTEAD;
        }
        let ply = |id: NodeId| lesson.node(id).ply;
        if is_held
            && orders.leads_to(here, node)
            && ply(node) <= ply(here) + FAR
            && lesson.node(parent).line == lesson.node(here).line
        {
            return ALONG + ply(node) - ply(here);
        }
        if orders.leads_to(node, here) {
            return AGAIN;
        }
        if orders.leads_to(parent, here) {
            return BRANCH;
        }
        self.after_named(parent).unwrap_or(ELSEWHERE)
    }

    /// How near the moves after a node are, where that was named.
    fn after_named(&self, node: NodeId) -> Option<u32> {
        let mut named = self.context.played.iter().rev();
        let at = named.position(|place| place.node == node && place.aside.is_empty())?;
        Some(if at < LAST { AFTER_LAST } else { AFTER_NAMED })
    }

    /// Whether something after a node was named.
    fn is_told(&self, node: NodeId) -> bool {
        let orders = self.lesson.orders();
        let after = |place: &Place| {
            orders.leads_to(node, place.node) && (place.node != node || !place.aside.is_empty())
        };
        self.context.played.iter().any(after)
    }

    /// How many moves of a list the lesson holds in the place of a node's move, or as the next of
    /// the same side.
    fn list_held(&self, node: NodeId, parent: NodeId, list: &[&Mention]) -> usize {
        let lesson = self.lesson;
        let parent = Place::of(parent);
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
