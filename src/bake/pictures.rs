//! Pictures of positions, each a file named by what is in it.

use crate::edge::{HASH, hashed};
use crate::markup::picture_file;
use crate::view::Board;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// A picture of a position.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// The name of its file, without a folder.
    pub name: String,
    /// SVG.
    pub text: String,
}

/// The pictures of a page. Pages that show the same position name the same file.
#[derive(Debug, Default)]
pub struct Pictures(RefCell<BTreeMap<String, String>>);

impl Pictures {
    /// The name of the picture of a board.
    pub fn add(&self, board: &Board, description: &str) -> String {
        let text = picture_file(board, description);
        let name = format!("{:016x}.svg", hashed(HASH, text.bytes()));
        self.0.borrow_mut().insert(name.clone(), text);
        name
    }

    /// All of them, in the order of their names.
    pub fn take(self) -> Vec<Picture> {
        let all = self.0.into_inner().into_iter();
        all.map(|(name, text)| Picture { name, text }).collect()
    }
}
