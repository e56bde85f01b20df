//! What can be answered to a move, searched in turns.

use super::Aside;
use crate::search::{Deepening, Gain, balance_of, worth};
use shakmaty::{Chess, Move, Position, Role};

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
    pub comes: Comes,
    /// Whether nothing deeper will be searched.
    pub is_last: bool,
}

/// What a move comes to, by material, and which of it is the move's own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Comes {
    /// No pawn's worth is lost or won.
    Nothing,
    /// Something is won since the captures to which the move may be an answer began.
    Wins,
    /// Something is lost that was there before the move.
    Loses,
    /// What these captures took before the move is not won back, and nothing more is lost.
    Stays,
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
        let replier = self.aside.position.turn();
        let gain = |from: &Chess| {
            let found = self.search.found();
            found.gain(balance_of(from, replier)).turned()
        };
        let (all, own) = (gain(&self.aside.since), gain(&self.aside.before));
        let pawn = worth(Role::Pawn);
        let comes = match (all.pawns, own.pawns) {
            (all, own) if all <= -pawn && own <= -pawn => Comes::Loses,
            (all, _) if all <= -pawn => Comes::Stays,
            (all, _) if all >= pawn => Comes::Wins,
            _ => Comes::Nothing,
        };
        Answer {
            gain: if self.is_own(comes) { own } else { all },
            comes,
            is_last: self.left == 0,
        }
    }

    /// Whether that is counted from right before the move: what was taken earlier is not lost by it.
    fn is_own(&self, comes: Comes) -> bool {
        let replier = self.aside.position.turn();
        let ahead = |position: &Chess| balance_of(position, replier);
        comes == Comes::Loses && ahead(&self.aside.before) > ahead(&self.aside.since)
    }

    /// Where it is counted from, and all moves from there to the end of the line.
    pub fn way(&self, comes: Comes) -> (&Chess, Vec<Move>) {
        let Aside {
            since,
            before,
            moves,
            ..
        } = &self.aside;
        let (start, moves) = match moves.last_chunk::<1>() {
            Some(asked) if self.is_own(comes) => (before, &asked[..]),
            _ => (since, &moves[..]),
        };
        let line = &self.search.found().line;
        (start, moves.iter().chain(line).copied().collect())
    }
}
