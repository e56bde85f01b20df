//! Text and places in it: the source, spans in bytes, lines and columns, and what the
//! checker says about a place. Nothing here knows what a chess move is.
//!
//! ```
//! use plyline::text::Source;
//!
//! let source = Source::new("example.pgn", "1. e4\n1... e5 *");
//! let place = source.place(11); // a byte of the text
//! assert_eq!((place.line, place.column), (2, 6)); // counted from 1
//! ```

mod code;
#[cfg(not(target_family = "wasm"))]
mod edits;
mod finding;
mod kept;
pub mod limits;
#[cfg(not(target_family = "wasm"))]
mod lines;
mod mapping;
#[cfg(not(target_family = "wasm"))]
mod number_of;
mod severity;
mod source;
mod span;
mod strings;
#[cfg(any(not(target_family = "wasm"), feature = "counts", feature = "answers"))]
mod texts;

pub use code::Code;
#[cfg(not(target_family = "wasm"))]
pub use edits::{Edits, shared_ends};
#[cfg(not(target_family = "wasm"))]
pub use finding::Elsewhere;
pub use finding::{Finding, Findings, Fix, Related};
pub use kept::KeptText;
#[cfg(not(target_family = "wasm"))]
pub use lines::{line_end, line_start};
pub use mapping::Mapping;
#[cfg(not(target_family = "wasm"))]
pub use number_of::number_of;
pub use severity::Severity;
pub use source::{LineColumn, Source, not_utf8};
pub use span::Span;
pub use strings::{
    Listed, cut, find, has, is_letter, is_letter_or_digit, is_small, join, quote, run, split,
    typeset,
};
#[cfg(any(not(target_family = "wasm"), feature = "counts", feature = "answers"))]
pub use texts::Texts;
#[cfg(any(not(target_family = "wasm"), feature = "counts", feature = "answers"))]
pub(crate) use texts::table;
