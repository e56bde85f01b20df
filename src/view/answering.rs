//! What is said of a try at a question, of the answer and of a hint, in the words of a language.

use super::asking::{Judged, Named};
use super::lines::number;
use super::wording::{plain, role};
use super::words::{Word, Words};
use crate::ask::Verdict;
use crate::ask::asked::Hint;
use crate::lesson::rules::square_name;
use crate::lesson::{Lesson, NodeId, Said};
use crate::notation::comment as folded;
use crate::text::{Listed, join};
use shakmaty::{Chess, Position};

/// What is said of a try, or of the answer that is shown.
pub fn judged_said(words: &Words, lesson: &Lesson, judged: &Judged) -> String {
    let before = &lesson.node(judged.at).position;
    let tried = numbered(before, &judged.san);
    let tried = ("move", tried.as_str());
    let mut text = String::new();
    let mut add = |more: &str| {
        if !text.is_empty() && !more.is_empty() {
            text.push(' ');
        }
        text.push_str(more);
    };
    let list = |but: &str| {
        let others = judged.answers.iter().filter(|answer| answer.san != but);
        let named: Vec<String> = others.map(|answer| named(before, answer)).listed();
        join(&named, "; ")
    };
    match &judged.verdict {
        None => {
            add(&words.fill(Word::AnswerIs, &[("moves", &list(""))]));
            add(&judged.because);
            if judged.because.is_empty()
                && let Some(node) = judged.answers.first().and_then(|answer| answer.node)
            {
                add(&comment(words, lesson, node));
            }
        }
        Some(Verdict::Right { node }) => {
            add(&words.fill(Word::RightSaid, &[tried]));
            add(&judged.because);
            if judged.because.is_empty()
                && let Some(node) = *node
            {
                add(&comment(words, lesson, node));
            }
            let others = list(&judged.san);
            if !others.is_empty() {
                add(&words.fill(Word::AlsoRight, &[("moves", &others)]));
            }
            if let Some(reply) = &judged.reply {
                add(&words.fill(Word::ReplySaid, &[("move", reply)]));
            }
        }
        Some(Verdict::Fair { .. }) => {
            add(&words.fill(Word::FairSaid, &[tried, ("moves", &list(""))]));
        }
        Some(Verdict::Weaker { node, .. }) => {
            add(&words.fill(Word::WeakerSaid, &[tried]));
            add(&comment(words, lesson, *node));
        }
        Some(Verdict::Other { stands }) => {
            add(&words.fill(Word::OtherSaid, &[tried]));
            if let Some(node) = *stands {
                let there = lesson.numbered(node);
                add(&words.fill(Word::StandsSaid, &[("move", &there)]));
            }
        }
        Some(Verdict::Illegal { reason }) => add(&reason.message),
    }
    text
}

/// A hint.
pub fn hint_said(words: &Words, position: &Chess, hint: &Hint) -> String {
    match hint {
        Hint::Words(text) => text.clone(),
        Hint::Piece(square) => {
            let kind = position.board().role_at(*square);
            let piece = kind.map_or("", |kind| role(words, kind));
            let square = square_name(*square);
            words.fill(Word::HintPiece, &[("piece", piece), ("square", &square)])
        }
        Hint::Square(square) => words.fill(Word::HintSquare, &[("square", &square_name(*square))]),
        Hint::Move(san) => words.fill(Word::HintMove, &[("move", &numbered(position, san))]),
    }
}

fn numbered(before: &Chess, san: &str) -> String {
    number(before, true).unwrap_or_default() + san
}

/// A right move with its condition.
fn named(before: &Chess, answer: &Named) -> String {
    let mut text = numbered(before, &answer.san);
    if !answer.condition.is_empty() {
        text.push_str(", ");
        text.push_str(answer.condition.trim_end_matches('.'));
    }
    text
}

/// What the author says of a move, its conditions left out, for they are said beside it.
fn comment(words: &Words, lesson: &Lesson, id: NodeId) -> String {
    let node = lesson.node(id);
    let said = Said::join(&node.comments).unwrap_or_default();
    let kept = folded::split(&said).filter(|text| folded::choice(text).is_none());
    plain(&join(&kept.listed(), "\n\n"), words)
}
