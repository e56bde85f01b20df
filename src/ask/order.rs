//! Moves asked for in a row, found in another order: right where they end in the position that the
//! lesson's own order ends in, the page's replies being the same.

use super::question::Question;
use crate::lesson::rules::{key, landing, origin};
use crate::lesson::{Lesson, NodeId, Tried, replay};
use crate::text::limits;
use shakmaty::{Chess, Move};

/// The moves of the other side that the page may reply: those of the lesson behind which a right
/// move follows.
pub(super) fn replies(lesson: &Lesson, node: NodeId) -> Vec<NodeId> {
    let moves = lesson.moves(node);
    moves
        .filter(|&reply| !lesson.choices(reply).is_empty())
        .collect()
}

/// The lines asked for that still can be reached by the moves played so far, the reader's and the
/// page's in turn. Each is its nodes behind the question's, right moves and replies in turn.
pub(super) fn fitting(lesson: &Lesson, question: &Question, way: &[Tried]) -> Vec<Vec<NodeId>> {
    let mut looks = limits::ORDER_LOOKS;
    let mut lines = lines(lesson, question, way, &mut looks);
    lines.retain(|line| fits(lesson, question, way, line, &mut looks));
    lines
}

/// The lines asked for whose replies begin as those played.
fn lines(
    lesson: &Lesson,
    question: &Question,
    way: &[Tried],
    looks: &mut usize,
) -> Vec<Vec<NodeId>> {
    let mut lines = Vec::new();
    let answers = question.answers(lesson).into_iter();
    let mut waiting: Vec<Vec<NodeId>> = answers.filter_map(|it| Some(vec![it.node?])).collect();
    waiting.reverse();
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

/// Whether what is left of a line can be played in some order and ends where the line does.
fn fits(
    lesson: &Lesson,
    question: &Question,
    way: &[Tried],
    line: &[NodeId],
    looks: &mut usize,
) -> bool {
    let moves = |from| {
        let nodes = line.iter().skip(from).step_by(2);
        nodes.filter_map(|&id| lesson.node(id).played)
    };
    let mut left: Vec<Move> = moves(0).collect();
    for tried in way.iter().step_by(2) {
        match left.iter().position(|&it| is_same(Some(it), tried.played)) {
            Some(at) => _ = left.remove(at),
            None => return false,
        }
    }
    let replies: Vec<Move> = moves(1).skip(way.len() / 2).collect();
    let end = line.last().map_or(question.node, |&last| last);
    let position = match way.last() {
        Some(tried) => &tried.position,
        None => &lesson.node(question.node).position,
    };
    let replied = way.len().is_multiple_of(2);
    let end = key(&lesson.node(end).position);
    ends(position, replied, &mut left, &replies, &end, looks)
}

/// Calls itself once a move that is left: at most [`limits::QUESTION_MOVES`] deep.
fn ends(
    position: &Chess,
    replied: bool,
    left: &mut Vec<Move>,
    replies: &[Move],
    end: &[u64; 10],
    looks: &mut usize,
) -> bool {
    if left.is_empty() {
        return key(position) == *end;
    }
    if !replied {
        let Some((&reply, replies)) = replies.split_first() else {
            return false;
        };
        return match replay(position, reply).filter(|_| spend(looks)) {
            Some(tried) => ends(&tried.position, true, left, replies, end, looks),
            None => false,
        };
    }
    for at in 0..left.len() {
        let played = left.remove(at);
        let found = spend(looks)
            && replay(position, played)
                .is_some_and(|tried| ends(&tried.position, false, left, replies, end, looks));
        left.insert(at, played);
        if found {
            return true;
        }
    }
    false
}

/// The reader's next move by which a line asked for still can be reached.
pub(super) fn next(lesson: &Lesson, question: &Question, way: &[Tried]) -> Option<Tried> {
    let position = &way.last()?.position;
    let mut with = way.to_vec();
    for line in fitting(lesson, question, way) {
        for &id in line.iter().step_by(2) {
            let Some(tried) = lesson.node(id).played.and_then(|it| replay(position, it)) else {
                continue;
            };
            with.push(tried);
            if !fitting(lesson, question, &with).is_empty() {
                return with.pop();
            }
            with.pop();
        }
    }
    None
}

/// Whether two moves go from the same square to the same and become the same; what they take may
/// differ with the order.
fn is_same(one: Option<Move>, other: Option<Move>) -> bool {
    let squares = |it: Move| (origin(it), landing(it), it.promotion());
    one.map(squares) == other.map(squares)
}

/// One look less; false where none is left.
fn spend(looks: &mut usize) -> bool {
    let left = looks.checked_sub(1);
    *looks = left.unwrap_or(0);
    left.is_some()
}
