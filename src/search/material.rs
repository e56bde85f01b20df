//! Material in hundredths of a pawn.

use shakmaty::{Chess, Color, Position, Role};

/// What a piece is worth in hundredths of a pawn; a king nothing, because it is never taken (common practice,
/// no source).
pub fn worth(role: Role) -> i32 {
    match role {
        Role::Pawn => 100,
        Role::Knight | Role::Bishop => 300,
        Role::Rook => 500,
        Role::Queen => 900,
        Role::King => 0,
    }
}

/// The material of the side to move less that of the other.
pub fn balance(position: &Chess) -> i32 {
    balance_of(position, position.turn())
}

/// The material of a side less that of the other.
pub fn balance_of(position: &Chess, side: Color) -> i32 {
    let board = position.board();
    let of = |color: Color| -> i32 {
        let sum = |role: Role| {
            let count = (board.by_role(role) & board.by_color(color)).count() as i32; // at most 64
            count * worth(role)
        };
        Role::ALL.into_iter().map(sum).sum()
    };
    of(side) - of(side.other())
}
