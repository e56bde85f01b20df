//! Questions, in a lesson and in an element of their own.

pub mod answers;
pub mod ask;
pub mod ask_looks;
pub mod quiz;
pub mod quiz_looks;
pub mod quiz_script;
pub mod quiz_weaker;

use crate::harness::File;

pub const FILES: &[File] = &[
    ("quiz", quiz::CASES),
    ("quiz_looks", quiz_looks::CASES),
    ("quiz_script", quiz_script::CASES),
    ("quiz_weaker", quiz_weaker::CASES),
    ("answers", answers::CASES),
    ("ask", ask::CASES),
    ("ask_looks", ask_looks::CASES),
];
