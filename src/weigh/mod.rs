//! The claims of a lesson against what can be computed: moves that lose material or are mated by force, chances
//! that are passed over, refutations that do not refute, signs and words against the material.
//!
//! The positions of a lesson and what is played there (`spots`), what is lost or to be had at each (`force`),
//! what the author says of it (`words`), and what there is to say (`lesson`, `marked`, `signs`, `claims`, `tell`). What is
//! said of a position is what a search shows, and how far it searched. What an engine
//! says otherwise than the author is in `disputed`, by its scores (`score`).

mod claims;
mod disputed;
mod force;
mod lesson;
mod marked;
mod men;
mod signs;
mod spots;
mod tell;
mod words;

pub use disputed::{Judge, disputed, positions};
pub use lesson::{Weighed, weigh};
pub use tell::Told;
