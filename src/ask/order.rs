//! Moves asked for in a row, found in another order: right if they lead to the same position as the
//! lesson's own order, with the same replies of the page.

use super::question::Question;
use crate::lesson::rules::{Key, key, landing, origin};
use crate::lesson::{Lesson, NodeId, Tried, replay};
use crate::text::{Listed, limits};
use shakmaty::{Chess, Move};

/// The moves of the other side that the page may reply: those of the lesson after which a right
/// move follows.
pub(super) fn replies(lesson: &Lesson, node: NodeId) -> Vec<NodeId> {
    let moves = lesson.moves(node);
    moves.filter(|&reply| lesson.has_choice(reply)).listed()
}

/// A line of the answer that can still be reached.
pub(super) struct Line {
    /// Its nodes after the question's, right moves and replies in turn.
    pub nodes: Vec<NodeId>,
    /// The reader's moves that are left, in an order that ends where the line does.
    pub left: Vec<Move>,
}

/// The lines of the answer that can still be reached after the moves played so far, the reader's
/// and the page's in turn.
pub(super) fn fitting(lesson: &Lesson, question: &Question, way: &[Tried]) -> Vec<Line> {
    let mut looks = limits::ORDER_LOOKS;
    let mut fitting = Vec::new();
    for nodes in lines(lesson, question, way, &mut looks) {
        if let Some(left) = order(lesson, way, &nodes, &mut looks) {
            fitting.push(Line { nodes, left });
        }
    }
    fitting
}

/// The lines of the answer whose replies begin like those played.
fn lines(
    lesson: &Lesson,
    question: &Question,
    way: &[Tried],
    looks: &mut usize,
) -> Vec<Vec<NodeId>> {
    let mut lines = Vec::new();
    let mut waiting: Vec<Vec<NodeId>> = Vec::new();
    for answer in question.answers(lesson).into_iter().rev() {
        if let Some(node) = answer.node {
            waiting.push(vec![node]);
        }
    }
    while let Some(line) = waiting.pop() {
        if !spend(looks) {
            break;
        }
        let found = line.len().div_ceil(2);
        let next = match line.last() {
            Some(&last) if found < question.moves as usize => replies(lesson, last),
            _ => Vec::new(),
        };
        if next.is_empty() {
            lines.push(line);
            continue;
        }
        let given = way.get(found * 2 - 1); // a line has a move at least
        for reply in next.into_iter().rev() {
            if given.is_some_and(|given| !is_same(given.played, lesson.node(reply).played)) {
                continue;
            }
            for right in lesson.choices(reply).into_iter().rev() {
                let mut longer = line.clone();
                longer.extend([reply, right]);
                waiting.push(longer);
            }
        }
    }
    lines
}

/// What is left of a line's right moves after the moves played, in an order that ends where the
/// line does; none if there is no such order.
fn order(lesson: &Lesson, way: &[Tried], nodes: &[NodeId], looks: &mut usize) -> Option<Vec<Move>> {
    let mut left = Vec::new();
    let mut replies = Vec::new();
    for (at, &id) in nodes.iter().enumerate() {
        let played = lesson.node(id).played?;
        if at % 2 == 0 {
            left.push(played);
        } else if at >= way.len() {
            replies.push(played);
        }
    }
    for (at, tried) in way.iter().enumerate() {
        if at % 2 == 0 {
            let found = left
                .iter()
                .position(|&it| is_same(Some(it), tried.played))?;
            left.swap_remove(found);
        }
    }
    let end = key(&lesson.node(*nodes.last()?).position);
    let replied = way.len().is_multiple_of(2);
    let position = &way.last()?.position;
    ends(position, replied, &mut left, &replies, &end, looks).then_some(left)
}

/// Whether the rest can be played in some order and ends there; then it is put in that order.
/// Recursive, one call a move: at most [`limits::QUESTION_MOVES`] deep.
fn ends(
    position: &Chess,
    replied: bool,
    left: &mut [Move],
    replies: &[Move],
    end: &Key,
    looks: &mut usize,
) -> bool {
    if left.is_empty() {
        return key(position) == *end;
    }
    if !replied {
        let Some((&reply, replies)) = replies.split_first() else {
            return false;
        };
        return match replay(position, reply) {
            Some(tried) => ends(&tried.position, true, left, replies, end, looks),
            None => false,
        };
    }
    for at in 0..left.len() {
        left.swap(0, at);
        if let Some((&mut played, left)) = left.split_first_mut()
            && spend(looks)
            && let Some(tried) = replay(position, played)
            && ends(&tried.position, false, left, replies, end, looks)
        {
            return true;
        }
        left.swap(0, at);
    }
    false
}

/// Whether two moves have the same squares and the same promotion; what they take may differ with
/// the order.
fn is_same(one: Option<Move>, other: Option<Move>) -> bool {
    let squares = |it: Move| (origin(it), landing(it), it.promotion());
    one.map(squares) == other.map(squares)
}

/// Spends one unit of the search budget; returns false if none is left.
fn spend(looks: &mut usize) -> bool {
    let left = looks.checked_sub(1);
    *looks = left.unwrap_or(0);
    left.is_some()
}
