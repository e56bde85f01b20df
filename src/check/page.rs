//! What a page says of a lesson: of the values of its tags, and of the lesson as a whole.

use super::{lesson, values};
use crate::lesson::Lesson;
use crate::notation::Game;
use crate::text::{Findings, Source};

/// What was found when a game was read, and what its lesson has amiss, in the order of the
/// places. Without ways out where their words are many: those are told by the program.
pub fn game(source: &Source, game: &Game, lesson: Option<&Lesson>, found: Findings) -> Findings {
    let mut findings = found;
    findings.extend(values::of_tags(source, game));
    if let Some(lesson) = lesson {
        findings.extend(lesson::whole(source, lesson));
    }
    findings.sort();
    findings
}
