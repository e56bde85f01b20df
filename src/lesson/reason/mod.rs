//! Why a move cannot be played, in chess terms, computed from the position. The same reasons
//! serve findings in a text and a reader who tries the move on a board.

pub mod explain;
mod king;
mod message;
pub mod phrases;
mod piece;
pub mod suggest;

use self::king::{castling_reason, castling_squares};
pub use self::message::Reason;
use self::message::none_reaches;
use self::phrases::{coloured, list, many, name, piece_at, pieces_at, side};
use self::piece::piece_reason;
use super::rules::{Refusal, landing, origin, san_of, square_name};
use crate::notation::word::san::{Kind, Shape};
use crate::text::{Code, Listed, join};
use shakmaty::{Bitboard, Chess, File, Move, Piece, Position, Rank, Role, Square};

/// Most moves that a help lists; a queen has up to 27, and nobody reads that.
const LISTED: usize = 12;

/// The reason for a refusal; `word` is the move as it was written, without signs.
pub fn reason(position: &Chess, shape: &Shape, refusal: &Refusal, word: &str) -> Reason {
    if position.legal_moves().is_empty() {
        let how = if position.is_check() {
            "is checkmated"
        } else {
            "is stalemated"
        };
        let message = format!("{} {how}; the game is over", side(position.turn()));
        return Reason::new(Code::GameOver, message);
    }
    match (refusal, shape.kind) {
        (Refusal::Ambiguous(moves), _) => ambiguous(position, moves, word),
        (Refusal::PromotionMissing, _) => {
            let message = format!("{word} does not say what the pawn becomes");
            Reason {
                help: Some(format!("write {word}=Q, or =R, =B, =N")),
                ..Reason::new(Code::PromotionMissing, message)
            }
        }
        (Refusal::Impossible, Kind::Pass) => {
            let from = pieces_at(position, position.checkers());
            let message = format!(
                "{} is in check from {from} and cannot pass",
                side(position.turn())
            );
            Reason::new(Code::PassInCheck, message)
        }
        (Refusal::Impossible, Kind::Castle(castling)) => {
            Reason::new(Code::CannotCastle, castling_reason(position, castling))
        }
        (Refusal::Impossible, Kind::Piece { .. }) => impossible(position, shape),
    }
}

fn ambiguous(position: &Chess, moves: &[Move], word: &str) -> Reason {
    // If a resolved shape means several moves, they are moves of one kind of piece.
    let role = moves.first().map_or(Role::Pawn, |m| m.role());
    let from = moves.iter().map(|&m| square_name(origin(m)));
    let from = list(from.listed(), "and");
    let message = format!("{} can play {word}: from {from}", many(moves.len(), role));
    let written = moves.iter().map(|&m| san_of(position, m)).listed();
    let help = Some(format!("write {}", list(written, "or")));
    Reason {
        help,
        ..Reason::new(Code::Ambiguous, message)
    }
}

fn impossible(position: &Chess, shape: &Shape) -> Reason {
    let Kind::Piece {
        role,
        file,
        rank,
        to,
        promotion,
    } = shape.kind
    else {
        return Reason::new(Code::CannotReach, String::new()); // called for pieces alone
    };
    let turn = position.turn();
    let board = position.board();
    if promotion.is_some() && role.is_some_and(|role| role != Role::Pawn) {
        return Reason::new(
            Code::CannotReach,
            "only a pawn becomes another piece".to_owned(),
        );
    }
    if matches!(promotion, Some(Role::King | Role::Pawn)) {
        let message = "a pawn becomes a queen, a rook, a bishop or a knight".to_owned();
        return Reason::new(Code::CannotReach, message);
    }
    let from = file
        .zip(rank)
        .map(|(file, rank)| Square::from_coords(file, rank));
    let standing = from.and_then(|from| board.piece_at(from));
    let by_square = role.is_none();
    let role = match (role, standing) {
        (Some(role), _) => role,
        (None, Some(piece)) if piece.color == turn => piece.role,
        (None, Some(piece)) => {
            let message = format!(
                "{} is to move, and {} is {}'s",
                side(turn),
                piece_at(position, from.unwrap_or(to)),
                side(piece.color)
            );
            return Reason::new(Code::WrongSide, message);
        }
        (None, None) => {
            let from = from.map(square_name).unwrap_or_default();
            return Reason::new(Code::NoSuchPiece, format!("no piece stands on {from}"));
        }
    };
    if by_square
        && role == Role::King
        && let Some(castling) = castling_squares(turn, from, to)
    {
        return Reason::new(Code::CannotCastle, castling_reason(position, castling));
    }
    let ours = board.by_piece(Piece { color: turn, role });
    let meant: Vec<Square> = ours
        .into_iter()
        .filter(|square| file.is_none_or(|file| file == square.file()))
        .filter(|square| rank.is_none_or(|rank| rank == square.rank()))
        .listed();
    // A pawn takes where its word says so, by a sign or by another file: `d5` alone is a step.
    let takes = shape.capture || file.is_some_and(|file| file != to.file());
    let mut reason = if ours.is_empty() {
        Reason::new(
            Code::NoSuchPiece,
            format!("{} has no {}", side(turn), name(role)),
        )
    } else if meant.is_empty() {
        let (piece, place) = (coloured(turn, role), place(file, rank));
        Reason::new(Code::NoSuchPiece, format!("no {piece} stands {place}"))
    } else if let Some(reason) = piece_reason(position, role, &meant, to, takes, promotion) {
        reason
    } else {
        match &meant[..] {
            // `bc4` and `Nb1f3` mean one piece, whatever the others can do.
            [from] if file.is_some() || rank.is_some() => {
                let (piece, to) = (piece_at(position, *from), square_name(to));
                Reason::new(Code::CannotReach, format!("{piece} cannot reach {to}"))
            }
            _ => none_reaches(turn, role, &place(file, rank), &goes(position, role, to)),
        }
    };
    reason.help = reachable(position, role, &meant, ours);
    reason
}

/// Where its piece stands, as the word says; empty if it does not say.
fn place(file: Option<File>, rank: Option<Rank>) -> String {
    match (file, rank) {
        (Some(file), Some(rank)) => {
            join(&["on ", &square_name(Square::from_coords(file, rank))], "")
        }
        (Some(file), None) => format!("on the {}-file", file.char()),
        (None, Some(rank)) => format!("on rank {}", rank.char()),
        (None, None) => String::new(),
    }
}

/// What a piece would do: `reach f3`. Where a pawn of the side can take there, a word without a
/// file means a step all the same.
fn goes(position: &Chess, role: Role, to: Square) -> String {
    let goes_there = |m: &Move| m.role() == role && m.to() == to;
    let how = match role == Role::Pawn && position.legal_moves().iter().any(goes_there) {
        true => "step to ",
        false => "reach ",
    };
    join(&[how, &square_name(to)], "")
}

/// Where the pieces that were meant can go; all pieces of that kind where none was.
fn reachable(position: &Chess, role: Role, meant: &[Square], ours: Bitboard) -> Option<String> {
    let all: Vec<Square> = ours.into_iter().listed();
    let asked = if meant.is_empty() { &all[..] } else { meant };
    let legal = position.legal_moves();
    let mut sentences = Vec::new();
    // Naming the moves of all eight pawns helps nobody.
    if role == Role::Pawn && asked.len() > 2 {
        return None;
    }
    for &from in asked {
        let mut moves = Vec::new();
        for &played in &legal {
            let to = square_name(landing(played));
            // A promotion is four moves to one square.
            if played.from() == Some(from) && moves.last() != Some(&to) {
                moves.push(to);
            }
        }
        let piece = format!("the {} on {}", name(role), square_name(from));
        sentences.push(match moves.len() {
            0 => format!("{piece} has no legal move"),
            count if count > LISTED => format!("{piece} has {count} legal moves"),
            _ => format!("{piece} can go to {}", list(moves, "and")),
        });
    }
    (!sentences.is_empty()).then(|| join(&sentences, "; "))
}

#[cfg(test)]
mod tests {
    use super::super::rules;
    use super::*;
    use crate::notation::Letters;
    use crate::notation::word::san;
    use shakmaty::{CastlingMode, fen::Fen};

    /// What is said about a word in a position.
    fn said(fen: &str, word: &str) -> String {
        let fen: Fen = fen.parse().expect("a test's FEN");
        let position: Chess = fen
            .into_position(CastlingMode::Standard)
            .expect("a test's FEN");
        let shape = san::read(word, Letters::ENGLISH)
            .shape
            .expect("a test's word");
        let refusal = rules::resolve(&position, &shape).expect_err("a test's bad move");
        reason(&position, &shape, &refusal, word).message
    }

    const START: &str = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";

    #[test]
    fn each_reason_is_the_true_one() {
        let cases = [
            (START, "Nh4", "no white knight can reach h4"),
            (START, "Ke4", "the white king cannot reach e4"),
            (START, "Ne2", "a white pawn stands on e2 already"),
            (
                START,
                "Bb5",
                "the bishop on f1 cannot reach b5: the pawn on e2 stands in the way",
            ),
            (
                START,
                "exd3",
                "there is nothing on d3 for the pawn on e2 to take, and en passant is not possible there",
            ),
            (
                "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR w KQkq - 0 2",
                "d5",
                "no white pawn can step to d5",
            ),
            (
                START,
                "e1g1",
                "White cannot castle on the king's side: the bishop on f1 and the knight on g1 stand in the way",
            ),
            (
                "6q1/3P4/4K3/8/7Q/4k3/8/8 w - - 3 93",
                "d8=Q",
                "White is in check from the queen on g8, and this move does not answer it",
            ),
            (START, "e5", "no white pawn can reach e5"),
            (
                START,
                "O-O",
                "White cannot castle on the king's side: the bishop on f1 and the knight on g1 stand in the way",
            ),
            (START, "d5d6", "no piece stands on d5"),
            (
                "4k3/3n4/8/1B6/8/8/8/4K3 b - - 0 1",
                "Nf6",
                "the knight on d7 is pinned to the king by the bishop on b5",
            ),
            (
                "4k3/8/8/8/8/8/4q3/4K2R w K - 0 1",
                "Rh2",
                "White is in check from the queen on e2, and this move does not answer it",
            ),
            (
                "4k3/8/8/8/8/8/q7/4K2R w K - 0 1",
                "Ke2",
                "the king cannot go to e2: the queen on a2 attacks it",
            ),
            (
                "4k3/8/8/8/2b5/8/8/4K2R w K - 0 1",
                "O-O",
                "White cannot castle on the king's side: the bishop on c4 attacks f1",
            ),
            (
                "4k3/8/8/8/8/8/8/4K2R w - - 0 1",
                "O-O",
                "White cannot castle on the king's side: king or rook has moved, or is not there",
            ),
            (
                "4k3/P7/8/8/8/8/8/4K3 w - - 0 1",
                "a8",
                "a8 does not say what the pawn becomes",
            ),
            (
                "4k3/8/8/8/8/8/3R4/R3K3 w - - 0 1",
                "Ra2",
                "two rooks can play Ra2: from a1 and d2",
            ),
            (START, "bc4", "the pawn on b2 cannot reach c4"),
            (START, "b2c4", "the pawn on b2 cannot reach c4"),
            (START, "Nb1f3", "the knight on b1 cannot reach f3"),
            (START, "Nbf3", "the knight on b1 cannot reach f3"),
            (START, "a2e4", "the pawn on a2 cannot reach e4"),
            (
                "4k3/8/8/8/R6R/8/1R6/4K3 w - - 0 1",
                "R4b1",
                "no white rook on rank 4 can reach b1",
            ),
            (
                "3R4/8/4k3/8/3R3R/8/8/4K3 w - - 0 1",
                "Rdh1",
                "no white rook on the d-file can reach h1",
            ),
            ("4k3/8/8/8/8/8/8/4K3 w - - 0 1", "Qd4", "White has no queen"),
        ];
        for (fen, word, wanted) in cases {
            assert_eq!(said(fen, word), wanted);
        }
    }
}
