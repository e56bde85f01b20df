//! The words that make a comment more than text, where they do nothing or say what another says.

mod alike;
mod heard;
mod keywords;
mod misspelt;
mod opened;
mod quoted;
mod within;
mod without_colon;

use crate::lesson::Lesson;
use crate::text::Findings;

/// The findings about such words in a lesson.
pub(super) fn words(lesson: &Lesson) -> Findings {
    let mut findings = keywords::keywords(lesson);
    findings.extend(without_colon::without_colon(lesson));
    findings.extend(within::within(lesson));
    findings.extend(quoted::amiss(lesson));
    findings.extend(heard::amiss(lesson));
    findings.extend(alike::alike(lesson));
    findings
}
