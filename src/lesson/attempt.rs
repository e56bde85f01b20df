//! A move that a reader tries on a position: played, unfinished, or refused with the reason.

use super::place::number::unnumbered;
use super::reason::phrases::list;
use super::reason::{Reason, reason};
use super::rules::{self, Refusal, landing, origin};
use crate::notation::Letters;
use crate::notation::word::san::{self, Kind, Shape};
use crate::text::Listed;
use shakmaty::{Chess, Color, Move, Position, Role, Square};

/// A legal move and its result.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tried {
    /// The move; none for a pass.
    pub played: Option<Move>,
    /// The move in English SAN.
    pub san: String,
    /// The position after it.
    pub position: Chess,
}

impl Tried {
    /// A legal move from a position.
    pub(super) fn of(before: &Chess, played: Move) -> Tried {
        let mut position = before.clone();
        position.play_unchecked(played);
        Tried {
            played: Some(played),
            san: rules::san_of(before, played),
            position,
        }
    }
}

/// The result of a try.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Attempt {
    /// It is legal.
    Played(Tried),
    /// The pawn becomes a piece, and the reader has yet to say which. A word that leaves it out
    /// is refused, because a word can say it.
    Promotes,
    /// It is not legal.
    Refused(Reason),
    /// The word is no move.
    NoMove,
}

/// Tries a move by its squares.
pub fn attempt(position: &Chess, from: Square, to: Square, promotion: Option<Role>) -> Attempt {
    let kind = Kind::Piece {
        role: None,
        file: Some(from.file()),
        rank: Some(from.rank()),
        to,
        promotion,
    };
    let shape = Shape {
        kind,
        capture: false,
        nags: Vec::new(),
    };
    let mut word = rules::square_name(from);
    rules::push_square(&mut word, to);
    match rules::resolve(position, &shape) {
        Err(Refusal::PromotionMissing) => Attempt::Promotes,
        result => finish(position, &shape, result.map(|(played, _)| played), &word),
    }
}

/// Tries a move by its word, read with these letters, in which moves are shown, else with English ones.
pub fn attempt_word(position: &Chess, word: &str, letters: &Letters) -> Attempt {
    let read = |letters| {
        let word = san::read(word, letters);
        let shape = word.shape?;
        let result = rules::resolve(position, &shape).map(|(played, _)| played);
        Some((shape, result, word.core.to_owned()))
    };
    let shown = read(letters);
    let best = match shown {
        Some((_, Err(_), _)) | None if letters != Letters::ENGLISH => read(Letters::ENGLISH)
            .filter(|(_, result, _)| result.is_ok())
            .or(shown),
        shown => shown,
    };
    match best {
        None => Attempt::NoMove,
        Some((shape, result, word)) => finish(position, &shape, result, &word),
    }
}

/// Tries a move as a reader types it: with the number that is printed before it or without.
/// Capitals take time to type, so `nf3` is read as a knight's move if it cannot be a pawn's.
pub fn attempt_typed(position: &Chess, text: &str, letters: &Letters) -> Attempt {
    let text = unnumbered(text).unwrap_or(text).trim_start();
    let attempt = attempt_word(position, text, letters);
    if matches!(attempt, Attempt::Played(_)) {
        return attempt;
    }
    let (first, rest) = text.split_at(text.chars().next().map_or(0, char::len_utf8));
    match attempt_word(position, &(first.to_ascii_uppercase() + rest), letters) {
        Attempt::NoMove => attempt,
        other => other,
    }
}

/// A move of another position played here: that from its square to its square, becoming the same
/// piece. None if that is not legal.
pub fn replay(position: &Chess, played: Move) -> Option<Tried> {
    let (from, to) = (origin(played), landing(played));
    match attempt(position, from, to, played.promotion()) {
        Attempt::Played(tried) => Some(tried),
        _ => None,
    }
}

fn finish(position: &Chess, shape: &Shape, result: Result<Move, Refusal>, word: &str) -> Attempt {
    match result {
        Ok(played) => Attempt::Played(Tried::of(position, played)),
        Err(_) if shape.kind == Kind::Pass => match rules::pass(position) {
            Some(after) => Attempt::Played(Tried {
                played: None,
                san: "--".to_owned(),
                position: after,
            }),
            None => Attempt::Refused(reason(position, shape, &Refusal::Impossible, word)),
        },
        Err(refusal) => Attempt::Refused(reason(position, shape, &refusal, word)),
    }
}

/// The squares that the piece on a square can go to.
pub fn reach(position: &Chess, from: Square) -> Vec<Square> {
    let mut squares = Vec::new();
    for &legal in &position.legal_moves() {
        let to = landing(legal);
        // A promotion is four moves to one square.
        if origin(legal) == from && !squares.contains(&to) {
            squares.push(to);
        }
    }
    squares
}

/// The squares of the pieces of one side that attack a square.
pub fn attackers(position: &Chess, square: Square, side: Color) -> Vec<Square> {
    let board = position.board();
    board
        .attacks_to(square, side, board.occupied())
        .into_iter()
        .listed()
}

/// Words in a row: `a`, `a and b`, `a, b and c`.
pub fn enumerate(words: Vec<String>, joint: &str) -> String {
    list(words, joint)
}
