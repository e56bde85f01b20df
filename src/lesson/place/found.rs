//! The result of a locator: a node, or why it names none.

use crate::lesson::ids::NodeId;
use crate::text::{Code, Finding, Span, join, quote};

/// Why a locator names no single node.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LocateError {
    /// It is no locator, or names nothing in this lesson.
    None,
    /// It names all of these.
    Several(Vec<NodeId>),
}

impl LocateError {
    /// What the author of the locator is told; its place is the locator's.
    pub fn finding(&self, locator: &str, span: Span) -> Finding {
        let (code, count, help) = match self {
            LocateError::None => (
                Code::LocatorNone,
                "no place".to_owned(),
                "write its moves as the lesson has them, from parent to child",
            ),
            LocateError::Several(nodes) => (
                Code::LocatorSeveral,
                nodes.len().to_string() + " places",
                "write more of the moves before it",
            ),
        };
        let message = join(
            &[
                "\u{201c}",
                &quote(locator),
                "\u{201d} names ",
                &count,
                " of this lesson",
            ],
            "",
        );
        Finding::new(code, span, message).with_help(help.to_owned())
    }
}

/// A link of a comment to a position.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct LinkTo {
    /// The byte of the source at which its target begins.
    pub(crate) at: u32,
    /// Where it leads.
    pub(crate) leads: Result<NodeId, LocateError>,
}
