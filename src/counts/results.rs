//! How games ended.

/// No collection has so many games; more in a file would overflow sums.
pub const MOST: u64 = 1 << 40;

/// How games ended. As a single one: how one did.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Results {
    pub white: u64,
    pub drawn: u64,
    pub black: u64,
    /// Those of which it is not known.
    pub unknown: u64,
}

impl Results {
    /// One game of a result as the PGN standard writes it (8.1.1.7); none for another word.
    pub fn named(result: &str) -> Option<Results> {
        let mut one = Results::default();
        match result {
            "1-0" => one.white = 1,
            "1/2-1/2" => one.drawn = 1,
            "0-1" => one.black = 1,
            "*" => one.unknown = 1,
            _ => return None,
        }
        Some(one)
    }

    /// Of a single one its result as the PGN standard writes it.
    pub fn name(&self) -> &'static str {
        match self {
            Results { white: 1, .. } => "1-0",
            Results { black: 1, .. } => "0-1",
            Results { drawn: 1, .. } => "1/2-1/2",
            _ => "*",
        }
    }

    /// How many games there are.
    pub fn games(&self) -> u64 {
        self.white + self.drawn + self.black + self.unknown
    }

    /// Adds those of others.
    pub fn add(&mut self, others: &Results) {
        self.white += others.white;
        self.drawn += others.drawn;
        self.black += others.black;
        self.unknown += others.unknown;
    }
}
