//! What can be answered to a move, searched in turns.

use super::Aside;
use crate::search::{Deepening, Gain, balance_of};
use shakmaty::{Move, Position};

/// So many positions are looked at for one answer: some 5 or 6 half-moves in the middle of an opening.
pub const BUDGET: u64 = 200_000;

/// A question about a move, while it is searched.
pub struct Asked {
    pub aside: Aside,
    search: Deepening,
    /// How many positions may still be looked at.
    left: u64,
}

/// What was found of a move.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// For the side that plays it. The line begins with the reply; the depth counts from there.
    pub gain: Gain,
    /// Whether nothing deeper will be searched.
    pub is_last: bool,
}

impl Asked {
    /// The search begins with the first turn.
    pub fn about(aside: Aside) -> Asked {
        let search = Deepening::in_turns(aside.position.clone());
        Asked {
            aside,
            search,
            left: BUDGET,
        }
    }

    /// Goes on for so many positions; false when the answer is the last.
    pub fn turn(&mut self, positions: u64) -> bool {
        let positions = positions.clamp(1, self.left.max(1));
        self.left = self.left.saturating_sub(positions);
        let goes_on = self.search.turn(positions);
        if !goes_on {
            self.left = 0;
        }
        self.left > 0
    }

    /// What has been found.
    pub fn answer(&self) -> Answer {
        let before = balance_of(&self.aside.since, self.aside.position.turn());
        Answer {
            gain: self.search.found().gain(before).turned(),
            is_last: self.left == 0,
        }
    }

    /// All moves from where material is compared to the end of the line.
    pub fn whole(&self) -> Vec<Move> {
        let line = self.search.found().line.iter();
        self.aside.moves.iter().chain(line).copied().collect()
    }
}
