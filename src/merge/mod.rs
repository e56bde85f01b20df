//! Several lessons as one: by position, so that what two of them say of one position stands in one place, and with the
//! words of all, equal ones once.

mod joined;

pub use joined::{Merged, merge};

use crate::lesson::Lesson;

/// A lesson to merge, and what its file is called.
#[derive(Clone, Copy)]
pub struct Given<'a> {
    pub name: &'a str,
    pub lesson: &'a Lesson,
}

/// A position at which lessons recommend different moves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Differs {
    /// The moves from the start.
    pub at: Vec<String>,
    /// Each lesson's file and its moves.
    pub choices: Vec<(String, Vec<String>)>,
}
