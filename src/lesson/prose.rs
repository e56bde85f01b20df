//! Which position of a lesson a move named in prose means. What was named last gives the
//! context: the move goes on from there, stands in its place, or says by its number where it
//! belongs.
//!
//! The rule, in the order in which it is tried:
//! 1. In a run (`4.cxd5 exd5`) a move goes on from the one before it.
//! 2. With a number it is played at that number: by the lesson's moves on the path of what was
//!    named last and what goes on from it; else anywhere in the lesson, the main line first; else,
//!    where it is legal on that path, it is an aside. A number without a dot names a move of the
//!    lesson only.
//! 3. Without a number it must be a piece's move, a capture or castling, or have dots; it goes on
//!    from what was named last in the lesson, else stands in its place in the lesson, else is
//!    legal next, else legal in its place. Where nothing was named in this paragraph yet only
//!    the lesson's moves count.
//!    A move on the way to what was named last is that move once more. `a` or `an` right before
//!    it makes it a name, and a sign of check that gives none too.
//! 4. A bare square is a pawn's move only with a number or in a run, and with a number without a
//!    dot only where the author leaves the dots out elsewhere in the paragraph. Behind a word for
//!    something numbered (`figure 5.b3`, `seat 5 f4`) it is none, nor as an item of a list
//!    (`1. a4 paper, 2. b5 envelopes`).

use super::attempt::Tried;
use super::rules;
use super::tree::{Lesson, NodeId};
use crate::notation::Letters;
use crate::notation::mention::{Mention, mentions};
use crate::notation::san::Shape;
use core::ops::Range;
use shakmaty::{Chess, Color, Position};

/// A position that a sentence names: a node, and the moves tried behind it that the lesson does
/// not hold.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Place {
    /// The last node of the lesson on the way.
    pub node: NodeId,
    /// The moves behind it.
    pub aside: Vec<Tried>,
}

/// A move named in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// Where it stands; a byte range of the text.
    pub range: Range<usize>,
    /// What it names; none where it can be played nowhere.
    pub place: Result<Place, Misplaced>,
}

/// A move that is named by its number and cannot be played there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misplaced {
    /// Where it was tried: the position before it.
    pub before: Place,
    /// Its word, without number and dots; a byte range of the text.
    pub word: Range<usize>,
}

/// What was named last, carried from paragraph to paragraph.
#[derive(Clone, Debug, Default)]
pub struct Context {
    last: Option<Place>,
    /// Every place named so far, once, in the order of their last naming.
    played: Vec<Place>,
}

impl Context {
    fn note(&mut self, place: &Place) {
        self.last = Some(place.clone());
        self.played.retain(|known| known != place);
        self.played.push(place.clone());
    }
}

/// The moves that a paragraph names.
pub fn named(lesson: &Lesson, letters: &Letters, context: &mut Context, text: &str) -> Vec<Named> {
    let mut reading = Reading {
        lesson,
        context,
        fresh: true,
    };
    let mut list = Vec::new();
    // Whether the mention before was linked, for a run goes on only from a move.
    let mut run = false;
    let all = mentions(text, letters);
    for (at, mention) in all.iter().enumerate() {
        let follows = run && mention.follows;
        let more = &all[at + 1..];
        let more = &more[..more.iter().take_while(|next| next.follows).count()];
        let place = reading.place(mention, follows, more);
        run = matches!(place, Some(Ok(_)));
        let Some(place) = place else {
            continue;
        };
        if let Ok(place) = &place {
            reading.context.note(place);
            reading.fresh = false;
        }
        list.push(Named {
            range: mention.range.clone(),
            place,
        });
    }
    list
}

/// The position of a place.
pub(super) fn position<'a>(lesson: &'a Lesson, place: &'a Place) -> &'a Chess {
    match place.aside.last() {
        Some(tried) => &tried.position,
        None => &lesson.node(place.node).position,
    }
}

struct Reading<'a> {
    lesson: &'a Lesson,
    context: &'a mut Context,
    /// Whether nothing was named in this paragraph yet.
    fresh: bool,
}

impl Reading<'_> {
    fn place(
        &self,
        mention: &Mention,
        follows: bool,
        more: &[Mention],
    ) -> Option<Result<Place, Misplaced>> {
        let last = self.context.last.clone().unwrap_or_default();
        let shape = &mention.shape;
        if let Some(number) = mention.number {
            return self.numbered(mention, number, &last, follows, more);
        }
        if follows {
            let side = self.position(&last).turn();
            if mention.side.is_none_or(|written| written == side)
                && let Some(place) = self.after(&last, shape)
            {
                return Some(Ok(place));
            }
        }
        if mention.bare && mention.side.is_none() {
            return None;
        }
        // `Be2+` ions: without a number a check has to be one.
        let place = self.unnumbered(mention, &last)?;
        (!mention.checks || self.position(&place).is_check()).then_some(Ok(place))
    }

    /// A move with its number.
    fn numbered(
        &self,
        mention: &Mention,
        number: u32,
        last: &Place,
        follows: bool,
        more: &[Mention],
    ) -> Option<Result<Place, Misplaced>> {
        let shape = &mention.shape;
        let sides = match mention.side {
            Some(side) => vec![side],
            None => vec![Color::White, Color::Black],
        };
        let at = |place: &Place| {
            let position = self.position(place);
            position.fullmoves().get() == number && sides.contains(&position.turn())
        };
        if follows
            && at(last)
            && let Some(place) = self.after(last, shape)
        {
            return Some(Ok(place));
        }
        let path = self.path(last);
        // Nodes of the lesson on the path and in what goes on from it, then all of them. Of
        // several that one in which more of the run can be played, and more of it in the lesson.
        let near = path.iter().filter(|place| at(place));
        let on_path = near.clone().filter_map(|place| self.child(place, shape));
        let listed = self.listed(number, &sides, last);
        let elsewhere = self.anywhere(number, &sides, shape, last.node);
        let candidates = on_path.map(node_place);
        let candidates = candidates.chain(listed.and_then(|place| self.after(&place, shape)));
        let mut best: Option<((usize, usize), Place)> = None;
        for place in candidates.chain(elsewhere.into_iter().map(node_place)) {
            let score = self.run(&place, more);
            if best.as_ref().is_none_or(|(known, _)| score > *known) {
                best = Some((score, place));
            }
        }
        if let Some((_, place)) = best {
            return Some(Ok(place));
        }
        // `12 Nc6` may be twelve of something: without a dot only the lesson's moves count.
        mention.side?;
        let before = near.clone().next_back()?;
        match self.after(before, shape) {
            Some(place) => Some(Ok(place)),
            None if mention.bare => None,
            None => Some(Err(Misplaced {
                before: before.clone(),
                word: mention.word.clone(),
            })),
        }
    }

    /// How many moves of a run can be played from a place, and how many of these the lesson holds.
    fn run(&self, place: &Place, more: &[Mention]) -> (usize, usize) {
        let mut at = place.clone();
        let (mut legal, mut held) = (0, 0);
        for mention in more {
            let Some(next) = self.after(&at, &mention.shape) else {
                break;
            };
            legal += 1;
            held += usize::from(next.aside.is_empty());
            at = next;
        }
        (legal, held)
    }

    /// The position on the path at which the text has listed several moves with this number
    /// already: one more of them is meant there, also where the lesson does not hold it.
    fn listed(&self, number: u32, sides: &[Color], last: &Place) -> Option<Place> {
        let [side] = *sides else {
            return None;
        };
        let mut path = self.path(last);
        path.truncate(self.lesson.path(last.node).len() + last.aside.len());
        let place = path.into_iter().find(|place| {
            let position = self.position(place);
            position.fullmoves().get() == number && position.turn() == side
        })?;
        let played = self.context.played.iter();
        let here = played.filter(|known| self.before(known).as_ref() == Some(&place));
        (here.count() > 1).then_some(place)
    }

    /// A move without a number.
    fn unnumbered(&self, mention: &Mention, last: &Place) -> Option<Place> {
        let shape = &mention.shape;
        let dots = mention.side;
        let fits = |place: &Place| dots.is_none_or(|side| self.position(place).turn() == side);
        let known = self.context.last.is_some();
        let before = self.before(last);
        let next = Some(last.clone()).filter(|place| fits(place));
        let instead = before.filter(|place| fits(place) && !mention.ahead);
        if known && !(self.fresh && mention.zeros) {
            for place in [&next, &instead].into_iter().flatten() {
                if let Some(child) = self.child(place, shape) {
                    return Some(node_place(child));
                }
            }
        }
        // A move on the way to it, named once more.
        let way = self.lesson.path(last.node).into_iter().skip(1).rev();
        let again = way
            .filter(|_| dots.is_none() && !self.fresh && !mention.zeros)
            .find(|&id| {
                let parent = self.lesson.node(id).parent.unwrap_or(0);
                fits(&node_place(parent)) && self.plays(parent, id, shape)
            });
        if let Some(again) = again {
            return Some(node_place(again));
        }
        if !self.fresh && !mention.zeros {
            for place in [next, instead].iter().flatten() {
                if let Some(place) = self.after(place, shape) {
                    return Some(place);
                }
            }
        }
        // One place in the lesson where such a move is played.
        let mut all = self.lesson.ids().skip(1).filter(|&id| {
            let parent = self.lesson.node(id).parent.unwrap_or(0);
            fits(&node_place(parent)) && self.plays(parent, id, shape)
        });
        match (all.next(), all.next()) {
            (Some(only), None) if !mention.bare && !self.fresh => Some(node_place(only)),
            _ => None,
        }
    }

    fn position<'a>(&'a self, place: &'a Place) -> &'a Chess {
        position(self.lesson, place)
    }

    /// The place one move back.
    fn before(&self, place: &Place) -> Option<Place> {
        let mut before = place.clone();
        if before.aside.pop().is_none() {
            before.node = self.lesson.node(place.node).parent?;
        }
        Some(before)
    }

    /// The places on the way to a place, and then on from it by the first moves.
    fn path(&self, last: &Place) -> Vec<Place> {
        let mut path: Vec<Place> = self
            .lesson
            .path(last.node)
            .into_iter()
            .map(node_place)
            .collect();
        for count in 1..=last.aside.len() {
            path.push(Place {
                node: last.node,
                aside: last.aside[..count].to_vec(),
            });
        }
        let mut at = last.node;
        while last.aside.is_empty()
            && let Some(&child) = self.lesson.node(at).children.first()
        {
            path.push(node_place(child));
            at = child;
        }
        path
    }

    /// Whether a node is reached from its parent by such a move.
    fn plays(&self, parent: NodeId, child: NodeId, shape: &Shape) -> bool {
        let played = self.lesson.node(child).played;
        let position = &self.lesson.node(parent).position;
        match rules::resolve(position, shape) {
            Ok((resolved, _)) => Some(resolved) == played,
            Err(_) => false,
        }
    }

    /// The node that such a move leads to from a place in the lesson.
    fn child(&self, place: &Place, shape: &Shape) -> Option<NodeId> {
        if !place.aside.is_empty() {
            return None;
        }
        let (played, _) = rules::resolve(&self.lesson.node(place.node).position, shape).ok()?;
        let children = &self.lesson.node(place.node).children;
        let mut children = children.iter().copied();
        children.find(|&child| self.lesson.node(child).played == Some(played))
    }

    /// The place that such a move leads to, in the lesson or out of it.
    fn after(&self, place: &Place, shape: &Shape) -> Option<Place> {
        if let Some(child) = self.child(place, shape) {
            return Some(node_place(child));
        }
        let position = self.position(place);
        let (played, _) = rules::resolve(position, shape).ok()?;
        let san = rules::san_of(position, played);
        let mut after = position.clone();
        after.play_unchecked(played);
        let mut place = place.clone();
        place.aside.push(Tried {
            played: Some(played),
            san,
            position: after,
        });
        Some(place)
    }

    /// The node of the lesson that such a move with this number leads to: below what was named
    /// last if there is one, else the first of the least nested line.
    fn anywhere(&self, number: u32, sides: &[Color], shape: &Shape, last: NodeId) -> Vec<NodeId> {
        let found = self.lesson.ids().skip(1).filter(|&id| {
            let parent = self.lesson.node(id).parent.unwrap_or(0);
            let position = &self.lesson.node(parent).position;
            position.fullmoves().get() == number
                && sides.contains(&position.turn())
                && self.plays(parent, id, shape)
        });
        let mut found: Vec<NodeId> = found.collect();
        found.sort_by_key(|&id| {
            let below = self.lesson.path(id).contains(&last);
            (!below, self.depth(id), id)
        });
        found
    }

    fn depth(&self, id: NodeId) -> usize {
        let mut line = Some(self.lesson.node(id).line);
        let mut depth = 0;
        while let Some(parent) = line.and_then(|line| self.lesson.line(line).parent) {
            depth += 1;
            line = Some(parent);
        }
        depth
    }
}

fn node_place(node: NodeId) -> Place {
    Place {
        node,
        aside: Vec::new(),
    }
}
