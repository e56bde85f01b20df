//! Moves that were not heard: at most two, and only where one way of supplying them lets the talk go on.

use super::acts::{Choice, Manner, known};
use super::places::{PlaceId, Places};
use crate::lesson::rules::{after, moves};
use crate::talk::shape::Shape;
use crate::talk::weights;
use crate::talk::words::Saying;
use shakmaty::{Chess, Move};

/// How many sayings are played on to see whether a way of supplying is the only one.
const AHEAD: usize = 5;
/// The most words between two of them.
const RUN: usize = 12;

/// The sayings that go on from the first: a run of moves.
fn run(sayings: &[Saying]) -> Vec<Shape> {
    let mut list: Vec<Shape> = Vec::new();
    for saying in sayings.iter().take(AHEAD) {
        let goes_on = list.is_empty() || (saying.gap <= RUN && saying.lean > 0.0);
        if !goes_on {
            break;
        }
        list.push(saying.shape);
    }
    list
}

/// How many of the shapes can be played in a row, and the move of the first.
fn played(position: &Chess, run: &[Shape]) -> (usize, Option<Move>) {
    let mut position = position.clone();
    let mut first = None;
    for (at, shape) in run.iter().enumerate() {
        let fits = shape.fits(&position, &moves(&position));
        let [only] = *fits.as_slice() else {
            return (at, first);
        };
        first = first.or(Some(only));
        position = after(&position, only);
    }
    (run.len(), first)
}

/// The best of the ways of supplying: how far each lets the talk go on.
#[derive(Default)]
struct Best {
    length: usize,
    ways: Vec<(Vec<Move>, Move)>,
}

impl Best {
    fn add(&mut self, supplied: &[Move], (length, first): (usize, Option<Move>)) {
        let Some(first) = first.filter(|_| length >= self.length) else {
            return;
        };
        if length > self.length {
            self.length = length;
            self.ways.clear();
        }
        self.ways.push((supplied.to_vec(), first));
    }

    /// The only way, where the talk goes on for at least so many moves.
    fn only(self, least: usize) -> Option<(Vec<Move>, Move)> {
        let mut ways = self.ways;
        let one = ways.pop().filter(|_| ways.is_empty());
        one.filter(|_| self.length >= least)
    }
}

/// The move of the first saying after one or two that were not heard.
pub fn supply(places: &Places, at: PlaceId, sayings: &[Saying], two: bool) -> Option<Choice> {
    let run = run(sayings);
    let first = sayings.first()?;
    if first.shape.is_vague() {
        return None;
    }
    let position = places.position(at);
    let mut best = Best::default();
    for &one in places.moves(at) {
        best.add(&[one], played(&after(position, one), &run));
    }
    let mut found = best.only(1);
    if found.is_none() && two && run.len() >= 3 {
        let mut best = Best::default();
        for &one in places.moves(at) {
            let next = after(position, one);
            for other in moves(&next) {
                best.add(&[one, other], played(&after(&next, other), &run));
            }
        }
        found = best.only(3);
    }
    let (supplied, played) = found?;
    let count = supplied.len();
    let mut score = weights::SUPPLIED[count.clamp(1, 2) - 1]; // two
    if count == 2 {
        score += known(places, first, at, played);
    }
    Some(Choice {
        score,
        at,
        supplied,
        played,
        manner: Manner::Supplied(count as u8),
        takes_back: false,
    })
}
