//! What a file that holds lessons is written in.

use super::asked::{Changed, Edit, Refused};
use super::make::edit;
use super::posted::edit_post;
use crate::post::Kind;

/// What a file that holds lessons is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    Markdown,
    Html,
    /// Games and nothing around them.
    Pgn,
}

impl Form {
    /// That of a file name, by its ending; none where it is no page.
    pub fn named(name: &str) -> Option<Form> {
        match Kind::named(name) {
            Some(Kind::Markdown) => Some(Form::Markdown),
            Some(Kind::Html) => Some(Form::Html),
            None => {
                let (stem, ending) = name.rsplit_once('.')?;
                (!stem.is_empty() && ending.eq_ignore_ascii_case("pgn")).then_some(Form::Pgn)
            }
        }
    }

    /// The kind of post; none for notation alone.
    pub fn kind(self) -> Option<Kind> {
        match self {
            Form::Markdown => Some(Kind::Markdown),
            Form::Html => Some(Kind::Html),
            Form::Pgn => None,
        }
    }

    /// The word for it in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Form::Markdown => "markdown",
            Form::Html => "html",
            Form::Pgn => "pgn",
        }
    }

    /// Makes an edit of the lesson of that number in a file.
    ///
    /// # Errors
    /// Those of the edit.
    pub fn edit(self, text: &str, lesson: usize, wanted: &Edit) -> Result<Changed, Refused> {
        match self.kind() {
            Some(kind) => edit_post(text, kind, lesson, wanted),
            None => edit(text, lesson, wanted),
        }
    }
}
