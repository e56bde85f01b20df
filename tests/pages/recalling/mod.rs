//! A lesson walked from memory, what is said at the end, and what is kept.

pub mod account;
pub mod recall;
pub mod remember;

use crate::harness::File;

pub const FILES: &[File] = &[
    ("recall", recall::CASES),
    ("account", account::CASES),
    ("remember", remember::CASES),
];
