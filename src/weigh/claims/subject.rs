//! The move and the position that a claim is about.

use super::phrase::{Claim, phrases};
use crate::lesson::prose::{Context, Named, Place, named};
use crate::lesson::rules;
use crate::lesson::{Lesson, NodeId};
use crate::notation::Comment;
use crate::text::{Code, Finding, Span};
use crate::weigh::tell::{Told, line};
use shakmaty::{Chess, Color, Move};

/// A claim, and the move that it is about.
#[derive(Debug)]
pub struct Asked {
    pub claim: Claim,
    /// The side of which it speaks; none where it names none.
    pub side: Option<Color>,
    pub before: Chess,
    pub played: Move,
    pub after: Chess,
    /// Whether the move before it took something, which it may take back.
    pub in_trade: bool,
    span: Span,
    words: String,
    /// The move as people name it, with its number.
    name: String,
}

impl Asked {
    pub fn finding(&self, why: &str) -> Finding {
        let message = format!("\u{201c}{}\u{201d} at {}: {why}", self.words, self.name);
        let help =
            "correct the words or the moves, or write a paragraph `Weighed: why` into the comment";
        Finding::new(Code::ClaimAgainst, self.span, message).with_help(help.to_owned())
    }

    pub fn told(&self, why: &str) -> Told {
        Told {
            span: self.span,
            kind: "claim",
            text: format!("\u{201c}{}\u{201d} at {}: {why}", self.words, self.name),
        }
    }
}

/// The claims in the comments of a node.
pub fn asked(lesson: &Lesson, id: NodeId) -> Vec<Asked> {
    let node = lesson.node(id);
    let mut all = Vec::new();
    for (at, comments) in [
        (node.parent.unwrap_or(id), &node.before[..]),
        (id, &node.comments[..]),
    ] {
        let mut context = Context::at(Place::of(at));
        for passage in comments.iter().flat_map(Comment::passages) {
            let text = passage.sentences();
            let mut from = 0;
            for paragraph in text.split('\n') {
                let moves = named(lesson, lesson.letters(), &mut context, paragraph);
                for phrase in phrases(paragraph) {
                    let within = |it: &&Named| {
                        it.range.start >= phrase.sentence && it.range.end <= phrase.end
                    };
                    let mut inside = moves.iter().filter(within);
                    // A move after the phrase says how, and what it is then about is not certain.
                    if inside.clone().any(|it| it.range.start >= phrase.range.end) {
                        continue;
                    }
                    let place = match inside.next_back().map(|it| &it.place) {
                        None => Place::of(id),
                        Some(Ok(place)) => place.clone(),
                        Some(Err(_)) => continue,
                    };
                    let Some((before, played, in_trade)) = reached(lesson, &place) else {
                        continue;
                    };
                    let after = rules::after(&before, played);
                    let range = from + phrase.range.start..from + phrase.range.end;
                    all.push(Asked {
                        claim: phrase.claim,
                        side: phrase.side,
                        name: line(&before, &[played]),
                        before,
                        played,
                        after,
                        in_trade,
                        words: paragraph
                            .get(phrase.range.clone())
                            .unwrap_or_default()
                            .to_owned(),
                        span: passage.span(range),
                    });
                }
                from += paragraph.len() + 1;
            }
        }
    }
    all
}

/// The position before a place and the move that leads from there to it, and whether the move before that took
/// something; none at the start and after a pass.
fn reached(lesson: &Lesson, place: &Place) -> Option<(Chess, Move, bool)> {
    let by = |place: &Place| match place.aside.last() {
        Some(tried) => tried.played,
        None => lesson.node(place.node).played,
    };
    let mut before = place.clone();
    if !before.back(lesson) {
        return None;
    }
    let in_trade = by(&before).is_some_and(|it| it.is_capture());
    Some((before.position(lesson).clone(), by(place)?, in_trade))
}
