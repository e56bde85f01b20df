//! What a saying may be: talk, or a move at one of the places that a reading knows.

use super::places::{PlaceId, Places};
use crate::lesson::rules::{after, landing, moves, pass};
use crate::talk::shape::Shape;
use crate::talk::weights::{self, Step, Turn};
use crate::talk::words::Saying;
use shakmaty::{Chess, Move, Position};
use std::collections::HashMap;
use std::rc::Rc;

/// What a saying is taken for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Act {
    /// No move.
    Talk,
    /// A move.
    Play {
        /// The place at which it is played.
        at: PlaceId,
        /// The place that it leads to.
        to: PlaceId,
        /// How it was found.
        manner: Manner,
        /// The place whose move is taken back by it.
        instead: Option<PlaceId>,
    },
}

/// How a move was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Manner {
    /// As it was said.
    Plain,
    /// Another file was heard.
    Misheard,
    /// Moves before it were not heard, so many; its place is after them.
    Supplied(u8),
}

/// A move that a saying may be, before its place is made.
#[derive(Clone, Debug)]
pub struct Choice {
    /// What it adds to the log-probability, given that the saying is a move.
    pub score: f32,
    /// The place before it.
    pub at: PlaceId,
    /// Moves to that place which were not heard, from `at`.
    pub supplied: Vec<Move>,
    /// The move.
    pub played: Move,
    /// How it was found.
    pub manner: Manner,
    /// Whether it takes the last move back.
    pub takes_back: bool,
}

/// Where a reading is and what it knows.
#[derive(Clone, Copy)]
pub struct Here<'a> {
    /// The place of the talk.
    pub place: PlaceId,
    /// Places told, the latest last.
    pub told: &'a [PlaceId],
    /// Moves that were named in passing, each with the place of the talk then.
    pub named: &'a [(PlaceId, Move)],
    /// Those of them that were announced.
    pub promised: &'a [(PlaceId, Move)],
    /// Places given in which the talk need not have been.
    pub given: &'a [PlaceId],
    /// The place from which the talk is taken to begin.
    pub begin: PlaceId,
    /// Whether the last saying was a move.
    pub moved: bool,
    /// How many moves were told since the talk came to this line.
    pub run: u32,
}

/// What is known of one saying before the talk is read: a draft was mended.
#[derive(Clone, Debug, Default)]
pub struct Hint {
    /// Places to which it leads, by the times of the draft.
    pub heard: Vec<PlaceId>,
    /// Places to which it does not lead: those were taken out of the draft.
    pub dropped: Vec<PlaceId>,
}

/// The legal moves of places that have the shape of one saying, found once.
pub struct Fits<'a> {
    saying: &'a Saying,
    hint: &'a Hint,
    found: HashMap<PlaceId, Rc<[Move]>>,
    /// The saying that goes on from it at once.
    next: Option<&'a Saying>,
    /// Moves after which that is one more of the same side.
    one_sided: HashMap<(PlaceId, Move), bool>,
}

impl<'a> Fits<'a> {
    /// For a saying.
    pub fn new(saying: &'a Saying, next: Option<&'a Saying>, hint: &'a Hint) -> Fits<'a> {
        let goes_on = |it: &&Saying| it.gap <= weights::AT_ONCE && !it.shape.is_vague();
        Fits {
            saying,
            hint,
            found: HashMap::new(),
            next: next.filter(goes_on),
            one_sided: HashMap::new(),
        }
    }

    /// Whether the next saying can only be played by the side that has just moved: of a plan.
    fn is_one_sided(&mut self, places: &Places, at: PlaceId, played: Move) -> bool {
        let Some(next) = self.next else {
            return false;
        };
        *self.one_sided.entry((at, played)).or_insert_with(|| {
            let position = after(places.position(at), played);
            let fits = |it: &Chess| !next.shape.fits(it, &moves(it)).is_empty();
            !fits(&position) && pass(&position).is_some_and(|it| fits(&it))
        })
    }

    /// Whether the saying names a move, if it is not one, and is no part of a plan.
    pub fn is_named(&self) -> bool {
        let saying = self.saying;
        saying.listed || !saying.planned && saying.lean > weights::NAMED
    }

    /// Whether it names a move, if it is not one, that is told later.
    pub fn is_promised(&self) -> bool {
        self.saying.listed || self.saying.described
    }

    /// Those at a place.
    pub fn at(&mut self, places: &Places, id: PlaceId) -> Rc<[Move]> {
        let shape = &self.saying.shape;
        let found = self
            .found
            .entry(id)
            .or_insert_with(|| shape.fits(places.position(id), places.moves(id)).into());
        Rc::clone(found)
    }
}

/// The most moves that a shape may leave open for it to say one.
const MANY: usize = 6;

/// The same for "takes" alone.
const VAGUE: usize = 14;

/// The moves that a saying may be for a reading.
pub fn options(places: &Places, fits: &mut Fits<'_>, here: Here<'_>) -> Vec<Choice> {
    let (saying, hint) = (fits.saying, fits.hint);
    let mut list: Vec<Choice> = Vec::new();
    let mut add = |at: PlaceId, up: u32| {
        let found = fits.at(places, at);
        let most = if saying.shape.is_vague() { VAGUE } else { MANY };
        if !found.is_empty() && found.len() <= most {
            moves_at(places, saying, here, at, up, &found, &mut list);
        }
    };
    add(here.place, 0);
    let mut up = 0;
    let mut at = places.parent(here.place);
    // A shape that says little is only of the place at hand, or of what was just told.
    let vague = saying.shape.is_vague() && !matches!(saying.turn, Turn::After | Turn::Back);
    // One of a list that is announced is a move here, if it is one.
    let most = match (saying.listed, vague) {
        (true, _) => 0,
        (_, true) => 1,
        _ => 60,
    };
    let mut above = Vec::new();
    while let Some(id) = at.filter(|_| up < most) {
        up += 1;
        add(id, up);
        above.push(id);
        at = places.parent(id);
    }
    if !vague && !saying.listed {
        for &id in here.told.iter().rev().chain(here.given) {
            if id != here.place && !above.contains(&id) {
                add(id, u32::MAX);
            }
        }
    }
    if fits.at(places, here.place).is_empty() {
        list.extend(misheard(places, saying, here));
    }
    if !vague && !saying.listed {
        list.extend(after_named(places, saying, here));
    }
    for choice in &mut list {
        if choice.at == here.place
            && choice.supplied.is_empty()
            && fits.is_one_sided(places, choice.at, choice.played)
        {
            choice.score += weights::ONE_SIDED;
        }
        let to = places.find(choice.at, choice.played);
        if to.is_some_and(|it| hint.heard.contains(&it)) {
            choice.score += weights::HEARD;
        }
        if to.is_some_and(|it| hint.dropped.contains(&it)) {
            choice.score += weights::DROPPED;
        }
    }
    list
}

/// The moves at one place, so many half-moves up from the place of the talk.
fn moves_at(
    places: &Places,
    saying: &Saying,
    here: Here<'_>,
    at: PlaceId,
    up: u32,
    found: &[Move],
    list: &mut Vec<Choice>,
) {
    let shares = shares(places, at, found);
    // What is taken back was no move to this reading.
    let turn = match saying.turn {
        Turn::Sorry if !here.moved => Turn::Heads,
        turn => turn,
    };
    let is_aside = saying.in_place_of.is_some_and(|shape| {
        let others = shape
            .fits(places.position(at), places.moves(at))
            .into_iter();
        let told = |it: PlaceId| places.is_given(it) || here.told.contains(&it);
        let mut others = others.filter_map(|it| places.find(at, it));
        others.any(told)
    });
    for (&played, share) in found.iter().zip(shares) {
        let child = places.find(at, played);
        let age = here.named.iter().rev().position(|it| *it == (at, played));
        let is_promised = here.promised.contains(&(at, played));
        let told = child.filter(|it| places.is_given(*it) || here.told.contains(it));
        let step = match (up, told) {
            (0, None) if !is_aside => Step::On,
            (0, Some(_)) => Step::OnTold,
            (1, Some(id)) if id == here.place => Step::Repeat,
            (_, Some(_)) if is_aside => Step::Aside,
            (_, Some(_)) => Step::Told,
            (_, None) if is_aside => Step::Aside,
            (1.., None) if is_promised => Step::Promised,
            (1.., None) if age.is_some() => Step::Announced,
            (1, None) => Step::Beside,
            (u32::MAX, None) => Step::Elsewhere,
            (_, None) => Step::Above,
        };
        let mut score = share + weights::step(turn, step) + known(places, saying, at, played);
        if matches!(
            step,
            Step::On | Step::OnTold | Step::Repeat | Step::Beside | Step::Aside
        ) {
            score += weights::LEGAL;
            if saying.shape.takes && saying.shape.to.is_some() || saying.shape.check {
                score += weights::LEGAL_CAPTURE;
            }
        }
        let turns = matches!(turn, Turn::Instead | Turn::Which | Turn::Back | Turn::There);
        match (step, saying.shape.is_vague()) {
            (Step::Repeat, true) => score += weights::TAKES_TWICE,
            (Step::Repeat, false) if saying.gap == 0 => score += weights::DOUBLED,
            _ => {}
        }
        if step == Step::Above && !matches!(turn, Turn::Instead | Turn::Back) {
            score += (weights::UP * up as f32).max(weights::UP_MOST);
        }
        if here.run == 1 && !matches!(step, Step::On | Step::OnTold | Step::Repeat) {
            score += weights::ONLY_ONE;
        }
        match (step, age) {
            (Step::On, age) if is_promised || age.is_some() => score += weights::ON_ANNOUNCED,
            (Step::Announced, Some(age)) => {
                score += (weights::AGE * age as f32).max(weights::AGE_MOST);
            }
            _ => {}
        }
        if step == Step::Aside && up == u32::MAX {
            score += weights::ASIDE_ELSEWHERE;
        }
        let jumps = matches!(
            step,
            Step::Beside | Step::Above | Step::Told | Step::Announced | Step::Promised
        );
        if jumps && saying.begins && (weights::LONG..usize::MAX).contains(&saying.gap) {
            score += weights::AFTER_LONG;
        }
        let depth = places.ply(at).saturating_sub(places.ply(here.begin));
        if matches!(step, Step::Above | Step::Elsewhere) && !turns && depth < weights::SHALLOW.0 {
            score += weights::SHALLOW.1;
        }
        if child.is_some_and(|it| places.is_given(it)) && places.ply(at) >= places.ply(here.begin) {
            score += weights::GIVEN;
        }
        if told.is_none() && places.ply(at) < places.ply(here.begin) {
            score += weights::BEFORE_GIVEN;
        }
        if let Some(next) = &saying.takes_again {
            score += weights::TAKES_AGAIN[usize::from(takes_back(places, at, played, next))]; // two
        }
        list.push(Choice {
            score,
            at,
            supplied: Vec::new(),
            played,
            manner: Manner::Plain,
            takes_back: turn == Turn::Sorry && step == Step::Beside,
        });
    }
}

/// Whether a capture of this shape can take back what a move has put on its square.
fn takes_back(places: &Places, at: PlaceId, played: Move, next: &Shape) -> bool {
    let position = after(places.position(at), played);
    let found = next.fits(&position, &moves(&position));
    found.iter().any(|it| landing(*it) == landing(played))
}

/// What the side, the number and the check that were said tell of a move.
pub fn known(places: &Places, saying: &Saying, at: PlaceId, played: Move) -> f32 {
    let position = places.position(at);
    let mut sum = 0.0;
    if let Some(side) = saying.side {
        sum += weights::SIDE[usize::from(side != position.turn())]; // two
    }
    if let Some(number) = saying.number {
        sum += weights::NUMBER[usize::from(number != position.fullmoves().get())]; // two
    }
    if saying.shape.is_square() && played.is_capture() {
        sum += weights::SQUARE_TAKES;
    }
    if saying.shape.check && !after(position, played).is_check() {
        sum += weights::NO_CHECK;
    }
    sum
}

/// How the moves of one shape share its probability, as logarithms.
fn shares(places: &Places, at: PlaceId, found: &[Move]) -> Vec<f32> {
    let last = places.played(at).map(landing);
    let weight = |it: &Move| match it.is_capture() && Some(landing(*it)) == last {
        true => weights::TAKES_BACK,
        false => 0.0,
    };
    let by_pawn = |it: &Move| match it.is_capture() && it.role() == shakmaty::Role::Pawn {
        true => weights::PAWN_TAKES,
        false => 0.0,
    };
    let weight = |it: &Move| (weight(it) + by_pawn(it)).exp();
    let all: f32 = found.iter().map(weight).sum();
    found.iter().map(|it| (weight(it) / all).ln()).collect()
}

/// The one move after each of those that were named in passing where the talk is.
fn after_named(places: &Places, saying: &Saying, here: Here<'_>) -> Vec<Choice> {
    let mut list = Vec::new();
    let all = here.named.iter().chain(here.promised);
    for &(at, named) in all.filter(|it| it.0 == here.place) {
        let position = after(places.position(at), named);
        let found = saying.shape.fits(&position, &moves(&position));
        if let [played] = *found.as_slice() {
            let side = saying.side.map(|it| usize::from(it != position.turn()));
            list.push(Choice {
                score: weights::AFTER_NAMED + side.map_or(0.0, |it| weights::SIDE[it]), // two
                at,
                supplied: vec![named],
                played,
                manner: Manner::Plain,
                takes_back: false,
            });
        }
    }
    list
}

/// The moves at the place of the talk that may have been said where another was heard: a few, or it is none of them.
fn misheard(places: &Places, saying: &Saying, here: Here<'_>) -> Vec<Choice> {
    const FEW: usize = 3;
    let at = here.place;
    if saying.shape.is_square()
        && (saying.gap > weights::LISTED || here.told.len() < weights::FEW_TOLD)
    {
        return Vec::new(); // all sorts of words sound like a square
    }
    let found = |shape: &Shape| shape.fits(places.position(at), places.moves(at));
    let mut list = Vec::new();
    let costs = [weights::MISHEARD, weights::GARBLED];
    for (alike, cost) in saying.shape.alike().iter().zip(costs) {
        let all: Vec<Move> = alike.iter().flat_map(found).collect();
        if all.len() > FEW {
            continue;
        }
        let share = (all.len() as f32).ln();
        list.extend(all.into_iter().map(|played| Choice {
            score: cost - share + known(places, saying, at, played),
            at,
            supplied: Vec::new(),
            played,
            manner: Manner::Misheard,
            takes_back: false,
        }));
    }
    list
}
