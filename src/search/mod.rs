//! What can be won or lost by force: material, or mate. No judgement of positions beyond that.
//!
//! Pieces to hundredths of a pawn (`material`), captures on one square (`exchange`), and moves in the order in
//! which they are tried (`order`), with what was found before (`table`), to what a search shows (`gain`)
//! and which men that is (`men`). It is
//! deterministic: the same position and budget give the same answer on every machine.
//!
//! ```
//! use plyline::{lesson::rules::fen, search};
//!
//! // The bishop takes a knight that a pawn guards: 300 for 300, so nothing is won there.
//! let position = fen::position("4k3/8/2p5/3n4/8/8/6B1/4K3 w - - 0 1").expect("a FEN");
//! assert_eq!(search::exchange(&position, shakmaty::Square::D5), 0);
//! ```

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
