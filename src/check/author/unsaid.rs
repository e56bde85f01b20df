//! Positions that are reached by more than one path, where no comment says so.

use super::linked::linked;
use crate::lesson::{Lesson, NodeId, is_transposition};
use crate::text::{Code, Finding, Findings};
use std::collections::HashSet;

/// Which node's comment links to which.
type Links = HashSet<(NodeId, NodeId)>;

/// The transpositions of a lesson that no comment names.
pub(super) fn transpositions(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    let links = linked(lesson)
        .into_iter()
        .map(|it| (it.from, it.to))
        .collect();
    for &(one, other) in &lesson.same {
        if let Some(finding) = unsaid(lesson, &links, one, other) {
            findings.push(finding);
        }
    }
    findings
}

fn unsaid(lesson: &Lesson, links: &Links, one: NodeId, other: NodeId) -> Option<Finding> {
    let is_said = is_linked(lesson, links, one, other) || is_linked(lesson, links, other, one);
    if is_said || !is_transposition(lesson, one, other) {
        return None;
    }
    let message = format!(
        "{} comes to the same position as {}, and no comment says so",
        lesson.numbered(other),
        lesson.numbered(one)
    );
    let help = "link the comment of one to the other: [words](#run of moves)";
    let finding = Finding::new(Code::Unsaid, lesson.node(other).span, message);
    Some(
        finding
            .with_help(help.to_owned())
            .with_related(lesson.node(one).span, "the same position".to_owned()),
    )
}

/// Whether the comment of a node, or of the next move on its line, links to another or to the next
/// after that.
fn is_linked(lesson: &Lesson, links: &Links, from: NodeId, to: NodeId) -> bool {
    let next = |id: NodeId| lesson.node(id).children.first().copied().unwrap_or(id);
    links.contains(&(from, to))
        || links.contains(&(next(from), to))
        || links.contains(&(from, next(to)))
        || links.contains(&(next(from), next(to)))
}
