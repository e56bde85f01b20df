//! Two choices at one position that readers cannot tell apart: with the same condition, or both
//! without one.

use crate::lesson::{Lesson, NodeId};
use crate::notation::Comment;
use crate::text::{Code, Finding, Findings, quote};
use std::collections::HashMap;

/// Such choices of a lesson.
pub(super) fn alike(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    let mut known: HashMap<(NodeId, String), NodeId> = HashMap::new();
    for &id in lesson.commented() {
        let node = lesson.node(id);
        let Some(choice) = node.comments.iter().find_map(Comment::choice) else {
            continue;
        };
        let Some(parent) = node.parent else {
            continue;
        };
        let words = choice.words();
        let bare = words.trim_matches(|it: char| it.is_whitespace() || it.is_ascii_punctuation());
        let first = *known.entry((parent, bare.to_lowercase())).or_insert(id);
        if first == id {
            continue;
        }
        let (one, other) = (lesson.numbered(first), lesson.numbered(id));
        let message = match bare.is_empty() {
            true => format!("{one} and {other} are both chosen, and nothing says when"),
            false => format!(
                "{one} and {other} are chosen for the same reason: {}",
                quote(bare)
            ),
        };
        let help = "readers cannot tell them apart: give each a condition of its own";
        let finding = Finding::new(Code::ChoicesAlike, node.span, message);
        findings.push(
            finding
                .with_help(help.to_owned())
                .with_related(lesson.node(first).span, "the other".to_owned()),
        );
    }
    findings
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::told;

    fn choices(one: &str, other: &str) -> Vec<(&'static str, String)> {
        told(&format!(
            "1. e4 {{{one}}} (1. d4 {{{other}}}) 1... e5 {{x}} *"
        ))
    }

    #[test]
    fn two_choices_at_one_position_differ_in_their_conditions() {
        let d4 = [("P098", "d4".to_owned())];
        assert_eq!(choices("Choose: if you dare", "Choose: if you dare."), d4);
        assert_eq!(choices("Choose:", "Choose:"), d4);
        assert!(choices("Choose: if you dare", "Choose: if you wait").is_empty());
        assert!(choices("Choose: if you dare", "Choose:").is_empty());
    }
}
