//! Wrong answers that the author of a question expects, each with the reason:
//! `Not: Kxd8 because the rook comes to e1`.

use crate::lesson::place::number::unnumbered;
use crate::lesson::{Attempt, Lesson, NodeId, attempt_word};
use crate::notation::comment::keyword::Part;
use crate::notation::comment::passage::Passage;
use crate::text::run;
use core::ops::Range;
use shakmaty::Move;

/// What an author says of a wrong answer.
pub struct WrongAnswer<'a> {
    /// All of it: the move, then what is said of it.
    pub says: &'a Passage,
    /// The bytes of the move's word in its text, without a number before it.
    pub word: Range<usize>,
    /// What becomes of the move at the question's position.
    pub attempt: Attempt,
}

/// The wrong answers that the comment at a node names, in the order of the text.
pub fn wrong_answers(lesson: &Lesson, node: NodeId) -> Vec<WrongAnswer<'_>> {
    let mut list = Vec::new();
    let asked = lesson.node(node);
    let Some(ask) = asked.ask() else {
        return list;
    };
    for part in ask.parts.iter().filter(|part| part.part == Part::Not) {
        let text = part.says.text();
        let rest = unnumbered(text).unwrap_or(text).trim_start();
        let from = text.len() - rest.len();
        let is_word = |byte| !matches!(byte, b' ' | b'\n' | b',' | b':' | b';');
        let word = rest.get(..run(rest, is_word)).unwrap_or_default();
        let word = word.strip_suffix('.').unwrap_or(word);
        list.push(WrongAnswer {
            says: &part.says,
            word: from..from + word.len(),
            attempt: attempt_word(&asked.position, word, lesson.letters()),
        });
    }
    list
}

/// What the author says of this wrong answer at a node, from after the move on; none if nothing.
pub fn why_not(lesson: &Lesson, node: NodeId, played: Move) -> Option<String> {
    for wrong in wrong_answers(lesson, node) {
        if let Attempt::Played(tried) = &wrong.attempt
            && tried.played == Some(played)
        {
            // Emphasis and marks are shown as words; what comes after the move's own is said.
            let mut text = String::new();
            for paragraph in wrong.says.paragraphs() {
                for piece in paragraph.pieces() {
                    let past = wrong.word.end.max(piece.at.start) - piece.at.start;
                    text.push_str(
                        piece
                            .text
                            .get(past.min(piece.text.len())..)
                            .unwrap_or_default(),
                    );
                }
            }
            return Some(text);
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::given::lesson;
    use crate::notation::Letters;

    const TEXT: &str = "1. e4 e5 2. Qh5 {Ask: How does Black guard e5? Not: 2...Ke7 because *the \
                        queen* takes on @e5. Not: g6, which loses a rook. Because: it develops.} \
                        Nc6 {done} *";

    fn said(word: &str) -> Option<String> {
        let lesson = lesson(TEXT);
        match attempt_word(&lesson.node(3).position, word, Letters::ENGLISH) {
            Attempt::Played(tried) => why_not(&lesson, 3, tried.played?),
            _ => None,
        }
    }

    #[test]
    fn a_wrong_answer_has_the_author_s_words_after_its_move() {
        assert_eq!(
            said("Ke7").as_deref(),
            Some(" because the queen takes on e5.")
        );
        assert_eq!(said("g6").as_deref(), Some(", which loses a rook."));
        assert_eq!(said("d6"), None);
    }

    #[test]
    fn the_words_for_wrong_answers_end_the_part_before_them() {
        let lesson = lesson(TEXT);
        let ask = lesson.node(3).ask().expect("a question");
        assert_eq!(ask.prompt.text(), "How does Black guard e5?");
        assert_eq!(ask.because().map(Passage::text), Some("it develops."));
    }
}
