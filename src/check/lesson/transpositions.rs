//! Positions that are reached by more than one path: whether their choices agree.

use crate::lesson::{Lesson, NodeId};
use crate::text::{Code, Finding, Findings, Listed};

/// The findings about the positions that a lesson reaches by more than one path.
pub(super) fn transpositions(lesson: &Lesson) -> Findings {
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
        let found = contradiction(lesson, &choices, &chosen(other));
        first = Some((one, choices));
        if let Some(finding) = found {
            findings.push(finding);
        }
    }
    findings
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
