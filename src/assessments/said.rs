//! What was computed, and what is said of it.

use super::words::{Word, Words};
use super::{Bound, Score};
#[cfg(not(target_family = "wasm"))]
use crate::lesson::rules::position_name;
#[cfg(not(target_family = "wasm"))]
use crate::lesson::{Lesson, NodeId};
use crate::notation::Letters;
use crate::text::split;
use std::collections::BTreeMap;

/// What was computed of one position.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assessment {
    /// For White.
    pub score: Score,
    pub bound: Bound,
    /// How many half-moves deep; none where the engine did not say so.
    pub depth: Option<u32>,
    /// What it would play, in English SAN.
    pub line: Vec<String>,
}

impl Assessment {
    /// The same with moves in these letters.
    pub fn lettered(mut self, letters: &Letters) -> Assessment {
        for san in &mut self.line {
            *san = letters.write(san);
        }
        self
    }
}

/// How far each position was computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limit {
    Nodes(u64),
    Depth(u64),
    Seconds(u64),
}

/// Who computed it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Of {
    /// The engine's own name, and its author after a comma.
    pub name: String,
    /// None where the file names none that is known.
    pub limit: Option<Limit>,
    /// The day of the last.
    pub date: String,
}

/// What was computed for a lesson: by whom, and of each position, which is named by the first four fields of its FEN.
#[derive(Clone, Debug, Default)]
pub struct Collection {
    pub of: Of,
    pub at: BTreeMap<String, Assessment>,
}

#[cfg(not(target_family = "wasm"))]
impl Collection {
    /// Whether it was computed for a lesson with some of these positions.
    pub fn is_of(&self, lesson: &Lesson) -> bool {
        lesson.ids().any(|id| self.at(lesson, id).is_some())
    }

    /// What was computed of a position of the lesson.
    pub fn at(&self, lesson: &Lesson, node: NodeId) -> Option<&Assessment> {
        self.at.get(&position_name(&lesson.node(node).position))
    }
}

/// An assessment and who made it, as the page's script hands them in: one text, whose values have a NUL after each. Names,
/// `nodes`, `depth` or `seconds` and their number, date; `pawns` in hundredths or `mate` and its number, `lower`, `upper` or
/// nothing, depth, and the moves of its line with a space between.
pub fn given(text: &str) -> Option<(Of, Assessment)> {
    let mut values = split(text, 0);
    let mut next = || values.next().unwrap_or_default().to_owned();
    let (name, kind, number, date) = (next(), next(), next(), next());
    let number = number.parse().ok();
    let of = Of {
        name,
        limit: number.and_then(|it| limit(&kind, it)),
        date,
    };
    let (kind, number, bound, depth, line) = (next(), next(), next(), next(), next());
    let number = number.parse().ok()?;
    let assessment = Assessment {
        score: match kind.as_str() {
            "pawns" => Score::Pawns(number),
            "mate" => Score::Mate(number),
            _ => return None,
        },
        bound: match bound.as_str() {
            "lower" => Bound::Lower,
            "upper" => Bound::Upper,
            _ => Bound::Exact,
        },
        depth: depth.parse().ok(),
        line: split(&line, b' ')
            .filter(|it| !it.is_empty())
            .map(str::to_owned)
            .collect(),
    };
    Some((of, assessment))
}

/// A limit by its name in an assessments file.
pub fn limit(name: &str, number: u64) -> Option<Limit> {
    match name {
        "nodes" => Some(Limit::Nodes(number)),
        "depth" => Some(Limit::Depth(number)),
        "seconds" => Some(Limit::Seconds(number)),
        _ => None,
    }
}

/// The number in words: `+0.7 for White, depth 24`.
pub fn sentence(words: &Words, it: &Assessment) -> String {
    // From the view of the side that is better, whose bound is turned with the number.
    let is_white = match it.score {
        Score::Pawns(hundredths) => hundredths >= 0,
        Score::Mate(moves) => moves > 0,
    };
    let (score, bound) = match is_white {
        true => (it.score, it.bound),
        false => (it.score.turned(), it.bound.turned()),
    };
    let side = |is_white: bool| match is_white {
        true => words.fill(Word::White, &[]),
        false => words.fill(Word::Black, &[]),
    };
    let said = match score {
        Score::Pawns(hundredths) => {
            // To a tenth of a pawn: more is not known.
            let tenths = (hundredths.saturating_add(5)) / 10;
            match tenths {
                0 => words.fill(Word::Level, &[]),
                _ => {
                    let number = "+".to_owned()
                        + &(tenths / 10).to_string()
                        + "."
                        + &(tenths % 10).to_string();
                    words.fill(Word::For, &[("score", &number), ("side", &side(is_white))])
                }
            }
        }
        // Who is mated is to be seen.
        Score::Mate(0) => words.fill(Word::Mated, &[]),
        Score::Mate(moves) => {
            let count = moves.to_string();
            words.fill(Word::Mate, &[("count", &count), ("side", &side(is_white))])
        }
    };
    let said = match bound {
        Bound::Exact => said,
        Bound::Lower => words.fill(Word::Least, &[("score", &said)]),
        Bound::Upper => words.fill(Word::Most, &[("score", &said)]),
    };
    match it.depth {
        Some(depth) => said + &words.fill(Word::Depth, &[("depth", &depth.to_string())]),
        None => said,
    }
}
