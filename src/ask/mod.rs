//! Questions and recall, without a page, a clock or chance: what is asked and what is right, the
//! verdict on a move, and when a position comes back. Days and seeds are given by the caller.
//! plyline knows that a move is legal and what the author says of it, not that it is good.

pub mod account;
mod carried;
pub mod open_question;
mod order;
pub mod progress_json;
mod question;
mod question_error;
pub mod recall;
pub mod schedule;
mod scope;
mod verdict;
mod wrong_answer;

pub use question::{DefaultPosition, Question, Wish, names_move};
pub use question_error::Fault;
pub use scope::{Tally, tally};
pub use verdict::{Answer, Verdict, answers, held, verdict};
pub use wrong_answer::{WrongAnswer, why_not, wrong_answers};
