//! A recall in an element of its own: the lesson is mounted with it and shows nothing else. What is
//! kept passes through as text; where it is kept, and which day it is, the page says.

use super::mounted::Mounted;
use crate::ask::progress_json::{self, Unreadable};
use crate::ask::recall::Recall;
use crate::ask::schedule::Progress;
use crate::ask::{Tally, tally};
use crate::check::values;
use crate::lesson::Lesson;
use crate::text::{Code, Finding, Span};
use crate::view::{Intent, Keeping, Memory, Mode, Note, Recalling, State};
use wasm_bindgen::prelude::wasm_bindgen;

impl Mounted {
    /// Before the first walk, the lesson's side below and asked where the element names none;
    /// without a recall, and with a finding, where the side has nothing to play. `start` is the
    /// address of the lesson's start where it stands elsewhere on the page.
    pub(super) fn begin_recall(&mut self, lesson: &Lesson, side: &str, start: &str) -> State {
        if self.side.is_none() && values::SIDES.contains(&side) {
            self.side = Some(side.to_owned());
        }
        let (root, side) = self.begin(lesson, None);
        let recall = Recall::new(lesson, root, side, 0, &self.progress, 0);
        let Some(recall) = recall else {
            let message = "nothing can be recalled here: this side has no move to choose";
            let code = Code::NoAnswer;
            self.findings
                .push(Finding::new(code, Span::default(), message.to_owned()));
            return State::missing();
        };
        State::recall(lesson, Recalling::new(recall, start.to_owned()), side)
    }

    fn counted(&self, day: i32) -> Option<Tally> {
        let (lesson, recalling) = (self.lesson.as_ref()?, self.state.recalling()?);
        let Recall { root, side, .. } = recalling.recall;
        Some(tally(lesson, root, side, &self.progress, day))
    }

    /// Takes up kept progress, and what was answered since, on this day. Returns all of it as text
    /// to keep, or why it cannot: `newer`, `corrupt`, `full`.
    fn learn(&mut self, text: &str, day: i32) -> String {
        if !text.is_empty() {
            match progress_json::read(text) {
                Ok(known) => {
                    if self.progress.merge(known).is_err() {
                        return "full".to_owned();
                    }
                }
                Err(Unreadable::Newer(_)) => return "newer".to_owned(),
                Err(_) => return "corrupt".to_owned(),
            }
        }
        if let (Some(lesson), Mode::Recall(recalling)) = (&self.lesson, &mut self.state.mode) {
            let mut is_full = false;
            for &(node, outcome) in &recalling.answered {
                is_full |= self.progress.record(lesson, node, outcome, day).is_err();
            }
            recalling.answered.clear();
            if is_full {
                return "full".to_owned();
            }
        }
        progress_json::write(&self.progress)
    }

    /// A recall from its first walk on.
    fn anew(&mut self, day: i32, seed: u32) {
        let (Some(lesson), Some(recalling)) = (&self.lesson, self.state.recalling()) else {
            return;
        };
        let Recall { root, side, .. } = recalling.recall;
        let recall = Recall::new(lesson, root, side, seed, &self.progress, day);
        let had_focus = self.focused();
        if let Some(recall) = recall {
            self.step(Intent::Recall(Box::new(recall)));
        }
        self.follow(had_focus, false);
        self.face();
    }
}

/// What has become of what is kept, by the name of its sentence; `read` positions were in a file.
fn note(name: &str, read: u32) -> Option<Note> {
    Some(match name {
        "kept" => Note::Kept,
        "notKept" => Note::NotKept,
        "storeNewer" => Note::StoreNewer,
        "storeCorrupt" => Note::StoreCorrupt,
        "fileRead" => Note::FileRead(read),
        "fileUnread" => Note::FileUnread,
        "forgotten" => Note::Forgotten,
        _ => return None,
    })
}

#[wasm_bindgen]
impl Mounted {
    /// What the page asks a recall for, on a day. One function, for each costs the page 200 bytes.
    ///
    /// - `learn`: takes up this text of kept progress and what was answered since; returns all of
    ///   it as text to keep, or why it cannot: `newer`, `corrupt`, `full`
    /// - `forget`: knows nothing of any position
    /// - `anew`: a recall from its first walk on, with this seed
    /// - `show`: whether it is offered to keep progress (1), whether it is kept (2), how many
    ///   positions were just read from a file (times 4), and the name of a sentence about it
    /// - `tally`: how the part stands: all its positions, those that are new, due, changed,
    ///   waiting, and the first day on which one of these is due; empty without a recall
    pub fn recall(&mut self, what: &str, text: &str, day: i32, more: u32) -> String {
        match what {
            "learn" => return self.learn(text, day),
            "forget" => self.progress = Progress::default(),
            "anew" => self.anew(day, more),
            _ => {
                let Some(counted) = self.counted(day) else {
                    return String::new();
                };
                if what == "show" {
                    let memory = Memory {
                        keeping: match (more & 3, text) {
                            (3, "forgetAsk") => Keeping::Forgetting,
                            (3, _) => Keeping::Kept,
                            (1, _) => Keeping::Offered,
                            _ => Keeping::Never,
                        },
                        due: counted.due,
                        due_all: self.progress.due(day).max(counted.due),
                        changed: counted.changed,
                        positions: counted.positions,
                        has_any: !self.progress.all().is_empty(),
                        known: counted.positions.saturating_sub(counted.new),
                        next: counted
                            .next
                            .map_or(0, |next| next.saturating_sub(day).max(0) as u32),
                        note: note(text, more >> 2),
                    };
                    self.step(Intent::Memory(memory));
                } else {
                    let Tally {
                        positions,
                        new,
                        due,
                        changed,
                        waiting,
                        next,
                    } = counted;
                    let mut text = String::new();
                    for count in [positions, new, due, changed, waiting] {
                        text += &count.to_string();
                        text.push(' ');
                    }
                    return text + &next.map_or(String::new(), |day| day.to_string());
                }
            }
        }
        String::new()
    }
}
