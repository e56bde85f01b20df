//! Why something is not done: what a browser is told instead.

use crate::edit;

/// What is not done, and why. Nothing is written then.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// The kind of reason, a word of the protocol.
    pub code: &'static str,
    /// The reason, a sentence.
    pub reason: String,
    /// A way out.
    pub help: String,
    /// What it is about in the text that was entered, in UTF-16 units.
    pub place: Option<(u32, u32)>,
    /// Moves that may have been meant.
    pub near: Vec<String>,
}

impl Refused {
    pub fn new(code: &'static str, reason: impl Into<String>, help: impl Into<String>) -> Refused {
        Refused {
            code,
            reason: reason.into(),
            help: help.into(),
            place: None,
            near: Vec::new(),
        }
    }

    /// The page has no lesson of that number.
    pub fn no_lesson() -> Refused {
        Refused::new(
            "not-in-file",
            "this lesson is not in the file any more",
            "read the page again",
        )
    }
}

impl From<edit::Refused> for Refused {
    fn from(refused: edit::Refused) -> Refused {
        Refused::new(refused.why.code(), refused.reason, refused.help)
    }
}
