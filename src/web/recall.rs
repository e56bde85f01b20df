//! A recall in an element of its own: the lesson is mounted with it and shows nothing else. What is
//! kept passes through as text; where it is kept, and which day it is, the page says.

use super::mounted::Mounted;
use crate::ask::again::Progress;
use crate::ask::recall::Recall;
use crate::ask::store::{self, Unreadable};
use crate::ask::{Tally, tally};
use crate::lesson::{Lesson, NodeId};
use crate::text::{Code, Finding, Span};
use crate::view::{Intent, Memory, Recalling, State};
use shakmaty::Color;
use wasm_bindgen::prelude::wasm_bindgen;

impl Mounted {
    /// Before the first walk; without a recall, and with a finding, where the side has nothing to
    /// play.
    pub(super) fn begin_recall(&mut self, lesson: &Lesson, root: NodeId, side: Color) -> State {
        let recalling = Recall::new(lesson, root, side, 0, &self.progress, 0).map(|recall| {
            Box::new(Recalling {
                recall,
                answered: Vec::new(),
                memory: Memory::default(),
            })
        });
        if recalling.is_none() {
            let message = "nothing can be recalled here: this side has no move to choose";
            let code = Code::NoAnswer;
            self.findings
                .push(Finding::new(code, Span::default(), message.to_owned()));
        }
        State {
            recalling,
            is_quiz: true,
            map: false,
            ..State::at_question(lesson, root, side)
        }
    }

    fn counted(&self, day: i32) -> Option<Tally> {
        let (lesson, recalling) = (self.lesson.as_ref()?, self.state.recalling.as_ref()?);
        let Recall { root, side, .. } = recalling.recall;
        Some(tally(lesson, root, side, &self.progress, day))
    }
}

#[wasm_bindgen]
impl Mounted {
    /// A recall from its first walk on, and on that day.
    pub fn anew(&mut self, seed: u32, day: i32) -> bool {
        let (Some(lesson), Some(recalling)) = (&self.lesson, &self.state.recalling) else {
            return false;
        };
        let Recall { root, side, .. } = recalling.recall;
        let recall = Recall::new(lesson, root, side, seed, &self.progress, day);
        let had_focus = self.focused();
        let effect = recall.and_then(|recall| self.step(Intent::Recall(Box::new(recall))));
        self.follow(had_focus, false);
        effect.is_some()
    }

    /// Takes up kept progress, and what was answered since, on this day. Returns all of it as text
    /// to keep, or why it cannot: `newer`, `corrupt`, `full`.
    pub fn learn(&mut self, text: &str, day: i32) -> String {
        let known = match text {
            "" => Ok(Progress::default()),
            text => store::read(text),
        };
        let known = match known {
            Ok(known) => known,
            Err(Unreadable::Newer(_)) => return "newer".to_owned(),
            Err(_) => return "corrupt".to_owned(),
        };
        let mut is_full = self.progress.merge(known).is_err();
        if let (Some(lesson), Some(recalling)) = (&self.lesson, &mut self.state.recalling) {
            for (node, outcome) in core::mem::take(&mut recalling.answered) {
                is_full |= self.progress.record(lesson, node, outcome, day).is_err();
            }
        }
        match is_full {
            true => "full".to_owned(),
            false => store::write(&self.progress),
        }
    }

    /// Knows nothing of any position.
    pub fn unlearn(&mut self) {
        self.progress = Progress::default();
    }

    /// What the page has of kept progress: whether it is offered to keep it, whether it is kept,
    /// and the key of a sentence about it, which is said at once or when the walk has ended.
    pub fn memory(&mut self, offered: bool, kept: bool, note: &str, say: bool, day: i32) {
        let counted = self.counted(day).unwrap_or_default();
        let memory = Memory {
            is_offered: offered,
            is_kept: kept,
            due: counted.due,
            due_all: self.progress.due(day).max(counted.due),
            changed: counted.changed,
            note: note.to_owned(),
        };
        self.step(Intent::Memory(memory, say));
    }

    /// How the part stands on a day: all its positions, those that are new, due, changed, waiting,
    /// and the first day on which one of these is due. Empty without a recall.
    pub fn tally(&self, day: i32) -> Vec<i32> {
        let Some(counted) = self.counted(day) else {
            return Vec::new();
        };
        let Tally {
            positions,
            new,
            due,
            changed,
            waiting,
            next,
        } = counted;
        // Some nodes of a lesson.
        let mut list = [positions, new, due, changed, waiting]
            .map(|it| it as i32)
            .to_vec();
        list.extend(next);
        list
    }
}
