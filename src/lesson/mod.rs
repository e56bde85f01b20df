//! The validated world: a lesson holds only moves that were legal where they stand.
//! The only folder that asks shakmaty what is legal.

pub mod address;
#[cfg(not(target_family = "wasm"))]
mod amiss;
mod attempt;
#[cfg(not(target_family = "wasm"))]
mod brackets;
pub mod diagram;
#[cfg(not(target_family = "wasm"))]
mod earlier;
mod explain;
mod export;
mod fen;
#[cfg(not(target_family = "wasm"))]
mod idle;
mod king;
mod language;
#[cfg(not(target_family = "wasm"))]
mod literal;
mod locate;
pub mod misplaced;
#[cfg(not(target_family = "wasm"))]
mod misspelt;
mod naming;
mod nowhere;
mod numbered;
mod outline;
mod place;
mod play;
pub mod prose;
mod reason;
mod review;
mod roster;
pub mod rules;
mod small;
#[cfg(not(target_family = "wasm"))]
mod standing;
mod start;
mod suggest;
#[cfg(not(target_family = "wasm"))]
mod swallowed;
#[cfg(not(target_family = "wasm"))]
mod telling;
mod transpose;
mod tree;
#[cfg(not(target_family = "wasm"))]
mod unbraced;
#[cfg(not(target_family = "wasm"))]
mod unclosed;
mod validate;

#[cfg(not(target_family = "wasm"))]
pub use amiss::look_closer;
pub use attempt::{
    Attempt, Tried, attackers, attempt, attempt_typed, attempt_word, enumerate, reach, replay,
};
pub use export::{Incomplete, export};
pub use locate::{LocateError, locate, unnumbered};
pub use nowhere::way_out;
pub use outline::{OutlineEntry, outline};
pub use place::Place;
pub use reason::Reason;
pub use review::names_move;
pub use small::{Few, SanText};
#[cfg(not(target_family = "wasm"))]
pub use suggest::nearest;
#[cfg(not(target_family = "wasm"))]
pub use telling::tells;
pub use transpose::{find_position, is_transposition, unsaid_transpositions};
pub use tree::{Lesson, Line, LineId, Node, NodeId, Said, Unread};
pub use validate::validate;

/// What the unit tests of all folders share.
#[cfg(test)]
pub mod given {
    use super::{Lesson, validate};
    use crate::notation::parse;
    use crate::text::Source;

    /// The one lesson of a text.
    pub fn lesson(text: &str) -> Lesson {
        let source = Source::new("a.pgn", text);
        let (syntax, _) = parse(&source);
        let (mut lessons, _) = validate(&source, &syntax);
        lessons.remove(0).expect("a lesson")
    }
}
