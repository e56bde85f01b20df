//! The validated world: a lesson holds only moves that were legal where they stand.
//! The only folder that asks shakmaty what is legal.

mod explain;
mod locate;
mod outline;
pub mod rules;
mod start;
mod tree;
mod validate;

pub use locate::{LocateError, locate};
pub use outline::{OutlineEntry, outline};
pub use tree::{Lesson, Line, LineId, Node, NodeId, Unread};
pub use validate::validate;
