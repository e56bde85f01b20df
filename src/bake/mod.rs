//! Pages and feeds as they are after baking. No files: whoever asks hands texts in.

mod feed;

pub use feed::{Fault, FeedError, Part, Written, parts, rewritten};
