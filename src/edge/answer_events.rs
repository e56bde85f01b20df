//! What comes of tries at questions, as data: the details of `ply-answered` and `ply-settled`.

use super::plain::leaves_as;
use crate::ask::open_question::How;
use crate::lesson::Lesson;
use crate::lesson::rules::{self, EnPassantForm};
use crate::view::{Notice, State};

/// One event.
#[derive(Debug)]
pub struct Told {
    /// `right`, `fair`, `weaker`, `other`, `illegal`; null when the question is settled.
    pub verdict: Option<&'static str>,
    /// How it was settled, `answered` or `shown`; null for a try.
    pub how: Option<&'static str>,
    /// The move tried in English SAN; null where it is not legal.
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
    let is_new = before.notice != after.notice || before.again != after.again;
    let notice = after.notice.as_ref().filter(|_| is_new);
    let fen = || Some(rules::fen(before.position(lesson), EnPassantForm::Legal));
    let mut judged = None;
    match notice {
        Some(Notice::Refused(_)) if before.is_asked() => {
            let asking = before.asking.as_ref();
            told.push(Told {
                verdict: Some("illegal"),
                how: None,
                played: None,
                fen: fen(),
                tries: asking.map_or(0, |asking| asking.asked.tries),
            });
        }
        Some(Notice::Judged(said)) => {
            judged = Some(&**said);
            if let Some(verdict) = &said.verdict {
                told.push(Told {
                    verdict: Some(verdict.word()),
                    how: None,
                    played: Some(said.san.clone()),
                    fen: fen(),
                    tries: said.tries,
                });
            }
        }
        _ => {}
    }
    let how = judged.and_then(|judged| judged.settled);
    let settled = match after.is_quiz {
        true => usize::from(how.is_some()),
        // All at once, where a script goes behind them or a reader opens every answer.
        false => after.settled.len().saturating_sub(before.settled.len()),
    };
    for _ in 0..settled {
        told.push(Told {
            verdict: None,
            how: Some(match how {
                Some(How::Answered) => "answered",
                _ => "shown",
            }),
            played: None,
            fen: None,
            tries: judged.map_or(0, |judged| judged.tries),
        });
    }
}
