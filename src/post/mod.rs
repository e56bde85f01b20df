//! Posts: the lessons, questions, references and prose that stand in files of Markdown and HTML,
//! each with its place in the file. What stands there means the same as on the page that a
//! generator makes of it.
//!
//! Text to elements (`elements`), elements to what is ours (`found`, `prose`), what is read of that
//! (`reading`), and what there is to say of it (`check`, `names`, `fences`, `closed`). No files are read here:
//! whoever asks hands them in.
//!
//! ```
//! use plyline::{post, text::Source};
//!
//! struct Alone; // a post that names nothing in other files
//! impl post::Around for Alone {
//!     fn notation(&self, _: &str) -> Option<Result<String, String>> {
//!         None
//!     }
//!     fn post(&self, _: &str) -> post::Neighbour<'_> {
//!         post::Neighbour::Unknown
//!     }
//! }
//! let post = Source::new("post.md", "A slip:\n\n```pgn\n1. e4 e5 2. Nf4 *\n```\n");
//! let checked = post::check(&post, post::Kind::Markdown, &Alone);
//! assert_eq!(post.place(checked.findings[0].span.from).line, 4);
//! ```

mod anchors;
mod check;
mod closed;
mod elements;
mod fences;
mod found;
mod named;
mod names;
mod numbers;
mod own;
mod placed;
mod prose;
mod read;
mod reading;
mod splice;

pub use self::check::{Post, check, read};
pub use self::elements::{Attribute, Inside, Kind, MARKDOWN, Markup, Node, Text, Tree};
pub use self::found::{Found, is_fence_of, tags, wrapper};
pub use self::named::{Checked, Link};
pub use self::own::{Asked, each_own};
pub use self::placed::address_of;
pub use self::read::{Around, Neighbour, Notation, Other, Read, Shown};
pub use self::reading::lessons;
pub use self::splice::{Own, Unfit, blocks, in_element, own, texts};
