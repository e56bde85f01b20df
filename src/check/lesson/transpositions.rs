//! Positions that are reached by more than one path: whether a comment says so, and whether their
//! choices agree.

use super::links::Links;
use crate::lesson::{Lesson, NodeId, is_transposition};
use crate::text::{Code, Finding, Findings, Listed};

/// The findings about the positions that a lesson reaches by more than one path.
pub(super) fn transpositions(lesson: &Lesson, links: &Links) -> Findings {
    let mut findings = Findings::default();
    // No position has more legal moves than 218; a move given twice is reported elsewhere.
    let chosen = |id: NodeId| lesson.choices(id).into_iter().take(218).listed();
    // A position that comes again and again is one with each of the others.
    let mut first: Option<(NodeId, Vec<NodeId>)> = None;
    for &(one, other) in &lesson.same {
        let choices = match first.take_if(|(known, _)| *known == one) {
            Some((_, choices)) => choices,
            None => chosen(one),
        };
        let both = [
            unsaid(lesson, links, one, other),
            contradiction(lesson, &choices, &chosen(other)),
        ];
        first = Some((one, choices));
        for finding in both.into_iter().flatten() {
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

/// That the choices `a` and `b` at one position have no move in common.
fn contradiction(lesson: &Lesson, a: &[NodeId], b: &[NodeId]) -> Option<Finding> {
    let is_written = |id: &&NodeId| lesson.node(**id).choice().is_some();
    let san = |id: &NodeId| lesson.node(*id).san.as_str();
    let (first, second) = (a.iter().find(is_written)?, b.iter().find(is_written)?);
    if a.iter()
        .any(|left| b.iter().any(|right| san(left) == san(right)))
    {
        return None;
    }
    let message = format!(
        "one position, two choices: {} here, {} where it is reached by another path",
        san(second),
        san(first)
    );
    let (here, there) = (lesson.node(*second).span, lesson.node(*first).span);
    let finding = Finding::new(Code::ChoicesContradict, here, message);
    Some(finding.with_related(there, "the other choice".to_owned()))
}
