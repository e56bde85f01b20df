//! `plyline bake`: what touches files.

mod png;

pub use png::{og_image, png};
