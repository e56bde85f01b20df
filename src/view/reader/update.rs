//! From a state and an intent to the next state, and what follows from it.

use super::effect::{Effect, drawn};
use super::input::{choose, named, promote, put, scripted, typed};
use super::intent::{Command, Intent, Switch};
use super::question;
use super::recall;
use super::state::{Mode, Notice, State};
use crate::ask::open_question::{self, How};
use crate::lesson::{Lesson, LineId, NodeId};
use crate::notation::Letters;

/// The state after an intent, and what follows from it. An intent that cannot be carried out (back
/// at the start, a node that is not there) changes nothing, and nothing follows.
pub fn update(
    lesson: &Lesson,
    state: &State,
    intent: Intent,
    letters: &Letters,
) -> (State, Vec<Effect>) {
    let mut after = state.clone();
    let mut effects = Vec::new();
    let speaks = matches!(
        intent,
        Intent::Typed(_)
            | Intent::Play(_)
            | Intent::Ask(_)
            | Intent::Report(_)
            | Intent::Move(..)
            | Intent::Aloud(_)
            | Intent::Switch(..)
    );
    if speaks {
        after.notice = None;
    }
    let left = match state.mode {
        Mode::Lesson { .. } => in_lesson(lesson, &mut after, intent, &mut effects),
        Mode::Quiz { .. } => in_quiz(lesson, &mut after, intent, &mut effects),
        Mode::Recall(_) => recall::step(lesson, &mut after, intent, &mut effects),
        Mode::Missing => None,
    };
    if let Some(intent) = left {
        at_board(lesson, &mut after, intent, letters, &mut effects);
    }
    question::arrive(lesson, &mut after);
    let is_still = (state.node, &state.aside) == (after.node, &after.aside);
    let is_against = state.aside != after.aside && after.against(lesson).is_some();
    if after.notice.is_none() && (is_against || !is_still && is_told(lesson, &after)) {
        after.notice = Some(Notice::Against);
    }
    if speaks && state.notice.is_some() && is_still {
        match after.notice {
            None => after.notice.clone_from(&state.notice),
            Some(_) => after.again ^= after.notice == state.notice,
        }
    }
    if after.node != state.node {
        after.read[after.node as usize] = true; // a node of this lesson
        unfold(lesson, &mut after);
    }
    drawn(lesson, state, &after, &mut effects);
    (after, effects)
}

/// What is done in a lesson. Returns an intent that means the same at any board.
fn in_lesson(
    lesson: &Lesson,
    state: &mut State,
    intent: Intent,
    effects: &mut Vec<Effect>,
) -> Option<Intent> {
    match intent {
        Intent::Open(id) if lesson.get(id).is_some() => {
            for &before in lesson.path(id).iter().filter(|&&before| before != id) {
                open(lesson, state, before, effects);
            }
            state.go(id);
        }
        Intent::Show(at) => {
            if let Some(at) = at.filter(|&at| lesson.get(at).is_some()) {
                state.go(state.within(lesson, at));
                question::arrive(lesson, state);
            }
            question::act(lesson, state, open_question::Intent::Show, effects);
        }
        Intent::OpenAll => {
            for id in lesson.ids() {
                open(lesson, state, id, effects);
            }
        }
        Intent::Hint => question::act(lesson, state, open_question::Intent::Hint, effects),
        Intent::Again => question::act(lesson, state, open_question::Intent::Again, effects),
        Intent::Alone => alone(lesson, state),
        Intent::Aloud(on) => (state.aloud, state.notice) = (on, Some(Notice::Aloud)),
        Intent::Beside(node) => {
            if let Some(open) = &mut state.alone {
                match open.iter().position(|&at| at == node) {
                    Some(at) => _ = open.swap_remove(at),
                    None => open.push(node),
                }
            }
        }
        _ => return walk(lesson, state, intent),
    }
    None
}

/// What is done with a question in an element of its own, which shows one position until it is
/// settled, and can then be stepped through.
fn in_quiz(
    lesson: &Lesson,
    state: &mut State,
    intent: Intent,
    effects: &mut Vec<Effect>,
) -> Option<Intent> {
    let meant = match intent {
        Intent::Hint => open_question::Intent::Hint,
        Intent::Show(_) | Intent::OpenAll => open_question::Intent::Show,
        Intent::Again => open_question::Intent::Again,
        Intent::Go(_) | Intent::Open(_) | Intent::Enter(_) | Intent::Told(..) if state.waits() => {
            return None;
        }
        Intent::Back if state.waits() && !state.is_beside() => return None,
        Intent::Top if state.waits() => return walk(lesson, state, Intent::Home),
        // It begins where it asks.
        Intent::Top => {
            let asked = state.asking().map_or(0, |asking| asking.question.node);
            state.go(asked);
            return None;
        }
        _ => return walk(lesson, state, intent),
    };
    question::act(lesson, state, meant, effects);
    None
}

/// Steps and ways through a lesson.
fn walk(lesson: &Lesson, state: &mut State, intent: Intent) -> Option<Intent> {
    let node = lesson.node(state.node);
    match intent {
        Intent::Go(id) | Intent::Open(id) if lesson.get(id).is_some() => {
            state.go(state.within(lesson, id));
        }
        Intent::Enter(place) if lesson.get(place.node).is_some() => {
            if (state.node, &state.aside) != (place.node, &place.aside) {
                state.clear();
            }
            let node = state.within(lesson, place.node);
            let beside = node == place.node && !state.is_closed(lesson, node);
            state.told = None;
            (state.node, state.aside) = (node, if beside { place.aside } else { Vec::new() });
        }
        Intent::Told(place, by) => {
            walk(lesson, state, Intent::Enter(place));
            state.told = lesson
                .get(by)
                .filter(|_| !state.aside.is_empty())
                .map(|_| by);
        }
        Intent::Next(index) if state.aside.is_empty() && !state.waits() => {
            if let Some(&child) = node.children.get(index.unwrap_or(0)) {
                state.go(child);
            }
        }
        Intent::Next(_) if state.is_beside() => {
            if let Some(next) = state.onward(lesson) {
                state.clear();
                question::put(lesson, state, next);
            }
        }
        Intent::Back if state.is_beside() => {
            state.aside.pop();
            state.clear();
        }
        Intent::Back => {
            if let Some(parent) = node.parent {
                state.go(parent);
            }
        }
        Intent::Top => state.go(0),
        Intent::Home if state.is_beside() => {
            state.clear();
            state.aside.truncate(state.found());
        }
        _ => return Some(intent),
    }
    None
}

/// What is done at any board.
fn at_board(
    lesson: &Lesson,
    state: &mut State,
    intent: Intent,
    letters: &Letters,
    effects: &mut Vec<Effect>,
) {
    match intent {
        Intent::Turn => (state.side, state.notice) = (!state.side, Some(Notice::Turned)),
        Intent::Side(side) => state.side = side,
        Intent::Square(square) => choose(lesson, state, square, effects),
        Intent::Move(from, to) => {
            state.cursor = to;
            put(lesson, state, (from, to), None, effects);
        }
        Intent::Promote(role) => promote(lesson, state, role, effects),
        Intent::Release => state.clear(),
        Intent::Cursor(square) => state.cursor = square,
        Intent::Typed(text) => typed(lesson, state, text.trim(), letters, effects),
        Intent::Play(word) => scripted(lesson, state, &word, effects),
        Intent::Ask(Command::Named(role, square)) => {
            named(lesson, state, (role, square), effects);
        }
        Intent::Ask(command) => state.notice = Some(Notice::Answer(command)),
        Intent::Map => state.map = !state.map,
        Intent::Switch(which, to) => switch(lesson, state, which, to),
        Intent::Desk => state.desk = !state.desk,
        Intent::Shut => state.shut = !state.shut,
        Intent::Fold(line) => fold(lesson, state, line),
        Intent::Report(report) => state.notice = Some(Notice::Report(report)),
        _ => {} // it means nothing here
    }
}

/// Reads the main line alone, or with all lines again.
fn alone(lesson: &Lesson, state: &mut State) {
    if state.alone.take().is_none() {
        state.alone = Some(Vec::new());
        unfold(lesson, state);
    }
}

/// Puts what has two states into one of them, or into the other, and says which it is now.
fn switch(lesson: &Lesson, state: &mut State, which: Switch, to: Option<bool>) {
    let is_on = match which {
        Switch::Map => state.map,
        Switch::Alone => state.alone.is_some(),
        Switch::Shut => state.shut,
    };
    if to != Some(is_on) {
        match which {
            Switch::Map => state.map = !is_on,
            Switch::Alone => alone(lesson, state),
            Switch::Shut => state.shut = !is_on,
        }
    }
    state.notice = Some(Notice::Switched(which));
}

/// The answer to the question at a node, where one is open.
fn open(lesson: &Lesson, state: &mut State, id: NodeId, effects: &mut Vec<Effect>) {
    if state.is_closed(lesson, id) {
        question::settle(state, id, How::Shown, 0, effects);
    }
}

/// Whether a settled quiz, which has no text beside it, shows a move that has a comment.
fn is_told(lesson: &Lesson, state: &State) -> bool {
    let said = &lesson.node(state.node).comments;
    state.is_apart()
        && !state.waits()
        && state.aside.is_empty()
        && said.iter().any(|comment| comment.ask().is_none())
}

/// Folds a variation, or opens it.
fn fold(lesson: &Lesson, state: &mut State, line: LineId) {
    match state.folded.iter().position(|&folded| folded == line) {
        Some(at) => _ = state.folded.swap_remove(at),
        None if line > 0 && (line as usize) < lesson.lines.len() => state.folded.push(line),
        None => {}
    }
}

/// Opens the line that the reader is in, and those that hold it.
pub(super) fn unfold(lesson: &Lesson, state: &mut State) {
    let mut line = lesson.node(state.node).line;
    while let Some(parent) = lesson.line(line).parent {
        let beside = lesson.line(line).beside;
        if let Some(open) = &mut state.alone
            && parent == 0
            && !open.contains(&beside)
        {
            open.push(beside);
        }
        if let Some(at) = state.folded.iter().position(|&folded| folded == line) {
            state.folded.swap_remove(at);
        }
        line = parent;
    }
}
