//! Where a reader is, what a reader can do, and what follows from it.

use crate::lesson::{Lesson, NodeId};
use shakmaty::Color;

/// Where a reader is and how the board lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct State {
    /// The node on the board.
    pub node: NodeId,
    /// The side that is below.
    pub side: Color,
}

impl Default for State {
    fn default() -> State {
        State {
            node: 0,
            side: Color::White,
        }
    }
}

/// Everything that a reader can do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Intent {
    /// To this node.
    Go(NodeId),
    /// One move on: the child of that index, else the first.
    Next(Option<usize>),
    /// One move back.
    Back,
    /// To the start.
    Top,
    /// The other side below.
    Turn,
    /// This side below.
    Side(Color),
}

/// What a step changes, so that no more is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effect {
    /// Another node is on the board.
    Moved {
        /// The node before.
        from: NodeId,
        /// The node now.
        to: NodeId,
    },
    /// The board lies the other way round.
    Turned,
}

/// The state after an intent, and the effect if anything changed. An intent that cannot be
/// carried out (back at the start, a node that is not there) changes nothing.
pub fn update(lesson: &Lesson, state: State, intent: Intent) -> (State, Option<Effect>) {
    let node = lesson.node(state.node);
    let to = match intent {
        Intent::Go(id) => lesson.get(id).map(|_| id),
        Intent::Next(index) => node.children.get(index.unwrap_or(0)).copied(),
        Intent::Back => node.parent,
        Intent::Top => Some(0),
        Intent::Turn => return turn(state, !state.side),
        Intent::Side(side) => return turn(state, side),
    };
    match to {
        Some(to) if to != state.node => {
            let from = state.node;
            let state = State { node: to, ..state };
            (state, Some(Effect::Moved { from, to }))
        }
        _ => (state, None),
    }
}

fn turn(state: State, side: Color) -> (State, Option<Effect>) {
    let effect = (side != state.side).then_some(Effect::Turned);
    (State { side, ..state }, effect)
}
