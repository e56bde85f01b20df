//! The validated world: a lesson holds only moves that were legal where they stand.
//! The only folder that asks shakmaty what is legal.

mod attempt;
mod build;
mod compact;
pub mod diagram;
mod export;
mod ids;
mod links;
mod outline;
pub mod place;
pub mod prose;
pub(crate) mod reason;
pub mod rules;
mod transpose;
mod tree;

pub use attempt::{
    Attempt, Tried, attackers, attempt, attempt_typed, attempt_word, enumerate, reach, replay,
};
pub use build::validate::validate;
pub use compact::{Few, SanText};
pub use export::{Incomplete, export};
pub use links::locators;
pub use outline::{OutlineEntry, outline};
pub use place::Place;
pub use place::found::LocateError;
pub use place::hints::{apart, way_out};
pub use place::locate::locate;
pub use place::number::unnumbered;
pub use reason::Reason;
pub use reason::phrases::dots;
pub(crate) use reason::suggest::nearest;
pub use transpose::{find_position, is_transposition, unsaid_transpositions};
pub use tree::{Lesson, Line, LineId, Node, NodeId, Unread};

/// What the unit tests of all folders share.
#[cfg(test)]
pub mod given {
    pub use super::tree::LOOKS;
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
