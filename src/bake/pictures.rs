//! Pictures of positions, each a file named by what is in it.

use crate::edge::{HASH, hashed};
use crate::markup::picture_file;
use crate::view::Board;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// What a picture's file is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Form {
    #[default]
    Svg,
    /// For readers of feeds and mail, many of which show no SVG.
    Png,
}

/// A picture of a position.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// The name of its file, without a folder.
    pub name: String,
    pub form: Form,
    /// SVG, also of one whose file is PNG: that is drawn of it.
    pub text: String,
}

/// The pictures of a page. Pages that show the same position name the same file.
#[derive(Debug, Default)]
pub struct Pictures {
    form: Form,
    all: RefCell<BTreeMap<String, String>>,
}

impl Pictures {
    /// None yet, all of one form.
    pub fn of(form: Form) -> Pictures {
        let all = RefCell::default();
        Pictures { form, all }
    }

    /// The name of the picture of a board.
    pub fn add(&self, board: &Board, description: &str) -> String {
        let text = picture_file(board, description);
        let hash = hashed(HASH, text.bytes());
        let name = match self.form {
            Form::Svg => format!("{hash:016x}.svg"),
            // That of previews is named as the SVG is.
            Form::Png => format!("{:016x}.png", hashed(hash, "feed".bytes())),
        };
        self.all.borrow_mut().insert(name.clone(), text);
        name
    }

    /// All of them, in the order of their names.
    pub fn take(self) -> Vec<Picture> {
        let form = self.form;
        let all = self.all.into_inner().into_iter();
        all.map(|(name, text)| Picture { name, form, text })
            .collect()
    }
}
