//! One word among the moves: the shape of a move, the piece letters of a language, the signs
//! that stand for numeric glyphs.

pub mod letters;
pub mod nag;
pub mod san;
