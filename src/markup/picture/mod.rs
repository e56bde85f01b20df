//! What is drawn: the board, the pieces, the marks on it, and the map.

pub mod board;
pub mod geometry;
pub mod map;
pub mod marks;
pub mod pieces;
