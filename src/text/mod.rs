//! Text and places in it: the source, spans in bytes, lines and columns, and what the
//! checker says about a place. Nothing here knows what a chess move is.

mod code;
mod finding;
mod letter;
pub mod limits;
mod parts;
mod source;
mod span;

pub use code::Code;
pub use finding::{Finding, Findings, Fix, Related, Severity};
pub use letter::{is_letter, is_letter_or_digit, is_small, quote, run};
pub use parts::{Listed, cut, find, has, join, split};
pub use source::{Place, Source, not_utf8};
pub use span::Span;
