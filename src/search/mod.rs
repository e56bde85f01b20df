//! What can be won or lost by force: material, or mate. No judgement of positions beyond that.
//!
//! Pieces to hundredths of a pawn (`material`), captures on one square (`exchange`), and moves in the order in
//! which they are tried (`order`), with what was found before (`table`), to what a search shows (`gain`)
//! and which men that is (`men`). It is
//! deterministic: the same position and budget give the same answer on every machine.

mod exchange;
mod gain;
mod material;
mod men;
mod order;
mod table;
mod tree;

pub use exchange::{captures_on, exchange};
pub use gain::{DEEPEST, Deepening, Deepest, Gain, deepest, gain, mate};
pub use material::{balance, balance_of, worth};
pub use men::{Lost, changing, lost};
pub use tree::{Leaf, MATE, MATES, Search, Spent, value};
