//! The words that make a comment more than text, without their colon, where what follows says that
//! it is meant: `Ask what would you play?`, `Choose if you like peace`.

use crate::lesson::Lesson;
use crate::notation::Comment;
use crate::notation::comment::keyword::KEYWORDS;
use crate::text::{Code, Finding, Findings};

/// Words with which a question goes on after `Ask`.
const ASKED: &[&str] = &[
    "what", "how", "where", "which", "why", "who", "when", "can", "does", "should", "is",
];

/// Words with which a condition goes on after `Choose`.
const CONDITIONS: &[&str] = &["if", "when", "unless"];

/// Words that make `In short` or `Diagram` the beginning of a sentence.
const VERBS: &[&str] = &[
    "is", "was", "shows", "it", "he", "she", "we", "they", "there",
];

/// Such words in the comments of a lesson.
pub(super) fn without_colon(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for &id in lesson.commented() {
        let node = lesson.node(id);
        for said in node.comments.iter().filter(|said| !said.is_silent()) {
            let text = said.written();
            if let Some(finding) = look(said, &text, node.parent.is_some()) {
                findings.push(finding);
            }
            semicolons(said, &text, &mut findings);
            openings(said, &text, &mut findings);
            if said.ask().is_some() {
                parts(said, &text, &mut findings);
            }
        }
    }
    findings
}

fn look(said: &Comment, text: &str, is_after_move: bool) -> Option<Finding> {
    let bare = text.trim_start();
    let at = text.len() - bare.len();
    let (word, code) = match means_to_ask(bare) {
        // Its other parts have their colons, so that there is no doubt.
        true if bare.contains("Hint:") || bare.contains("Because:") => ("Ask", Code::WordAmiss),
        true => ("Ask", Code::NoColon),
        false => {
            let next = bare.strip_prefix("Choose ").filter(|_| is_after_move)?;
            let next = next.split_whitespace().next().unwrap_or_default();
            if !CONDITIONS.contains(&next) {
                return None;
            }
            ("Choose", Code::NoColon)
        }
    };
    let message = format!("{word} has no colon and is shown as text");
    let span = said.place(at..at + word.len());
    let help = match word {
        "Ask" => "write Ask: if it is a question for the reader".to_owned(),
        _ => "write Choose: if you recommend the move before it".to_owned(),
    };
    Some(Finding::new(code, span, message).with_help(help))
}

/// Words with a semicolon in the place of their colon.
fn semicolons(said: &Comment, text: &str, findings: &mut Findings) {
    for (sign, _) in text.match_indices(';') {
        let before = &text[..sign];
        for (word, _) in KEYWORDS {
            let name = word.trim_end_matches(':');
            let Some(ahead) = before.strip_suffix(name) else {
                continue;
            };
            if ahead.is_empty() || ahead.ends_with(char::is_whitespace) {
                let at = ahead.len();
                let message = format!("{name} has a semicolon and is shown as text");
                let span = said.place(at..sign + 1);
                let help = format!("write {word} if the word is to do something");
                findings.push(Finding::new(Code::NoColon, span, message).with_help(help));
            }
        }
    }
}

/// `In short` and `Diagram` at the beginning of a paragraph, and a word after it: a sentence has a
/// comma there, or a verb.
fn openings(said: &Comment, text: &str, findings: &mut Findings) {
    let mut from = 0;
    for paragraph in text.split("\n\n") {
        for (word, help) in [
            ("In short", "write In short: if the recap is to say it"),
            ("Diagram", "write Diagram: if a diagram is to be here"),
        ] {
            let after = paragraph
                .strip_prefix(word)
                .and_then(|it| it.strip_prefix(' '));
            let next = after
                .unwrap_or_default()
                .split_whitespace()
                .next()
                .unwrap_or_default();
            let is_sentence = VERBS.contains(&next);
            if next.starts_with(char::is_lowercase) && !is_sentence {
                lost(said, from, word, help, findings);
            }
        }
        from += paragraph.len() + 2;
    }
}

/// `Hint` and `Because` after a sentence of a question that has no such part.
fn parts(said: &Comment, text: &str, findings: &mut Findings) {
    for (word, help) in [
        ("Hint", "write Hint: if it is help on request"),
        (
            "Because",
            "write Because: if it is the reason of the answer",
        ),
    ] {
        let has = text
            .match_indices(word)
            .any(|(at, _)| text[at + word.len()..].starts_with([':', ';']));
        let first = text.match_indices(word).map(|(at, _)| at).find(|&at| {
            let before = text[..at].trim_end();
            let after = text[at + word.len()..]
                .strip_prefix(' ')
                .unwrap_or_default();
            before.len() < at
                && before.ends_with(['.', '!', '?'])
                && after.starts_with(char::is_lowercase)
        });
        if let Some(at) = first.filter(|_| !has) {
            lost(said, at, word, help, findings);
        }
    }
}

fn lost(said: &Comment, at: usize, word: &str, help: &str, findings: &mut Findings) {
    let message = format!("{word} has no colon and is read as a word like others");
    let span = said.place(at..at + word.len());
    findings.push(Finding::new(Code::NoColon, span, message).with_help(help.to_owned()));
}

/// Whether a comment begins with `Ask` and goes on as a question.
pub(super) fn means_to_ask(text: &str) -> bool {
    let Some(asked) = text.trim_start().strip_prefix("Ask") else {
        return false;
    };
    let Some((question, _)) = asked.split_once('?') else {
        return false;
    };
    let first = question.split_whitespace().next().unwrap_or_default();
    let has_parts = asked.contains("Hint:") || asked.contains("Because:");
    asked.starts_with(char::is_whitespace)
        && !question.contains(['.', ':'])
        && (has_parts || ASKED.contains(&first.to_ascii_lowercase().as_str()))
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::codes;

    fn told(comment: &str) -> Vec<&'static str> {
        codes(&format!("1. e4 {{{comment}}} e5 {{x}} *"))
    }

    #[test]
    fn a_word_without_its_colon_is_told_where_what_follows_says_that_it_is_meant() {
        assert_eq!(told("Ask what would you play here?"), ["P094"]);
        assert_eq!(told("Choose if you want peace."), ["P094"]);
        assert_eq!(told("Ask Which pawn? Hint: the one in front."), ["P068"]);
    }

    #[test]
    fn a_semicolon_in_the_place_of_the_colon_is_told() {
        assert_eq!(told("Choose; if you want peace."), ["P094"]);
        assert_eq!(told("Good.\n\nIn short; the quiet way."), ["P094"]);
        assert_eq!(
            told("Ask: What now? Hint; the pawn. Because: it is."),
            ["P094"]
        );
        assert_eq!(told("We did not choose; we waited."), [""; 0]);
    }

    #[test]
    fn a_paragraph_or_a_part_that_has_lost_its_colon_is_told() {
        for comment in [
            "Good.\n\nIn short the quiet way",
            "Good.\n\nDiagram the centre",
            "Ask: What now? Because the pawn is free.",
            "Ask: What now? Hint with a pawn. Because: it is.",
        ] {
            assert_eq!(told(comment), ["P094"], "{comment}");
        }
        for prose in [
            "In short, it is good.",
            "In short it is good.",
            "Diagram 3 has it.",
            "Good. Because the pawn is free.",
            "Ask: What now? Because: it is. Because the pawn is free, too.",
        ] {
            assert_eq!(told(prose), [""; 0], "{prose}");
        }
    }

    #[test]
    fn the_same_words_in_plain_prose_are_not_told() {
        for prose in [
            "Choose wisely.",
            "Choose the move that you like best.",
            "Ask yourself what Black wants.",
            "Ask a friend: what would you play?",
            "Asking what to do?",
        ] {
            assert_eq!(told(prose), [""; 0], "{prose}");
        }
    }
}
