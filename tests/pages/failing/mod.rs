//! What goes wrong: what is written, what is fetched, what is attacked, and a trap.

pub mod amiss;
pub mod attacks;
pub mod bad_input;
pub mod failures;
pub mod trap;

use crate::harness::File;

pub const FILES: &[File] = &[
    ("bad_input", bad_input::CASES),
    ("trap", trap::CASES),
    ("failures", failures::CASES),
    ("attacks", attacks::CASES),
    ("amiss", amiss::CASES),
];
