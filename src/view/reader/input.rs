//! What a reader's hand does: squares are chosen, pieces put, moves and questions typed.

use super::command;
use super::effect::Effect;
use super::intent::Command;
use super::question;
use super::recall;
use super::state::{Hand, Mode, Notice, State};
use crate::ask::held;
use crate::lesson::rules::{self, EnPassantForm};
use crate::lesson::{Attempt, Lesson, Tried, attempt, attempt_typed, attempt_word, reach};
use crate::notation::Letters;
use crate::text::Code;
use shakmaty::{Position, Role, Square};

/// A square is chosen by click, tap or key.
pub(crate) fn choose(
    lesson: &Lesson,
    state: &mut State,
    square: Square,
    effects: &mut Vec<Effect>,
) {
    state.cursor = square;
    let position = state.position(lesson);
    let own = position
        .board()
        .piece_at(square)
        .is_some_and(|piece| piece.color == position.turn());
    match state.hand.held() {
        Some(from) if from == square => state.hand = Hand::Empty,
        // Another piece of the same side is taken in hand instead, except to castle onto the rook.
        _ if own => {
            state.hand = Hand::Holds(square);
            // What was said of a try is read until the next.
            state.notice.take_if(|notice| !notice.is_about_try());
        }
        Some(from) => put(lesson, state, (from, square), None, effects),
        None if position.board().piece_at(square).is_some() => {
            state.notice = Some(Notice::OtherSide);
        }
        None => {}
    }
}

/// A piece is put from a square on a square.
pub(crate) fn put(
    lesson: &Lesson,
    state: &mut State,
    (from, to): (Square, Square),
    becomes: Option<Role>,
    effects: &mut Vec<Effect>,
) {
    state.hand = Hand::Holds(from);
    match attempt(state.position(lesson), from, to, becomes) {
        Attempt::Played(tried) => play(lesson, state, tried, effects),
        Attempt::Promotes => state.hand = Hand::Promotes { from, to },
        Attempt::Refused(reason) => {
            state.hand = Hand::Empty;
            refuse(lesson, state, Notice::Refused(reason, None), effects);
        }
        Attempt::NoMove => {}
    }
}

/// A kind of piece and a square are named: the move, where there is one; else what is there is said.
pub(crate) fn named(
    lesson: &Lesson,
    state: &mut State,
    (role, to): (Role, Square),
    effects: &mut Vec<Effect>,
) {
    let position = state.position(lesson);
    let mut found = Vec::new();
    for from in position.our(role) {
        if reach(position, from).contains(&to) {
            found.push(from);
        }
    }
    match found[..] {
        [from] => put(lesson, state, (from, to), None, effects),
        _ => state.notice = Some(Notice::Answer(Command::On(to))),
    }
}

/// What the waiting pawn becomes.
pub(crate) fn promote(lesson: &Lesson, state: &mut State, role: Role, effects: &mut Vec<Effect>) {
    if let Hand::Promotes { from, to } = state.hand {
        put(lesson, state, (from, to), Some(role), effects);
    }
}

/// A try that is not legal.
fn refuse(lesson: &Lesson, state: &mut State, notice: Notice, effects: &mut Vec<Effect>) {
    state.notice = Some(notice);
    if state.is_asked() {
        let fen = rules::fen(state.position(lesson), EnPassantForm::Legal);
        let tries = state.asking().map_or(0, |asking| asking.asked.tries);
        effects.push(Effect::Refused { fen, tries });
    }
}

/// A legal move: where the lesson holds it, the reader goes there; else it is an aside.
fn play(lesson: &Lesson, state: &mut State, tried: Tried, effects: &mut Vec<Effect>) {
    if let Mode::Recall(_) = state.mode {
        return recall::attempt(lesson, state, tried, effects);
    }
    if state.is_asked() {
        return question::attempt(lesson, state, tried, effects);
    }
    state.clear();
    match held(lesson, state.node, tried.played).filter(|_| state.aside.is_empty()) {
        Some(child) => state.go(child),
        None => {
            state.told = None;
            state.aside.push(tried);
        }
    }
}

/// A move or a question, typed.
pub(crate) fn typed(
    lesson: &Lesson,
    state: &mut State,
    text: &str,
    letters: &Letters,
    effects: &mut Vec<Effect>,
) {
    if text.is_empty() {
        return;
    }
    let notice = match attempt_typed(state.position(lesson), text, letters) {
        Attempt::Played(tried) => return play(lesson, state, tried, effects),
        Attempt::Refused(reason) => {
            let square = Square::from_ascii(text.as_bytes()).ok();
            let asked = square.filter(|_| reason.code != Code::PromotionMissing);
            return refuse(lesson, state, Notice::Refused(reason, asked), effects);
        }
        Attempt::Promotes | Attempt::NoMove => match command::read(text, "") {
            Some(command) => Notice::Answer(command),
            None => Notice::NotUnderstood(text.chars().take(60).collect()),
        },
    };
    state.notice = Some(notice);
}

/// A move that a page's script plays. What is no move changes nothing.
pub(crate) fn scripted(lesson: &Lesson, state: &mut State, word: &str, effects: &mut Vec<Effect>) {
    match attempt_word(state.position(lesson), word, Letters::ENGLISH) {
        Attempt::Played(tried) => play(lesson, state, tried, effects),
        Attempt::Refused(reason) => refuse(lesson, state, Notice::Refused(reason, None), effects),
        Attempt::Promotes | Attempt::NoMove => {}
    }
}
