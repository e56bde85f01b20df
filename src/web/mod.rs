//! The thin layer in the browser: what the page's script may call, lessons mounted in shadow
//! roots, and the one function that makes nodes.
//!
//! Everything enters through calls that the script guards, and no listener is kept here: a trap
//! ends the instance, and then the script must be able to throw all of it away.

mod drag;
mod draw;
mod event;
mod handle;
mod json;
mod morph;
mod mounted;
mod quiz;
mod prose;
mod request;
mod still;

pub use handle::{LessonHandle, read_lesson};
pub use morph::morph;
pub use mounted::{Mounted, mount};

use json::to_page;
