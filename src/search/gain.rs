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

/// A search that goes deeper and deeper.
pub struct Deepening {
    position: Chess,
    search: Search,
    found: Deepest,
    /// Whether a deeper search can show nothing else.
    is_done: bool,
}

impl Deepening {
    /// One that waits for turns ([`Deepening::turn`]).
    pub fn in_turns(position: Chess) -> Deepening {
        Deepening::of(position, Search::in_turns(Leaf::Quiet))
    }

    fn of(position: Chess, search: Search) -> Deepening {
        Deepening {
            position,
            search,
            found: Deepest::default(),
            is_done: false,
        }
    }

    /// Goes on until so many positions more have been looked at; false when there is nothing left to search.
    pub fn turn(&mut self, positions: u64) -> bool {
        self.search.more(positions);
        self.deepen();
        !self.is_done
    }

    /// What has been found.
    pub fn found(&self) -> &Deepest {
        &self.found
    }

    fn deepen(&mut self) {
        while !self.is_done && self.found.depth < DEEPEST {
            let depth = self.found.depth + 1;
            let mut line = Vec::new();
            let whole = (-MATE, MATE);
            let Ok(value) = self
                .search
                .whole(&self.position, depth, 0, whole, &mut line)
            else {
                return;
            };
            // Captures and checks may lead to a mate beyond the depth, and there may be a shorter one; within it
            // there is none.
            let plies = u32::try_from(MATE - value.abs()).unwrap_or(0);
            let is_shortest = mate(value).is_some() && plies <= depth;
            self.is_done = is_shortest || line.is_empty();
            self.found = Deepest { value, line, depth };
        }
        self.is_done = true;
    }
}

/// Searches deeper and deeper, within a budget of positions that are looked at: what the last depth showed that could be
/// searched in whole.
pub fn deepest(position: &Chess, budget: u64) -> Deepest {
    let mut search = Deepening::of(position.clone(), Search::new(budget, Leaf::Quiet));
    search.deepen();
    search.found
}

impl Deepest {
    /// What that is for the side to move, which had so much material more than the other before.
    pub fn gain(&self, before: i32) -> Gain {
        let mate = mate(self.value);
        let is_material = self.depth > 0 && mate.is_none();
        Gain {
            pawns: if is_material { self.value - before } else { 0 },
            mate,
            line: self.line.clone(),
            depth: self.depth,
            complete: self.depth > 0,
        }
    }
}

impl Gain {
    /// The same for the other side.
    pub fn turned(self) -> Gain {
        Gain {
            pawns: -self.pawns,
            mate: self.mate.map(|it| -it),
            ..self
        }
    }
}

/// What the side to move wins by force, within a budget of positions that are looked at.
pub fn gain(position: &Chess, budget: u64) -> Gain {
    deepest(position, budget).gain(balance(position))
}

/// In how many of its moves the side to move mates, below 0 is mated; none where the value is material.
pub fn mate(value: i32) -> Option<i32> {
    let plies = MATE - value.abs();
    let moves = (plies + 1) / 2;
    (value.abs() >= MATES).then(|| if value > 0 { moves } else { -(plies / 2) })
}
