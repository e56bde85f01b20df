//! The checks of a lesson that has been read: for a page, and for an author.
//!
//! A pass is one file: it looks at a lesson and returns findings, and changes none. What only
//! authors see is in `author`, which no page carries; there one function at the end decides which
//! finding explains which.

pub mod attributes;
#[cfg(not(target_family = "wasm"))]
pub mod author;
mod lesson;
pub mod page;
pub mod values;
