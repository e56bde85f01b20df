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
