//! What is really played: how often each position of a lesson comes in games, which moves follow, and how
//! those games ended.
//!
//! A lesson to its positions (`positions`), games to what they meet (`reading`, by crate pgn-reader), those that are
//! wanted (`wanted`) to counts that can be added up in any order (`tally`), and those to what a lesson leaves
//! unanswered (`coverage`). No files are read here.

mod apart;
mod coverage;
mod finding;
mod positions;
mod reading;
mod tally;
mod wanted;

pub use crate::counts::{FEW, Predicted, Record, Results, Score, percent, percents, score, shares};
pub use apart::last;
pub use coverage::{Coverage, Missing, Stop, coverage, deepest};
pub use finding::{Game, find};
pub use positions::{Positions, passed, step};
pub use reading::{Damage, Met, Read, Why, read};
pub use tally::{Standing, Tally};
pub use wanted::{Dates, Header, Split, Wanted};
