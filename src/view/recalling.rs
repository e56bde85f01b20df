//! Recall as a reader meets it: what a try, a wish to be shown or to go on leads to, and what is
//! said of it. What is right, and what comes next, is decided in `ask`.

use super::asking::{Judged, named};
use super::lines::number;
use super::map::map;
use super::page::way;
use super::state::{Intent, Notice, State, settle};
use super::words::{Word, Words};
use super::{Map, Way};
use crate::ask::again::Outcome;
use crate::ask::asked::How;
use crate::ask::recall::{self, Account, Effect, Recall, Stage};
use crate::ask::{Verdict, answers};
use crate::lesson::{Attempt, Lesson, NodeId, Tried};
use crate::text::{cut, join};
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
}

impl PartialEq for Recalling {
    /// Whether both show the same.
    fn eq(&self, other: &Recalling) -> bool {
        let shown = |it: &Recalling| {
            let recall = &it.recall;
            (recall.stage, recall.walks, recall.node, recall.is_back)
        };
        shown(self) == shown(other) && self.memory == other.memory
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
    /// The key of a sentence about it, in `words`; empty without one.
    pub note: String,
}

/// What a reader sees of a recall beside the board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecallView {
    /// Whether a move is awaited.
    pub is_asked: bool,
    /// What is said before the buttons; empty where it is said elsewhere.
    pub says: String,
    /// What can be done: a bit for each of [`DOES`], the lowest for the first.
    pub does: u32,
    /// How well each line is held, a sentence each; empty while a walk goes on.
    pub held: Vec<String>,
    /// The same on the map.
    pub map: Option<(Map, Way)>,
}

impl State {
    /// Whether a recall waits for a move.
    pub(super) fn is_recalled(&self) -> bool {
        let recalling = self.recalling.as_ref();
        recalling.is_some_and(|it| it.recall.stage == Stage::Asked)
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
pub(super) fn takes(lesson: &Lesson, state: &mut State, intent: &Intent) -> bool {
    let Some(recalling) = &mut state.recalling else {
        return false;
    };
    let meant = match intent {
        Intent::Recall(recall) => {
            recalling.recall = (**recall).clone();
            recalling.memory.note.clear();
            recall::Intent::On
        }
        Intent::Memory(memory, is_said) => {
            recalling.memory.clone_from(memory);
            if *is_said {
                state.notice = Some(Notice::Recalled);
            }
            return true;
        }
        Intent::Next(None) if recalling.recall.walks > 0 => recall::Intent::On,
        Intent::Show(None) => recall::Intent::Show,
        Intent::Stop => recall::Intent::Stop,
        Intent::Next(_) | Intent::Show(_) => return true,
        _ => return false,
    };
    act(lesson, state, meant, String::new());
    true
}

/// A legal move is tried in a recall.
pub(super) fn attempt(lesson: &Lesson, state: &mut State, tried: Tried) {
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
    let node = recalling.recall.node;
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
    let is_missed = told.is_some() && !matches!(verdict, Some(Verdict::Fair { .. }));
    state.notice = Some(Notice::Judged(Rc::new(Judged {
        tries: verdict.is_some().into(),
        verdict,
        san,
        number: number(&lesson.node(at).position, true).unwrap_or_default(),
        answers: right,
        because: String::new(),
        reply: reply.map(|id| lesson.node(id).san.to_string()),
        settled: Some(if is_missed { How::Shown } else { How::Answered }),
        told,
    })));
}

/// A text with numbers in the place of `{count}`, `{of}`, `{recalled}` and `{again}`.
fn counted(words: &Words, word: Word, numbers: &[u32]) -> String {
    let mut text = words.get(word).to_owned();
    for (name, number) in ["{count}", "{of}", "{recalled}", "{again}"]
        .iter()
        .zip(numbers)
    {
        if let Some((before, after)) = cut(&text, name) {
            text = join(&[before, &number.to_string(), after], "");
        }
    }
    text
}

/// What is said of where a recall stands.
pub(super) fn said(words: &Words, lesson: &Lesson, state: &State) -> String {
    let Some(Recalling { recall, memory, .. }) = state.recalling.as_deref() else {
        return String::new();
    };
    let mut text = String::new();
    let mut add = |word: Word, numbers: &[u32]| {
        text.push_str(if text.is_empty() { "" } else { " " });
        text.push_str(&counted(words, word, numbers));
    };
    match (recall.stage, &state.notice) {
        (Stage::Asked, _) if recall.is_back => add(Word::BackAgain, &[]),
        (Stage::Asked, _) => {
            let wanted = recall.wanted(lesson);
            let condition = wanted.and_then(|id| lesson.node(id).choice.as_deref());
            let condition = condition.unwrap_or_default().trim_end_matches('.');
            if !condition.is_empty() {
                return words.fill(Word::YourMoveIf, &[("condition", condition)]);
            }
            add(Word::YourMove, &[]);
        }
        (Stage::Told, Some(Notice::Judged(judged)))
            if judged.settled == Some(How::Shown) && !recall.is_back =>
        {
            add(Word::WillCome, &[]);
        }
        (Stage::Told, _) => {}
        _ => {
            if recall.walks > 0 {
                let Account {
                    met,
                    positions,
                    recalled,
                    again,
                    ..
                } = recall.account(lesson);
                let again = again.len() as u32; // some nodes
                add(Word::Account, &[met, positions, recalled, again]);
            } else {
                let all = if memory.due_all > memory.due {
                    memory.due_all
                } else {
                    0
                };
                let many = if memory.due == 1 {
                    Word::DueOne
                } else {
                    Word::DueMany
                };
                for (word, count) in [
                    (many, memory.due),
                    (Word::DueAll, all),
                    (Word::Changed, memory.changed),
                ] {
                    if count > 0 {
                        add(word, &[count]);
                    }
                }
            }
            if !memory.note.is_empty() {
                text.push_str(if text.is_empty() { "" } else { " " });
                text.push_str(words.named(&memory.note));
            }
        }
    }
    text
}

/// What can be done in a recall besides a move: by the reader (`data-do`) or by the page
/// (`data-take`), its name, and its word.
pub const DOES: [(&str, &str, Word); 10] = [
    ("data-do", "show", Word::ShowMe),
    ("data-do", "next", Word::GoOn),
    ("data-do", "next", Word::NextWalk),
    ("data-do", "stop", Word::Stop),
    ("data-take", "begin", Word::Begin),
    ("data-take", "begin", Word::Again),
    ("data-take", "keep", Word::Remember),
    ("data-take", "file", Word::SaveFile),
    ("data-take", "load", Word::LoadFile),
    ("data-take", "forget", Word::Forget),
];

/// A recall beside the board.
pub(super) fn recall_view(words: &Words, lesson: &Lesson, state: &State) -> Option<RecallView> {
    let Recalling { recall, memory, .. } = state.recalling.as_deref()?;
    let has_begun = recall.walks > 0;
    let is_asked = recall.stage == Stage::Asked;
    let does = match recall.stage {
        Stage::Asked => 0b1001,
        Stage::Told => 0b1010,
        Stage::Between if has_begun => 0b1100,
        Stage::Between => 0b1_0000,
        Stage::Over => 0b10_0000,
    };
    let rests = matches!(recall.stage, Stage::Between | Stage::Over);
    let keeps = match (memory.is_offered && rests, memory.is_kept) {
        (false, _) => 0,
        (true, false) => 0b01_1100_0000,
        (true, true) => 0b11_1000_0000,
    };
    let mut view = RecallView {
        is_asked,
        says: match is_asked || state.notice.is_none() {
            true => said(words, lesson, state),
            false => String::new(),
        },
        does: does | keeps,
        held: Vec::new(),
        map: None,
    };
    if rests && has_begun {
        hold(words, lesson, state, recall, &mut view);
    }
    Some(view)
}

/// How well each line is held, in words and on the map.
fn hold(words: &Words, lesson: &Lesson, state: &State, recall: &Recall, view: &mut RecallView) {
    let account = recall.account(lesson);
    let mut drawn = map(lesson, state);
    for held in &account.lines {
        let line = lesson.line(held.line);
        let count = counted(words, Word::HeldSaid, &[held.recalled, held.positions]);
        let part = held.recalled.to_string() + "/" + &held.positions.to_string();
        let label = ("label", line.label.as_str());
        let name = match line.label.is_empty() {
            true => words.get(Word::Main).to_owned(),
            false => words.fill(Word::Line, &[label]),
        };
        // Behind the last mark of its line, where all but the main line have a label.
        let last = lesson.line_nodes(held.line).last().unwrap_or(0);
        let mark = drawn.marks.get(last as usize).copied();
        for (label, _) in &mut drawn.labels {
            if *label == line.label {
                label.push(' ');
                label.push_str(&part);
            }
        }
        view.held.push(name + ": " + &count);
        if held.line == 0 {
            drawn.labels.push((part, mark.unwrap_or_default()));
        }
    }
    let way = Way {
        missed: account.again,
        ..way(lesson, state)
    };
    view.map = Some((drawn, way));
}
