//! The edits, one file each: what the text becomes, and what is meant by it.

pub mod change;
pub mod comment;
pub mod drop;
pub mod grow;
pub mod lift;
pub mod paste;
pub mod sign;
