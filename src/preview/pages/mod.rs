//! What is served for a page: HTML with our script in it, the plain page of Markdown and notation, and lists.

mod inject;
mod list;
mod template;

pub use inject::with_script;
pub use list::{Counted, address, list};
pub use template::{LOOK, markdown, notation, title};
