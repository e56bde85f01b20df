//! Positions that are reached by more than one path, where no comment says so.

use crate::check::lesson::links::{Links, links};
use crate::lesson::{Lesson, NodeId, is_transposition};
use crate::text::{Code, Finding, Findings, Source};

/// The transpositions of a lesson that no comment names.
pub(super) fn transpositions(source: &Source, lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    let (_, links) = links(source, lesson);
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
    links.has(from, to)
        || links.has(next(from), to)
        || links.has(from, next(to))
        || links.has(next(from), next(to))
}
