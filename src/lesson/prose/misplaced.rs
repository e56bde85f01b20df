//! The finding about a move in prose that cannot be played where its number puts it.

use super::Misplaced;
use crate::lesson::reason::explain::{self, Bad};
use crate::lesson::rules::{self, Refusal};
use crate::lesson::tree::Lesson;
use crate::notation::Letters;
use crate::notation::word::san;
use crate::text::{Finding, Span};

/// The finding about a move that cannot be played where its number puts it: the reason and what
/// is near it. Its place is in the paragraph.
pub fn finding(lesson: &Lesson, letters: &Letters, text: &str, misplaced: &Misplaced) -> Finding {
    let span = Span::new(misplaced.word.start, misplaced.word.end);
    let word = san::read(
        text.get(misplaced.word.clone()).unwrap_or_default(),
        letters,
    );
    let position = misplaced.before.position(lesson);
    let refusal = match &word.shape {
        Some(shape) => rules::resolve(position, shape).err(),
        None => None,
    };
    let bad = Bad {
        position,
        word: &word,
        span,
        letters,
        earlier: None,
        later: None,
        by_squares: false,
        beside: None,
    };
    let mut finding = explain::finding(&bad, &refusal.unwrap_or(Refusal::Impossible));
    // A sentence is the author's own: nothing in it is changed without asking.
    finding.fix = None;
    finding
}
