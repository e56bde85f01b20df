//! View to markup: one element tree, written as HTML or SVG text here and as nodes in `web/`.
//! The only folder that escapes.
//!
//! ```
//! use plyline::markup::{el, html};
//!
//! let markup = el("p").with("class", "note").text("1 < 2");
//! assert_eq!(html(&[markup]), "<p class=\"note\">1 &lt; 2</p>");
//! ```

mod diagram;
mod element;
mod figure;
mod html;
mod lesson;
mod lines;
mod paragraphs;
mod parts;
mod picture;
mod questions;
mod recall;
mod recap;
mod root;

#[cfg(not(target_family = "wasm"))]
pub use diagram::{Pictures, img, in_file};
pub use diagram::{diagram, missing};
pub use element::{Element, Markup, el};
pub use figure::{figure, panel, stepped};
pub use html::{escape, html};
#[cfg(not(target_family = "wasm"))]
pub use html::{of_cue, of_xml};
pub use lesson::{failure, lesson, notes, paper, plain, quiz, row_id};
#[cfg(not(target_family = "wasm"))]
pub use lesson::{listed, prompted};
pub use lines::{line_id, move_id};
#[cfg(not(target_family = "wasm"))]
pub use picture::file::{PICTURE_SIDE, picture_file};
pub use picture::geometry::corner;
pub use picture::map::{map_place, mark_class, mark_id, way_path};
pub use recap::recap;
pub use root::root;
