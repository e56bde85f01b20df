//! How a lesson is written, and how new words are put between the old: where its moves are (`laid`), its manner
//! (`style`), words into lines (`writer`), and their places in the text (`place`).

pub mod laid;
pub mod place;
pub mod style;
pub mod writer;
