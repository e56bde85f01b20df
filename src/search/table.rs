//! What was found of positions, for when they come again.

use crate::lesson::rules::key;
use shakmaty::{Chess, Move};

/// How a value was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// It is the value.
    Exact,
    /// The value is not below it.
    AtLeast,
    /// The value is not above it.
    AtMost,
}

/// What was found of a position.
#[derive(Clone, Copy, Debug)]
pub struct Found {
    pub value: i32,
    pub bound: Bound,
    /// How many half-moves deep.
    pub depth: u32,
    pub best: Option<Move>,
}

/// So many places, a power of two.
const PLACES: usize = 1 << 16;

/// A table of fixed size: of two positions of one place the later is kept.
pub struct Table {
    places: Vec<Option<(u64, Found)>>,
}

impl Table {
    pub fn new() -> Table {
        Table {
            places: vec![None; PLACES],
        }
    }

    /// What is known of a position.
    pub fn get(&self, hash: u64) -> Option<&Found> {
        let place = self.places.get(place_of(hash))?.as_ref();
        place.filter(|(known, _)| *known == hash).map(|(_, it)| it)
    }

    pub fn put(&mut self, hash: u64, found: Found) {
        if let Some(place) = self.places.get_mut(place_of(hash)) {
            *place = Some((hash, found));
        }
    }
}

fn place_of(hash: u64) -> usize {
    (hash >> 48) as usize % PLACES
}

/// A number for a position. Two positions of one number are possible, once in some billions of positions.
pub fn hash(position: &Chess) -> u64 {
    // Multiplied by odd numbers and turned, as in FxHash; in the end all bits are mixed (splitmix64, from memory).
    let mut hash = 0_u64;
    for part in key(position) {
        hash = (hash.rotate_left(23) ^ part).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    }
    hash = (hash ^ (hash >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    hash = (hash ^ (hash >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    hash ^ (hash >> 31)
}
