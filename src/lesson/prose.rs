//! Which position of a lesson a move named in prose means. What was named last gives the
//! context: the move goes on from there, stands in its place, or says by its number where it
//! belongs.
//!
//! The rule, in the order in which it is tried:
//! 1. In a run (`4.cxd5 exd5`) a move goes on from the one before it.
//! 2. With a number it is played at that number: by the lesson's moves on the path of what was
//!    named last and what goes on from it; else anywhere in the lesson, the main line first; else,
//!    where it is legal, it is an aside: beside the moves with this number that were listed on
//!    that path, if they were several, else at the last place of the path with this number. A
//!    number without a dot names a move of the lesson only.
//!    Of several places the one counts in which more of the run behind it can be played.
//! 3. Without a number it must be a piece's move, a capture or castling, or have dots; it goes on
//!    from what was named last in the lesson, else stands in its place in the lesson, else is a
//!    move on the way to it once more, else is legal next, else legal in its place, else is the
//!    only such move of the lesson. Where nothing was named in this paragraph yet only the first
//!    two count; where nothing was named in this sentence yet, only the lesson's moves.
//!    `a` or `an` right before it makes it a name; so does a sign of check that gives none. A
//!    letter that says needlessly which piece moves (`Ngf3` with one knight near) makes it no aside.
//! 4. A bare square is a pawn's move only with a number or in a run, and with a number without a
//!    dot only where the author leaves the dots out elsewhere in the paragraph. Behind a word for
//!    something numbered (`figure 5.b3`, `seat 5 f4`) it is none, nor as an item of a list
//!    (`1. a4 paper, 2. b5 envelopes`).

pub use super::place::Place;
use super::place::{depth, plays};
use super::tree::{Lesson, NodeId};
use crate::notation::Letters;
use crate::notation::mention::{Mention, mentions};
use crate::notation::san::Shape;
use core::ops::Range;
use shakmaty::{Color, Position};

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

/// How many places are remembered, and how many moves of a run are looked at before its first is
/// placed: so the work is linear in the text's length.
const REMEMBERED: usize = 64;
const AHEAD: usize = 12;

/// What was named last, carried from paragraph to paragraph.
#[derive(Clone, Debug, Default)]
pub struct Context {
    last: Option<Place>,
    /// The places named last, each once, in the order of their last naming; at most
    /// [`REMEMBERED`].
    played: Vec<Place>,
}

impl Context {
    fn note(&mut self, place: &Place) {
        self.last = Some(place.clone());
        self.played.retain(|known| known != place);
        if self.played.len() >= REMEMBERED {
            self.played.remove(0); // there is one
        }
        self.played.push(place.clone());
    }
}

/// The moves that a paragraph names.
pub fn named(lesson: &Lesson, letters: &Letters, context: &mut Context, text: &str) -> Vec<Named> {
    let mut reading = Reading {
        lesson,
        context,
        fresh: true,
        joined: false,
    };
    let mut list = Vec::new();
    // Whether the mention before was linked, for a run goes on only from a move.
    let mut run = false;
    let all = mentions(text, letters);
    for (at, mention) in all.iter().enumerate() {
        let follows = run && mention.follows;
        reading.joined &= !mention.opens;
        let more = all.iter().skip(at + 1).take(AHEAD);
        let more: Vec<&Mention> = more.take_while(|next| next.follows).collect();
        let place = reading.place(mention, follows, &more);
        run = matches!(place, Some(Ok(_)));
        let Some(place) = place else {
            continue;
        };
        if let Ok(place) = &place {
            reading.context.note(place);
            reading.fresh = false;
            reading.joined = true;
        }
        list.push(Named {
            range: mention.range.clone(),
            place,
        });
    }
    list
}

struct Reading<'a> {
    lesson: &'a Lesson,
    context: &'a mut Context,
    /// Whether nothing was named in this paragraph yet.
    fresh: bool,
    /// Whether something was named in this sentence already.
    joined: bool,
}

impl Reading<'_> {
    fn place(
        &self,
        mention: &Mention,
        follows: bool,
        more: &[&Mention],
    ) -> Option<Result<Place, Misplaced>> {
        let last = self.context.last.clone().unwrap_or_default();
        let shape = &mention.shape;
        if let Some(number) = mention.number {
            return self.numbered(mention, number, &last, follows, more);
        }
        if follows {
            let side = last.position(self.lesson).turn();
            if mention.side.is_none_or(|written| written == side)
                && let Some(place) = last.after(self.lesson, shape)
            {
                return Some(Ok(place));
            }
        }
        if mention.bare && mention.side.is_none() {
            return None;
        }
        // `Be2+` ions: without a number a check has to be one.
        let place = self.unnumbered(mention, &last)?;
        (!mention.checks || place.position(self.lesson).is_check()).then_some(Ok(place))
    }

    /// A move with its number.
    fn numbered(
        &self,
        mention: &Mention,
        number: u32,
        last: &Place,
        follows: bool,
        more: &[&Mention],
    ) -> Option<Result<Place, Misplaced>> {
        let shape = &mention.shape;
        let sides = match mention.side {
            Some(side) => vec![side],
            None => vec![Color::White, Color::Black],
        };
        let at = |place: &Place| {
            let position = place.position(self.lesson);
            position.fullmoves().get() == number && sides.contains(&position.turn())
        };
        if follows
            && at(last)
            && let Some(place) = last.after(self.lesson, shape)
        {
            return Some(Ok(place));
        }
        let path = [last.way(self.lesson), last.on(self.lesson)].concat();
        // Nodes of the lesson on the path and in what goes on from it, then all of them. Of
        // several that one in which more of the run can be played, and more of it in the lesson.
        let near = path.iter().filter(|place| at(place));
        let on_path = near
            .clone()
            .filter_map(|place| place.child(self.lesson, shape));
        let elsewhere = self.anywhere(number, &sides, shape, last.node);
        let listed = self.listed(number, &sides, last);
        let listed = listed.and_then(|place| place.after(self.lesson, shape));
        let candidates = on_path.chain(elsewhere).map(Place::of).chain(listed);
        let mut best: Option<((usize, usize), Place)> = None;
        for place in candidates {
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
        match before.after(self.lesson, shape) {
            Some(place) => Some(Ok(place)),
            None if mention.bare || before.is_full() => None,
            None => Some(Err(Misplaced {
                before: before.clone(),
                word: mention.word.clone(),
            })),
        }
    }

    /// How many moves of a run can be played from a place, and how many of these the lesson holds.
    fn run(&self, place: &Place, more: &[&Mention]) -> (usize, usize) {
        let mut at = place.clone();
        let (mut legal, mut held) = (0, 0);
        for mention in more {
            let Some(next) = at.after(self.lesson, &mention.shape) else {
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
        let place = last.way(self.lesson).into_iter().find(|place| {
            let position = place.position(self.lesson);
            position.fullmoves().get() == number && position.turn() == side
        })?;
        let played = self.context.played.iter();
        let here = played.filter(|known| known.before(self.lesson).as_ref() == Some(&place));
        (here.count() > 1).then_some(place)
    }

    /// A move without a number.
    fn unnumbered(&self, mention: &Mention, last: &Place) -> Option<Place> {
        let shape = &mention.shape;
        let dots = mention.side;
        let fits =
            |place: &Place| dots.is_none_or(|side| place.position(self.lesson).turn() == side);
        let known = self.context.last.is_some();
        let before = last.before(self.lesson);
        let next = Some(last.clone()).filter(|place| fits(place));
        let instead = before.filter(|place| fits(place) && !mention.ahead && !last.is_full());
        if known && !(self.fresh && mention.zeros) {
            for place in [&next, &instead].into_iter().flatten() {
                if let Some(child) = place.child(self.lesson, shape) {
                    return Some(Place::of(child));
                }
            }
        }
        // A move on the way to it, named once more.
        let way = self.lesson.path(last.node).into_iter().skip(1).rev();
        let again = way
            .filter(|_| dots.is_none() && !self.fresh && !mention.zeros)
            .find(|&id| {
                let parent = self.lesson.node(id).parent.unwrap_or(0);
                fits(&Place::of(parent)) && plays(self.lesson, id, shape)
            });
        if let Some(again) = again {
            return Some(Place::of(again));
        }
        if !self.fresh && !mention.zeros && (self.joined || dots.is_some()) {
            for place in [next, instead].iter().flatten() {
                if place.has_to_say(self.lesson, shape)
                    && let Some(place) = place.after(self.lesson, shape)
                {
                    return Some(place);
                }
            }
        }
        // One place in the lesson where such a move is played.
        let mut all = self.lesson.ids().skip(1).filter(|&id| {
            let parent = self.lesson.node(id).parent.unwrap_or(0);
            fits(&Place::of(parent)) && plays(self.lesson, id, shape)
        });
        match (all.next(), all.next()) {
            (Some(only), None) if !mention.bare && !self.fresh => Some(Place::of(only)),
            _ => None,
        }
    }

    /// The node of the lesson that such a move with this number leads to: below what was named
    /// last if there is one, else the first of the least nested line.
    fn anywhere(&self, number: u32, sides: &[Color], shape: &Shape, last: NodeId) -> Vec<NodeId> {
        let found = self.lesson.ids().skip(1).filter(|&id| {
            let parent = self.lesson.node(id).parent.unwrap_or(0);
            let position = &self.lesson.node(parent).position;
            position.fullmoves().get() == number
                && sides.contains(&position.turn())
                && plays(self.lesson, id, shape)
        });
        let mut found: Vec<NodeId> = found.collect();
        found.sort_unstable_by_key(|&id| {
            let below = self.lesson.path(id).contains(&last);
            (!below, depth(self.lesson, id), id)
        });
        found
    }
}
