//! FEN read and written, and what is wrong with one that cannot be read, field by field (PGN
//! standard, 16.1.3). The pieces are read by shakmaty; the rest here, because what variants of
//! chess add to it would cost every page a kilobyte.

use crate::text::{quote, run};
use core::num::NonZeroU32;
use core::ops::Range;
use shakmaty::{
    Bitboard, Board, Chess, Color, EnPassantMode, File, Position, Rank, Role, Setup, Square,
};
#[cfg(any(not(target_family = "wasm"), feature = "answers"))]
use shakmaty::{CastlingMode, FromSetup};

/// Reads a FEN. Fields at the end may be missing.
///
/// # Errors
/// The first field that cannot be read, from 0; the pieces where there is a seventh.
pub fn read(fen: &str) -> Result<Setup, usize> {
    let mut setup = Setup::empty();
    let mut at = 0;
    for (_, field) in fields(fen) {
        let field = field.as_bytes();
        let read = match at {
            0 => {
                let pieces = field.strip_suffix(b"/").unwrap_or(field);
                let board = Board::from_ascii_board_fen(pieces);
                board.map(|board| setup.board = board).ok()
            }
            1 => {
                setup.turn = Color::from_white(field == b"w");
                matches!(field, b"w" | b"b").then_some(())
            }
            6.. => return Err(0),
            4 => number(field).map(|number| setup.halfmoves = number),
            5 => number(field)
                .map(|number| setup.fullmoves = NonZeroU32::new(number).unwrap_or(NonZeroU32::MIN)),
            _ if field == b"-" => Some(()),
            2 => rights(&setup.board, field).map(|rights| setup.castling_rights = rights),
            _ => {
                setup.ep_square = Square::from_ascii(field).ok();
                setup.ep_square.map(|_| ())
            }
        };
        if read.is_none() {
            return Err(at);
        }
        at += 1;
    }
    if at > 0 { Ok(setup) } else { Err(0) }
}

/// The position of a FEN, with as many men as it says; none where it cannot be read or cannot be played on.
#[cfg(any(not(target_family = "wasm"), feature = "answers"))]
pub fn position(fen: &str) -> Option<Chess> {
    match Chess::from_setup(read(fen).ok()?, CastlingMode::Standard) {
        Ok(position) => Some(position),
        Err(error) => error.ignore_too_much_material().ok(),
    }
}

/// A number, at most the greatest there is.
fn number(field: &[u8]) -> Option<u32> {
    let mut number = 0_u32;
    for byte in field {
        let digit = char::from(*byte).to_digit(10)?;
        number = number.saturating_mul(10).saturating_add(digit);
    }
    Some(number)
}

/// The rooks that may castle: the outermost of a side, or that of a file.
fn rights(board: &Board, field: &[u8]) -> Option<Bitboard> {
    let mut rights = Bitboard::EMPTY;
    for byte in field {
        let color = Color::from_white(byte.is_ascii_uppercase());
        let home = color.backrank();
        let there = board.by_color(color) & (board.rooks() | board.kings()) & home;
        let letter = char::from(byte.to_ascii_lowercase());
        let (outermost, file) = match letter {
            'k' => (there.last(), File::H),
            'q' => (there.first(), File::A),
            _ => (None, File::from_char(letter)?),
        };
        let rook = outermost.filter(|square| board.rooks().contains(*square));
        rights.add(rook.unwrap_or_else(|| Square::from_coords(file, home)));
    }
    let few = |color: Color| (rights & color.backrank()).count() <= 2;
    Color::ALL.into_iter().all(few).then_some(rights)
}

/// All six fields of a position.
pub fn write(position: &Chess, mode: EnPassantMode) -> String {
    let setup = position.to_setup(mode);
    let mut text = String::new();
    for rank in Rank::ALL.into_iter().rev() {
        let mut free = 0;
        for file in File::ALL {
            let piece = setup.board.piece_at(Square::from_coords(file, rank));
            free += u8::from(piece.is_none());
            if free > 0 && (piece.is_some() || file == File::H) {
                text.push(char::from(b'0' + free));
                free = 0;
            }
            text.extend(piece.map(|piece| piece.char()));
        }
        text.push(if rank == Rank::First { ' ' } else { '/' });
    }
    text.push(setup.turn.char());
    text.push(' ');
    for (right, letter) in [
        (Square::H1, 'K'),
        (Square::A1, 'Q'),
        (Square::H8, 'k'),
        (Square::A8, 'q'),
    ] {
        if setup.castling_rights.contains(right) {
            text.push(letter);
        }
    }
    if setup.castling_rights.is_empty() {
        text.push('-');
    }
    let beside = setup
        .ep_square
        .map_or("-".to_owned(), super::square::square_name);
    let (halves, number) = (setup.halfmoves, setup.fullmoves);
    text.push_str(&format!(" {beside} {halves} {number}"));
    text
}

/// What is wrong in a FEN, and which bytes of it.
pub struct Slip {
    /// A sentence that names the field.
    pub message: String,
    /// The field; of the pieces the rank, where it is one rank. None if nothing is there.
    pub place: Option<Range<usize>>,
}

/// What is wrong with the first field of a FEN that cannot be read, from 0.
pub fn slip(fen: &str, at: usize) -> Slip {
    let field = fields(fen).get(at).copied();
    let (number, name, wanted) = match at {
        1 => ("second", "side to move", "w or b"),
        2 => ("third", "right to castle", "- or some of KQkq"),
        3 => ("fourth", "en passant square", "- or a square"),
        4 => ("fifth", "half-move clock", "a number"),
        5 => ("sixth", "move number", "a number"),
        _ => {
            return match fields(fen).first().copied() {
                Some((from, board)) => board_slip(from, board),
                None => Slip {
                    message: "this FEN is empty".to_owned(),
                    place: None,
                },
            };
        }
    };
    let Some((from, written)) = field else {
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

/// The fields of a FEN, and where each begins. `_` stands for a space where none may be.
pub fn fields(fen: &str) -> Vec<(usize, &str)> {
    pieces(fen, 0, [b' ', b'_'])
}

/// The pieces of a text between separators, but for empty ones, and where each begins.
fn pieces(text: &str, from: usize, [one, other]: [u8; 2]) -> Vec<(usize, &str)> {
    let mut list = Vec::new();
    let mut at = 0;
    while at < text.len() {
        let rest = &text[at..];
        let piece = &rest[..run(rest, |byte| byte != one && byte != other)];
        if !piece.is_empty() {
            list.push((from + at, piece));
        }
        at += piece.len() + 1;
    }
    list
}

/// The pieces, rank by rank from the eighth.
fn board_slip(from: usize, board: &str) -> Slip {
    let whole = Some(from..from + board.len());
    let count = 1 + board.bytes().filter(|&byte| byte == b'/').count();
    if count != 8 {
        let message =
            format!("the pieces of this FEN stand on {count} ranks, and a board has eight");
        return Slip {
            message,
            place: whole,
        };
    }
    for (number, (at, rank)) in (1..=8).rev().zip(pieces(board, from, [b'/'; 2])) {
        let place = Some(at..at + rank.len());
        // `~` after a piece says that it was a pawn.
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

#[cfg(test)]
mod tests {
    use super::*;
    use shakmaty::fen::Fen;
    use shakmaty::{CastlingMode, FromSetup};

    #[test]
    fn a_fen_is_read_and_written_as_by_shakmaty() {
        for text in [
            "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
            "r3k2r/8/8/3pP3/8/8/8/R3K2R w HAk d6 12 40",
            "4k2r/8/8/8/8/8/8/4K2R_b_Kk_-_4294967299_0",
            "4k3/8/8/8/8/8/8/4K3/ b",
            "4k3/8/8/8/8/8/8/4K3",
        ] {
            let own = read(text).expect("a FEN");
            let wanted: Fen = text.parse().expect("a FEN");
            let mut wanted = wanted.into_setup();
            wanted.pockets = None; // of other chess
            assert_eq!(own, wanted, "{text}");
            let position = Chess::from_setup(own, CastlingMode::Standard).expect("a position");
            for mode in [EnPassantMode::Legal, EnPassantMode::Always] {
                let wanted = Fen::from_position(&position, mode).to_string();
                assert_eq!(write(&position, mode), wanted);
            }
        }
    }

    #[test]
    fn the_field_that_cannot_be_read_is_named() {
        let board = "4k3/8/8/8/8/8/8/4K3";
        for (text, field) in [
            ("", 0),
            ("4k3/8/8 w", 0),
            ("4k3/8/8/8/8/8/8/4K3[Q] w", 0),
            (&format!("{board} x"), 1),
            (&format!("{board} w KX"), 2),
            (&format!("{board} w ABH"), 2),
            (&format!("{board} w - e9"), 3),
            (&format!("{board} w - - +3"), 4),
            (&format!("{board} w - - 0 a"), 5),
            (&format!("{board} w - - 0 1 x"), 0),
        ] {
            assert_eq!(read(text), Err(field), "{text}");
        }
    }
}
