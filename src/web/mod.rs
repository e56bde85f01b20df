//! The thin layer in the browser: what the page's script may call, lessons mounted in shadow
//! roots.
//!
//! Everything enters through calls that the script guards, and no listener is kept here: a trap
//! ends the instance, and then the script must be able to throw all of it away.

mod drag;
mod draw;
mod event;
mod handle;
mod mounted;
mod moving;
mod prose;
mod quiz;
mod recall;
mod request;
mod still;

pub use handle::{LessonHandle, read_lesson};
pub use mounted::{Mounted, mount};

use crate::edge::ToPlain;
use serde::Serialize;
use wasm_bindgen::JsValue;

/// Plain JSON for the page: objects, arrays, null. What cannot be turned into it (nothing that
/// `edge` holds) is null.
fn to_page(value: &dyn ToPlain) -> JsValue {
    let serializer = serde_wasm_bindgen::Serializer::json_compatible();
    let plain = value.to_plain();
    plain.serialize(&serializer).unwrap_or(JsValue::NULL)
}
