//! What a reader sees: contrast, room, paper, and the judge of accessibility.

pub mod access;
pub mod assessed;
pub mod at_board;
pub mod contrast;
pub mod counts;
pub mod looks;
pub mod printed;
pub mod sizes;

use crate::harness::File;

pub const FILES: &[File] = &[
    ("access", access::CASES),
    ("assessed", assessed::CASES),
    ("at_board", at_board::CASES),
    ("printed", printed::CASES),
    ("contrast", contrast::CASES),
    ("counts", counts::CASES),
    ("sizes", sizes::CASES),
];
