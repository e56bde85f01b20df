//! Captures that a comment names as a threat or an idea (`with the idea of Nxf7`) and that neither
//! side can play at its position.

use crate::lesson::reason::phrases::list;
use crate::lesson::reason::suggest::one_sign_off;
use crate::lesson::rules::{self, Refusal};
use crate::lesson::{Lesson, NodeId};
use crate::notation::comment::passage::Passage;
use crate::notation::word::san::{self, Kind};
use crate::notation::{Comment, Letters};
use crate::text::{Code, Finding, Findings, quote};
use shakmaty::Chess;

/// After which words a move is one that can be played at once.
const BEFORE: &[&str] = &[
    "idea of ",
    "threat of ",
    "threatens ",
    "threatening ",
    "threat is ",
];

/// Most moves that are offered instead.
const OFFERED: usize = 3;

/// Such captures in the comments of a lesson.
pub(super) fn threats(lesson: &Lesson) -> Findings {
    let mut findings = Findings::default();
    for &id in lesson.commented() {
        let comments = lesson.node(id).comments.iter();
        for passage in comments.flat_map(Comment::passages) {
            if !passage.is_silent()
                && let Some(finding) = threat(lesson, id, passage)
            {
                findings.push(finding);
            }
        }
    }
    findings
}

/// The first of a passage; what follows it may be about another position.
fn threat(lesson: &Lesson, id: NodeId, passage: &Passage) -> Option<Finding> {
    let text = passage.sentences();
    let ends = BEFORE
        .iter()
        .filter_map(|it| Some(text.find(it)? + it.len()));
    let from = ends.min()?;
    let word = text[from..].split_whitespace().next()?;
    let word = word.trim_end_matches(['.', ',', ';', ':', '!', '?', ')']);
    if names_a_square(&text[..from]) {
        return None; // after another move
    }
    let shape = san::read(word, Letters::ENGLISH).shape?;
    let Kind::Piece { role: Some(_), .. } = shape.kind else {
        return None;
    };
    let here = &lesson.node(id).position;
    let other = rules::pass(here)?;
    // A move of several pieces can be played.
    let can = |at: &Chess| match rules::resolve(at, &shape) {
        Ok(_) => true,
        Err(refusal) => matches!(refusal, Refusal::Ambiguous(_)),
    };
    // To a square where it takes nothing a piece may go in two moves.
    if !shape.capture || can(here) || can(&other) {
        return None;
    }
    let written = quote(word);
    let message = format!("neither side can play {written} here");
    let span = passage.span(from..from + word.len());
    let finding = Finding::new(Code::NoThreat, span, message);
    let mut near = one_sign_off(&other, word);
    near.extend(one_sign_off(here, word));
    let near: Vec<String> = near.into_iter().map(|(san, _)| san).take(OFFERED).collect();
    Some(match near.is_empty() {
        false => finding.with_help(format!("did you mean {}", list(near, "or"))),
        true => finding,
    })
}

fn names_a_square(text: &str) -> bool {
    let mut pairs = text.as_bytes().windows(2);
    pairs.any(|pair| matches!(pair, [b'a'..=b'h', b'1'..=b'8']))
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::words_of;
    use crate::text::Code;

    fn told(comment: &str) -> Vec<String> {
        let text = format!("1. e4 e5 2. Nf3 {{{comment}}} Nc6 {{x}} *");
        words_of(&text, Code::NoThreat)
    }

    #[test]
    fn a_threat_is_one_that_a_side_can_play() {
        assert_eq!(told("White threatens Nxe6."), ["Nxe6"]);
        assert_eq!(told("It has the idea of Nxd5 already."), ["Nxd5"]);
        for fine in [
            "White threatens Nxe5.",
            "With the idea of Bb5.",
            "After Nc6 White threatens Bxc6.",
            "With the idea of holding e5.",
        ] {
            assert!(told(fine).is_empty(), "{fine}");
        }
    }
}
