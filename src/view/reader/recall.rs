//! Recall as a reader meets it: what a try, a wish to be shown or to go on leads to, and what is
//! said of it. What is right, and what comes next, is decided in `ask`.

use super::command;
use super::question::{Judged, named};
use super::state::{Intent, Notice, State, settle};
use crate::ask::open_question::How;
use crate::ask::recall::{self, Effect, Recall, Stage};
use crate::ask::schedule::Outcome;
use crate::ask::{Verdict, answers};
use crate::lesson::{Attempt, Lesson, NodeId, Tried};
use crate::view::moves::number;
use crate::view::words::spoken::move_said;
use crate::view::words::wording::last;
use crate::view::words::{Word, Words};
use shakmaty::Position;
use std::rc::Rc;

/// The recall that a reader is at, and what is kept of it.
#[derive(Clone, Debug)]
pub struct Recalling {
    /// How far the reader is.
    pub recall: Recall,
    /// How positions were answered first, until that is kept.
    pub answered: Vec<(NodeId, Outcome)>,
    /// What is kept of it.
    pub memory: Memory,
    /// How often a move was tried where none is awaited.
    pub tried: u32,
    /// The address of the lesson's start, where it stands elsewhere on the page; else empty.
    pub start: String,
}

impl PartialEq for Recalling {
    /// Whether both show the same.
    fn eq(&self, other: &Recalling) -> bool {
        let shown = |it: &Recalling| {
            let recall = &it.recall;
            (recall.stage, recall.walks, recall.node, recall.is_back)
        };
        shown(self) == shown(other) && self.tried == other.tried && self.memory == other.memory
    }
}

impl Eq for Recalling {}

/// What is kept of what was recalled, and what of it comes back.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Memory {
    /// Whether the reader may have it kept on the device.
    pub is_offered: bool,
    /// Whether it is kept there.
    pub is_kept: bool,
    /// Positions to come back to today in this part.
    pub due: u32,
    /// The same in all lessons whose positions are kept with them.
    pub due_all: u32,
    /// Positions of the part at which the author has changed the choice.
    pub changed: u32,
    /// All positions of the part.
    pub positions: u32,
    /// Those of which something is kept.
    pub known: u32,
    /// Whether anything is kept of any lesson, in the page or on the device.
    pub has_any: bool,
    /// How many positions a file held that was read.
    pub read: u32,
    /// In how many days the next of these comes back; 0 where none waits.
    pub next: u32,
    /// The key of a sentence about it, in `words`; empty without one.
    pub note: String,
}

impl State {
    /// Whether a recall waits for a move.
    pub(crate) fn is_recalled(&self) -> bool {
        let recalling = self.recalling.as_ref();
        recalling.is_some_and(|it| it.recall.stage == Stage::Asked)
    }

    /// Whether that is one at a position that was missed, which may be far from the one before.
    pub(crate) fn is_recalled_again(&self) -> bool {
        let recalling = self.recalling.as_ref();
        self.is_recalled() && recalling.is_some_and(|it| it.recall.is_back)
    }

    /// Whether a try on the board is one at a question or in a recall.
    pub fn is_asked(&self) -> bool {
        match self.recalling {
            Some(_) => self.is_recalled(),
            None => self.waits() && !self.is_beside(),
        }
    }
}

/// Carries an intent out where it has a meaning of its own in a recall, or none; false where it
/// means what it means elsewhere.
pub(crate) fn takes(lesson: &Lesson, state: &mut State, intent: &Intent) -> bool {
    let Some(recalling) = &mut state.recalling else {
        return false;
    };
    let meant = match intent {
        Intent::Recall(recall) => {
            recalling.recall = (**recall).clone();
            recalling.memory.note.clear();
            recall::Intent::On
        }
        Intent::Memory(memory) => {
            recalling.memory.clone_from(memory);
            return true;
        }
        // Where no move is awaited, what is read beside the board stays, and what leads on is said.
        _ if recalling.recall.stage != Stage::Asked
            && is_try(lesson, &recalling.recall, intent) =>
        {
            recalling.tried = recalling.tried.saturating_add(1);
            return true;
        }
        Intent::Square(_) if recalling.recall.stage != Stage::Asked => return true,
        Intent::Next(None) if recalling.recall.walks > 0 => recall::Intent::On,
        Intent::Show(None) => recall::Intent::Show,
        Intent::Stop => recall::Intent::Stop,
        Intent::Next(_) | Intent::Show(_) => return true,
        _ => return false,
    };
    act(lesson, state, meant, String::new());
    true
}

/// Whether a reader wants to move: with one of their pieces, or a word that asks nothing else.
fn is_try(lesson: &Lesson, recall: &Recall, intent: &Intent) -> bool {
    match intent {
        Intent::Square(square) => {
            let on = recall.position(lesson).board().piece_at(*square);
            on.is_some_and(|piece| piece.color == recall.side)
        }
        Intent::Typed(text) => !text.trim().is_empty() && command::read(text.trim()).is_none(),
        _ => matches!(intent, Intent::Move(..) | Intent::Play(_)),
    }
}

/// A legal move is tried in a recall.
pub(crate) fn attempt(lesson: &Lesson, state: &mut State, tried: Tried) {
    let san = tried.san.clone();
    act(
        lesson,
        state,
        recall::Intent::Try(Attempt::Played(tried)),
        san,
    );
}

fn act(lesson: &Lesson, state: &mut State, intent: recall::Intent, san: String) {
    let Some(recalling) = &mut state.recalling else {
        return;
    };
    let at = recalling.recall.node;
    let (mut verdict, mut told, mut reply) = (None, None, None);
    let mut has_ended = false;
    let read = &mut state.read;
    let mut see = |id: NodeId| read[id as usize] = true; // a node of this lesson
    let effects = recall::update(lesson, &mut recalling.recall, intent);
    if effects.is_empty() {
        (state.held, state.promotion) = (None, None);
        return;
    }
    recalling.tried = 0;
    for effect in effects {
        match effect {
            Effect::Judged(said) => verdict = Some(said),
            Effect::Played(node) => see(node),
            Effect::Replied(node) => {
                reply = Some(node);
                see(node);
            }
            Effect::Answered(node, outcome) => recalling.answered.push((node, outcome)),
            Effect::Told { choice, .. } => {
                told = Some(choice);
                see(choice);
            }
            Effect::Begun(node) => {
                for id in lesson.path(node) {
                    see(id);
                }
            }
            Effect::Ended | Effect::Over => has_ended = true,
            Effect::Back(_) => {}
        }
    }
    let recall = &mut recalling.recall;
    if recall.stage == Stage::Over && recall.account(lesson).met == 0 {
        // Stopped without an answer: there is nothing to give account of, and what is kept would
        // look lost beside it.
        (recall.stage, recall.walks, recall.node) = (Stage::Between, 0, recall.root);
        has_ended = false;
    }
    let node = recall.node;
    settle(state);
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
    let is_missed = told.is_some() && !is_sound;
    state.notice = Some(Notice::Judged(Rc::new(Judged {
        tries: verdict.is_some().into(),
        verdict,
        san,
        number: number(&lesson.node(at).position, true).unwrap_or_default(),
        answers: right,
        because: String::new(),
        reply: reply.map(|id| lesson.node(id).san.to_string()),
        settled: Some(if is_missed { How::Shown } else { How::Answered }),
        found: None,
        joined: None,
        told,
    })));
}

/// A text with numbers in the place of `{count}`, `{of}`, `{recalled}` and `{again}`.
pub(crate) fn counted(words: &Words, word: Word, numbers: [u32; 4]) -> String {
    let [count, of, recalled, again] = numbers;
    let values = [
        ("count", &*count.to_string()),
        ("of", &of.to_string()),
        ("recalled", &recalled.to_string()),
        ("again", &again.to_string()),
    ];
    words.fill(word, &values)
}

/// What is said of where a recall stands.
pub(crate) fn said(words: &Words, lesson: &Lesson, state: &State) -> String {
    let Some(Recalling { recall, memory, .. }) = state.recalling.as_deref() else {
        return String::new();
    };
    let word = match (recall.stage, &state.notice) {
        // What is said before it was about another position.
        _ if state.is_recalled_again() => {
            let mut place = words.get(Word::Start).to_owned();
            let mut played = String::new();
            if let Some(last) = last(lesson, state) {
                let number = lesson.numbered(state.node);
                place = words.fill(Word::After, &[("move", &number)]);
                played = move_said(words, &last) + ". ";
            }
            let text = words.fill(Word::BackAgain, &[("place", &place)]);
            return text + " " + &played + words.get(Word::YourMove);
        }
        (Stage::Asked, _) => {
            let wanted = recall.wanted(lesson);
            let condition = wanted.and_then(|id| lesson.node(id).choice.as_deref());
            let condition = condition.unwrap_or_default().trim_end_matches('.');
            if !condition.is_empty() {
                return words.fill(Word::YourMoveIf, &[("condition", condition)]);
            }
            Word::YourMove
        }
        (Stage::Told, Some(Notice::Judged(judged)))
            if judged.settled == Some(How::Shown) && !recall.is_back =>
        {
            Word::WillCome
        }
        (Stage::Told, _) => return String::new(),
        _ if recall.walks > 0 => {
            let account = recall.account(lesson);
            let again = account.again.len() as u32; // some nodes
            let (met, all) = (account.met, account.positions);
            let text = counted(words, Word::Account, [met, all, account.recalled, again]);
            return match is_last(recall) {
                true => words.get(Word::LastWalk).to_owned() + " " + &text,
                false => text,
            };
        }
        _ => return due(words, memory),
    };
    words.get(word).to_owned()
}

/// Whether every line has been met.
pub(crate) fn is_last(recall: &Recall) -> bool {
    recall.stage == Stage::Over && recall.ends().1 == 0
}

/// What is said where no walk goes on of what is kept, in a sentence of its own: what has just
/// become of it, how much of the part it is, and when it comes back.
pub(crate) fn kept(words: &Words, memory: &Memory) -> String {
    let mut text = match &*memory.note {
        "fileRead" => counted(words, Word::FileRead, [memory.read, 0, 0, 0]),
        note => words.named(note).to_owned(),
    };
    if !memory.is_kept || memory.known == 0 {
        return text;
    }
    let next = match memory.next {
        1 => Word::NextDay,
        _ => Word::NextDays,
    };
    let is_next = memory.next > 0 && memory.due == 0;
    for (word, count, is_said) in [
        (Word::KeptOf, memory.known, true),
        (next, memory.next, is_next),
    ] {
        if is_said {
            text.push_str(if text.is_empty() { "" } else { " " });
            text.push_str(&counted(words, word, [count, memory.positions, 0, 0]));
        }
    }
    text
}

/// What is said before a recall of what was kept of earlier ones.
fn due(words: &Words, memory: &Memory) -> String {
    let mut text = String::new();
    let all = match memory.due_all > memory.due {
        true => memory.due_all,
        false => 0,
    };
    let many = match memory.due {
        1 => Word::DueOne,
        _ => Word::DueMany,
    };
    for (word, count) in [
        (many, memory.due),
        (Word::DueAll, all),
        (Word::Changed, memory.changed),
    ] {
        if count > 0 {
            text.push_str(if text.is_empty() { "" } else { " " });
            text.push_str(&counted(words, word, [count, 0, 0, 0]));
        }
    }
    text
}
