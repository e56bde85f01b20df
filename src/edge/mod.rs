//! The shapes that leave the core: what the page's script and the program's JSON share.
//! Nothing inside the core is serializable, so that it stays free to change.

mod current;
mod finding;
mod plain;
mod stamp;
mod told;
mod tree;

pub use current::{CurrentData, current};
pub use finding::{FindingData, FixData, findings};
pub use plain::{Plain, ToPlain};
pub use stamp::{BAKED_FORMAT, stamp};
pub use told::{Told, tell};
pub use tree::{
    AskData, LessonData, MarkData, NodeData, OutlineData, Tags, lesson, node, outline, start, tags,
};
