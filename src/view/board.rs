//! The board as a picture: what stands where, the last move, check.

use super::State;
use crate::lesson::Lesson;
use crate::lesson::rules::{landing, origin};
use shakmaty::{Color, Piece, Position, Square};

/// One board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Board {
    /// The pieces, a8 first, h1 last.
    pub pieces: Vec<(Square, Piece)>,
    /// The side that is below.
    pub side: Color,
    /// The two squares of the last move.
    pub last: Option<(Square, Square)>,
    /// The square of a king in check.
    pub check: Option<Square>,
}

/// The board of a state.
pub fn board(lesson: &Lesson, state: &State) -> Board {
    let node = lesson.node(state.node);
    let position = &node.position;
    let mut pieces = Vec::with_capacity(32);
    for rank in shakmaty::Rank::ALL.into_iter().rev() {
        for file in shakmaty::File::ALL {
            let square = Square::from_coords(file, rank);
            if let Some(piece) = position.board().piece_at(square) {
                pieces.push((square, piece));
            }
        }
    }
    let king = position.board().king_of(position.turn());
    Board {
        pieces,
        side: state.side,
        last: node.played.map(|played| (origin(played), landing(played))),
        check: king.filter(|_| position.is_check()),
    }
}
