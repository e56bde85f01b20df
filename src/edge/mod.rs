//! The shapes that leave the core: what the page's script and the program's JSON share.
//! Nothing inside the core is serializable, so that it stays free to change.

mod answer_events;
mod current;
mod finding;
mod plain;
mod stamp;
mod tally;
mod tree;

pub use answer_events::{AnswerEvent, Answered, Settled, answer_events};
pub use current::{CurrentData, current};
pub use finding::{FindingData, FixData, findings};
pub use plain::{Plain, ToPlain};
pub use stamp::{BAKED_FORMAT, HASH, hashed, stamp};
pub use tally::TallyData;
pub use tree::{
    AskData, LessonData, MarkData, NodeData, OutlineData, Tags, lesson, node, outline, start, tags,
};
