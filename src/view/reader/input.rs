//! What a reader's hand does: squares are chosen, pieces put, moves and questions typed.

use super::command;
use super::question;
use super::recall;
use super::state::{Notice, State, go, settle};
use crate::ask::held;
use crate::lesson::{Attempt, Lesson, Tried, attempt, attempt_typed};
use crate::notation::Letters;
use shakmaty::{Position, Role, Square};

/// A square is chosen by click, tap or key.
pub(crate) fn choose(lesson: &Lesson, state: &mut State, square: Square) {
    state.cursor = square;
    state.promotion = None;
    let position = state.position(lesson);
    let own = position
        .board()
        .piece_at(square)
        .is_some_and(|piece| piece.color == position.turn());
    match state.held {
        Some(from) if from == square => state.held = None,
        // Another piece of one's own is taken instead, castling onto the rook aside.
        Some(_) if own => (state.held, state.notice) = (Some(square), None),
        Some(from) => put(lesson, state, from, square, None),
        None if own => (state.held, state.notice) = (Some(square), None),
        None => {}
    }
}

/// A piece is put on a square.
pub(crate) fn put(
    lesson: &Lesson,
    state: &mut State,
    from: Square,
    to: Square,
    promotion: Option<Role>,
) {
    let attempt = attempt(state.position(lesson), from, to, promotion);
    state.promotion = None;
    match attempt {
        Attempt::Played(tried) => play(lesson, state, tried),
        Attempt::Promotes => {
            state.promotion = Some((from, to));
            state.held = Some(from);
        }
        Attempt::Refused(reason) => {
            state.held = None;
            state.notice = Some(Notice::Refused(reason));
        }
        Attempt::NoMove => {}
    }
}

/// A legal move: where the lesson holds it, the reader goes there; else it is an aside.
pub(crate) fn play(lesson: &Lesson, state: &mut State, tried: Tried) {
    if state.recalling.is_some() {
        return recall::attempt(lesson, state, tried);
    }
    if state.waits() && !state.is_beside() {
        return question::attempt(lesson, state, tried);
    }
    settle(state);
    match held(lesson, state.node, tried.played).filter(|_| state.aside.is_empty()) {
        Some(child) => go(state, child),
        None => state.aside.push(tried),
    }
}

/// A move or a question, typed.
pub(crate) fn typed(lesson: &Lesson, state: &mut State, text: &str, letters: &Letters) {
    if text.is_empty() {
        return;
    }
    let attempt = attempt_typed(state.position(lesson), text, letters);
    let notice = match attempt {
        Attempt::Played(tried) => return play(lesson, state, tried),
        Attempt::Refused(reason) => Notice::Refused(reason),
        Attempt::Promotes | Attempt::NoMove => match command::read(text) {
            Some(command) => Notice::Answer(command),
            None => Notice::NotUnderstood(text.chars().take(60).collect()),
        },
    };
    state.notice = Some(notice);
}
