//! An edit made in what a lesson holds: what the text after it is to mean.

use super::asked::Splice;
use super::held::Held;
use crate::notation::Comment;
use crate::text::Span;

/// An edit as it was made: the changes of the text, and what it holds then.
pub struct Made {
    pub splices: Vec<Splice>,
    pub meant: Held,
    /// Where the author is then.
    pub at: Vec<String>,
    pub bound: Bound,
}

/// What of the text has to mean just what is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    All,
    /// All but what comes after the place: as much as can be played there.
    NotAfter,
    /// All, but signs without meaning may be gone with what is dropped.
    NotOdd,
}

impl Made {
    pub fn new(splices: Vec<Splice>, meant: Held, at: Vec<String>) -> Made {
        Made {
            splices,
            meant,
            at,
            bound: Bound::All,
        }
    }
}

/// A comment as it is read again: white space folded; none if nothing is said.
pub fn folded(text: &str) -> Option<String> {
    let comment = Comment::read(&format!("{{{text}}}"), Span::default())?;
    Some(comment.text().to_owned())
}

/// Takes words out of a list of those that cannot be read, each once.
pub fn forget(unread: &mut Vec<String>, words: &[String]) {
    for word in words {
        if let Some(at) = unread.iter().position(|it| it == word) {
            unread.remove(at);
        }
    }
}

/// The words before the first move of a line that becomes another's continuation stand after that move.
pub fn opened(held: &mut Held, node: usize) {
    if let Some(said) = held.nodes.get_mut(node) {
        said.open();
    }
}
