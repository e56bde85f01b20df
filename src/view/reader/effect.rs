//! What follows from an intent: what has to be drawn, what the page tells, and how the board moved.

use super::asking::Judged;
use super::recalling::looks_same;
use super::state::State;
use crate::ask::open_question::How;
use crate::lesson::{Lesson, LineId, NodeId};
use shakmaty::Move;
use std::rc::Rc;

/// The results of an intent: first those of questions, in their order, then what must be drawn.
/// Empty if the intent changed nothing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Effect {
    /// A try at a question was not legal.
    Refused {
        /// The position in which it was tried, six fields.
        fen: String,
        /// Legal moves tried so far.
        tries: u32,
    },
    /// A try at a question has its verdict.
    Judged {
        /// What the reader is told about it.
        judged: Rc<Judged>,
        /// The position in which it was tried, six fields.
        fen: String,
    },
    /// A question is settled.
    Settled {
        /// How.
        how: How,
        /// Legal moves tried.
        tries: u32,
    },
    /// What comes after a settled question of a lesson is now open: the text changes.
    Opened,
    /// Another node is on the board.
    Moved {
        /// The node before.
        from: NodeId,
        /// The node now.
        to: NodeId,
    },
    /// Another position is on the board, and the node is the same: an aside goes on or ends.
    Aside,
    /// The board is one move further, or the page has replied with this move.
    Played(Move),
    /// The board is one move back: this one was taken back.
    TakenBack(Move),
    /// The board was turned.
    Turned,
    /// The map was opened or closed.
    Map,
    /// This variation was folded or opened.
    Folded(LineId),
    /// The main line is read alone, or with others: the text changes.
    Lines,
    /// Something about the board, but not its position: a piece in hand, a notice, the tab stop.
    Board,
}

impl Effect {
    /// Whether another position is on the board.
    pub fn is_step(&self) -> bool {
        matches!(self, Effect::Moved { .. } | Effect::Aside)
    }

    /// Whether it is more than a step on along the line or a step back: a line was chosen, or a
    /// place elsewhere. The address then gets an entry of its own in the history.
    pub fn is_jump(&self, lesson: &Lesson) -> bool {
        let &Effect::Moved { from, to } = self else {
            return false;
        };
        let left = lesson.node(from);
        left.children.first() != Some(&to) && left.parent != Some(to)
    }
}

/// Adds what has to be drawn. The only place where the state before a step and the one after it are
/// compared; drawing and events use the effects. `told` says that the page has replied.
pub(super) fn drawn(lesson: &Lesson, before: &State, after: &State, effects: &mut Vec<Effect>) {
    let count = effects.len();
    let mut has_replied = false;
    for effect in effects.iter() {
        if let Effect::Judged { judged, .. } = effect {
            has_replied |= judged.reply.is_some();
        }
    }
    if before.settled().len() != after.settled().len() {
        effects.push(Effect::Opened);
    }
    let is_moved = before.node != after.node;
    if is_moved {
        let (from, to) = (before.node, after.node);
        effects.push(Effect::Moved { from, to });
    }
    if is_moved || before.aside != after.aside {
        if !is_moved {
            effects.push(Effect::Aside);
        }
        effects.extend(moved(lesson, before, after, has_replied));
    }
    if before.side != after.side {
        effects.push(Effect::Turned);
    }
    if before.map != after.map {
        effects.push(Effect::Map);
    }
    if before.alone != after.alone {
        effects.push(Effect::Lines);
    }
    for (one, other) in [(before, after), (after, before)] {
        for &line in &one.folded {
            if !other.folded.contains(&line) {
                effects.push(Effect::Folded(line));
            }
        }
    }
    if effects.len() == count && (looks_other(before, after) || before.told != after.told) {
        effects.push(Effect::Board);
    }
}

/// The one move that lies between two positions: made, or taken back. A jump has none.
fn moved(lesson: &Lesson, before: &State, after: &State, has_replied: bool) -> Option<Effect> {
    let follows = |one: &State, other: &State| {
        let (first, then) = (one.aside.len(), other.aside.len());
        match one.node == other.node {
            true => then == first + 1,
            false => first + then == 0 && lesson.node(other.node).parent == Some(one.node),
        }
    };
    if has_replied || follows(before, after) {
        return after.last(lesson)?.played.map(Effect::Played);
    }
    if follows(after, before) {
        return before.last(lesson)?.played.map(Effect::TakenBack);
    }
    None
}

/// Whether anything else that is drawn has changed. To compare whole states would cost the page
/// more than to compare what can differ.
fn looks_other(before: &State, after: &State) -> bool {
    let board = |state: &State| {
        let open = (state.desk, state.shut);
        (state.hand, state.cursor, state.again, open)
    };
    let asked = |state: &State| {
        let asking = state.asking()?;
        let asked = &asking.asked;
        let tried = (asked.tries, asked.hints, asked.way.len());
        Some((asking.question.node, asked.settled, asked.rounds, tried))
    };
    let recalled = match (before.recalling(), after.recalling()) {
        (Some(one), Some(other)) => looks_same(one, other),
        _ => true, // no step leads from one element into another
    };
    board(before) != board(after)
        || asked(before) != asked(after)
        || before.notice != after.notice
        || !recalled
}
