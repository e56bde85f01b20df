//! Where the links of a lesson's comments lead.

use crate::lesson::{Lesson, NodeId};
use crate::notation::Comment;
use crate::notation::comment::passage::{Does, Link, Paragraph};
use crate::text::Span;

/// A link of a comment to a place of the lesson.
pub(super) struct Linked {
    /// The node whose comment it is. What is before a move is not its comment.
    pub(super) from: NodeId,
    pub(super) to: NodeId,
    /// Its address in the text.
    pub(super) span: Span,
}

/// The links that lead somewhere, in the order of the text.
pub(super) fn linked(lesson: &Lesson) -> Vec<Linked> {
    let mut list = Vec::new();
    for &from in lesson.commented() {
        let passages = lesson
            .node(from)
            .comments
            .iter()
            .flat_map(Comment::passages);
        let passages = passages.filter(|it| !it.is_plain());
        for piece in passages.flat_map(|it| it.paragraphs().flat_map(Paragraph::pieces)) {
            if let Does::Links(Link::Locator { span, .. }) = piece.does
                && let Some(&Ok(to)) = lesson.link(span)
            {
                list.push(Linked { from, to, span });
            }
        }
    }
    list
}
