//! Questions with written choices that leave out the next move of the lesson's own line: that move
//! is called playable, not right.

use crate::check::lesson::questions::asked_at;
use crate::lesson::{Lesson, NodeId};
use crate::text::{Code, Finding, Findings, join};

/// The questions of a lesson that leave out the move of their own line.
pub(super) fn left_out(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for &id in lesson.commented() {
        if let Some(finding) = main(lesson, id) {
            findings.push(finding);
        }
    }
    findings
}

fn main(lesson: &Lesson, id: NodeId) -> Option<Finding> {
    lesson.node(id).ask()?;
    let main = lesson.next_on_line(id)?;
    let choices = lesson.choices(id);
    let is_move = lesson.node(main).played.is_some();
    if !is_move || lesson.is_weak(main) || choices.is_empty() || choices.contains(&main) {
        return None;
    }
    let right: Vec<String> = choices.iter().map(|&id| lesson.numbered(id)).collect();
    let (right, goes_on) = (join(&right, " and "), lesson.numbered(main));
    let is = if choices.len() == 1 { "is" } else { "are" };
    let message = format!("the lesson goes on with {goes_on}, and only {right} {is} right here");
    let help = format!("write `Choose:` after {goes_on} too, if it answers the question");
    let finding = Finding::new(Code::MainLeftOut, asked_at(lesson, id), message);
    Some(
        finding
            .with_help(help)
            .with_related(lesson.node(main).span, "the lesson goes on".to_owned()),
    )
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::words_of;
    use crate::text::Code;

    #[test]
    fn a_question_that_leaves_out_the_move_of_its_own_line_is_told() {
        let count = |moves: &str| {
            let text = format!("1. e4 e5 {{Ask: what now?}} {moves} *");
            words_of(&text, Code::MainLeftOut).len()
        };
        assert_eq!(count("2. Nf3 {x} (2. Nc3 {Choose:})"), 1);
        for moves in [
            "2. Nf3 {Choose: it} (2. Nc3 {Choose: it})",
            "2. Nf3 {x} (2. Nc3 {Choose: it})",
            "2. Nf3?! {x} (2. Nc3 {Choose:})",
            "2. Nf3 {x} (2. Nc3 {x})",
            "2. Nf3 {Choose: it} (2. Nc3 {x})",
        ] {
            assert_eq!(count(moves), 0, "{moves}");
        }
    }
}
