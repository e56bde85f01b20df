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

/// So many places at most and at least.
const PLACES: (u64, u64) = (1 << 10, 1 << 16);

/// A table of fixed size: of two positions of one place the later is kept.
pub struct Table {
    places: Vec<Option<(u64, Found)>>,
}

impl Table {
    /// One for a search that looks at so many positions.
    pub fn new(positions: u64) -> Table {
        let (least, most) = PLACES;
        let places = positions.clamp(least, most).next_power_of_two();
        Table {
            places: vec![None; places as usize], // at most 2 to the power of 16
        }
    }

    /// What is known of a position.
    pub fn get(&self, hash: u64) -> Option<&Found> {
        let place = self.places.get(self.place_of(hash))?.as_ref();
        place.filter(|(known, _)| *known == hash).map(|(_, it)| it)
    }

    pub fn put(&mut self, hash: u64, found: Found) {
        let place = self.place_of(hash);
        if let Some(place) = self.places.get_mut(place) {
            *place = Some((hash, found));
        }
    }

    fn place_of(&self, hash: u64) -> usize {
        (hash >> 48) as usize % self.places.len() // there are some
    }
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
