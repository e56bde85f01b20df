//! What a reader sees of counts: how often a position came in games, how those ended, what was played
//! next, and how far chance alone could have made it so.
//!
//! Numbers to shares and scores (`results`, `shares`, `score`, `ratings`), these to sentences (`words`, `said`) and
//! to a part of a page (`drawn`). Where they come from is no matter here: the page's script hands them in
//! as one text (`given`), the program from a file. In the page all of it is in a module of its own,
//! which only lessons with counts load: so it has a table of words of its own too.

#[cfg(not(target_family = "wasm"))]
mod collection;
mod drawn;
mod given;
mod quoted;
mod ratings;
mod results;
mod said;
mod score;
mod shares;
mod words;

#[cfg(not(target_family = "wasm"))]
pub use collection::Collection;
#[cfg(not(target_family = "wasm"))]
pub use drawn::listed;
pub use drawn::{Drawn, counts, source};
pub use given::given;
pub use quoted::quote;
pub use ratings::{Predicted, Record};
pub use results::{MOST, Results};
pub use said::{Counted, FEW, Next, Of, Part, beside};
pub use score::{Score, score};
pub use shares::{percent, percents, shares};
pub use words::{TEXTS, Word, Words};
