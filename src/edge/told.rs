//! What comes of tries at questions, as data: the details of `ply-answered` and `ply-settled`.

use super::plain::leaves_as;
use crate::ask::asked::How;
use crate::lesson::Lesson;
use crate::lesson::rules::{self, EnPassantForm};
use crate::view::{Judged, Notice, State};

/// One event.
#[derive(Debug)]
pub struct Told {
    /// `right`, `fair`, `weaker`, `other`, `illegal`; null when the question is settled.
    pub verdict: Option<&'static str>,
    /// How it was settled, `answered` or `shown`; null for a try.
    pub how: Option<&'static str>,
    /// The move tried in English SAN, or as it was tried where it is not legal.
    pub played: Option<String>,
    /// The position in which it was tried, six fields.
    pub fen: Option<String>,
    /// Legal moves tried so far.
    pub tries: u32,
}

leaves_as!(
    Told,
    "verdict": verdict,
    "how": how,
    "move": played,
    "fen": fen,
    "tries": tries,
);

/// Adds what a step tells.
pub fn tell(lesson: &Lesson, before: &State, after: &State, told: &mut Vec<Told>) {
    let Some(asking) = before.asking.as_ref().filter(|asking| asking.is_open()) else {
        return;
    };
    if before.notice == after.notice {
        return;
    }
    let fen = || Some(rules::fen(before.position(lesson), EnPassantForm::Legal));
    match &after.notice {
        Some(Notice::Refused(_)) => told.push(Told {
            verdict: Some("illegal"),
            how: None,
            played: None,
            fen: fen(),
            tries: asking.asked.tries,
        }),
        Some(Notice::Judged(judged)) => {
            let Judged {
                verdict,
                san,
                tries,
                settled,
                ..
            } = &**judged;
            if let Some(verdict) = verdict {
                told.push(Told {
                    verdict: Some(verdict.word()),
                    how: None,
                    played: Some(san.clone()),
                    fen: fen(),
                    tries: *tries,
                });
            }
            let how = settled.map(|how| match how {
                How::Answered => "answered",
                How::Shown => "shown",
            });
            if how.is_some() {
                told.push(Told {
                    verdict: None,
                    how,
                    played: None,
                    fen: None,
                    tries: *tries,
                });
            }
        }
        _ => {}
    }
}
