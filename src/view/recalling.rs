//! Recall as a reader meets it: what a try, a wish to be shown or to go on leads to, and what is
//! said of it. What is right, and what comes next, is decided in `ask`.

use super::asking::{Judged, Named};
use super::map::map;
use super::page::way;
use super::state::{Intent, Notice, State, settle};
use super::words::{Word, Words};
use super::{Map, Way};
use crate::ask::again::Outcome;
use crate::ask::asked::How;
use crate::ask::recall::{self, Effect, Recall, Stage};
use crate::ask::{Verdict, answers};
use crate::lesson::{Attempt, Lesson, NodeId, Tried};

/// The recall that a reader is at, and what is kept of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recalling {
    /// How far the reader is.
    pub recall: Recall,
    /// How positions were answered first, until that is kept.
    pub answered: Vec<(NodeId, Outcome)>,
    /// What is kept of it.
    pub memory: Memory,
}

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
    /// What the reader can do: the intent by its name, and its word.
    pub does: Vec<(&'static str, Word)>,
    /// What the page can do, in the same way.
    pub takes: Vec<(&'static str, Word)>,
    /// How well each line is held, a sentence each; empty while a walk goes on.
    pub held: Vec<String>,
    /// The same on the map.
    pub map: Option<(Map, Way)>,
}

impl State {
    /// Whether a recall waits for a move.
    pub fn is_recalled(&self) -> bool {
        let recalling = self.recalling.as_ref();
        recalling.is_some_and(|it| it.recall.stage == Stage::Asked)
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
        // A walk from memory leads nowhere else.
        Intent::Next(_)
        | Intent::Show(_)
        | Intent::Go(_)
        | Intent::Open(_)
        | Intent::Enter(_)
        | Intent::Back
        | Intent::Top => return true,
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
    let mut is_notable = false;
    let mut seen = Vec::new();
    let effects = recall::update(lesson, &mut recalling.recall, intent);
    if effects.is_empty() {
        (state.held, state.promotion) = (None, None);
        return;
    }
    for effect in effects {
        match effect {
            Effect::Judged(said) => verdict = Some(said),
            Effect::Played(node) => seen.push(node),
            Effect::Replied(node) => {
                reply = Some(node);
                seen.push(node);
            }
            Effect::Answered(node, outcome) => recalling.answered.push((node, outcome)),
            Effect::Told { choice, .. } => {
                told = Some(choice);
                seen.push(choice);
            }
            Effect::Begun(node) => {
                is_notable = true;
                seen.extend(lesson.path(node));
            }
            Effect::Back(_) | Effect::Ended | Effect::Over => is_notable = true,
        }
    }
    let node = recalling.recall.node;
    settle(state);
    state.node = node;
    for id in seen {
        state.read[id as usize] = true; // a node of this lesson
    }
    if verdict.is_none() && told.is_none() {
        state.notice = is_notable.then_some(Notice::Recalled);
        return;
    }
    let mut right: Vec<Named> = Vec::new();
    for answer in answers(lesson, at, &[]) {
        right.push(answer.into());
    }
    // The one that is on the board first.
    if let Some(place) = right.iter().position(|one| told == one.node) {
        right.swap(0, place);
    }
    let is_missed = told.is_some() && !matches!(verdict, Some(Verdict::Fair { .. }));
    state.notice = Some(Notice::Judged(Box::new(Judged {
        tries: verdict.is_some().into(),
        verdict,
        san,
        at,
        answers: right,
        because: String::new(),
        reply: reply.map(|id| lesson.node(id).san.to_string()),
        settled: Some(if is_missed { How::Shown } else { How::Answered }),
        told,
    })));
}

/// What is said of where a recall stands.
pub(super) fn said(words: &Words, lesson: &Lesson, state: &State) -> String {
    let Some(Recalling { recall, memory, .. }) = state.recalling.as_deref() else {
        return String::new();
    };
    let counted = |word, count: u32| words.fill(word, &[("count", &count.to_string())]);
    let mut parts = Vec::new();
    match (recall.stage, &state.notice) {
        (Stage::Asked, _) if recall.is_back => parts.push(words.get(Word::BackAgain).to_owned()),
        (Stage::Asked, _) => {
            let wanted = recall.wanted(lesson);
            let condition = wanted.and_then(|id| lesson.node(id).choice.as_deref());
            let condition = condition.unwrap_or_default().trim_end_matches('.');
            parts.push(match condition.is_empty() {
                true => words.get(Word::YourMove).to_owned(),
                false => words.fill(Word::YourMoveIf, &[("condition", condition)]),
            });
        }
        (Stage::Told, Some(Notice::Judged(judged))) if judged.settled == Some(How::Shown) => {
            parts.push(words.get(Word::WillCome).to_owned());
        }
        (Stage::Told, _) => {}
        _ if recall.walks > 0 => {
            let account = recall.account(lesson);
            let number = |count: u32| count.to_string();
            let values = [
                ("met", &*number(account.met)),
                ("positions", &number(account.positions)),
                ("recalled", &number(account.recalled)),
                ("again", &number(account.again.len() as u32)), // some nodes
            ];
            parts.push(words.fill(Word::Account, &values));
        }
        _ => {
            match memory.due {
                0 => {}
                1 => parts.push(words.get(Word::DueOne).to_owned()),
                due => parts.push(counted(Word::DueMany, due)),
            }
            if memory.due_all > memory.due {
                parts.push(counted(Word::DueAll, memory.due_all));
            }
            if memory.changed > 0 {
                parts.push(counted(Word::Changed, memory.changed));
            }
        }
    }
    if !matches!(recall.stage, Stage::Asked | Stage::Told) && !memory.note.is_empty() {
        parts.push(words.named(&memory.note).to_owned());
    }
    parts.join(" ")
}

/// A recall beside the board.
pub(super) fn recall_view(words: &Words, lesson: &Lesson, state: &State) -> Option<RecallView> {
    let Recalling { recall, memory, .. } = state.recalling.as_deref()?;
    let is_asked = recall.stage == Stage::Asked;
    let mut view = RecallView {
        is_asked,
        says: match is_asked || state.notice.is_none() {
            true => said(words, lesson, state),
            false => String::new(),
        },
        does: Vec::new(),
        takes: Vec::new(),
        held: Vec::new(),
        map: None,
    };
    let begin = ("begin", Word::Begin);
    match recall.stage {
        Stage::Asked => view.does.push(("show", Word::ShowMe)),
        Stage::Told => view.does.push(("next", Word::GoOn)),
        Stage::Between if recall.walks > 0 => view.does.push(("next", Word::NextWalk)),
        Stage::Between => view.takes.push(begin),
        Stage::Over => view.takes.push(("begin", Word::Again)),
    }
    if recall.stage != Stage::Over && recall.walks > 0 {
        view.does.push(("stop", Word::Stop));
    }
    if matches!(recall.stage, Stage::Asked | Stage::Told) {
        return Some(view);
    }
    if memory.is_offered {
        if !memory.is_kept {
            view.takes.push(("keep", Word::Remember));
        }
        view.takes.push(("file", Word::SaveFile));
        view.takes.push(("load", Word::LoadFile));
        if memory.is_kept {
            view.takes.push(("forget", Word::Forget));
        }
    }
    if recall.walks > 0 {
        hold(words, lesson, state, recall, &mut view);
    }
    Some(view)
}

/// How well each line is held, in words and on the map.
fn hold(words: &Words, lesson: &Lesson, state: &State, recall: &Recall, view: &mut RecallView) {
    let account = recall.account(lesson);
    let mut drawn = map(lesson, state);
    for held in &account.lines {
        let label = &lesson.line(held.line).label;
        let name = match label.is_empty() {
            true => words.get(Word::Main).to_owned(),
            false => words.fill(Word::Line, &[("label", label)]),
        };
        let (recalled, positions) = (held.recalled.to_string(), held.positions.to_string());
        let said = match held.met {
            0 => words.get(Word::NotMet).to_owned(),
            _ => words.fill(
                Word::HeldSaid,
                &[("recalled", &recalled), ("positions", &positions)],
            ),
        };
        view.held.push(name + ": " + &said);
        // Behind the last mark of its line, where variations have their labels.
        let text = recalled + "/" + &positions;
        match drawn.labels.iter_mut().find(|(known, _)| known == label) {
            Some((label, _)) => *label = label.clone() + " " + &text,
            None => {
                let last = lesson.line_nodes(held.line).last().unwrap_or(0);
                let mark = drawn.marks.get(last as usize).copied();
                drawn.labels.push((text, mark.unwrap_or_default()));
            }
        }
    }
    let way = Way {
        missed: account.again,
        ..way(lesson, state)
    };
    view.map = Some((drawn, way));
}
