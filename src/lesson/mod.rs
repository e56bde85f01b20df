//! The validated world: a lesson holds only moves that are legal in their place.
//! The only folder that asks shakmaty what is legal.
//!
//! ```
//! use plyline::{lesson, notation, text::Source};
//!
//! let source = Source::new("example.pgn", "1. e4 e5 (1... c5 2. Nf3) 2. Nf3 Nf6 3. Nd5 *");
//! let (syntax, _) = notation::parse(&source);
//! let (lessons, findings) = lesson::validate(&source, &syntax);
//! let lesson = lessons[0].as_ref().expect("the text holds a game");
//! assert_eq!(lesson.nodes.len(), 1 + 6); // the start, and the moves that are legal
//! assert!(findings.iter().any(|it| it.message.contains("Nd5")));
//! ```

mod attempt;
#[cfg(not(target_family = "wasm"))]
mod beginning;
mod build;
mod compact;
pub mod diagram;
mod export;
mod idea;
mod ids;
mod links;
#[cfg(any(not(target_family = "wasm"), feature = "counts", feature = "answers"))]
mod numbered;
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
#[cfg(not(target_family = "wasm"))]
pub use beginning::beginning;
pub use build::validate::{validate, validate_written};
pub use compact::{Few, SanText};
pub use export::{Incomplete, export};
#[cfg(not(target_family = "wasm"))]
pub use idea::shields;
pub use idea::{Idea, idea, pins, queen_pins, worth};
pub use links::locators;
#[cfg(any(not(target_family = "wasm"), feature = "counts", feature = "answers"))]
pub use numbered::{at_move, numbered, sans};
pub use outline::{OutlineEntry, outline};
pub use place::Place;
pub use place::found::LocateError;
pub use place::hints::{apart, way_out};
pub use place::locate::locate;
pub use place::number::unnumbered;
pub use reason::Reason;
pub use reason::phrases::dots;
pub(crate) use reason::suggest::nearest;
#[cfg(not(target_family = "wasm"))]
pub use rules::{Key as PositionKey, key as position_key};
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

    /// Asserts that twice as many comments which name moves take about twice the work, for each of
    /// these comments: `#` in one stands for the number of the next move. Work is nodes looked at.
    pub fn assert_linear(comments: &[&str], act: impl Fn(&Lesson)) {
        let knights = ["Nf3", "Nf6", "Ng1", "Ng8"];
        let work = |plies: usize, named: &str| {
            let mut text = String::new();
            for ply in 0..plies {
                let said = named.replace('#', &(ply / 2 + 2).to_string());
                text += &format!("{} {{{said}}} (a{}) ", knights[ply % 4], 3 + ply % 2 * 3);
            }
            let lesson = lesson(&(text + "*"));
            let before = LOOKS.get();
            act(&lesson);
            LOOKS.get() - before
        };
        for named in comments {
            let (half, whole) = (work(120, named), work(240, named));
            assert!(
                half > 120 && whole < half * 5 / 2,
                "{named}: {half}, {whole}"
            );
        }
    }
}
