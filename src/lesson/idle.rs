//! The words that make a comment more than text, where they stand or are written so that they do
//! nothing: the checker's, not the page's.

use super::tree::{Lesson, NodeId, Said};
use crate::text::{Code, Finding, Findings, Source, Span, quote};

const CHOOSE: &str = "Choose:";
const ASK: &str = "Ask:";
const HINT: &str = "Hint:";
const BECAUSE: &str = "Because:";

/// Adds such words of what is said of a node.
pub(super) fn words(source: &Source, lesson: &Lesson, id: NodeId, findings: &mut Findings) {
    let node = lesson.node(id);
    let worded = |said: &&Said| said.text.contains(':');
    for said in node.before.iter().filter(worded) {
        let mut comment = Comment::new(source, said, findings);
        for word in [ASK, CHOOSE] {
            let help = "before the first move of a variation it says nothing of a position; put it \
                        behind the move";
            comment.opening(word, help);
        }
        comment.misplaced();
        comment.small();
    }
    let asked = node
        .comments
        .iter()
        .position(|said| said.text.starts_with(ASK));
    for (at, said) in node.comments.iter().enumerate() {
        if !worded(&said) {
            continue;
        }
        let mut comment = Comment::new(source, said, findings);
        if asked.is_some_and(|first| first < at) {
            comment.opening(
                ASK,
                "a position asks one question, and one stands before this",
            );
        }
        if node.parent.is_none() {
            comment.opening(
                CHOOSE,
                "it recommends the move before it, and there is none",
            );
        }
        comment.misplaced();
        comment.small();
        comment.parts();
    }
}

/// A comment that is looked at.
struct Comment<'a> {
    said: &'a Said,
    raw: &'a str,
    findings: &'a mut Findings,
}

impl<'a> Comment<'a> {
    fn new(source: &'a Source, said: &'a Said, findings: &'a mut Findings) -> Comment<'a> {
        Comment {
            said,
            raw: source.slice(said.span),
            findings,
        }
    }

    fn asks(&self) -> bool {
        self.said.text.starts_with(ASK)
    }

    /// A word at this place of the text, with how to write it instead.
    fn find(&mut self, at: usize, word: &str, what: &str, help: String) {
        let from = self.said.span.from as usize + at;
        let message = format!("{} {what}", quote(word));
        let span = Span::new(from, from + word.len());
        let finding = Finding::new(Code::WordAmiss, span, message);
        self.findings.push(finding.with_help(help));
    }

    fn does_nothing(&mut self, at: usize, word: &str, help: &str) {
        let what = "does nothing here and is shown as text";
        self.find(at, word, what, help.to_owned());
    }

    /// The word with which the comment, or for `Choose:` a paragraph of it, begins.
    fn opening(&mut self, word: &str, help: &str) {
        for (at, _) in self.raw.match_indices(word) {
            if opens(self.raw, at, word == CHOOSE) {
                self.does_nothing(at, word, help);
            }
        }
    }

    /// `Choose:` within a paragraph, `Ask:` behind other words, `Hint:` and `Because:` without a
    /// question.
    fn misplaced(&mut self) {
        for (word, help) in [
            (
                CHOOSE,
                "begin a paragraph with it: leave a blank line before it, in the braces",
            ),
            (
                ASK,
                "begin the comment with it; what is said before stands in another",
            ),
            (HINT, "it belongs to a comment that begins with `Ask:`"),
            (BECAUSE, "it belongs to a comment that begins with `Ask:`"),
        ] {
            for (at, _) in self.raw.match_indices(word) {
                let works = match word {
                    HINT | BECAUSE => self.asks(),
                    _ => opens(self.raw, at, word == CHOOSE),
                };
                let before = &self.raw[..at];
                if before.ends_with('*') {
                    self.does_nothing(at, word, "write it without stars");
                } else if !works && before.ends_with(char::is_whitespace) {
                    self.does_nothing(at, word, help);
                } else if works && before.ends_with(['.', '!', '?']) {
                    self.does_nothing(at, word, "leave a space before it");
                }
            }
        }
    }

    /// A word with other capitals or with a space before its colon: `ask:`, `Ask :`. In a comment
    /// that asks, `hint:` and `because:` behind a sentence.
    fn small(&mut self) {
        for word in [ASK, CHOOSE, HINT, BECAUSE] {
            let name = word.trim_end_matches(':');
            for (colon, _) in self.raw.match_indices(':') {
                let before = self.raw[..colon].trim_end_matches(' ');
                let at = before.len().saturating_sub(name.len());
                let Some(written) = self.raw.get(at..=colon) else {
                    continue; // within a letter
                };
                if !before[at..].eq_ignore_ascii_case(name) || written == word {
                    continue;
                }
                let ends = |text: &str| text.trim_end().ends_with(['.', '!', '?']);
                let stands = match word {
                    HINT | BECAUSE => {
                        let before = &self.raw[..at];
                        self.asks() && before.ends_with(char::is_whitespace) && ends(before)
                    }
                    _ => opens(self.raw, at, word == CHOOSE),
                };
                if stands {
                    self.does_nothing(at, written, &format!("write it as {word}"));
                }
            }
        }
    }

    /// In a comment that asks, a part that is given twice, and one without words.
    fn parts(&mut self) {
        if !self.asks() {
            return;
        }
        let mut places = Vec::new();
        for word in [HINT, BECAUSE] {
            let stand = |&(at, _): &(usize, &str)| self.raw[..at].ends_with(char::is_whitespace);
            let found = self.raw.match_indices(word).filter(stand);
            for (count, (at, word)) in found.enumerate() {
                places.push((at, word, count));
            }
        }
        places.sort_unstable();
        for (ix, &(at, word, count)) in places.iter().enumerate() {
            let end = places.get(ix + 1).map_or(self.raw.len(), |next| next.0);
            let words = self.raw[at + word.len()..end]
                .trim_matches(|sign: char| sign.is_whitespace() || matches!(sign, '}' | ';'));
            if count > 0 {
                self.does_nothing(at, word, "a question has it once; join what both say");
            } else if words.is_empty() {
                let help = "write the words behind it, or leave it out".to_owned();
                self.find(at, word, "says nothing here", help);
            }
        }
    }
}

/// Whether a comment begins at this place of its text, or a paragraph of it where they count.
fn opens(raw: &str, at: usize, paragraphs: bool) -> bool {
    let before = raw[..at].trim_end();
    let gap = &raw[before.len()..at];
    // Nothing but the brace or the semicolon is before it.
    before.len() == 1 || paragraphs && gap.matches('\n').count() > 1
}

#[cfg(test)]
mod tests {
    use crate::lesson::validate;
    use crate::notation::parse;
    use crate::text::{Code, Source};

    /// The words of a text that are told, as they are written.
    fn told(text: &str) -> Vec<String> {
        let source = Source::new("a.pgn", text);
        let (syntax, _) = parse(&source);
        let (_, findings) = validate(&source, &syntax);
        let of = findings.iter().filter(|it| it.code == Code::WordAmiss);
        of.map(|it| source.slice(it.span).to_owned()).collect()
    }

    #[test]
    fn words_where_they_belong_are_not_told() {
        let text = "{Ask: How does White begin? Hint: wide. Because: room.} 1. e4 {Good.\n\n\
                    Choose: if you dare} e5 {Ask: Which hint: is it?} 2. Nf3 {x} *";
        assert_eq!(told(text), [""; 0]);
    }

    #[test]
    fn words_that_are_written_otherwise_are_told_where_they_would_do_something() {
        for (text, wanted) in [
            ("1. e4 {ask: what now?} e5 {x} *", "ask:"),
            ("1. e4 {Ask : what now?} e5 {x} *", "Ask :"),
            ("1. e4 {Good.\n\nchoose: if you dare} e5 {x} *", "choose:"),
            ("1. e4 {Ask: what now? hint: a pawn} e5 {x} *", "hint:"),
            ("1. e4 {Ask: what now? BECAUSE: it is} e5 {x} *", "BECAUSE:"),
            ("1. e4 {Ask: what now?Hint: a pawn} e5 {x} *", "Hint:"),
            ("1. e4 {**Ask:** what now?} e5 {x} *", "Ask:"),
        ] {
            assert_eq!(told(text), [wanted], "{text}");
        }
        assert_eq!(told("1. e4 {You may ask: why?} e5 {a hint: x} *"), [""; 0]);
    }

    #[test]
    fn a_question_or_a_choice_before_a_variation_s_first_move_is_told() {
        let text = "1. e4 e5 (1... c5 {x}) ({Ask: what else?} 1... e6 {x}) ({Choose:} 1... c6 {x}) 2. Nf3 {x} *";
        assert_eq!(told(text), ["Ask:", "Choose:"]);
    }

    #[test]
    fn a_second_question_of_a_position_and_a_choice_without_a_move_are_told() {
        assert_eq!(told("1. e4 {Ask: one?} {Ask: two?} e5 {x} *"), ["Ask:"]);
        assert_eq!(told("{Choose: this} 1. e4 {x} *"), ["Choose:"]);
    }

    #[test]
    fn a_part_of_a_question_that_is_given_twice_or_says_nothing_is_told() {
        let twice = "1. e4 {Ask: how? Hint: a pawn. Hint: the king's.} e5 {x} *";
        assert_eq!(told(twice), ["Hint:"]);
        let empty = "1. e4 {Ask: how? Hint: Because: it is. } e5 {x} *";
        assert_eq!(told(empty), ["Hint:"]);
        assert_eq!(told("1. e4 {Ask: how? Because:} e5 {x} *"), ["Because:"]);
    }
}
