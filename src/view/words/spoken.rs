//! What is spoken: the move, what is in hand, answers to questions, refusals.

use super::actions;
use super::answers::{answer, goes, material};
use super::moved::capital;
pub use super::moved::move_said;
use super::recalled;
use super::verdicts::{comment as comment_said, hint_said, judged_said};
use super::wording::{cell, describe, plain, turn};
use super::{Word, Words, add, close};
use crate::lesson::rules::{self, EnPassantForm};
use crate::lesson::{Lesson, enumerate};
use crate::notation::Comment;
use crate::text::{Listed, join, typeset};
use crate::view::reader::intent::{Command, Report, Switch};
use crate::view::reader::state::{Last, Mode, Notice, State};
use shakmaty::{Chess, Square};

/// What the polite region says: a notice, else the last move and what follows from it.
pub fn said(words: &Words, lesson: &Lesson, state: &State) -> String {
    let notice = state.notice.as_ref();
    let notice = notice.filter(|it| state.hand.held().is_none() || !it.is_about_try());
    if let Some(notice) = notice.filter(|&notice| *notice != Notice::Against) {
        let mut text = notice_said(words, lesson, state, notice);
        if state.is_back && notice.is_about_try() {
            text = join(&[words.get(Word::BackSaid), &text], " ");
        }
        if state.again {
            text.push('\u{a0}'); // not seen and not heard, but different from the text before
        }
        return text;
    }
    if let Some(from) = state.hand.held() {
        return held_said(words, state.position(lesson), from);
    }
    if state.is_recalled_again() {
        return recalled::said(words, lesson, state);
    }
    let mut text = match state.last(lesson) {
        None if !state.waits() && !state.aloud => return words.get(Word::AtStart).to_owned(),
        None => words.get(Word::AtStart).to_owned(),
        Some(last) => move_said(words, &last) + ".",
    };
    text.insert_str(0, &recalled::line_said(words, lesson, state));
    let told = match (state.is_beside(), state.is_apart()) {
        (true, _) => comment_said(lesson, state.against(lesson)),
        // Not at its own question: there is no text beside it.
        (_, true) if state.waits() => String::new(),
        (_, true) => comment_said(lesson, Some(state.node)),
        _ => told_here(words, lesson, state),
    };
    let is_read = state.aloud || state.is_beside() || state.is_apart();
    if !is_read && !told.is_empty() && state.node > 0 {
        text.pop();
        text.push_str(words.get(Word::HasComment));
    }
    if is_read {
        add(&mut text, &told);
        close(&mut text);
    }
    let mut add = |more: &str| add(&mut text, more);
    if state.is_beside() {
        match goes_on(lesson, state) {
            Word::AgainstSaid => {}
            word => add(words.get(word)),
        }
        return text;
    }
    let children = &lesson.node(state.node).children;
    match children.len() {
        _ if state.waits() => add(&question_said(words, lesson, state)),
        0 => add(words.get(Word::LineEnds)),
        1 => {}
        several => {
            let mut moves = Vec::new();
            for &child in children {
                moves.push(words.numbered(lesson, child));
            }
            let moves = enumerate(moves, words.get(Word::And));
            let values = [("count", &*several.to_string()), ("moves", &moves)];
            add(&words.fill(Word::Several, &values));
        }
    }
    text
}

/// What is read while the hand holds a piece: what was said of the last try; else nothing.
pub(crate) fn remark(words: &Words, lesson: &Lesson, state: &State) -> String {
    match &state.notice {
        Some(notice) if state.hand.held().is_some() && notice.is_about_try() => {
            notice_said(words, lesson, state, notice)
        }
        _ => String::new(),
    }
}

/// What the author says at a node of the lesson; of a question that waits nothing, for that is asked
/// in its own words.
fn told_here(words: &Words, lesson: &Lesson, state: &State) -> String {
    let node = lesson.node(state.node);
    let mut text = String::new();
    for said in node.before.iter().chain(&node.comments) {
        if said.ask().is_none() || !state.waits() {
            add(&mut text, &said_plain(said, words));
        }
    }
    text
}

/// A comment as plain text; of a question that is settled what was asked and why.
fn said_plain(said: &Comment, words: &Words) -> String {
    let (first, then) = match said.ask() {
        Some(ask) => (Some(&ask.prompt), ask.because()),
        None => (said.told(), None),
    };
    let mut text = first
        .map(|passage| plain(passage, words))
        .unwrap_or_default();
    if let Some(because) = then {
        text.push(' ');
        text.push_str(&plain(because, words));
    }
    text
}

/// How the lesson goes on from a position beside it.
fn goes_on(lesson: &Lesson, state: &State) -> Word {
    match state.against(lesson) {
        None if state.told.is_some() => Word::ToldSaid,
        None => Word::AsideSaid,
        Some(at) if state.is_closed(lesson, at) => Word::QuestionHere,
        _ if state.onward(lesson).is_some() => Word::AgainstSaid,
        _ => Word::LineEnds,
    }
}

/// The question that waits.
fn question_said(words: &Words, lesson: &Lesson, state: &State) -> String {
    if let Mode::Recall(_) = state.mode {
        let told = recalled::said(words, lesson, state);
        // The line that the walk follows has been said before the move.
        let line = recalled::line_said(words, lesson, state);
        return told.strip_prefix(&*line).unwrap_or(&told).to_owned();
    }
    let prompt = state
        .asking()
        .map(|asking| plain(&asking.question.prompt, words));
    let mut text = prompt.unwrap_or_default();
    text.push_str(if text.is_empty() { "" } else { " " });
    text.push_str(words.get(Word::YourMove));
    text
}

/// The piece in hand and where it can go.
fn held_said(words: &Words, position: &Chess, from: Square) -> String {
    let mut text = cell(words, position, from);
    text.push_str(words.get(Word::Held));
    text.push_str(". ");
    text + &goes(words, position, from)
}

/// A notice in words.
fn notice_said(words: &Words, lesson: &Lesson, state: &State, notice: &Notice) -> String {
    let command = match notice {
        Notice::Answer(command) => *command,
        Notice::Judged(judged) => {
            let text = judged_said(words, lesson, judged);
            let more = match judged.reply.is_some() && state.is_beside() {
                true => words.get(goes_on(lesson, state)).to_owned(),
                false => recalled::said(words, lesson, state),
            };
            return if more.is_empty() {
                text
            } else {
                text + " " + &more
            };
        }
        Notice::Against | Notice::Recalled => return recalled::said(words, lesson, state),
        Notice::Hint(hint) => return hint_said(words, state.position(lesson), hint),
        Notice::Report(report) => {
            return match report {
                Report::Copied => words.get(Word::Copied).to_owned(),
                Report::NotCopied => {
                    let fen = rules::fen(state.position(lesson), EnPassantForm::Legal);
                    words.fill(Word::NotCopied, &[("fen", &fen)])
                }
                Report::NotLinked(link) => words.fill(Word::NotLinked, &[("link", link)]),
                Report::NoPlace(run) => words.fill(Word::NoPlace, &[("run", run)]),
            };
        }
        Notice::Turned => {
            let below = state.side.fold_wb(Word::WhiteBelow, Word::BlackBelow);
            return words.get(below).to_owned();
        }
        Notice::OtherSide => {
            let turn = turn(words, state.position(lesson));
            return capital(turn.trim_start_matches([',', ' '])) + ".";
        }
        Notice::Aloud => {
            let word = if state.aloud {
                Word::AloudSaid
            } else {
                Word::QuietSaid
            };
            return words.fill(word, &[("word", words.get(Word::Quiet))]);
        }
        Notice::Switched(which) => {
            let word = match which {
                Switch::Map if state.map => Word::MapSaid,
                Switch::Map => Word::NoMapSaid,
                Switch::Alone => {
                    let is_alone = state.alone.is_some();
                    let which = [Word::AllLines, Word::MainOnly][usize::from(is_alone)];
                    return capital(words.get(which)) + ".";
                }
                Switch::Shut if state.shut => Word::FoldSaid,
                Switch::Shut => Word::UnfoldSaid,
            };
            return words.get(word).to_owned();
        }
        Notice::NotUnderstood(text) => {
            let values = [("text", &**text), ("word", words.get(Word::Help))];
            return words.fill(Word::NotUnderstood, &values);
        }
        Notice::Refused(reason, asked) => {
            let own = words.named(reason.code.id());
            let mut text = match own.is_empty() {
                true => capital(&typeset(&reason.message)) + ".",
                false => own.to_owned(),
            };
            if let Some(square) = *asked {
                text.push(' ');
                text.push_str(&cell(words, state.position(lesson), square));
                text.push('.');
            }
            return text;
        }
    };
    let position = state.position(lesson);
    let node = lesson.node(state.node);
    match command {
        Command::Describe => describe(words, position) + turn(words, position) + ".",
        Command::LastMove => match state.last(lesson) {
            Some(last) => move_said(words, &last) + ".",
            None => words.get(Word::AtStart).to_owned(),
        },
        Command::Comment => {
            let mut text = match state.against(lesson) {
                // There is no text beside its own question.
                None if state.waits() && state.is_apart() => String::new(),
                None if !state.is_beside() => told_here(words, lesson, state),
                at => comment_said(lesson, at),
            };
            let is_asked = match state.asking() {
                // The prompt is in the page then.
                Some(asking) => !asking.question.prompt.is_empty(),
                None => true,
            };
            if is_asked && state.waits() && !state.is_beside() {
                add(&mut text, &question_said(words, lesson, state));
            }
            match text.is_empty() {
                true => words.get(Word::NoComment).to_owned(),
                false => text,
            }
        }
        Command::Moves if state.waits() => words.get(Word::YourMove).to_owned(),
        Command::Moves if node.children.is_empty() || !state.aside.is_empty() => {
            words.get(Word::NoMoves).to_owned()
        }
        Command::Moves => {
            let position = &node.position;
            let moves = node.children.iter().map(|&child| {
                let next = lesson.node(child);
                let last = Last {
                    before: position,
                    played: next.played,
                    san: &next.san,
                    nags: &next.nags,
                };
                let said = move_said(words, &last);
                let (number, said) = (words.numbered(lesson, child), said.as_str());
                words.fill(Word::MoveMeans, &[("move", &number), ("said", said)])
            });
            join(&moves.listed(), " ")
        }
        Command::Where => {
            let played = words.numbered(lesson, state.node);
            let played = ("move", played.as_str());
            let mut text = match lesson.label(state.node) {
                _ if node.parent.is_none() => words.get(Word::AtStart).to_owned(),
                "" => words.fill(Word::OnMain, &[played]),
                label => words.fill(Word::OnLine, &[("label", label), played]),
            };
            if state.is_beside() && state.against(lesson).is_none() {
                let count = state.aside.len() - state.found(); // it is more
                let said = words.fill(Word::SinceThen, &[("count", &count.to_string())]);
                add(&mut text, &said);
                return text;
            }
            if text.ends_with('.') {
                text.pop();
            }
            text + turn(words, position) + "."
        }
        Command::Help => {
            let list = actions::names(words, lesson, state);
            words.fill(Word::HelpSaid, &[("list", &list)])
        }
        Command::On(square) | Command::Named(_, square) => cell(words, position, square) + ".",
        Command::About(asked, pieces) => answer(words, position, asked, pieces),
        Command::Material => material(words, position),
    }
}
