//! How a position is, as a number.

/// A judgement of a position, for one side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Score {
    /// In hundredths of a pawn.
    Pawns(i32),
    /// In so many moves; below 0 it is that side that is mated.
    Mate(i32),
}

/// Whether a score is the score itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    Exact,
    /// It is at least this.
    Lower,
    /// It is at most this.
    Upper,
}

/// More than any material.
const MATE: i32 = 100_000;

impl Score {
    /// The same for the other side.
    pub fn turned(self) -> Score {
        match self {
            Score::Pawns(it) => Score::Pawns(it.saturating_neg()),
            Score::Mate(it) => Score::Mate(it.saturating_neg()),
        }
    }

    /// As hundredths of a pawn, a mate as more than any material. To be mated in 0 is to be mated.
    pub fn hundredths(self) -> i32 {
        match self {
            Score::Pawns(it) => it.clamp(-MATE, MATE),
            Score::Mate(it) if it > 0 => MATE,
            Score::Mate(_) => -MATE,
        }
    }
}

impl Bound {
    /// The same for the other side.
    pub fn turned(self) -> Bound {
        match self {
            Bound::Exact => Bound::Exact,
            Bound::Lower => Bound::Upper,
            Bound::Upper => Bound::Lower,
        }
    }
}
