//! The results of a try in a recall, of showing the choice and of going on. What is right, and what
//! comes next, is decided in `ask`.

use super::asking::{Judged, named};
use super::command;
use super::effect::Effect;
use super::intent::{Command, Intent};
use super::recalling::Keeping;
use super::state::{Hand, Mode, Notice, State};
use crate::ask::open_question::How;
use crate::ask::recall::{self, Recall, Stage};
use crate::ask::{Verdict, answers, why_not};
use crate::lesson::rules::{self, EnPassantForm};
use crate::lesson::{Attempt, Lesson, NodeId, Tried};
use crate::notation::comment::passage::Passage;
use crate::view::numbers::number;
use shakmaty::Position;
use std::rc::Rc;

/// Carries out an intent that has its own meaning in a recall, or none. Returns the intent if it
/// means the same as at any board.
pub(crate) fn step(
    lesson: &Lesson,
    state: &mut State,
    intent: Intent,
    effects: &mut Vec<Effect>,
) -> Option<Intent> {
    let Mode::Recall(recalling) = &mut state.mode else {
        return Some(intent);
    };
    let is_asked = recalling.recall.stage == Stage::Asked;
    let meant = match intent {
        Intent::Recall(recall) => {
            recalling.recall = *recall;
            let memory = &mut recalling.memory;
            memory.note = None;
            if memory.keeping == Keeping::Forgetting {
                memory.keeping = Keeping::Kept;
            }
            recall::Intent::On
        }
        Intent::Memory(memory) => {
            recalling.memory = memory;
            return None;
        }
        // If no move is expected, the text beside the board stays, and the reader is told how to go
        // on.
        _ if !is_asked && is_try(lesson, &recalling.recall, &intent) => {
            recalling.tried = recalling.tried.saturating_add(1);
            return None;
        }
        Intent::Square(_) if !is_asked => return None,
        Intent::Next(None) if recalling.recall.walks > 0 => recall::Intent::On,
        Intent::Show(None) => recall::Intent::Show,
        Intent::Stop => recall::Intent::Stop,
        Intent::Next(_) | Intent::Show(_) => return None,
        _ => return Some(intent),
    };
    act(lesson, state, meant, String::new(), effects);
    None
}

/// Whether a reader wants to move: with one of their pieces, or with a typed word that is no
/// question.
fn is_try(lesson: &Lesson, recall: &Recall, intent: &Intent) -> bool {
    match intent {
        Intent::Square(square) => {
            let on = recall.position(lesson).board().piece_at(*square);
            on.is_some_and(|piece| piece.color == recall.side)
        }
        Intent::Typed(text) => !text.trim().is_empty() && command::read(text, "").is_none(),
        _ => matches!(
            intent,
            Intent::Move(..) | Intent::Play(_) | Intent::Ask(Command::Named(..))
        ),
    }
}

/// A legal move is tried in a recall.
pub(crate) fn attempt(lesson: &Lesson, state: &mut State, tried: Tried, effects: &mut Vec<Effect>) {
    let san = tried.san.clone();
    let intent = recall::Intent::Try(Attempt::Played(tried));
    act(lesson, state, intent, san, effects);
}

/// Carries out what a reader does in a recall; `san` is the move of a try, else empty.
fn act(
    lesson: &Lesson,
    state: &mut State,
    intent: recall::Intent,
    san: String,
    effects: &mut Vec<Effect>,
) {
    let Mode::Recall(recalling) = &mut state.mode else {
        return;
    };
    let at = recalling.recall.node;
    let (mut verdict, mut told, mut reply) = (None, None, None);
    let mut has_ended = false;
    let mut line = None;
    let read = &mut state.read;
    let mut see = |id: NodeId| read[id as usize] = true; // a node of this lesson
    let tried = match &intent {
        recall::Intent::Try(Attempt::Played(tried)) => tried.played,
        _ => None,
    };
    let led_to = recall::update(lesson, &mut recalling.recall, intent);
    if led_to.is_empty() {
        state.hand = Hand::Empty;
        return;
    }
    recalling.tried = 0;
    for effect in led_to {
        match effect {
            recall::Effect::Judged(said) => verdict = Some(said),
            recall::Effect::Played(node) => see(node),
            recall::Effect::Replied(node) => {
                reply = Some(node);
                see(node);
            }
            recall::Effect::Answered(node, outcome) => recalling.answered.push((node, outcome)),
            recall::Effect::Told { choice, .. } => {
                told = Some(choice);
                see(choice);
            }
            recall::Effect::Begun(node) => {
                line = Some(node).filter(|_| recalling.recall.walks > 1);
                for id in lesson.path(node) {
                    see(id);
                }
            }
            recall::Effect::Ended | recall::Effect::Over => has_ended = true,
            recall::Effect::Back(_) => {}
        }
    }
    let recall = &mut recalling.recall;
    if recall.stage == Stage::Over && recall.account(lesson).met == 0 {
        // Stopped without an answer: there is no summary, which would look as if the kept progress
        // were lost.
        (recall.stage, recall.walks, recall.node) = (Stage::Between, 0, recall.root);
        has_ended = false;
    }
    let node = recall.node;
    // A first slip: the position stays, and the answer is not named.
    let is_open = told.is_none() && recall.stage == Stage::Asked && node == at;
    recalling.line = line;
    state.clear();
    state.node = node;
    if verdict.is_none() && told.is_none() {
        state.notice = has_ended.then_some(Notice::Recalled);
        return;
    }
    let mut right = named(answers(lesson, at, &[]));
    // The one that is on the board first.
    if let Some(place) = right.iter().position(|one| told == one.node) {
        right.swap(0, place);
    }
    let is_sound = matches!(verdict, Some(Verdict::Right { .. } | Verdict::Fair { .. }));
    let how = match told.is_some() && !is_sound {
        true => How::Shown,
        false => How::Answered,
    };
    let position = &lesson.node(at).position;
    let tries = verdict.is_some().into();
    let why_not = match tried {
        Some(tried) if !matches!(verdict, Some(Verdict::Right { .. })) => {
            why_not(lesson, at, tried)
        }
        _ => None,
    };
    let judged = Rc::new(Judged {
        tries,
        why_not: why_not.unwrap_or_default(),
        verdict,
        san,
        number: number(position, true).unwrap_or_default(),
        answers: right,
        because: Passage::default(),
        reply: reply.map(|id| lesson.node(id).san.to_string()),
        settled: (!is_open).then_some(how),
        found: None,
        joined: None,
        told,
    });
    state.notice = Some(Notice::Judged(Rc::clone(&judged)));
    if tries > 0 {
        let fen = rules::fen(position, EnPassantForm::Legal);
        effects.push(Effect::Judged { judged, fen });
    }
    if !is_open {
        effects.push(Effect::Settled { how, tries });
    }
}
