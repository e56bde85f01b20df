//! Questions as a reader meets them: which stand open, what lies behind them, and what a try, a
//! hint or a wish to be shown leads to. What is right is decided in `ask`.

use super::lines::number;
use super::state::{Notice, State};
use crate::ask::asked::{self, Asked, How};
use crate::ask::{Answer, Question, Verdict, refutation};
use crate::lesson::{Attempt, Lesson, NodeId, Tried, replay};
use crate::text::Listed;
use std::rc::Rc;

/// The question that a reader is at, and how far they are with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asking {
    /// What is asked.
    pub question: Rc<Question>,
    /// How far the reader is.
    pub asked: Asked,
}

impl Asking {
    /// A question as it is first seen.
    pub fn new(question: Question, seed: u32) -> Asking {
        let asked = Asked::new(&question, seed);
        let question = Rc::new(question);
        Asking { question, asked }
    }

    /// Whether it waits for a move.
    pub fn is_open(&self) -> bool {
        self.asked.settled.is_none()
    }
}

/// A right move with its condition.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// The move, in English SAN.
    pub san: String,
    /// The node that it leads to, where the lesson holds it.
    pub node: Option<NodeId>,
    /// When to choose it; empty without a condition.
    pub condition: String,
}

impl From<Answer<'_>> for Named {
    fn from(answer: Answer) -> Named {
        Named {
            san: answer.san.to_owned(),
            node: answer.node,
            condition: answer.condition.to_owned(),
        }
    }
}

/// Right moves with their conditions.
pub(super) fn named(answers: Vec<Answer>) -> Vec<Named> {
    answers.into_iter().map(Named::from).listed()
}

/// What is said of a try, or of the answer that is shown.
#[derive(Debug, PartialEq, Eq)]
pub struct Judged {
    /// The verdict; none where the answer is shown.
    pub verdict: Option<Verdict>,
    /// The move tried, in English SAN; empty where the answer is shown.
    pub san: String,
    /// The number before the move tried, and before those that are right.
    pub number: String,
    /// The moves that are right there, or all in a row that are shown of several to find.
    pub answers: Vec<Named>,
    /// Why, in the author's words, once it is settled; empty where nothing is said.
    pub because: String,
    /// The page's reply, where the question goes on.
    pub reply: Option<String>,
    /// Legal moves tried so far, this one too.
    pub tries: u32,
    /// How the question is settled by it; none while it stays open.
    pub settled: Option<How>,
    /// The choice that is on the board in place of what was tried, in a recall.
    pub told: Option<NodeId>,
}

impl State {
    /// Whether a question that a comment asks stands open at a node, so that what follows is
    /// closed. One without an answer is told to its author, and closes nothing.
    pub fn is_closed(&self, lesson: &Lesson, id: NodeId) -> bool {
        !self.is_quiz
            && lesson.node(id).ask.is_some()
            && !self.settled.contains(&id)
            && !lesson.choices(id).is_empty()
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

    /// For each node whether it lies behind an open question.
    pub fn hidden(&self, lesson: &Lesson) -> Vec<bool> {
        let mut hidden = vec![false; lesson.nodes.len()];
        for id in lesson.ids() {
            if let Some(before) = lesson.node(id).parent {
                // Nodes stand behind the node before them.
                hidden[id as usize] = hidden[before as usize] || self.is_closed(lesson, before);
            }
        }
        hidden
    }

    /// Whether the moves that go on from here wait for an answer.
    pub fn waits(&self) -> bool {
        self.recalling.is_some() || self.asking.as_ref().is_some_and(|asking| asking.is_open())
    }

    /// How many of the moves that the lesson does not hold at its node belong to the open question:
    /// those found in another order than the lesson's.
    pub(super) fn found(&self) -> usize {
        let asking = self.asking.as_ref().filter(|asking| asking.is_open());
        let found = asking.filter(|asking| asking.asked.node.is_none());
        found.map_or(0, |asking| asking.asked.way.len())
    }

    /// Whether the board shows more than the lesson or the question holds there: an aside, or what
    /// the lesson holds against a weaker move.
    pub fn is_beside(&self) -> bool {
        self.aside.len() > self.found()
    }
}

/// A reader has come to a node: the question there, if one is open.
pub(super) fn arrive(lesson: &Lesson, state: &mut State) {
    if state.is_quiz {
        return;
    }
    let is_asked = state.is_closed(lesson, state.node);
    let stays = |asking: &Asking| is_asked && asking.question.node == state.node;
    if state.asking.as_deref().is_some_and(stays) {
        return;
    }
    let question = is_asked.then(|| Question::of_comment(lesson, state.node));
    let question = question.flatten().and_then(Result::ok);
    state.asking = question.map(|question| Box::new(Asking::new(question, 0)));
}

/// A legal move is tried at the open question.
pub(super) fn attempt(lesson: &Lesson, state: &mut State, tried: Tried) {
    let san = tried.san.clone();
    act(
        lesson,
        state,
        asked::Intent::Try(Attempt::Played(tried)),
        san,
    );
}

/// Carries out what a reader does with the question.
pub(super) fn act(lesson: &Lesson, state: &mut State, intent: asked::Intent, san: String) {
    let Some(mut asking) = state.asking.take() else {
        return;
    };
    let Asking { question, asked } = &mut *asking;
    let number = number(asked.position(lesson, question), true).unwrap_or_default();
    let answers = asked.answers(lesson, question);
    let mut answers = named(answers);
    let way = asked.way.len();
    let is_open = asked.settled.is_none();
    let (hints, shows) = (
        is_open && matches!(intent, asked::Intent::Hint),
        is_open && matches!(intent, asked::Intent::Show),
    );
    let effects = asked::update(lesson, question, asked, intent);
    if effects.is_empty() && !hints {
        state.asking = Some(asking);
        return;
    }
    let mut judged = shows.then_some(None);
    let mut reply = None;
    for effect in effects {
        match effect {
            asked::Effect::Judged(verdict) => judged = Some(Some(verdict)),
            asked::Effect::Replied => reply = asked.way.last().map(|tried| tried.san.clone()),
            _ => {}
        }
    }
    if shows && question.moves > 1 {
        answers = vec![in_a_row(lesson, question, asked, way)];
    }
    if let Some(Some(Verdict::Other { stands })) = &mut judged {
        // Not where its answer stands.
        *stands = stands.filter(|&there| match state.is_quiz {
            true => !lesson.path(there).contains(&question.node),
            false => state.within(lesson, there) == there,
        });
    }
    state.held = None;
    state.promotion = None;
    let hint = asked.hint.clone().filter(|_| hints);
    state.notice = hint.map(Notice::Hint);
    let said = judged.as_ref().and_then(Option::as_ref);
    place(lesson, state, &asking, said);
    if let Some(verdict) = judged {
        let (asked, question) = (&asking.asked, &asking.question);
        let because = asked.settled.map(|_| question.because.clone());
        state.notice = Some(Notice::Judged(Rc::new(Judged {
            verdict,
            san,
            number,
            answers,
            because: because.unwrap_or_default(),
            reply,
            tries: asked.tries,
            settled: asked.settled,
            told: None,
        })));
    }
    if asking.is_open() || state.is_quiz {
        state.asking = Some(asking);
    } else {
        state.settled.push(asking.question.node);
        arrive(lesson, state);
    }
}

/// The moves that were shown from the one of that index on, as one.
fn in_a_row(lesson: &Lesson, question: &Question, asked: &Asked, from: usize) -> Named {
    let mut san = String::new();
    let mut before = &lesson.node(question.node).position;
    for (at, tried) in asked.way.iter().enumerate() {
        if at > from {
            san.push(' ');
            san.push_str(&number(before, false).unwrap_or_default());
        }
        if at >= from {
            san.push_str(&tried.san);
        }
        before = &tried.position;
    }
    Named {
        san,
        node: asked.node,
        condition: String::new(),
    }
}

/// Puts on the board where the question is now; of a weaker move its refutation, up to where that
/// asks in turn.
fn place(lesson: &Lesson, state: &mut State, asking: &Asking, said: Option<&Verdict>) {
    match asking.asked.node {
        Some(node) => (state.node, state.aside) = (node, Vec::new()),
        None => {
            (state.node, state.aside) = (asking.question.node, asking.asked.way.clone());
        }
    }
    let Some(Verdict::Weaker { node }) = said else {
        return;
    };
    for id in core::iter::once(*node).chain(refutation(lesson, *node)) {
        let played = lesson.node(id).played;
        let Some(tried) = played.and_then(|played| replay(state.position(lesson), played)) else {
            return; // a pass, which shows a threat and refutes nothing
        };
        state.aside.push(tried);
        if state.is_closed(lesson, id) {
            return;
        }
    }
}
