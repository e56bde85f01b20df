//! Checks of a whole lesson: what can only be seen when all of it is there.

mod choices;
mod links;
pub(super) mod questions;
mod transpositions;

use crate::lesson::Lesson;
use crate::text::{Findings, Source};

/// The findings about a finished lesson.
pub(super) fn whole(source: &Source, lesson: &Lesson) -> Findings {
    let mut findings = links::links(source, lesson);
    findings.extend(questions::questions(lesson));
    findings.extend(choices::weak(lesson));
    findings.extend(transpositions::transpositions(lesson));
    findings
}
