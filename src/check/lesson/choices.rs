//! Choices that are marked weak.

use crate::lesson::Lesson;
use crate::text::{Code, Finding, Findings};

/// The moves that the author recommends and marks weak.
pub(super) fn weak(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for &id in lesson.commented() {
        let node = lesson.node(id);
        if node.choice().is_some() && lesson.is_weak(id) {
            let message = format!("{} is the choice and is marked weak", node.san);
            findings.push(Finding::new(Code::WeakChoice, node.span, message));
        }
    }
    findings
}
