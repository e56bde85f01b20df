//! How a reader begins: in a lesson, with a question, with a recall.

use super::asking::Asking;
use super::question;
use super::recalling::Recalling;
use super::state::{Mode, State};
use super::update::unfold;
use crate::lesson::{Lesson, NodeId};
use shakmaty::Color;

/// The map is open at first up to this many positions; beyond, and on narrow pages, it opens
/// on request.
pub const OPEN_UP_TO: usize = 150;

/// On narrow pages the main line is read alone at first in lessons of more positions, where all lines would be several
/// screens long.
pub const ALONE_FROM: usize = 40;

impl State {
    /// The same on a narrow page.
    pub fn narrow(&mut self, lesson: &Lesson) {
        let is_lesson = matches!(self.mode, Mode::Lesson { .. });
        if is_lesson && lesson.nodes.len() > ALONE_FROM && lesson.lines.len() > 1 {
            self.alone = Some(Vec::new());
            unfold(lesson, self);
        }
    }

    /// A reader who begins a lesson at a node, or at the first open question before it.
    pub fn new(lesson: &Lesson, node: NodeId, side: Color) -> State {
        let node = lesson.get(node).map_or(0, |_| node);
        let node = State::empty().within(lesson, node);
        let mut state = State {
            map: lesson.nodes.len() <= OPEN_UP_TO,
            ..State::at_node(lesson, node, side)
        };
        question::arrive(lesson, &mut state);
        state
    }

    /// A reader who is asked one question. `start` is the address of the start of its lesson,
    /// where that is elsewhere in the page; else empty.
    pub fn quiz(lesson: &Lesson, asking: Asking, start: String, side: Color) -> State {
        let node = asking.question.node;
        let asking = Box::new(asking);
        State {
            mode: Mode::Quiz { asking, start },
            ..State::at_node(lesson, node, side)
        }
    }

    /// An element of a question or a recall that cannot be shown.
    pub fn missing() -> State {
        State {
            mode: Mode::Missing,
            ..State::empty()
        }
    }

    /// A reader who recalls a part of a lesson, before the first walk.
    pub fn recall(lesson: &Lesson, recalling: Recalling, side: Color) -> State {
        let node = recalling.recall.node;
        State {
            mode: Mode::Recall(Box::new(recalling)),
            ..State::at_node(lesson, node, side)
        }
    }
}
