//! Which questions are open, what comes after them, and what is on the board beside one.

use super::state::{Mode, State};
use crate::ask::held;
use crate::ask::recall::Stage;
use crate::lesson::{Lesson, NodeId};
use crate::text::Listed;

impl State {
    /// Whether a question that a comment asks is open at a node, so that what follows is closed.
    /// One without an answer is reported to its author, and closes nothing.
    pub fn is_closed(&self, lesson: &Lesson, id: NodeId) -> bool {
        let Mode::Lesson { settled, .. } = &self.mode else {
            return false;
        };
        !settled.contains(&id) && lesson.asks(id)
    }

    /// How far a reader comes on the way to a node: to the node, or to the first open question
    /// before it.
    pub fn within(&self, lesson: &Lesson, id: NodeId) -> NodeId {
        let mut stop = id;
        let mut at = lesson.node(id).parent;
        while let Some(before) = at {
            if self.is_closed(lesson, before) {
                stop = before;
            }
            at = lesson.node(before).parent;
        }
        stop
    }

    /// For each node whether it comes after an open question.
    pub fn hidden(&self, lesson: &Lesson) -> Vec<bool> {
        let closed = lesson.last_before(|id| self.is_closed(lesson, id));
        closed.iter().map(Option::is_some).listed()
    }

    /// Whether the moves that go on from here wait for an answer.
    pub fn waits(&self) -> bool {
        match &self.mode {
            Mode::Recall(_) => true,
            _ => self.asking().is_some_and(|asking| asking.is_open()),
        }
    }

    /// Whether it shows only one position until it is settled.
    pub fn stays(&self) -> bool {
        self.is_apart() && self.waits()
    }

    /// Whether a recall waits for a move.
    pub(crate) fn is_recalled(&self) -> bool {
        let recalling = self.recalling();
        recalling.is_some_and(|it| it.recall.stage == Stage::Asked)
    }

    /// Whether that is one at a position that was missed, which may be far from the one before.
    pub(crate) fn is_recalled_again(&self) -> bool {
        self.is_recalled() && self.recalling().is_some_and(|it| it.recall.is_back)
    }

    /// Whether a move on the board is a try at a question or in a recall.
    pub fn is_asked(&self) -> bool {
        match &self.mode {
            Mode::Recall(_) => self.is_recalled(),
            _ => self.waits() && !self.is_beside(),
        }
    }

    /// How many of the moves that the lesson does not hold at its node belong to the open question:
    /// those found in another order than the lesson's.
    pub(crate) fn found(&self) -> usize {
        let asking = self.asking().filter(|asking| asking.is_open());
        let found = asking.filter(|asking| asking.asked.node.is_none());
        found.map_or(0, |asking| asking.asked.way.len())
    }

    /// Whether the board shows more than the lesson or the question holds there: an aside, or what
    /// the lesson holds against a weaker move.
    pub fn is_beside(&self) -> bool {
        self.aside.len() > self.found()
    }

    /// The node that is on the board while the question waits: of a weaker move, or of what the
    /// lesson holds against it.
    pub fn against(&self, lesson: &Lesson) -> Option<NodeId> {
        let mut at = self.node;
        for tried in &self.aside {
            at = held(lesson, at, tried.played)?;
        }
        (self.waits() && self.is_beside()).then_some(at)
    }

    /// What the lesson plays then: nothing if it asks a question itself, and no pass, which shows a
    /// threat and refutes nothing.
    pub fn onward(&self, lesson: &Lesson) -> Option<NodeId> {
        let at = self.against(lesson)?;
        let next = lesson
            .next_on_line(at)
            .filter(|_| !self.is_closed(lesson, at))?;
        lesson.node(next).played.map(|_| next)
    }
}
