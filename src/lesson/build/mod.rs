//! Syntax to lessons: where a game starts, its tags, its lines played through word by word.

pub mod language;
pub mod play;
pub mod start;
pub mod tags;
pub mod validate;
