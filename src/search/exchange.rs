//! What captures on one square come to.

use super::material::worth;
use crate::lesson::rules::after;
use shakmaty::{Chess, Move, MoveList, Position, Role, Square};

/// What the side to move wins at most by capturing on a square, in hundredths of a pawn, where both sides
/// capture there as long as they gain by it: 0 where no capture gains. Only legal captures count, so a pinned
/// piece takes nothing and a king nothing that is guarded; a pawn that promotes as it takes is worth what it
/// becomes.
pub fn exchange(position: &Chess, square: Square) -> i32 {
    best(position, square, 0, i32::MAX)
}

// What is won here, not below `least`, which can be had otherwise; where it comes to `enough`, the other side
// does not let it come to this.
fn best(position: &Chess, square: Square, least: i32, enough: i32) -> i32 {
    let mut captures = captures_on(position, square);
    // The least piece first: it most often is the best that can be done.
    captures.sort_by_key(worth_of_mover);
    let mut best_yet = least.max(0);
    for played in captures {
        let won = taken(&played);
        let back = best(
            &after(position, played),
            square,
            (won - enough).max(0),
            (won - best_yet).max(0),
        );
        best_yet = best_yet.max(won - back);
        if best_yet >= enough {
            break;
        }
    }
    best_yet
}

/// The legal captures that land on a square.
pub fn captures_on(position: &Chess, square: Square) -> MoveList {
    let mut captures = position.capture_moves();
    captures.retain(|it| it.to() == square);
    captures
}

fn worth_of_mover(played: &Move) -> i32 {
    match played.role() {
        Role::King => i32::MAX,
        role => worth(role),
    }
}

/// What a move takes, with what a pawn becomes by it.
pub(super) fn taken(played: &Move) -> i32 {
    let becomes = |role: Role| worth(role) - worth(Role::Pawn);
    played.capture().map_or(0, worth) + played.promotion().map_or(0, becomes)
}
