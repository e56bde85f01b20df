//! What is wrong with a FEN that cannot be read, field by field (PGN standard, 16.1.3).

use crate::text::quote;
use core::ops::Range;
use shakmaty::Role;
use shakmaty::fen::ParseFenError;

/// What is wrong in a FEN, and which bytes of it.
pub struct Slip {
    /// A sentence that names the field.
    pub message: String,
    /// The field; of the pieces the rank, where it is one rank. None where nothing stands there.
    pub place: Option<Range<usize>>,
}

/// The first thing that is wrong in a FEN.
pub fn slip(fen: &str, error: &ParseFenError) -> Slip {
    let field = |at: usize| pieces(fen, 0, is_gap).nth(at);
    let (at, number, name, wanted) = match error {
        ParseFenError::InvalidTurn => (1, "second", "side to move", "w or b"),
        ParseFenError::InvalidCastling => (2, "third", "right to castle", "- or some of KQkq"),
        ParseFenError::InvalidEpSquare => (3, "fourth", "en passant square", "- or a square"),
        ParseFenError::InvalidHalfmoveClock => (4, "fifth", "half-move clock", "a number"),
        ParseFenError::InvalidFullmoves => (5, "sixth", "move number", "a number"),
        _ => {
            return match field(0) {
                Some((from, board)) => board_slip(from, board),
                None => Slip {
                    message: "this FEN is empty".to_owned(),
                    place: None,
                },
            };
        }
    };
    let Some((from, written)) = field(at) else {
        return Slip {
            message: format!("this FEN has no {name}"),
            place: None,
        };
    };
    Slip {
        message: format!(
            "\u{201c}{}\u{201d} is no {name}: the {number} field of a FEN is {wanted}",
            quote(written)
        ),
        place: Some(from..from + written.len()),
    }
}

fn is_gap(letter: char) -> bool {
    letter == ' ' || letter == '_'
}

/// The pieces of a text between separators, but for empty ones, and where each begins.
fn pieces(
    text: &str,
    from: usize,
    parts: impl Fn(char) -> bool,
) -> impl Iterator<Item = (usize, &str)> {
    let mut at = from;
    text.split_inclusive(move |letter| parts(letter))
        .map(move |piece| {
            let begin = at;
            at += piece.len();
            (begin, piece.trim_end_matches(['/', ' ', '_']))
        })
        .filter(|(_, piece)| !piece.is_empty())
}

/// The pieces, rank by rank from the eighth.
fn board_slip(from: usize, board: &str) -> Slip {
    let whole = Some(from..from + board.len());
    let count = board.split('/').count();
    if count != 8 {
        let message =
            format!("the pieces of this FEN stand on {count} ranks, and a board has eight");
        return Slip {
            message,
            place: whole,
        };
    }
    for (number, (at, rank)) in (1..=8)
        .rev()
        .zip(pieces(board, from, |letter| letter == '/'))
    {
        let place = Some(at..at + rank.len());
        // `~` behind a piece says that it was a pawn.
        let letters = || rank.chars().filter(|&letter| letter != '~');
        let is_known =
            |letter: char| matches!(letter, '1'..='8') || Role::from_char(letter).is_some();
        if let Some(unknown) = letters().find(|&letter| !is_known(letter)) {
            let message = format!(
                "{} in rank {number} of this FEN is no piece and no number of empty squares",
                quote(&unknown.to_string())
            );
            return Slip { message, place };
        }
        let squares: u32 = letters()
            .map(|letter| letter.to_digit(10).unwrap_or(1))
            .sum();
        if squares != 8 {
            let message = format!(
                "rank {number} of this FEN, {}, has {squares} squares, and a rank has eight",
                quote(rank)
            );
            return Slip { message, place };
        }
    }
    Slip {
        message: "the pieces of this FEN cannot be read".to_owned(),
        place: whole,
    }
}
