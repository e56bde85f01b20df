//! What a reader sees, as plain data: the page of a lesson and its parts.

pub mod animation;
pub mod board;
mod comment_links;
pub mod diagram;
pub mod figure;
pub mod lines;
pub mod map;
pub mod moves;
pub mod outline;
pub mod page;
pub mod recall_summary;
pub mod recap;
pub mod text;
