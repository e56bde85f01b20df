//! Passages of a talk that readers would see as they are written, and those that run backwards.

use super::opened::opened;
use crate::lesson::{Lesson, NodeId};
use crate::notation::comment::clock::written;
use crate::notation::comment::hear::{Passage, WORD, passages};
use crate::text::{Code, Finding, Findings, Span};
use std::collections::HashMap;

/// Paragraphs that begin with `Hear:` and hold no passages, and moves of a line whose passage begins before that of an
/// earlier move of the same line: a talk goes along a line, and comes back to it with a second time, not with the first.
pub(super) fn amiss(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    let mut begins: HashMap<NodeId, (Passage, Span)> = HashMap::new();
    for it in opened(lesson, WORD) {
        match passages(&it.text).map(|all| all.first().copied()) {
            Some(first) => {
                if let Some(first) = first {
                    begins.entry(it.node).or_insert((first, it.word));
                }
            }
            None => findings.push(unread(it.word)),
        }
    }
    findings.extend(backwards(lesson, &begins));
    findings
}

fn unread(span: Span) -> Finding {
    let message = "these times are shown as they are written".to_owned();
    let help = "write them as `Hear: 4:27-4:58, 12:03`: minutes and seconds, before them hours where \
                there are some, and an end after its beginning";
    Finding::new(Code::TimesAmiss, span, message).with_help(help.to_owned())
}

fn backwards(lesson: &Lesson, begins: &HashMap<NodeId, (Passage, Span)>) -> Findings {
    let mut found = Findings::default();
    // The last time of each line so far; nodes come in the order of their lines.
    let mut last: HashMap<u32, (u64, NodeId)> = HashMap::new();
    for id in lesson.ids() {
        let Some((passage, span)) = begins.get(&id) else {
            continue;
        };
        let line = lesson.node(id).line;
        match last.get(&line) {
            Some(&(from, earlier)) if passage.from < from => {
                let message = format!(
                    "the talk speaks of {} at {}, before it speaks of {} at {}, which comes earlier in the line",
                    lesson.numbered(id),
                    written(passage.from),
                    lesson.numbered(earlier),
                    written(from)
                );
                let help = "the passage that explains a position is the first of its paragraph; if the talk \
                            comes back to it, write that time second";
                let finding = Finding::new(Code::TimesBackwards, *span, message);
                found.push(finding.with_help(help.to_owned()));
            }
            _ => {
                last.insert(line, (passage.from, id));
            }
        }
    }
    found
}
