//! A reason as a value: its kind, its sentence, its way out.

use super::phrases::coloured;
use crate::text::Code;
use shakmaty::{Color, Role};

/// Why a shape means no legal move, and what could help.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reason {
    /// Which kind of reason.
    pub code: Code,
    /// The reason, a sentence.
    pub message: String,
    /// Where the pieces that were meant can go; a way to write it.
    pub help: Option<String>,
}

impl Reason {
    pub(crate) fn new(code: Code, message: String) -> Reason {
        let help = None;
        Reason {
            code,
            message,
            help,
        }
    }
}

/// That no piece of a kind there, `on the d-file` or anywhere, can do what a word says, `reach f3`.
pub(crate) fn none_reaches(turn: Color, role: Role, place: &str, goes: &str) -> Reason {
    let piece = coloured(turn, role);
    let gap = if place.is_empty() { "" } else { " " };
    let message = match role {
        Role::King => format!("the {piece} cannot {goes}"), // there is one
        _ => format!("no {piece}{gap}{place} can {goes}"),
    };
    Reason::new(Code::CannotReach, message)
}
