//! Paragraphs of comments that a word opens, such as `Counts:`.

use crate::lesson::{Lesson, NodeId};
use crate::text::Span;

/// A paragraph that begins with the word.
pub(super) struct Opened {
    pub node: NodeId,
    pub text: String,
    /// Where the word is.
    pub word: Span,
}

/// The paragraphs of a lesson that begin with a word, in the order of the text.
pub(super) fn opened(lesson: &Lesson, word: &str) -> Vec<Opened> {
    let mut all = Vec::new();
    for &node in lesson.commented() {
        let comments = lesson.node(node).comments.iter();
        for said in comments.filter(|it| !it.is_silent()) {
            let mut at = 0;
            for paragraph in said.written().split("\n\n") {
                let text = paragraph.trim_start();
                let from = at + paragraph.len() - text.len();
                at += paragraph.len() + 2;
                if text.starts_with(word) {
                    all.push(Opened {
                        node,
                        text: paragraph.to_owned(),
                        word: said.place(from..from + word.len()),
                    });
                }
            }
        }
    }
    all
}
