//! Locators: how people name a node. `start`, `line B2`, or a run of moves such as
//! `4.cxd5 exd5` that ends at exactly one node.

use super::found::LocateError;
use super::number::{Number, number, words};
use crate::lesson::rules::landing;
use crate::lesson::tree::{Lesson, NodeId};
use crate::notation::Letters;
use crate::notation::word::san::{self, Kind, Shape};
use crate::text::{Listed, limits};
use shakmaty::{Move, Role};

/// The node that a locator names.
///
/// # Errors
/// Where it names none, or several: then all of them, in the order of the text.
pub fn locate(lesson: &Lesson, locator: &str) -> Result<NodeId, LocateError> {
    locate_within(lesson, locator, &mut { usize::MAX })
}

/// [`locate`] for many locators of one text: each move that one is compared with takes one from
/// `looks`. When none is left, a locator names no node.
pub(crate) fn locate_within(
    lesson: &Lesson,
    locator: &str,
    looks: &mut usize,
) -> Result<NodeId, LocateError> {
    let locator = locator.trim();
    if locator == "start" {
        return Ok(0);
    }
    if let Some(label) = locator.strip_prefix("line ") {
        *looks = looks.saturating_sub(lesson.lines.len());
        let mut lines = lesson.lines.iter().skip(1);
        let line = lines.find(|line| line.label == label.trim());
        return line.map(|line| line.first).ok_or(LocateError::None);
    }
    let run = read_run(locator).ok_or(LocateError::None)?;
    let found: Vec<NodeId> = lesson
        .ids()
        .filter(|&id| ends_at(lesson, &run, id, looks))
        .listed();
    match found[..] {
        [] => Err(LocateError::None),
        [only] => Ok(only),
        _ => Err(LocateError::Several(found)),
    }
}

/// One move of a run, and the number written before it.
pub(super) struct Step {
    shape: Shape,
    number: Option<Number>,
}

pub(super) fn read_run(locator: &str) -> Option<Vec<Step>> {
    let mut steps = Vec::new();
    let mut before = None;
    for word in words(locator) {
        let (number, word) = number(word)?;
        before = number.or(before);
        if word.is_empty() {
            continue;
        }
        if steps.len() >= limits::LOCATOR_MOVES {
            return None;
        }
        let shape = san::read(word, Letters::ENGLISH).shape?;
        steps.push(Step {
            shape,
            number: before.take(),
        });
    }
    // A number at the end names no move.
    (!steps.is_empty() && before.is_none()).then_some(steps)
}

pub(super) fn ends_at(lesson: &Lesson, run: &[Step], id: NodeId, looks: &mut usize) -> bool {
    let mut at = lesson.node(id);
    for step in run.iter().rev() {
        if *looks == 0 {
            return false;
        }
        *looks -= 1;
        let Some(parent) = at.parent.map(|parent| lesson.node(parent)) else {
            return false;
        };
        let agrees = step
            .number
            .is_none_or(|number| number.agrees(&parent.position));
        if !agrees || !matches(&step.shape, at.played) {
            return false;
        }
        at = parent;
    }
    true
}

/// Whether a move that was played is what a shape says.
fn matches(shape: &Shape, played: Option<Move>) -> bool {
    let (kind, played) = match (shape.kind, played) {
        (Kind::Pass, played) => return played.is_none(),
        (_, None) => return false,
        (kind, Some(played)) => (kind, played),
    };
    match kind {
        Kind::Pass => false,
        Kind::Castle(side) => played.castling_side() == Some(side),
        Kind::Piece {
            role,
            file,
            rank,
            to,
            promotion,
        } => {
            let castles = played.is_castle();
            // A pawn's word without a file is a push, unless it says that it captures.
            let pushes = role == Some(Role::Pawn) && file.is_none() && !shape.capture;
            let from = crate::lesson::rules::origin(played);
            (!castles || role.is_none())
                && landing(played) == to
                && role.is_none_or(|role| role == played.role())
                && file
                    .or(pushes.then_some(to.file()))
                    .is_none_or(|file| file == from.file())
                && rank.is_none_or(|rank| rank == from.rank())
                && promotion == played.promotion()
        }
    }
}
