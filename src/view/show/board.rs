//! The board as a picture: the pieces, the last move, check, the piece in hand, marks.

use crate::lesson::rules::{landing, origin};
use crate::lesson::{Lesson, reach};
use crate::notation::Comment;
use crate::notation::comment::mark::Mark;
use crate::text::Listed;
use crate::view::words::Words;
use crate::view::{State, wording};
use shakmaty::{Chess, Color, Piece, Position, Square};

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
    /// The square of the piece in hand.
    pub held: Option<Square>,
    /// The squares that it can go to.
    pub reach: Vec<Square>,
    /// What the comment points at.
    pub marks: Vec<Mark>,
}

/// The board of a state.
pub fn board(lesson: &Lesson, state: &State) -> Board {
    let position = state.position(lesson);
    let last = state.last(lesson).and_then(|last| last.played);
    let held = state.hand.held();
    let node = lesson.node(state.node);
    let mut marks = Vec::new();
    match state.asking() {
        _ if !state.aside.is_empty() || state.is_recalled() => {}
        // Its answer and its hint may point too.
        Some(asking) if asking.is_open() => marks = asking.question.prompt.marks(),
        _ => {
            for said in [&node.before[..], &node.comments[..]] {
                for passage in said.iter().flat_map(Comment::passages) {
                    marks.append(&mut passage.marks());
                }
            }
        }
    }
    Board {
        last: last.map(|played| (origin(played), landing(played))),
        held,
        reach: held.map_or_else(Vec::new, |from| reach(position, from)),
        marks,
        ..still(position, state.side)
    }
}

/// The board of a position alone.
fn still(position: &Chess, side: Color) -> Board {
    let king = position.board().king_of(position.turn());
    Board {
        check: king.filter(|_| position.is_check()),
        ..placed(position.board(), side)
    }
}

/// A board with pieces on it and nothing else.
pub(crate) fn placed(board: &shakmaty::Board, side: Color) -> Board {
    let mut pieces = Vec::with_capacity(32);
    for square in from_the_top() {
        if let Some(piece) = board.piece_at(square) {
            pieces.push((square, piece));
        }
    }
    Board {
        pieces,
        side,
        last: None,
        check: None,
        held: None,
        reach: Vec::new(),
        marks: Vec::new(),
    }
}

/// The squares as they are read: a8 to h8, down to h1.
fn from_the_top() -> impl Iterator<Item = Square> {
    Square::ALL.into_iter().map(Square::flip_vertical)
}

/// The cells of the grid in the order in which they lie, with the name of each.
pub fn cells(words: &Words, position: &Chess, board: &Board) -> Vec<(Square, String)> {
    let mut cells: Vec<(Square, String)> = from_the_top()
        .map(|square| {
            let mut name = wording::cell(words, position, square);
            if board.held == Some(square) {
                name.push_str(words.get(crate::view::words::Word::Held));
            } else if board.reach.contains(&square) {
                name.push_str(words.get(crate::view::words::Word::CanGo));
            }
            (square, name)
        })
        .listed();
    if board.side.is_black() {
        cells.reverse();
    }
    cells
}
