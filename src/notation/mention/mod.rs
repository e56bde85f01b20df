//! Moves named in prose: finds the words of a sentence that look like moves, with what is before
//! them. Whether they can be played, and where, is for `lesson/prose` to say.

mod context;
mod finder;
mod word;

pub use self::context::returns;
pub use self::finder::mentions;
use super::word::san::Shape;
use core::ops::Range;
use shakmaty::Color;

/// A word of a text that looks like a move.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mention {
    /// Where it is, number and signs included; a byte range of the text.
    pub range: Range<usize>,
    /// Where its word is, without number and dots.
    pub word: Range<usize>,
    /// The move number before it.
    pub number: Option<u32>,
    /// The side that dots say: one for White, more for Black. A number without dots says none.
    pub side: Option<Color>,
    /// What it says.
    pub shape: Shape,
    /// How it is written.
    pub written: Written,
    /// What is around it.
    pub around: Surroundings,
}

/// How a mention is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Written {
    /// Whether it is a square and nothing else, such as `e5`, or two without a number.
    pub is_bare: bool,
    /// Whether it castles with zeros, as scores of other games are written too.
    pub has_zeros: bool,
    /// Whether it has the sign of a check or a mate.
    pub has_check: bool,
}

/// What is around a mention in its text.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Surroundings {
    /// Whether it is one of a run of moves: between it and the mention before is nothing but
    /// white space.
    pub follows: bool,
    /// Whether it is a square after a number without a dot, alone: `seat 5 f4`. A move only
    /// where the author leaves the dots out elsewhere.
    pub is_alone: bool,
    /// Whether it is the first of its sentence; a paragraph's first is.
    pub opens: bool,
    /// Whether the words before it speak of the future or the possible (`a later Nb5`,
    /// `threatens Nb5`): then it is no other choice for the move before it.
    pub is_ahead: bool,
    /// Whether it is offered beside the move before it: joined to it by `/`, `or`, `and`, or said
    /// to come instead.
    pub is_beside: bool,
    /// Whether its sentence has spoken of White or Black before it: then it speaks of moves.
    pub is_sided: bool,
    /// The side that was spoken of last between it and the mention before, in its sentence.
    pub spoken: Option<Color>,
    /// Whether it begins its sentence, as a word that is no move may.
    pub starts: bool,
    /// Whether only a comma or `and` or `or` is between it and the mention before.
    pub is_listed: bool,
    /// Whether the words right before it say that a square is a pawn's move (`by e4`, `tries e4`).
    pub says_move: bool,
    /// Whether the words before it say that it answers the move before it.
    pub is_answer: bool,
    /// Whether its sentence has spoken of the main line since the mention before.
    pub is_main: bool,
    /// Whether `this` is right before it (`in this line 6.a3`): then it belongs to what was
    /// spoken of last.
    pub is_here: bool,
    /// Which of the moves that were listed last is spoken of: `the first`, `the latter`.
    pub listed: Option<Ordinal>,
}

/// Which of several that were listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ordinal {
    /// By its number, from 0.
    At(u8),
    /// The last.
    Last,
}
