//! The words that make a comment more than text, in places or forms in which they do nothing.

use super::misspelt;
use super::without_colon::means_to_ask;
use crate::lesson::{Lesson, NodeId};
use crate::notation::Comment;
use crate::text::{Code, Finding, Findings, quote};

const CHOOSE: &str = "Choose:";
const ASK: &str = "Ask:";
const HINT: &str = "Hint:";
const BECAUSE: &str = "Because:";

/// Such words in the comments of a lesson.
pub(super) fn keywords(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for &id in lesson.commented() {
        words(lesson, id, &mut findings);
    }
    findings
}

fn words(lesson: &Lesson, id: NodeId, findings: &mut Findings) {
    let node = lesson.node(id);
    for said in node.before.iter().filter(|said| !said.is_silent()) {
        let text = said.written();
        if !text.contains(':') {
            continue;
        }
        let mut comment = Look::new(said, &text, findings);
        comment.question(&format!(
            "before the first move of a variation it belongs to no position; {}",
            before_it(lesson, id)
        ));
        let help = "before the first move of a variation it recommends nothing; put it after the \
                    move";
        comment.opening(CHOOSE, help);
        comment.everywhere();
    }
    let asked = node.comments.iter().position(|said| said.ask().is_some());
    for (at, said) in node.comments.iter().enumerate() {
        if said.is_silent() {
            continue;
        }
        let text = said.written();
        if !text.contains(':') {
            continue;
        }
        let mut comment = Look::new(said, &text, findings);
        comment.beside_question = asked.is_some();
        if asked.is_some_and(|first| first < at) {
            comment.question("a position asks one question, and it has one before this");
        }
        if node.parent.is_none() {
            comment.opening(
                CHOOSE,
                "it recommends the move before it, and there is no move",
            );
        }
        comment.everywhere();
        comment.parts();
    }
}

/// The right place of a question that is before the first move of a variation: after the move
/// before it, and before the one that the variation replaces.
fn before_it(lesson: &Lesson, id: NodeId) -> String {
    let node = lesson.node(id);
    let beside = lesson.numbered(lesson.line(node.line).beside);
    match node.parent {
        None | Some(0) => format!("put it before {beside}"),
        Some(parent) => format!("put it after {}, before {beside}", lesson.numbered(parent)),
    }
}

/// The comment being checked.
struct Look<'a> {
    said: &'a Comment,
    /// Its text without commands of other programs.
    text: &'a str,
    findings: &'a mut Findings,
    /// Whether it should ask, even if its first word is misspelt.
    means_to_ask: bool,
    /// Whether another comment of its position asks.
    beside_question: bool,
}

impl<'a> Look<'a> {
    fn new(said: &'a Comment, text: &'a str, findings: &'a mut Findings) -> Look<'a> {
        let first = text
            .trim_start()
            .split(':')
            .next()
            .unwrap_or_default()
            .trim_end();
        let means_to_ask = first.eq_ignore_ascii_case("ask")
            || misspelt::meant(first) == Some(ASK)
            || means_to_ask(text);
        Look {
            said,
            text,
            findings,
            means_to_ask,
            beside_question: false,
        }
    }

    fn asks(&self) -> bool {
        self.said.ask().is_some()
    }

    /// A word at this place of the text, with how to write it instead.
    fn find(&mut self, at: usize, word: &str, what: &str, help: String) {
        let message = format!("{} {what}", quote(word));
        let span = self.said.place(at..at + word.len());
        let finding = Finding::new(Code::WordAmiss, span, message);
        self.findings.push(finding.with_help(help));
    }

    fn does_nothing(&mut self, at: usize, word: &str, help: &str) {
        let what = "does nothing here and is shown as text";
        self.find(at, word, what, help.to_owned());
    }

    /// `Ask:` at the beginning of a comment that asks nothing.
    fn question(&mut self, help: &str) {
        if self.asks() {
            let at = self.text.find(ASK).unwrap_or_default(); // its text begins with it
            let what = "asks nothing here: readers see its words and cannot answer";
            self.find(at, ASK, what, help.to_owned());
        }
    }

    /// Checks made for every comment.
    fn everywhere(&mut self) {
        self.misplaced();
        self.small();
        self.misspelt();
    }

    /// The word with which the comment, or for `Choose:` a paragraph of it, begins.
    fn opening(&mut self, word: &str, help: &str) {
        for (at, _) in self.text.match_indices(word) {
            if opens(self.text, at, word == CHOOSE) {
                self.does_nothing(at, word, help);
            }
        }
    }

    /// `Choose:` within a paragraph, `Ask:` after other words, `Hint:` and `Because:` without a
    /// question.
    fn misplaced(&mut self) {
        let part = match self.beside_question {
            true => "write it in the braces of the `Ask:`, after the question",
            false => "it belongs to a comment that begins with `Ask:`",
        };
        let mut is_told = false;
        for (word, help) in [
            (
                CHOOSE,
                "begin a paragraph with it: leave a blank line before it, in the braces",
            ),
            (
                ASK,
                "begin the comment with it; put the words before it into another comment",
            ),
            (HINT, part),
            (BECAUSE, part),
        ] {
            for (at, _) in self.text.match_indices(word) {
                let begins = opens(self.text, at, word == CHOOSE);
                let is_part = matches!(word, HINT | BECAUSE);
                let works = match is_part {
                    true => self.means_to_ask,
                    false => begins,
                };
                let before = &self.text[..at];
                if before.ends_with('*') {
                    self.does_nothing(at, word, "write it without stars");
                } else if !works && (before.ends_with(char::is_whitespace) || is_part && begins) {
                    // The parts of one question have lost the same word.
                    if !is_part || !core::mem::replace(&mut is_told, true) {
                        self.does_nothing(at, word, help);
                    }
                } else if works && before.ends_with(['.', '!', '?']) {
                    self.does_nothing(at, word, "leave a space before it");
                }
            }
        }
    }

    /// A word with a slip in it, where a paragraph or a sentence begins.
    fn misspelt(&mut self) {
        for (colon, _) in self.text.match_indices(':') {
            let before = &self.text[..colon];
            let last = |text: &str| {
                let ahead = text.trim_end_matches(|sign: char| sign.is_alphanumeric());
                ahead.len()
            };
            // The last word, or the last two of `In short:`.
            let one = last(before);
            let two = before[..one].strip_suffix(' ').map_or(one, last);
            let at = match before[two..].starts_with("In ") {
                true => two,
                false => one,
            };
            let Some(meant) = misspelt::meant(&before[at..]) else {
                continue;
            };
            let begins = opens(self.text, at, true);
            let ahead = &self.text[..at];
            let is_sentence =
                ahead.ends_with(char::is_whitespace) && ahead.trim_end().ends_with(['.', '!', '?']);
            let fits = match meant {
                HINT | BECAUSE => {
                    is_sentence && self.means_to_ask || begins && self.beside_question
                }
                _ => begins || is_sentence,
            };
            if fits {
                let written = &self.text[at..=colon];
                self.does_nothing(at, written, &format!("did you mean {meant}"));
            }
        }
    }

    /// A word with other capitals or with a space before its colon: `ask:`, `Ask :`. In a comment
    /// that asks, `hint:` and `because:` after a sentence.
    fn small(&mut self) {
        for word in [ASK, CHOOSE, HINT, BECAUSE] {
            let name = word.trim_end_matches(':');
            for (colon, _) in self.text.match_indices(':') {
                let before = self.text[..colon].trim_end_matches(' ');
                let at = before.len().saturating_sub(name.len());
                let Some(written) = self.text.get(at..=colon) else {
                    continue; // within a letter
                };
                if !before[at..].eq_ignore_ascii_case(name) || written == word {
                    continue;
                }
                let ends = |text: &str| text.trim_end().ends_with(['.', '!', '?']);
                let stands = match word {
                    HINT | BECAUSE => {
                        let before = &self.text[..at];
                        self.means_to_ask && before.ends_with(char::is_whitespace) && ends(before)
                    }
                    _ => opens(self.text, at, word == CHOOSE),
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
            let stand = |&(at, _): &(usize, &str)| self.text[..at].ends_with(char::is_whitespace);
            let found = self.text.match_indices(word).filter(stand);
            for (count, (at, word)) in found.enumerate() {
                places.push((at, word, count));
            }
        }
        places.sort_unstable();
        for (ix, &(at, word, count)) in places.iter().enumerate() {
            let end = places.get(ix + 1).map_or(self.text.len(), |next| next.0);
            let words = self.text[at + word.len()..end].trim();
            if count > 0 {
                self.does_nothing(at, word, "a question has it once; join the words of both");
            } else if words.is_empty() {
                let help = "write the words after it, or leave it out".to_owned();
                self.find(at, word, "says nothing here", help);
            }
        }
    }
}

/// Whether a comment begins at this place of its text, or a paragraph of it where they count.
fn opens(text: &str, at: usize, paragraphs: bool) -> bool {
    let before = text[..at].trim_end();
    let gap = &text[before.len()..at];
    before.is_empty() || paragraphs && gap.matches('\n').count() > 1
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::{checked, words_of};
    use crate::text::Code;

    /// The words of a text that have findings, as written.
    fn told(text: &str) -> Vec<String> {
        words_of(text, Code::WordAmiss)
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
    fn a_hint_or_a_reason_in_braces_of_its_own_is_told() {
        let text = "1. e4 {Ask: how?} {Hint: a pawn.} {Because: it is.} e5 {x} *";
        assert_eq!(told(text), ["Hint:", "Because:"]);
        assert_eq!(told("1. e4 {Hint: a pawn.} e5 {x} *"), ["Hint:"]);
        let both = "1. e4 {How? Hint: a pawn. Because: it is.} e5 {x} *";
        assert_eq!(told(both), ["Hint:"]);
    }

    #[test]
    fn a_word_with_a_slip_is_told_where_it_would_do_something() {
        for (text, wanted) in [
            ("1. e4 {Chose: if you dare} e5 {x} *", &["Chose:"][..]),
            ("1. e4 {Good.\n\nIn shrot: so} e5 {x} *", &["In shrot:"]),
            ("1. e4 {Aks: how?} e5 {x} *", &["Aks:"]),
            (
                "1. e4 {Ask: how? Hnit: a pawn. Becuase: it is.} e5 {x} *",
                &["Hnit:", "Becuase:"],
            ),
            ("1. e4 {Aks: how? Hint: a pawn.} e5 {x} *", &["Aks:"]),
            ("1. e4 {Good.\n\nChosse: it} e5 {x} *", &["Chosse:"]),
            ("1. e4 {Good. Chooose: it} e5 {x} *", &["Chooose:"]),
            ("1. e4 {Ask: how?} {Hnit: a pawn} e5 {x} *", &["Hnit:"]),
        ] {
            assert_eq!(told(text), wanted, "{text}");
        }
    }

    #[test]
    fn words_that_are_near_to_them_and_mean_themselves_are_not_told() {
        for words in [
            "Note: x",
            "Then: x",
            "Also: x",
            "Task: x",
            "Cause: x",
            "As: x",
            "Mask: x",
            "Hunt: x",
            "Good. Task: x",
            "White chose: a pawn",
            "He may aks: why",
            "Ask: how? The hnit: x",
        ] {
            let text = format!("1. e4 {{{words}}} e5 {{x}} *");
            assert_eq!(told(&text), [""; 0], "{words}");
        }
    }

    #[test]
    fn a_question_before_a_variation_belongs_before_the_move_that_it_replaces() {
        let help = |text: &str| {
            let (_, findings) = checked(text);
            let first = findings.iter().find(|it| it.code == Code::WordAmiss);
            first.and_then(|it| it.help.clone()).unwrap_or_default()
        };
        let later = help("1. e4 e5 2. Nf3 ({Ask: what else?} 2. Nc3 {x}) Nc6 {x} *");
        assert!(
            later.ends_with("put it after 1...e5, before 2.Nf3"),
            "{later}"
        );
        let first = help("1. e4 ({Ask: what else?} 1. d4 {x}) e5 {x} *");
        assert!(first.ends_with("put it before 1.e4"), "{first}");
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
