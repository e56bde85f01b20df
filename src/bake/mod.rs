//! Baking: a page as a generator made it becomes one that is complete without script, by changes at
//! places; every byte between them stays.
//!
//! What an earlier run wrote is taken out (`clean`), the page is read as it is checked (`post`), each
//! element becomes what the script would draw first (`drawn`) and a plain form that needs nothing
//! (`plain`), and both are put into the page (`page`, `edits`). No files are read or written here.

mod alone;
mod also;
mod clean;
mod drawn;
mod entry;
mod feed;
mod head;
mod links;
mod numbers;
mod page;
mod pictures;
mod plain;
mod series;
mod times;

pub use also::{Meetings, Posted, posted};
pub use clean::{Newer, clean};
pub use entry::entry;
pub use feed::{Fault, FeedError, Part, Written, parts, rewritten};
pub use head::Script;
pub use numbers::Numbers;
pub use page::{Baked, Setting, page};
pub use pictures::{Form, Picture, Pictures};
pub use series::{Member, OF};
pub use times::Heard;

/// The attribute of everything that is written here, so that the next run can take it out. It has no
/// value: with one, it is the author's.
pub const MARK: &str = "data-plyline";

/// The attribute of notation that is written into an element about a lesson of another page: the script
/// reads it as the element's own.
pub const FROM: &str = "data-plyline-from";

/// The attribute of a lesson that meets others of its series: the length of its notation, and what is said
/// of them at which places of it, the last first. Lengths are in units of UTF-16, as scripts count.
pub const ALSO: &str = "data-plyline-also";

/// The attribute of an element that has been baked: format and hash.
pub const BAKED: &str = "data-plyline-baked";
