//! Comments: words and signs in them that do nothing, moves that they name, and what they ask.

mod asks_other;
mod hides_much;
mod left_out;
mod links_ahead;
pub(super) mod named_moves;
mod off_by_one;
pub(super) mod prompt_reveals;
mod signs;
mod threats;
mod words;
mod wrong_answers;

use crate::lesson::Lesson;
use crate::text::Findings;

/// The findings about the comments of a lesson.
pub(super) fn comments(lesson: &Lesson) -> Findings {
    let mut findings = named_moves::named_moves(lesson);
    findings.extend(words::words(lesson));
    findings.extend(signs::signs(lesson));
    findings.extend(prompt_reveals::prompts(lesson));
    findings.extend(left_out::left_out(lesson));
    findings.extend(asks_other::asks_other(lesson));
    findings.extend(threats::threats(lesson));
    findings.extend(wrong_answers::wrong(lesson));
    findings.extend(links_ahead::links_ahead(lesson));
    findings.extend(hides_much::hides_much(lesson));
    findings
}
