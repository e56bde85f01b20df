//! The texts after a try at a question, for the answer and for a hint, in the words of a language.

use super::wording::{counted, role, written};
use super::{Word, Words};
use crate::ask::Verdict;
use crate::ask::open_question::Hint;
use crate::lesson::rules::square_name;
use crate::lesson::{Idea, Lesson, NodeId};
use crate::notation::Comment;
use crate::text::{Listed, join};
use crate::view::numbers::number;
use crate::view::reader::asking::{Judged, Named};
use shakmaty::{Chess, Position};

/// What the reader is told after a try, or when the answer is shown.
pub fn judged_said(words: &Words, lesson: &Lesson, judged: &Judged) -> String {
    let number = judged.number.as_str();
    let mut text = String::new();
    let mut add = |more: &str| {
        if !text.is_empty() && !more.is_empty() {
            text.push(' ');
        }
        text.push_str(more);
    };
    let list = |but: &str| {
        let others = judged.answers.iter().filter(|answer| answer.san != but);
        let named: Vec<String> = others.map(|answer| named(words, number, answer)).listed();
        join(&named, "; ")
    };
    let right = judged.answers.iter().find(|it| it.san == judged.san);
    let tried = match right {
        Some(answer) => named(words, number, answer),
        None => number.to_owned() + &words.san(&judged.san),
    };
    let tried = ("move", tried.as_str());
    let joined = |add: &mut dyn FnMut(&str)| {
        if let Some(node) = judged.joined {
            add(&words.fill(Word::JoinsSaid, &[("move", &words.numbered(lesson, node))]));
        }
    };
    let not = [tried, ("words", judged.why_not.trim_end())];
    match &judged.verdict {
        None => {}
        Some(Verdict::Fair { .. } | Verdict::Weaker { .. } | Verdict::Other { .. })
            if !judged.why_not.is_empty() =>
        {
            add(&words.fill(Word::NotSaid, &not));
        }
        Some(Verdict::Right { node }) => {
            add(&words.fill(Word::RightSaid, &[tried]));
            joined(&mut add);
            add(&written(&judged.because, words));
            add(&comment(lesson, node.or(judged.joined)));
            let others = list(&judged.san);
            if judged.settled.is_some() && judged.told.is_none() && !others.is_empty() {
                add(&words.fill(Word::AlsoRight, &[("moves", &others)]));
            }
        }
        Some(Verdict::Fair { node }) => {
            add(&words.fill(Word::FairSaid, &[tried]));
            add(&comment(lesson, Some(*node)));
        }
        Some(Verdict::Weaker { node }) => {
            add(&words.fill(Word::WeakerSaid, &[tried]));
            add(&comment(lesson, Some(*node)));
        }
        Some(Verdict::Other { stands }) => {
            add(&words.fill(Word::OtherSaid, &[tried]));
            if let Some(node) = *stands {
                let there = words.numbered(lesson, node);
                add(&words.fill(Word::StandsSaid, &[("move", &there)]));
            }
        }
        Some(Verdict::Illegal { reason }) => add(&reason.message),
    }
    if let Some(reply) = &judged.reply {
        add(&words.fill(Word::ReplySaid, &[("move", &words.san(reply))]));
        match &judged.verdict {
            Some(Verdict::Weaker { node }) => {
                add(&comment(lesson, lesson.next_on_line(*node)));
            }
            _ => {
                if let Some([found, of]) = judged.found {
                    add(&counted(words, Word::FoundSaid, [found, of, 0, 0]));
                }
                if judged.settled.is_none() {
                    add(words.get(Word::YourMove));
                }
            }
        }
    }
    let names = match (&judged.verdict, judged.told) {
        (Some(Verdict::Fair { .. }), _) => Word::PrefersSaid,
        (None, _) | (_, Some(_)) => Word::AnswerIs,
        _ => return text,
    };
    // The verdict comes first.
    add(&words.fill(names, &[("moves", &list(""))]));
    joined(&mut add);
    add(&written(&judged.because, words));
    let first = || judged.answers.first().and_then(|answer| answer.node);
    add(&comment(lesson, judged.told.or_else(first)));
    text
}

/// A hint.
pub fn hint_said(words: &Words, position: &Chess, hint: &Hint) -> String {
    match hint {
        Hint::Words(text) => written(text, words),
        Hint::Idea(idea) => words
            .get(match idea {
                Idea::Mate => Word::IdeaMate,
                Idea::Unguarded(_) => Word::IdeaUnguarded,
                Idea::AttacksTwo => Word::IdeaAttacksTwo,
                Idea::Check => Word::IdeaCheck,
                Idea::Pinned(_) => Word::IdeaPinned,
                Idea::Guards(_) => Word::IdeaGuards,
            })
            .to_owned(),
        Hint::Piece(square) => {
            let kind = position.board().role_at(*square);
            let piece = kind.map_or("", |kind| role(words, kind));
            let square = square_name(*square);
            words.fill(Word::HintPiece, &[("piece", piece), ("square", &square)])
        }
        Hint::Square(square) => words.fill(Word::HintSquare, &[("square", &square_name(*square))]),
        Hint::Move(san) => words.fill(
            Word::HintMove,
            &[("move", &numbered(position, &words.san(san)))],
        ),
    }
}

fn numbered(before: &Chess, san: &str) -> String {
    number(before, true).unwrap_or_default() + san
}

/// A right move with its condition.
fn named(words: &Words, number: &str, answer: &Named) -> String {
    let mut text = number.to_owned() + &words.san(&answer.san);
    if !answer.condition.is_empty() {
        text.push_str(", ");
        text.push_str(answer.condition.trim_end_matches('.'));
    }
    text
}

/// What the author says of a move. Its conditions are left out, because they are shown beside it,
/// and questions, because their text is not about the move.
pub(crate) fn comment(lesson: &Lesson, id: Option<NodeId>) -> String {
    let mut text = String::new();
    let Some(id) = id else {
        return text;
    };
    for passage in lesson.node(id).comments.iter().filter_map(Comment::told) {
        for paragraph in passage.paragraphs() {
            if paragraph.lead.is_none() {
                text.push_str(if text.is_empty() { "" } else { " " });
                text.push_str(&paragraph.words());
            }
        }
    }
    text
}
