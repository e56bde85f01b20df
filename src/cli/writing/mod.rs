//! The commands that write lessons, put them together and tell how they have changed.

pub mod compare;
pub mod merge;
pub mod new;
mod told;
