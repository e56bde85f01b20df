//! `Not:` in questions: a wrong answer has to be a legal move that is not right.

use crate::ask::{WrongAnswer, answers, wrong_answers};
use crate::lesson::{Attempt, Lesson, Tried};
use crate::text::{Code, Finding, Findings, quote};

/// The wrong answers of a lesson's questions that cannot be given, or are right, or of which
/// nothing is said.
pub(super) fn wrong(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for &id in lesson.commented() {
        for wrong in wrong_answers(lesson, id) {
            let is_right = |tried: &Tried| {
                let mut right = answers(lesson, id, &[]).into_iter();
                right.any(|answer| Some(answer.played) == tried.played)
            };
            let (message, help) = match &wrong.attempt {
                Attempt::Played(tried) if tried.played.is_none() => no_move(&wrong),
                Attempt::Played(tried) if is_right(tried) => (
                    format!("{} is named as wrong and is a right answer", tried.san),
                    "take `Not:` out, or mark the move in the lesson as weak".to_owned(),
                ),
                Attempt::Played(tried) if words(&wrong).is_empty() => (
                    format!("nothing says why {} is wrong", tried.san),
                    format!(
                        "write the reason after the move: `Not: {} because …`",
                        tried.san
                    ),
                ),
                Attempt::Played(_) => continue,
                Attempt::Refused(reason) => (
                    format!("this answer cannot be played: {}", reason.message),
                    "after `Not:` comes a legal move of the side that is asked".to_owned(),
                ),
                Attempt::Promotes | Attempt::NoMove => no_move(&wrong),
            };
            let span = wrong.says.span(wrong.word.clone());
            findings.push(Finding::new(Code::NotAmiss, span, message).with_help(help));
        }
    }
    findings
}

fn words<'a>(wrong: &WrongAnswer<'a>) -> &'a str {
    let rest = wrong.says.text().get(wrong.word.end..).unwrap_or_default();
    rest.trim_matches(|sign: char| sign.is_whitespace() || sign.is_ascii_punctuation())
}

fn no_move(wrong: &WrongAnswer) -> (String, String) {
    let word = wrong
        .says
        .text()
        .get(wrong.word.clone())
        .unwrap_or_default();
    (
        match word.is_empty() {
            true => "`Not:` names no move".to_owned(),
            false => format!("{} is no move", quote(word)),
        },
        "write the wrong answer first, then why: `Not: Kxd8 because the rook gives check`"
            .to_owned(),
    )
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::words_of;
    use crate::text::Code;

    #[test]
    fn a_wrong_answer_that_no_reader_can_give_or_that_is_right_is_told() {
        for (not, wanted) in [
            ("Not: Ke7 because the queen takes.", &[][..]),
            ("Not: Ke4 because it is far.", &["Ke4"]),
            ("Not: Nc6 because I say so.", &["Nc6"]),
            ("Not: the king because it is exposed.", &["the"]),
            ("Not: Ke7.", &["Ke7"]),
            ("Not: 2...Ke7 because. Not: 2...Kd7 too.", &["Kd7"]),
        ] {
            let text = format!("1. e4 e5 2. Qh5 {{Ask: How? {not}}} Nc6 {{x}} *");
            assert_eq!(words_of(&text, Code::NotAmiss), wanted, "{not}");
        }
    }
}
