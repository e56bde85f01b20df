//! Questions as a reader meets them: which stand open, what lies behind them, and what a try, a
//! hint or a wish to be shown leads to. What is right is decided in `ask`.

use super::state::{Notice, State};
use crate::ask::open_question::{self, How, OpenQuestion};
use crate::ask::{Answer, Question, Verdict, held};
use crate::lesson::{Attempt, Lesson, NodeId, Tried, replay};
use crate::text::Listed;
use crate::view::moves::number;
use std::rc::Rc;

/// The question that a reader is at, and how far they are with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asking {
    /// What is asked.
    pub question: Rc<Question>,
    /// How far the reader is.
    pub asked: OpenQuestion,
}

impl Asking {
    /// A question as it is first seen.
    pub fn new(question: Question, seed: u32) -> Asking {
        let asked = OpenQuestion::new(&question, seed);
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
pub(crate) fn named(answers: Vec<Answer>) -> Vec<Named> {
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
    /// Why, in the author's words, once the answer is named; empty where nothing is said.
    pub because: String,
    /// The page's reply: where the question goes on, and to a weaker move.
    pub reply: Option<String>,
    /// Legal moves tried so far, this one too.
    pub tries: u32,
    /// How the question is settled by it; none while it stays open.
    pub settled: Option<How>,
    /// How many of the moves in a row are found, and how many are asked for; none but where one
    /// is right and others are left.
    pub found: Option<[u32; 2]>,
    /// The node on the board, where the lesson comes to its position by another move.
    pub joined: Option<NodeId>,
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
    pub(crate) fn found(&self) -> usize {
        let asking = self.asking.as_ref().filter(|asking| asking.is_open());
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

    /// What the lesson plays then: nothing where it asks in turn, and no pass, which shows a threat
    /// and refutes nothing.
    pub fn onward(&self, lesson: &Lesson) -> Option<NodeId> {
        let at = self.against(lesson)?;
        let next = lesson
            .next_on_line(at)
            .filter(|_| !self.is_closed(lesson, at))?;
        lesson.node(next).played.map(|_| next)
    }
}

/// Puts the move of a node on the board, beside the question. It in English SAN.
pub(crate) fn put(lesson: &Lesson, state: &mut State, id: NodeId) -> Option<String> {
    let tried = replay(state.position(lesson), lesson.node(id).played?)?;
    let san = tried.san.clone();
    state.aside.push(tried);
    Some(san)
}

/// A reader has come to a node: the question there, if one is open.
pub(crate) fn arrive(lesson: &Lesson, state: &mut State) {
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
pub(crate) fn attempt(lesson: &Lesson, state: &mut State, tried: Tried) {
    let san = tried.san.clone();
    act(
        lesson,
        state,
        open_question::Intent::Try(Attempt::Played(tried)),
        san,
    );
}

/// Carries out what a reader does with the question.
pub(crate) fn act(lesson: &Lesson, state: &mut State, intent: open_question::Intent, san: String) {
    let is_back = state.is_beside();
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
        is_open && matches!(intent, open_question::Intent::Hint),
        is_open && matches!(intent, open_question::Intent::Show),
    );
    let effects = open_question::update(lesson, question, asked, intent);
    if effects.is_empty() && !hints {
        state.asking = Some(asking);
        return;
    }
    let mut judged = shows.then_some(None);
    let mut reply = None;
    for effect in effects {
        match effect {
            open_question::Effect::Judged(verdict) => judged = Some(Some(verdict)),
            open_question::Effect::Replied => {
                reply = asked.way.last().map(|tried| tried.san.clone())
            }
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
    state.is_back = is_back;
    place(state, &asking);
    let (asked, question) = (&asking.asked, &asking.question);
    let (settled, tries, node) = (asked.settled, asked.tries, question.node);
    // One reason for all of a row would tell the rest of it.
    let is_fair = question.moves == 1 && matches!(judged, Some(Some(Verdict::Fair { .. })));
    let because = match settled.is_some() || is_fair {
        true => question.because.clone(),
        false => String::new(),
    };
    let is_open = asking.is_open();
    let is_right = matches!(judged, Some(Some(Verdict::Right { .. })));
    let found = (is_open && is_right).then(|| [asked.found() as u32, question.moves]);
    let last = asked.way.last().and_then(|tried| tried.played);
    let is_joined = |&id: &NodeId| id != node && lesson.node(id).played != last;
    let joined = asked.node.filter(is_joined);
    if is_open || state.is_quiz {
        state.asking = Some(asking);
    } else {
        state.settled.push(node);
    }
    if let Some(Some(Verdict::Weaker { node })) = judged {
        put(lesson, state, node);
        reply = state
            .onward(lesson)
            .and_then(|next| put(lesson, state, next));
    }
    if let Some(verdict) = judged {
        state.notice = Some(Notice::Judged(Rc::new(Judged {
            verdict,
            san,
            number,
            answers,
            because,
            reply,
            tries,
            settled,
            found,
            joined,
            told: None,
        })));
    }
}

/// The moves that were shown from the one of that index on, as one.
fn in_a_row(lesson: &Lesson, question: &Question, asked: &OpenQuestion, from: usize) -> Named {
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

/// Puts on the board where the question is now.
fn place(state: &mut State, asking: &Asking) {
    (state.node, state.aside) = match asking.asked.node {
        Some(node) => (node, Vec::new()),
        None => (asking.question.node, asking.asked.way.clone()),
    };
}
