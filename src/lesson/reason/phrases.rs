//! Pieces, squares and sides in the words of a sentence.

use crate::lesson::rules::square_name;
use crate::text::{Listed, join};
use shakmaty::{Bitboard, Chess, Color, Position, Role, Square};

pub(crate) fn side(color: Color) -> &'static str {
    if color.is_white() { "White" } else { "Black" }
}

/// The dots after the number of a side's move.
pub fn dots(turn: Color) -> &'static str {
    if turn.is_white() { "." } else { "..." }
}

pub(crate) fn name(role: Role) -> &'static str {
    match role {
        Role::Pawn => "pawn",
        Role::Knight => "knight",
        Role::Bishop => "bishop",
        Role::Rook => "rook",
        Role::Queen => "queen",
        Role::King => "king",
    }
}

pub(crate) fn coloured(color: Color, role: Role) -> String {
    let colour = if color.is_white() { "white" } else { "black" };
    format!("{colour} {}", name(role))
}

pub(crate) fn a(role: Role, color: Color) -> String {
    match role {
        Role::King | Role::Queen => format!("the {}", coloured(color, role)),
        _ => format!("a {}", coloured(color, role)),
    }
}

pub(crate) fn piece_at(position: &Chess, square: Square) -> String {
    let role = position.board().role_at(square).map_or("piece", name);
    format!("the {role} on {}", square_name(square))
}

pub(crate) fn pieces_at(position: &Chess, squares: Bitboard) -> String {
    let pieces = squares.into_iter().map(|square| piece_at(position, square));
    list(pieces.listed(), "and")
}

pub(crate) fn stands(position: &Chess, squares: Bitboard) -> String {
    let verb = if squares.count() == 1 {
        "stands"
    } else {
        "stand"
    };
    format!("{} {verb}", pieces_at(position, squares))
}

pub(crate) fn attack(position: &Chess, squares: Bitboard) -> String {
    let verb = if squares.count() == 1 {
        "attacks"
    } else {
        "attack"
    };
    format!("{} {verb}", pieces_at(position, squares))
}

pub(crate) fn many(count: usize, role: Role) -> String {
    let number = match count {
        2 => "two",
        3 => "three",
        4 => "four",
        _ => "several",
    };
    format!("{number} {}s", name(role))
}

pub(crate) fn list(mut words: Vec<String>, joint: &str) -> String {
    let last = words.pop().unwrap_or_default();
    match words.is_empty() {
        true => last,
        false => format!("{} {joint} {last}", join(&words, ", ")),
    }
}
