//! Payloads of `ply-answered` and `ply-settled`, and which of the two is sent.

use super::plain::{Plain, ToPlain, leaves_as};
use crate::view::Effect;

/// An event about a question or a recall.
#[derive(Debug)]
pub enum AnswerEvent {
    /// `ply-answered`.
    Answered(Answered),
    /// `ply-settled`.
    Settled(Settled),
}

/// A try.
#[derive(Debug)]
pub struct Answered {
    /// `right`, `fair`, `weaker`, `other`, `illegal`.
    pub verdict: &'static str,
    /// The move tried in English SAN; null if it is not legal.
    pub played: Option<String>,
    /// The position in which it was tried, six fields.
    pub fen: String,
    /// Legal moves tried so far.
    pub tries: u32,
}

/// How a question was settled.
#[derive(Debug)]
pub struct Settled {
    /// `answered` or `shown`.
    pub how: &'static str,
    /// Legal moves tried.
    pub tries: u32,
}

leaves_as!(
    Answered,
    "verdict": verdict,
    "move": played,
    "fen": fen,
    "tries": tries,
);

leaves_as!(Settled, "how": how, "tries": tries);

impl ToPlain for AnswerEvent {
    /// Its type and its detail.
    fn to_plain(&self) -> Plain<'_> {
        let (name, detail): (&&str, &dyn ToPlain) = match self {
            AnswerEvent::Answered(detail) => (&"ply-answered", detail),
            AnswerEvent::Settled(detail) => (&"ply-settled", detail),
        };
        Plain::object(&[("type", name), ("detail", detail)])
    }
}

/// The events that a step leads to, in their order.
pub fn answer_events(effects: &[Effect]) -> Vec<AnswerEvent> {
    let mut events = Vec::new();
    for effect in effects {
        events.push(match effect {
            Effect::Refused { fen, tries } => AnswerEvent::Answered(Answered {
                verdict: "illegal",
                played: None,
                fen: fen.clone(),
                tries: *tries,
            }),
            Effect::Judged { judged, fen } => AnswerEvent::Answered(Answered {
                verdict: judged.verdict.as_ref().map_or("", |it| it.word()),
                played: Some(judged.san.clone()),
                fen: fen.clone(),
                tries: judged.tries,
            }),
            Effect::Settled { how, tries } => AnswerEvent::Settled(Settled {
                how: how.word(),
                tries: *tries,
            }),
            _ => continue,
        });
    }
    events
}
