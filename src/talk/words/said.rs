//! A talk as it was read: words, and the moves that they name.

use super::phrases::Hit;
use super::token::{End, Token, begins};
use crate::notation::comment::clock::Millis;
use crate::talk::captions::Word;
use crate::talk::shape::Shape;
use crate::talk::weights::Turn;
use shakmaty::Color;
use std::ops::Range;

/// A move that is named in a talk.
#[derive(Clone, Debug)]
pub struct Saying {
    /// What was said of the move.
    pub shape: Shape,
    /// Its tokens.
    pub tokens: Range<usize>,
    /// Its words.
    pub words: Range<usize>,
    /// When it is said.
    pub at: Millis,
    /// The log-odds that it is a move and not talk, by its words and those about it.
    pub lean: f32,
    /// How many tokens there are between it and the saying before.
    pub gap: usize,
    /// Whether a sentence ends, or nobody speaks, between it and the saying before.
    pub begins: bool,
    /// How the words before it turn to another place.
    pub turn: Turn,
    /// Whether it is one of a list of moves that is announced.
    pub listed: bool,
    /// Whether the next words are about it: "d5 is the old move".
    pub described: bool,
    /// Whether it is part of a plan and the like.
    pub planned: bool,
    /// The move in whose place it is.
    pub in_place_of: Option<Shape>,
    /// Whether the saying before was taken back right after it.
    pub corrects: bool,
    /// Whether another comes in its place: "instead of d5".
    pub replaced: bool,
    /// Where it is "takes" and no more: what the next words say of a capture. That may be the same one, or the next.
    pub takes_again: Option<Shape>,
    /// The side that was named.
    pub side: Option<Color>,
    /// The number that was named.
    pub number: Option<u32>,
}

/// A talk as it was read.
#[derive(Clone, Debug, Default)]
pub struct Said {
    /// Its words.
    pub words: Vec<Word>,
    /// What they were cut into.
    pub tokens: Vec<Token>,
    /// The phrases that tell something.
    pub hits: Vec<Hit>,
    /// The moves that are named.
    pub sayings: Vec<Saying>,
}

impl Said {
    /// Whether a sentence begins at a token.
    pub fn begins(&self, at: usize) -> bool {
        begins(&self.tokens, at)
    }

    /// The phrases that begin within tokens.
    pub fn within(&self, tokens: &Range<usize>) -> &[Hit] {
        within(&self.hits, tokens)
    }
}

/// The phrases that begin within tokens.
pub fn within<'a>(hits: &'a [Hit], tokens: &Range<usize>) -> &'a [Hit] {
    let from = hits.partition_point(|hit| hit.from < tokens.start);
    let to = hits.partition_point(|hit| hit.from < tokens.end);
    hits.get(from..to).unwrap_or_default()
}

/// Whether captions have the signs at which sentences end: one in forty words at least.
pub fn has_signs(tokens: &[Token]) -> bool {
    let ends = tokens.iter().filter(|it| it.end == End::Sentence).count();
    ends * 40 > tokens.len()
}
