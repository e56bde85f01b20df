//! Lines that end without a word or an assessment.

use crate::lesson::{Lesson, LineId};
use crate::text::{Code, Finding, Findings};
use shakmaty::Position;

/// The lines of a lesson that end without a word or an assessment.
pub(super) fn line_ends(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for line in 0..lesson.lines.len() as LineId {
        let Some(last) = lesson.line_nodes(line).last() else {
            continue;
        };
        let node = lesson.node(last);
        let told = !node.comments.is_empty()
            || node.nags.iter().any(|&nag| nag >= 10)
            || node.position.is_game_over()
            || node.parent.is_none()
            || (line == 0 && lesson.result != "*")
            || lesson.unread.iter().any(|words| words.line == line);
        if !told {
            let which = match lesson.line(line).label.as_str() {
                "" => "the main line".to_owned(),
                label => format!("line {label}"),
            };
            let message = format!("{which} ends without a word or an assessment");
            findings.push(Finding::new(Code::EndsInSilence, node.span, message));
        }
    }
    findings
}
