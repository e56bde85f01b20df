//! Why pieces cannot go where their own way of moving would lead them: their own side's piece
//! is there, something is in the way, nothing is there to take, or the king forbids it.

use super::king::king_reason;
use super::message::Reason;
use super::phrases::{a, name, stands};
use crate::lesson::rules::square_name;
use crate::text::Code;
use shakmaty::{Bitboard, Chess, Piece, Position, Rank, Role, Square, attacks};

/// The reason that holds for a piece which would reach the square by its own way of moving.
pub(crate) fn piece_reason(
    position: &Chess,
    role: Role,
    meant: &[Square],
    to: Square,
    takes: bool,
    promotion: Option<Role>,
) -> Option<Reason> {
    let board = position.board();
    let turn = position.turn();
    let target = square_name(to);
    if let Some(own) = board.piece_at(to).filter(|piece| piece.color == turn) {
        let message = format!("{} stands on {target} already", a(own.role, turn));
        return Some(Reason::new(Code::OwnPiece, message));
    }
    if role == Role::Pawn {
        return pawn_reason(position, meant, to, takes, promotion);
    }
    let reaching = |occupied: Bitboard| {
        let piece = Piece { color: turn, role };
        meant
            .iter()
            .copied()
            .find(|&from| attacks::attacks(from, piece, occupied).contains(to))
    };
    if let Some(from) = reaching(board.occupied()) {
        return Some(king_reason(position, role, from, to));
    }
    let from = reaching(Bitboard::EMPTY)?;
    let between = attacks::between(from, to) & board.occupied();
    let message = format!(
        "the {} on {} cannot reach {target}: {} in the way",
        name(role),
        square_name(from),
        stands(position, between)
    );
    Some(Reason::new(Code::Blocked, message))
}

fn pawn_reason(
    position: &Chess,
    meant: &[Square],
    to: Square,
    says_take: bool,
    promotion: Option<Role>,
) -> Option<Reason> {
    let board = position.board();
    let turn = position.turn();
    let target = square_name(to);
    let (step, home) = if turn.is_white() { (1, 1) } else { (-1, 6) };
    let mut empty = None;
    for &from in meant {
        let (file, rank) = (from.file() as i32, from.rank() as i32);
        let up = (to.rank() as i32 - rank) * step;
        let pushes =
            !says_take && file == to.file() as i32 && (up == 1 || (up == 2 && rank == home));
        let takes = says_take && attacks::pawn_attacks(turn, from).contains(to);
        if pushes {
            let way = (attacks::between(from, to) | Bitboard::from(to)) & board.occupied();
            return Some(match way.is_empty() {
                true if promotion.is_some() && !matches!(to.rank(), Rank::First | Rank::Eighth) => {
                    let message = format!("a pawn that comes to {target} stays a pawn");
                    Reason::new(Code::CannotReach, message)
                }
                true => king_reason(position, Role::Pawn, from, to),
                false => Reason::new(
                    Code::Blocked,
                    format!(
                        "the pawn on {} cannot move to {target}: {} in the way",
                        square_name(from),
                        stands(position, way)
                    ),
                ),
            });
        }
        if takes && (board.piece_at(to).is_some() || position.pseudo_legal_ep_square() == Some(to))
        {
            return Some(king_reason(position, Role::Pawn, from, to));
        }
        if takes && empty.is_none() {
            empty = Some(from);
        }
    }
    let from = empty?;
    let message = format!(
        "there is nothing on {target} for the pawn on {} to take, and en passant is not possible there",
        square_name(from)
    );
    Some(Reason::new(Code::NothingToTake, message))
}
