//! `Diagram:` and `In short:` within a paragraph, where they are words like others.

use crate::lesson::Lesson;
use crate::notation::Comment;
use crate::notation::comment::keyword::KEYWORDS;
use crate::text::{Code, Finding, Findings};

/// The words that are looked for; what others do within a paragraph is told elsewhere.
const WORDS: &[&str] = &["Diagram:", "In short:"];

/// Such words in the comments of a lesson, and a second `In short:` of one move.
pub(super) fn within(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for &id in lesson.commented() {
        let mut is_short = false;
        for said in lesson.node(id).comments.iter().filter(|it| !it.is_silent()) {
            let text = said.written();
            if !text.contains(':') {
                continue;
            }
            in_paragraphs(said, &text, &mut findings);
            for (at, word) in text.match_indices("In short:") {
                if begins_paragraph(&text, at) && core::mem::replace(&mut is_short, true) {
                    let message =
                        format!("{word} is said of this move before, and that one counts");
                    let span = said.place(at..at + word.len());
                    let help = "say it once, in one paragraph".to_owned();
                    let finding = Finding::new(Code::WordAmiss, span, message);
                    findings.push(finding.with_help(help));
                }
            }
        }
    }
    findings
}

fn in_paragraphs(said: &Comment, text: &str, findings: &mut Findings) {
    for word in WORDS {
        for (at, _) in text.match_indices(word) {
            let before = &text[..at];
            if begins_paragraph(text, at)
                || !before.ends_with(char::is_whitespace)
                // Another word opens here, and this one belongs to what it says.
                || KEYWORDS.iter().any(|(word, _)| before.trim_end().ends_with(word))
            {
                continue;
            }
            let message = format!("{word} is within a paragraph and is shown as text");
            let span = said.place(at..at + word.len());
            let help = "leave a blank line before it, in the braces, if it is to do something";
            let finding = Finding::new(Code::WordWithin, span, message);
            findings.push(finding.with_help(help.to_owned()));
        }
    }
}

fn begins_paragraph(text: &str, at: usize) -> bool {
    let before = text[..at].trim_end();
    before.is_empty() || text[before.len()..at].matches('\n').count() > 1
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::told;

    fn words(comment: &str) -> Vec<(&'static str, String)> {
        told(&format!("1. e4 {{{comment}}} e5 {{x}} *"))
    }

    #[test]
    fn a_word_within_a_paragraph_is_told() {
        let one = |word: &str| vec![("P097", word.to_owned())];
        assert_eq!(
            words("White has space Diagram: the centre"),
            one("Diagram:")
        );
        assert_eq!(words("White has space. In short: space"), one("In short:"));
        for fine in [
            "Good.\n\nDiagram: the centre",
            "In short: space\n\nDiagram: so",
            "a diagram: x",
        ] {
            assert!(words(fine).is_empty(), "{fine}");
        }
    }

    #[test]
    fn what_is_said_in_short_of_a_move_is_said_once() {
        let second = vec![("P068", "In short:".to_owned())];
        assert_eq!(words("In short: space\n\nIn short: room"), second);
        assert_eq!(words("In short: space} {In short: room"), second);
    }
}
