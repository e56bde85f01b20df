//! Moves written one after another with their numbers.

use super::rules::{after, san_of};
use shakmaty::{Chess, Color, Move, Position};

/// Legal moves from a position in English SAN.
pub fn sans(start: &Chess, moves: &[Move]) -> Vec<String> {
    let mut position = start.clone();
    let mut sans = Vec::new();
    for &played in moves {
        sans.push(san_of(&position, played));
        position = after(&position, played);
    }
    sans
}

/// Moves of a line with the numbers of those of White, and of the first: `1.e4 c5 2.Nf3`, `6...Qd4 7.Nf3`. The first is
/// that of a side with a number; `dots` come after the number of a move of Black.
pub fn numbered<S: AsRef<str>>(
    first: (Color, u32),
    dots: &str,
    sans: impl IntoIterator<Item = S>,
) -> String {
    let (mut turn, mut number) = first;
    let mut text = String::new();
    for san in sans {
        let is_first = text.is_empty();
        if !is_first {
            text.push(' ');
        }
        if turn.is_white() || is_first {
            text.push_str(&number.to_string());
            text.push_str(if turn.is_white() { "." } else { dots });
        }
        text.push_str(san.as_ref());
        number += u32::from(turn.is_black());
        turn = !turn;
    }
    text
}

/// The side that is to move, and the number of its move.
pub fn at_move(position: &Chess) -> (Color, u32) {
    (position.turn(), position.fullmoves().get())
}
