//! The number of a move as it is written on the page.

use shakmaty::{Chess, Position};

/// The number before a move from a position: White's always, Black's where it is asked for.
pub(crate) fn number(before: &Chess, always: bool) -> Option<String> {
    let number = before.fullmoves();
    match (before.turn().is_white(), always) {
        (true, _) => Some(format!("{number}.")),
        (false, true) => Some(format!("{number}\u{2026}")),
        (false, false) => None,
    }
}
