//! "What if I just take it?": what a move that the lesson does not hold loses or wins by force, searched in short
//! turns, and said in the reader's language.
//!
//! A line in text (`tried`) to a search of what can be answered to it (`answer`) to sentences (`said`, `words`).

mod answer;
mod said;
mod tried;
mod words;

pub use answer::{Answer, Asked, Comes};
pub use said::{said, shown};
pub use tried::{Aside, aside};
pub use words::{TEXTS, Word, Words};
