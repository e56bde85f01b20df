//! What is drawn: the board, the pieces, the marks on it, and the map.

pub mod board;
#[cfg(not(target_family = "wasm"))]
pub mod file;
pub mod geometry;
pub mod map;
pub mod marks;
pub mod pieces;
