//! Links in comments to positions that come after a question: until it is answered they lead to
//! the question, and readers are told nothing of that where the link is.

use crate::check::author::linked::{Linked, linked};
use crate::check::lesson::questions::asked_at;
use crate::lesson::Lesson;
use crate::text::{Code, Finding, Findings};

/// Such links in the comments of a lesson.
pub(super) fn links_ahead(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    // For each node the question that hides it.
    let asking = lesson.last_before(|id| lesson.asks(id));
    if asking.iter().all(Option::is_none) {
        return findings;
    }
    for Linked { from, to, span } in linked(lesson) {
        let hidden = asking[to as usize]; // one entry a node
        // The words of a question itself, and what comes after it, are read where it is.
        let Some(asks) = hidden.filter(|&asks| !lesson.path(from).contains(&asks)) else {
            continue;
        };
        let place = lesson.numbered(asks);
        let message = format!("this link leads to a position after the question at {place}");
        let help = "until the question is answered readers come to the question; say so, or \
                    link to the move before it";
        let finding = Finding::new(Code::LinksAhead, span, message);
        let asked = asked_at(lesson, asks);
        findings.push(
            finding
                .with_help(help.to_owned())
                .with_related(asked, "the question".to_owned()),
        );
    }
    findings
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::words_of;
    use crate::text::Code;

    fn told(text: &str) -> Vec<String> {
        words_of(text, Code::LinksAhead)
    }

    #[test]
    fn a_link_past_a_question_is_told_where_it_is() {
        let text = "1. e4 {See [the pin](#3.Bb5).} e5 2. Nf3 Nc6 {Ask: What now?} 3. Bb5 {so} *";
        assert_eq!(told(text), ["#3.Bb5"]);
    }

    #[test]
    fn a_link_to_the_question_or_from_what_comes_after_it_is_not_told() {
        for text in [
            "1. e4 {See [it](#2...Nc6).} e5 2. Nf3 Nc6 {Ask: What now?} 3. Bb5 {so} *",
            "1. e4 e5 2. Nf3 Nc6 {Ask: What now?} 3. Bb5 {so} a6 {after [the pin](#3.Bb5)} *",
            "1. e4 e5 2. Nf3 Nc6 {Ask: What now? Because: [it](#3.Bb5) pins.} 3. Bb5 {so} *",
        ] {
            assert_eq!(told(text), [""; 0], "{text}");
        }
    }
}
