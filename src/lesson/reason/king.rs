//! Why the king forbids a move: it would be in check, or cannot castle.

use super::message::{Reason, none_reaches};
use super::phrases::{attack, name, piece_at, pieces_at, side, stands};
use crate::lesson::rules::square_name;
use crate::text::{Code, join};
use shakmaty::{Bitboard, CastlingSide, Chess, Color, Position, Role, Square, attacks};

/// Why a move that the piece can make by its own way of moving is not legal: the king.
pub(crate) fn king_reason(position: &Chess, role: Role, from: Square, to: Square) -> Reason {
    let board = position.board();
    let turn = position.turn();
    let target = square_name(to);
    // Every position of a lesson has both kings; `start` refuses others.
    let Some(king) = board.king_of(turn) else {
        return none_reaches(turn, role, "", &join(&["reach ", &target], ""));
    };
    if role == Role::King {
        let without = board.occupied().without(king);
        let attackers = board.attacks_to(to, !turn, without);
        let attack = attack(position, attackers);
        let message = format!("the king cannot go to {target}: {attack} it");
        return Reason::new(Code::KingAttacked, message);
    }
    let checkers = position.checkers();
    let mut after = board.occupied().without(from).with(to);
    let takes_en_passant =
        role == Role::Pawn && from.file() != to.file() && board.piece_at(to).is_none();
    if takes_en_passant {
        after = after.without(Square::from_coords(to.file(), from.rank()));
    }
    let open = board.attacks_to(king, !turn, after) & after & !Bitboard::from(to);
    // A check that was there before is not caused by a pin.
    let Some(opened) = (open & !checkers).first() else {
        let from = pieces_at(position, checkers);
        let message = format!(
            "{} is in check from {from}, and this move does not answer it",
            side(turn)
        );
        return Reason::new(Code::CheckStays, message);
    };
    let opened = piece_at(position, opened);
    // Where the pawn alone could leave its line, it is the two pawns gone that open it.
    let alone = board.attacks_to(king, !turn, board.occupied().without(from)) & !checkers;
    if takes_en_passant && alone.is_empty() {
        let message = format!("taking en passant would leave the king in check from {opened}");
        return Reason::new(Code::CheckStays, message);
    }
    let message = format!(
        "the {} on {} is pinned to the king by {opened}",
        name(role),
        square_name(from)
    );
    Reason::new(Code::Pinned, message)
}

/// The castling that a king's two squares would be, from where it is at the start.
pub(crate) fn castling_squares(
    turn: Color,
    from: Option<Square>,
    to: Square,
) -> Option<CastlingSide> {
    let home = turn.fold_wb(Square::E1, Square::E8);
    let sides = [CastlingSide::KingSide, CastlingSide::QueenSide];
    let mut sides = sides.into_iter().filter(|_| from == Some(home));
    sides.find(|side| Square::from_coords(side.king_to_file(), home.rank()) == to)
}

pub(crate) fn castling_reason(position: &Chess, castling: CastlingSide) -> String {
    let turn = position.turn();
    let board = position.board();
    let word = match castling {
        CastlingSide::KingSide => "on the king's side",
        CastlingSide::QueenSide => "on the queen's side",
    };
    let who = side(turn);
    if !position.castles().has(turn, castling) {
        return format!("{who} cannot castle {word}: king or rook has moved, or is not there");
    }
    if position.is_check() {
        let from = pieces_at(position, position.checkers());
        return format!("{who} is in check from {from} and cannot castle");
    }
    let way = position.castles().path(turn, castling) & board.occupied();
    if !way.is_empty() {
        return format!(
            "{who} cannot castle {word}: {} in the way",
            stands(position, way)
        );
    }
    let king = board.king_of(turn).unwrap_or(Square::E1);
    let landing = Square::from_coords(castling.king_to_file(), king.rank());
    for square in attacks::between(king, landing).with(landing) {
        let attackers = board.attacks_to(square, !turn, board.occupied());
        if !attackers.is_empty() {
            let attacks = attack(position, attackers);
            return format!(
                "{who} cannot castle {word}: {attacks} {}",
                square_name(square)
            );
        }
    }
    format!("{who} cannot castle {word} here")
}
