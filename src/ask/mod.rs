//! Questions and recall, without a page, a clock or chance: what is asked and what is right, what
//! is said of a move, and when a position comes back. Days and seeds are given by the caller.
//! plyline knows that a move is legal and what the author says of it, not that it is good.

pub mod again;
pub mod asked;
mod fault;
mod order;
mod part;
mod question;
pub mod recall;
pub mod store;
mod tags;
mod verdict;

pub use fault::Fault;
pub use part::{Tally, tally};
pub use question::{Place, Question, Wish};
pub use tags::check_tags;
pub use verdict::{Answer, Verdict, answers, held, verdict};
