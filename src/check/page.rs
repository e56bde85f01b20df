//! The findings that a page has about a lesson: the values of its tags, and the lesson as a whole.

use super::{lesson, values};
use crate::lesson::Lesson;
use crate::notation::Game;
use crate::text::{Findings, Source};

/// The findings of reading a game and of checking its lesson, in the order of their places. Without
/// long help: only the program has that.
pub fn game(source: &Source, game: &Game, lesson: Option<&Lesson>, found: Findings) -> Findings {
    let mut findings = found;
    findings.extend(values::of_tags(source, game));
    if let Some(lesson) = lesson {
        findings.extend(lesson::whole(source, lesson));
    }
    findings.sort();
    findings
}
