//! Questions as a reader meets them: which stand open, what lies behind them, and what a try, a
//! hint or a wish to be shown leads to. What is right is decided in `ask`.

use super::state::{Notice, State};
use crate::ask::asked::{self, Asked, Hint, How};
use crate::ask::{Answer, Question, Verdict, refutation};
use crate::lesson::{Attempt, Lesson, NodeId, Tried, replay};
use crate::text::Listed;

/// The question that a reader is at, and how far they are with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asking {
    /// What is asked.
    pub question: Question,
    /// How far the reader is.
    pub asked: Asked,
}

impl Asking {
    /// A question as it is first seen.
    pub fn new(question: Question, seed: u32) -> Asking {
        let asked = Asked::new(&question, seed);
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

/// What is said of a try, or of the answer that is shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Judged {
    /// The verdict; none where the answer is shown.
    pub verdict: Option<Verdict>,
    /// The move tried, in English SAN; empty where the answer is shown.
    pub san: String,
    /// The node at which it was tried.
    pub at: NodeId,
    /// The moves that are right there.
    pub answers: Vec<Named>,
    /// Why, in the author's words; empty where nothing is said.
    pub because: String,
    /// The page's reply, where the question goes on.
    pub reply: Option<String>,
    /// Legal moves tried so far, this one too.
    pub tries: u32,
    /// How the question is settled by it; none while it stays open.
    pub settled: Option<How>,
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
        self.asking.as_ref().is_some_and(|asking| asking.is_open())
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
    let at = asking.asked.node.unwrap_or(asking.question.node);
    let answers = asking.asked.answers(lesson, &asking.question);
    let answers = answers.into_iter().map(Named::from).listed();
    let shows = intent == asked::Intent::Show && asking.is_open();
    let effects = asked::update(lesson, &asking.question, &mut asking.asked, intent);
    let mut judged = shows.then_some(None);
    let mut reply = None;
    let mut hint: Option<Hint> = None;
    for effect in effects {
        match effect {
            asked::Effect::Judged(verdict) => judged = Some(Some(verdict)),
            asked::Effect::Replied => {
                reply = asking.asked.way.last().map(|tried| tried.san.clone());
            }
            asked::Effect::Hinted => hint.clone_from(&asking.asked.hint),
            asked::Effect::Settled | asked::Effect::Opened => {}
        }
    }
    state.held = None;
    state.promotion = None;
    state.notice = hint.map(Notice::Hint);
    let said = judged.as_ref().and_then(Option::as_ref);
    place(lesson, state, &asking, said);
    if let Some(verdict) = judged {
        state.notice = Some(Notice::Judged(Box::new(Judged {
            verdict,
            san,
            at,
            answers,
            because: asking.question.because.clone(),
            reply,
            tries: asking.asked.tries,
            settled: asking.asked.settled,
        })));
    }
    if asking.is_open() || state.is_quiz {
        state.asking = Some(asking);
    } else {
        state.settled.push(asking.question.node);
        arrive(lesson, state);
    }
}

/// Puts on the board where the question is now; of a weaker move its refutation.
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
    }
}
