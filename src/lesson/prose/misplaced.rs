//! The findings about moves in prose that are not linked.

use super::{Misplaced, Missed};
use crate::lesson::ids::NodeId;
use crate::lesson::place::Place;
use crate::lesson::place::address::address;
use crate::lesson::reason::explain::{self, Bad};
use crate::lesson::rules::{self, Refusal};
use crate::lesson::tree::Lesson;
use crate::notation::Letters;
use crate::notation::word::san;
use crate::text::{Code, Finding, Span};
use core::ops::Range;

/// The most places that a finding names.
const NAMED: usize = 6;

/// The finding about a move that is not linked: why, and what is near it. Its place is in the
/// paragraph. The code of what cannot be played is that of the reason.
pub fn finding(
    lesson: &Lesson,
    letters: &Letters,
    text: &str,
    range: Range<usize>,
    missed: &Missed,
) -> Finding {
    if let Missed::Misplaced(misplaced) | Missed::Nowhere(misplaced) = missed {
        return impossible(lesson, letters, text, misplaced);
    }
    let span = Span::new(range.start, range.end);
    let message = "several places of the lesson fit equally".to_owned();
    Finding::new(Code::NamedSeveral, span, message)
}

/// The places among which the author has to say which is meant.
pub fn places(lesson: &Lesson, nodes: &[NodeId]) -> String {
    let nodes = nodes.iter().take(NAMED);
    let runs = nodes.map(|&node| address(lesson, &Place::of(node)).replace('_', " "));
    runs.collect::<Vec<_>>().join(", ")
}

fn impossible(lesson: &Lesson, letters: &Letters, text: &str, misplaced: &Misplaced) -> Finding {
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
