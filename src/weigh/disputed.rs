//! What the author judges otherwise than an engine: signs, choices, and lines along which its score swings.

use super::spots::Spots;
use super::words;
use crate::assessments::{Bound, Score};
use crate::lesson::reason::phrases::side;
use crate::lesson::{Lesson, Node, NodeId};
use crate::text::{Code, Finding, Findings};
use shakmaty::{Chess, Color, Position};

/// An engine that has given scores, for White.
pub struct Judge<'a> {
    /// Its name and limit, as they are told.
    pub name: String,
    pub score: &'a dyn Fn(&Chess) -> Option<(Score, Bound)>,
}

/// So far outside the range of a sign a score must lie, in hundredths of a pawn (rules of weighing, 9).
const BESIDE: i32 = 50;
/// A choice is told that is so much below the best, and ends below that.
const BELOW: i32 = 100;
const CHOICE_END: i32 = -50;
/// A swing is told of so much, if it ends below that.
const SWING: i32 = 150;
const SWING_END: i32 = -100;

/// The positions of a lesson that an engine can be asked about, each once.
pub fn positions(lesson: &Lesson) -> Vec<Chess> {
    let spots = Spots::of(lesson);
    let all = spots.iter().map(|it| it.position);
    all.filter(|it| !it.is_game_over()).cloned().collect()
}

/// The range of a sign for White, in hundredths of a pawn (common practice, no source).
fn range(nag: u8) -> Option<(i32, i32, &'static str)> {
    const MOST: i32 = i32::MAX / 2;
    Some(match nag {
        10..=12 => (-50, 50, "that it is equal"),
        14 => (20, 100, "that White is slightly better"),
        16 => (60, 200, "that White is better"),
        18 | 20 => (150, MOST, "that White is winning"),
        15 => (-100, -20, "that Black is slightly better"),
        17 => (-200, -60, "that Black is better"),
        19 | 21 => (-MOST, -150, "that Black is winning"),
        _ => return None,
    })
}

/// What an engine disputes of a lesson.
pub fn disputed(lesson: &Lesson, judge: &Judge<'_>) -> Findings {
    let spots = Spots::of(lesson);
    let mut findings = Findings::default();
    for id in lesson.ids() {
        if spots.number(id).is_none() || words::is_weighed(lesson, id) {
            continue;
        }
        for finding in [
            sign(lesson, id, judge),
            choice(lesson, id, judge),
            swing(lesson, id, judge),
        ]
        .into_iter()
        .flatten()
        {
            findings.push(finding);
        }
    }
    findings.sort();
    findings
}

/// A score as people write it, for White: `+0.70`, `mate in 3`.
fn shown(score: Score) -> String {
    match score {
        Score::Pawns(hundredths) => format!("{:+.2}", f64::from(hundredths) / 100.0),
        Score::Mate(moves) => {
            let who = side(Color::from_white(moves > 0));
            format!("{who} mates in {}", moves.abs())
        }
    }
}

fn sign(lesson: &Lesson, id: NodeId, judge: &Judge<'_>) -> Option<Finding> {
    let node = lesson.node(id);
    let (low, high, says) = node.nags.iter().find_map(|&nag| range(nag))?;
    let (score, bound) = (judge.score)(&node.position)?;
    let value = score.hundredths();
    // A bound proves only what lies on its own side.
    let is_above = value > high + BESIDE && bound != Bound::Upper;
    let is_below = value < low - BESIDE && bound != Bound::Lower;
    if !is_above && !is_below {
        return None;
    }
    let message = format!(
        "the sign at {} says {says}, and the engine: {} for White ({})",
        lesson.numbered(id),
        shown(score),
        judge.name
    );
    let help = "look again; if you are sure, write a paragraph `Weighed: why` into the comment";
    Some(Finding::new(Code::SignDisputed, node.span, message).with_help(help.to_owned()))
}

/// How a move changes the score, which is known exactly before it and after.
struct Change {
    before: Score,
    after: Score,
    /// For the side that plays the move, in hundredths of a pawn: what is lost by it, and what is left.
    lost: i32,
    left: i32,
}

fn change(lesson: &Lesson, id: NodeId, judge: &Judge<'_>) -> Option<Change> {
    let (node, parent) = (lesson.node(id), lesson.node(lesson.node(id).parent?));
    let exact = |position: &Chess| {
        let (score, bound) = (judge.score)(position)?;
        (bound == Bound::Exact).then_some(score)
    };
    let (before, after) = (exact(&parent.position)?, exact(&node.position)?);
    let for_mover = |score: Score| {
        let value = score.hundredths();
        parent.position.turn().fold_wb(value, -value)
    };
    let left = for_mover(after);
    Some(Change {
        before,
        after,
        lost: for_mover(before) - left,
        left,
    })
}

fn choice(lesson: &Lesson, id: NodeId, judge: &Judge<'_>) -> Option<Finding> {
    let node = lesson.node(id);
    node.choice()?;
    let change = change(lesson, id, judge)?;
    if change.lost < BELOW || change.left >= CHOICE_END {
        return None;
    }
    let message = format!(
        "{} is chosen, and the engine has {} for White after it, {} before it ({})",
        lesson.numbered(id),
        shown(change.after),
        shown(change.before),
        judge.name
    );
    let help = "look again; if you are sure, write a paragraph `Weighed: why` into the comment";
    Some(Finding::new(Code::ChoiceDisputed, node.span, message).with_help(help.to_owned()))
}

/// A move without a word by which the score falls, between two positions in which nothing is being taken.
fn swing(lesson: &Lesson, id: NodeId, judge: &Judge<'_>) -> Option<Finding> {
    let node = lesson.node(id);
    let before = lesson.node(node.parent?);
    let is_silent = node.comments.is_empty() && node.before.is_empty() && node.nags.is_empty();
    let is_quiet =
        |it: &Node| !it.position.is_check() && !it.played.is_some_and(|it| it.is_capture());
    if !is_silent || !is_quiet(before) || !is_quiet(node) {
        return None;
    }
    let change = change(lesson, id, judge)?;
    if change.lost < SWING || change.left >= SWING_END {
        return None;
    }
    let message = format!(
        "with {} the engine\u{2019}s score goes from {} to {} for White, and no word says why ({})",
        lesson.numbered(id),
        shown(change.before),
        shown(change.after),
        judge.name
    );
    let help = "say what happens here, mark the move, or write a paragraph `Weighed: why`";
    Some(Finding::new(Code::Swing, node.span, message).with_help(help.to_owned()))
}
