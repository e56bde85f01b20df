//! What an engine said of positions, as an author lets readers see it: a number on request, with who computed it and how
//! far, never in place of the author's words.
//!
//! A number (`score`) of a position (`said`) to a sentence and to what is drawn (`drawn`, `words`).

mod drawn;
mod said;
mod score;
mod words;

#[cfg(not(target_family = "wasm"))]
pub use drawn::listed;
pub use drawn::{assessment, from};
pub use said::{Assessment, Collection, Limit, Of, given, limit, sentence};
pub use score::{Bound, Score};
pub use words::{TEXTS, Word, Words};
