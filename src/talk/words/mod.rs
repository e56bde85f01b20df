//! From words to sayings: each move that is named, with what the words about it tell.

mod english;
mod language;
mod named;
mod phrases;
mod sayings;
mod token;

pub use language::{Cue, Language};
pub use sayings::{Said, Saying, has_signs, sayings};
pub use phrases::is_at;
pub use token::End;
