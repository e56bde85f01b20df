//! The validated world: a lesson holds only moves that were legal where they stand.
//! The only folder that asks shakmaty what is legal.

pub mod address;
#[cfg(not(target_family = "wasm"))]
mod amiss;
mod attempt;
pub mod diagram;
mod explain;
mod export;
mod fen;
mod king;
mod language;
mod locate;
pub mod misplaced;
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
mod start;
mod suggest;
mod transpose;
mod tree;
mod validate;
pub mod value;

#[cfg(not(target_family = "wasm"))]
pub use amiss::{look_closer, tells};
pub use attempt::{
    Attempt, Tried, attackers, attempt, attempt_typed, attempt_word, enumerate, reach, replay,
};
pub use export::{Incomplete, export};
pub use locate::{LocateError, locate, unnumbered};
pub use naming::dots;
pub use nowhere::{apart, way_out};
pub use outline::{OutlineEntry, outline};
pub use place::Place;
pub use reason::Reason;
pub use review::names_move;
pub use small::{Few, SanText};
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
