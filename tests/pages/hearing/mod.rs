//! What a reader hears, and in which language.

pub mod spoken;
pub mod words;

use crate::harness::File;

pub const FILES: &[File] = &[("spoken", spoken::CASES), ("words", words::CASES)];
