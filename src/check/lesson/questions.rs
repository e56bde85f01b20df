//! Questions that comments ask and that have no answer, or whose prompt names it.

use crate::ask::names_move;
use crate::lesson::{Lesson, NodeId};
use crate::text::{Code, Finding, Findings, Span};

/// The findings about the questions of a lesson.
pub(super) fn questions(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for &id in lesson.commented() {
        if let Some(finding) = question(lesson, id) {
            findings.push(finding);
        }
    }
    findings
}

fn question(lesson: &Lesson, id: NodeId) -> Option<Finding> {
    let ask = lesson.node(id).ask()?;
    let span = asked_at(lesson, id);
    let answers = lesson.choices(id);
    if answers.is_empty() {
        let message = "this question has no answer: no move follows here, or only weak ones";
        return Some(Finding::new(Code::NoAnswer, span, message.to_owned()));
    }
    for answer in answers {
        let san = lesson.node(answer).san.trim_end_matches(['+', '#']);
        if names_move(ask.prompt.text(), san) {
            let answer = lesson.node(answer).span;
            let message = format!("the prompt names its answer, {san}");
            let finding = Finding::new(Code::PromptTells, span, message);
            return Some(finding.with_related(answer, "the answer".to_owned()));
        }
    }
    None
}

/// Where the comment that asks at a node is.
pub(crate) fn asked_at(lesson: &Lesson, id: NodeId) -> Span {
    let node = lesson.node(id);
    node.asking().map_or(node.span, |comment| comment.span)
}
