//! View to markup: one element tree, written as HTML or SVG text here and as nodes in `web/`.
//! The only folder that escapes.

mod board;
mod element;
mod figure;
mod html;
mod lesson;
mod pieces;

pub use element::{Element, Markup, el};
pub use figure::figure;
pub use html::{baked, escape, html};
pub use lesson::{failure, lesson, move_id, row_id};
