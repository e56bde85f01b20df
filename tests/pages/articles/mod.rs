//! What is in the article around a lesson: named moves, references, recaps and diagrams.

pub mod diagram;
pub mod follows;
pub mod generators;
pub mod picture;
pub mod prose;
pub mod recap;
pub mod reference;

use crate::harness::File;

pub const FILES: &[File] = &[
    ("generators", generators::CASES),
    ("diagram", diagram::CASES),
    ("follows", follows::CASES),
    ("picture", picture::CASES),
    ("recap", recap::CASES),
    ("reference", reference::CASES),
    ("prose", prose::CASES),
];
