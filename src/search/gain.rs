//! What a side wins or loses by force.

use super::material::balance;
use super::tree::{Leaf, MATE, MATES, Search};
use shakmaty::{Chess, Move};

/// What the side to move wins by force, as far as it was searched.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Gain {
    /// How much more material it has at the end of the line than now, in hundredths of a pawn; below 0 where
    /// it loses some. 0 where there is a mate.
    pub pawns: i32,
    /// In how many of its moves it mates; below 0: in how many of the other side's it is mated.
    pub mate: Option<i32>,
    /// The moves that show it.
    pub line: Vec<Move>,
    /// How many half-moves deep every move was tried. After that captures, promotions and answers to check
    /// were followed to their end.
    pub depth: u32,
    /// Whether the budget was enough for one half-move at least. Otherwise nothing is known.
    pub complete: bool,
}

/// So deep nothing is searched.
pub const DEEPEST: u32 = 40;

/// What a search shows that went as deep as its budget.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Deepest {
    /// For the side to move: material in hundredths of a pawn, or mate ([`mate`]).
    pub value: i32,
    /// The moves that show it.
    pub line: Vec<Move>,
    /// How many half-moves deep every move was tried; 0 where the budget was not enough for one.
    pub depth: u32,
}

/// Searches deeper and deeper, within a budget of positions that are looked at: what the last depth showed that could be
/// searched in whole.
pub fn deepest(position: &Chess, budget: u64) -> Deepest {
    let mut search = Search::new(budget, Leaf::Quiet);
    let mut deepest = Deepest::default();
    for depth in 1..=DEEPEST {
        let mut line = Vec::new();
        let Ok(value) = search.whole(position, depth, 0, (-MATE, MATE), &mut line) else {
            break;
        };
        // Captures and checks may lead to a mate beyond the depth, and there may be a shorter one; within it there
        // is none.
        let plies = u32::try_from(MATE - value.abs()).unwrap_or(0);
        let is_shortest = mate(value).is_some() && plies <= depth;
        let is_over = line.is_empty();
        deepest = Deepest { value, line, depth };
        if is_shortest || is_over {
            break;
        }
    }
    deepest
}

/// What the side to move wins by force, within a budget of positions that are looked at.
pub fn gain(position: &Chess, budget: u64) -> Gain {
    let Deepest { value, line, depth } = deepest(position, budget);
    let mate = mate(value);
    let is_material = depth > 0 && mate.is_none();
    Gain {
        pawns: if is_material {
            value - balance(position)
        } else {
            0
        },
        mate,
        line,
        depth,
        complete: depth > 0,
    }
}

/// In how many of its moves the side to move mates, below 0 is mated; none where the value is material.
pub fn mate(value: i32) -> Option<i32> {
    let plies = MATE - value.abs();
    let moves = (plies + 1) / 2;
    (value.abs() >= MATES).then(|| if value > 0 { moves } else { -(plies / 2) })
}
