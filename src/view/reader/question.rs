//! The results of a try at a question, of a hint, and of showing the answer. What is right is
//! decided in `ask`.

use super::asking::{Asking, Judged, Named, named};
use super::effect::Effect;
use super::state::{Mode, Notice, State};
use crate::ask::open_question::{self, How, Intent, OpenQuestion};
use crate::ask::{Question, Verdict, why_not};
use crate::lesson::rules::{self, EnPassantForm};
use crate::lesson::{Attempt, Lesson, NodeId, Tried, replay};
use crate::notation::comment::passage::Passage;
use crate::view::numbers::number;
use std::rc::Rc;

/// Puts the move of a node on the board, beside the question. Returns the move in English SAN.
pub(crate) fn put(lesson: &Lesson, state: &mut State, id: NodeId) -> Option<String> {
    let tried = replay(state.position(lesson), lesson.node(id).played?)?;
    let san = tried.san.clone();
    state.aside.push(tried);
    Some(san)
}

/// A reader of a lesson has come to a node: the question there, if one is open.
pub(crate) fn arrive(lesson: &Lesson, state: &mut State) {
    let (node, is_asked) = (state.node, state.is_closed(lesson, state.node));
    let Mode::Lesson { asking, .. } = &mut state.mode else {
        return;
    };
    let stays = |asking: &Asking| is_asked && asking.question.node == node;
    if asking.as_deref().is_some_and(stays) {
        return;
    }
    let question = is_asked.then(|| Question::of_comment(lesson, node));
    let question = question.flatten().and_then(Result::ok);
    *asking = question.map(|question| Box::new(Asking::new(question, 0)));
}

/// Notes that a question of a lesson is no longer open.
pub(crate) fn settle(
    state: &mut State,
    node: NodeId,
    how: How,
    tries: u32,
    effects: &mut Vec<Effect>,
) {
    if let Mode::Lesson { asking, settled } = &mut state.mode {
        *asking = None;
        settled.push(node);
    }
    effects.push(Effect::Settled { how, tries });
}

/// A legal move is tried at the open question.
pub(crate) fn attempt(lesson: &Lesson, state: &mut State, tried: Tried, effects: &mut Vec<Effect>) {
    let san = tried.san.clone();
    let intent = Intent::Try(Attempt::Played(tried));
    answer(lesson, state, intent, san, effects);
}

/// Carries out what a reader does with the question besides a try.
pub(crate) fn act(lesson: &Lesson, state: &mut State, intent: Intent, effects: &mut Vec<Effect>) {
    answer(lesson, state, intent, String::new(), effects);
}

/// Carries out what a reader does with the question; `san` is the move of a try.
fn answer(
    lesson: &Lesson,
    state: &mut State,
    intent: Intent,
    san: String,
    effects: &mut Vec<Effect>,
) {
    let is_back = state.is_beside();
    let Some(Asking { question, asked }) = state.asking_mut() else {
        return;
    };
    let question = Rc::clone(question);
    let before = asked.position(lesson, &question);
    let number = number(before, true).unwrap_or_default();
    let fen = rules::fen(before, EnPassantForm::Legal);
    let mut answers = named(asked.answers(lesson, &question));
    let way = asked.way.len();
    let was_open = asked.settled.is_none();
    // What is said of wrong answers is said of the question's own position.
    let tried = match &intent {
        Intent::Try(Attempt::Played(tried)) if way == 0 => tried.played,
        _ => None,
    };
    let hints = was_open && matches!(intent, Intent::Hint);
    let shows = was_open && matches!(intent, Intent::Show);
    let led_to = open_question::update(lesson, &question, asked, intent);
    if led_to.is_empty() && !hints {
        return;
    }
    let mut judged = shows.then_some(None);
    let mut reply = None;
    for effect in led_to {
        match effect {
            open_question::Effect::Judged(verdict) => judged = Some(Some(verdict)),
            open_question::Effect::Replied => {
                reply = asked.way.last().map(|tried| tried.san.clone())
            }
            _ => {}
        }
    }
    if shows && question.moves > 1 {
        answers = vec![in_a_row(lesson, &question, asked, way)];
    }
    let hint = asked.hint.clone().filter(|_| hints);
    let (settled, tries, reached) = (asked.settled, asked.tries, asked.node);
    let is_open = settled.is_none();
    let is_right = matches!(judged, Some(Some(Verdict::Right { .. })));
    let found = (is_open && is_right).then(|| [asked.found() as u32, question.moves]);
    let last = asked.way.last().and_then(|tried| tried.played);
    let is_joined = |&id: &NodeId| id != question.node && lesson.node(id).played != last;
    let joined = reached.filter(is_joined);
    // The board shows the question's current position.
    (state.node, state.aside) = match reached {
        Some(node) => (node, Vec::new()),
        None => (question.node, asked.way.clone()),
    };
    state.clear();
    state.notice = hint.map(Notice::Hint);
    state.is_back = is_back;
    let Some(mut verdict) = judged else {
        return;
    };
    if let Some(Verdict::Other { stands }) = &mut verdict {
        // Not at the place of its answer.
        *stands = stands.filter(|&there| match state.is_apart() {
            true => !lesson.path(there).contains(&question.node),
            false => state.within(lesson, there) == there,
        });
    }
    // One reason for all moves in a row would give the rest away.
    let is_fair = question.moves == 1 && matches!(verdict, Some(Verdict::Fair { .. }));
    let because = match is_open && !is_fair {
        true => Passage::default(),
        false => question.because.clone(),
    };
    let is_try = verdict.is_some();
    let why_not = match (&verdict, tried) {
        (Some(Verdict::Right { .. }) | None, _) | (_, None) => None,
        (_, Some(tried)) => why_not(lesson, question.node, tried),
    };
    let weaker = match verdict {
        Some(Verdict::Weaker { node }) => Some(node),
        _ => None,
    };
    if let Some(node) = weaker {
        put(lesson, state, node);
        reply = state
            .onward(lesson)
            .and_then(|next| put(lesson, state, next));
    }
    let judged = Rc::new(Judged {
        verdict,
        san,
        number,
        answers,
        why_not: why_not.unwrap_or_default(),
        because,
        reply,
        tries,
        settled,
        found,
        joined,
        told: None,
    });
    state.notice = Some(Notice::Judged(Rc::clone(&judged)));
    if is_try {
        effects.push(Effect::Judged { judged, fen });
    }
    if let Some(how) = settled {
        settle(state, question.node, how, tries, effects);
    }
}
/// The moves that were shown, from that index on, as one text.
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
