//! A reader moves: by clicks, keys and hand, in the list, the map and the address.

pub mod address;
pub mod eye;
pub mod hand;
pub mod in_text;
pub mod keyboard;
pub mod stepping;
pub mod walking;

use crate::harness::File;

pub const FILES: &[File] = &[
    ("stepping", stepping::CASES),
    ("hand", hand::CASES),
    ("keyboard", keyboard::CASES),
    ("walking", walking::CASES),
    ("in_text", in_text::CASES),
    ("address", address::CASES),
    ("eye", eye::CASES),
];
