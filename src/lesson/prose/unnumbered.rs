//! Moves named in prose without a number: rule 3 of `prose.rs`.

use super::Reading;
use crate::lesson::NodeId;
use crate::lesson::place::Place;
use crate::lesson::rules;
use crate::notation::mention::{Mention, Ordinal};
use shakmaty::{Color, Position};

/// How far on along its line a move may be.
const ON: u32 = 8;

/// Where a move may be, the first that fits first.
const LISTED: u32 = 0;
const NEXT: u32 = 10;
const BESIDE: u32 = 20;
const ALONG: u32 = 30;
const BACK: u32 = 50;
const ASIDE: u32 = 55;
const WAY: u32 = 60;
const RECENT: u32 = 70;
const NEAR: u32 = 80;
const ANYWHERE: u32 = 90;

impl Reading<'_> {
    /// A move without a number.
    pub(super) fn unnumbered(
        &self,
        mention: &Mention,
        last: &Place,
        more: &[&Mention],
    ) -> Option<Place> {
        let around = &mention.around;
        let lesson = self.lesson;
        let known = self.context.last.is_some();
        let fresh = self.count == 0;
        let is_back = around.is_main || self.context.returned;
        let is_main = is_back || !known;
        let base = match is_back {
            true => self.main(last.node),
            false => last.clone(),
        };
        if mention.written.has_zeros && !around.is_sided && !self.joined && more.is_empty() {
            return None;
        }
        let listed = around.listed.and_then(|it| self.context.listed(it));
        let side = mention.side.or(around.spoken);
        let dots = mention.side.is_some();
        let is_beside = around.is_beside || around.is_listed;
        let mut best: Option<(usize, u32)> = None;
        let mut found: Vec<NodeId> = Vec::new();
        let all = lesson.orders().all_by(lesson, &mention.shape, side);
        let count = all.len();
        for node in all {
            let place = Place::of(node);
            if mention.written.has_check && !place.position(lesson).is_check() {
                continue;
            }
            let Some(parent) = lesson.node(node).parent else {
                continue;
            };
            let mut rank = match &listed {
                Some(listed) if listed.aside.is_empty() && parent == listed.node => LISTED,
                _ => self.rank(node, &base),
            };
            if is_beside && rank == BESIDE {
                rank = 1;
            }
            // What goes on from it has been spoken of: a word for it needs more.
            if rank == BACK && !around.starts && self.is_told(node) {
                rank = ANYWHERE;
            }
            if rank > ALONG && rank < BACK && !is_main {
                let far = rank - ALONG;
                if far == 2 && around.is_listed {
                    rank = 2;
                } else if far % 2 == 0 || dots || !self.joined || around.is_listed {
                    rank = match self.is_named(parent) {
                        true => RECENT,
                        false => NEAR,
                    };
                }
            }
            if rank > NEXT && around.is_ahead {
                continue;
            }
            if rank > BESIDE && around.starts && !(dots && rank <= BACK) {
                continue;
            }
            if rank > BESIDE && !Place::of(parent).can_be_meant(lesson, &mention.shape) {
                continue;
            }
            let held = self.held(node, more);
            let is_told =
                side.is_some() || !more.is_empty() && held > 0 || mention.written.has_check;
            if rank >= RECENT && !is_told || rank == WAY && fresh && (side.is_none() || count > 1) {
                continue;
            }
            if mention.written.is_bare && !dots {
                let run = !more.is_empty() && held == more.len();
                let sided = rank == WAY && side.is_some();
                if rank >= WAY && !run && !sided || !run && !around.says_move && !around.is_listed {
                    continue;
                }
            }
            let key = (usize::MAX - held, rank);
            match best {
                Some(known) if known < key => continue,
                Some(known) if known == key => {}
                _ => found.clear(),
            }
            best = Some(key);
            found.push(node);
        }
        let near = best.is_some_and(|(_, rank)| rank < ASIDE);
        if !near && let Some(place) = self.aside(mention, last, more, side) {
            return Some(place);
        }
        // A move beside the lesson, named once more.
        let mut again = last.clone();
        while !near && (!fresh || side.is_some()) && !again.aside.is_empty() {
            let turn = again.position(lesson).turn();
            if side.is_none_or(|side| side != turn) && again.is_by(lesson, &mention.shape) {
                return Some(again);
            }
            again.aside.pop();
        }
        match found.as_slice() {
            [one] => Some(Place::of(*one)),
            _ => None,
        }
    }

    /// A legal move that the lesson does not hold: next, or in the place of what was named last.
    fn aside(
        &self,
        mention: &Mention,
        last: &Place,
        more: &[&Mention],
        side: Option<Color>,
    ) -> Option<Place> {
        let lesson = self.lesson;
        let around = &mention.around;
        let dots = mention.side.is_some();
        if mention.written.has_zeros || mention.written.is_bare && !dots && !around.is_listed {
            return None;
        }
        if self.count == 0 || !(self.joined || dots) {
            return None;
        }
        let try_at = |place: &Place| {
            let fits = side.is_none_or(|side| place.position(lesson).turn() == side);
            let fits = fits && place.can_be_meant(lesson, &mention.shape);
            let place = place.after(lesson, &mention.shape).filter(|_| fits)?;
            let check = !mention.written.has_check || place.position(lesson).is_check();
            (check && self.is_run(&place, more)).then_some(place)
        };
        let next = try_at(last);
        let before = last
            .before(lesson)
            .filter(|_| !around.is_ahead && !last.is_full());
        let beside = before.as_ref().and_then(try_at);
        if around.is_beside || around.is_listed {
            return beside.or(next);
        }
        if side.is_none() && next.is_some() {
            // The side that has just moved may be meant too.
            let other = rules::pass(last.position(lesson));
            if beside.is_some()
                || other.is_some_and(|other| rules::resolve(&other, &mention.shape).is_ok())
            {
                return None;
            }
        }
        next.or(beside)
    }

    fn is_run(&self, place: &Place, more: &[&Mention]) -> bool {
        let mut at = place.clone();
        for mention in more {
            match at.after(self.lesson, &mention.shape) {
                Some(next) => at = next,
                None => return false,
            }
        }
        true
    }

    /// Whether a node was named.
    fn is_named(&self, node: NodeId) -> bool {
        self.context.played.contains(&Place::of(node))
    }

    /// Whether a move after a node was named.
    fn is_told(&self, node: NodeId) -> bool {
        let orders = self.lesson.orders();
        let goes_on = |place: &Place| {
            (place.node != node || !place.aside.is_empty()) && orders.leads_to(node, place.node)
        };
        self.context.played.iter().any(goes_on)
    }

    /// How near a node is to what was named last.
    fn rank(&self, node: NodeId, last: &Place) -> u32 {
        let lesson = self.lesson;
        let orders = lesson.orders();
        let Some(parent) = lesson.node(node).parent else {
            return ANYWHERE;
        };
        let here = last.node;
        let is_held = last.aside.is_empty();
        if is_held && parent == here {
            return NEXT;
        }
        let before = match last.aside.len() {
            0 => lesson.node(here).parent,
            1 => Some(here),
            _ => None,
        };
        if before == Some(parent) {
            return BESIDE;
        }
        let line = lesson.node(here).line;
        if is_held && orders.leads_to(here, node) && lesson.node(parent).line == line {
            let far = lesson.node(node).ply - lesson.node(here).ply;
            return match far <= ON {
                true => ALONG + far,
                false => ANYWHERE,
            };
        }
        if orders.leads_to(node, here) {
            return WAY;
        }
        if orders.leads_to(parent, here) {
            return BACK;
        }
        if self.is_named(parent) {
            return RECENT;
        }
        match lesson.node(parent).parent {
            Some(it) if orders.leads_to(it, here) => NEAR,
            _ => ANYWHERE,
        }
    }

    /// How many moves of a run the lesson holds after a node.
    fn held(&self, node: NodeId, more: &[&Mention]) -> usize {
        let mut at = Place::of(node);
        for (count, mention) in more.iter().enumerate() {
            match at.child(self.lesson, &mention.shape) {
                Some(next) => at = Place::of(next),
                None => return count,
            }
        }
        more.len()
    }

    /// Where the main line was left on the way to a node.
    fn main(&self, node: NodeId) -> Place {
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
