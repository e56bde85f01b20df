//! A recall in an element of its own: the lesson is mounted with it and shows nothing else. What is
//! kept passes through as text; where it is kept, and which day it is, the page says.

use super::mounted::Mounted;
use crate::ask::progress_json::{self, Unreadable};
use crate::ask::recall::Recall;
use crate::ask::schedule::Progress;
use crate::ask::{Tally, tally};
use crate::lesson::{Lesson, value};
use crate::text::{Code, Finding, Span};
use crate::view::{Intent, Memory, Recalling, State};
use wasm_bindgen::prelude::wasm_bindgen;

impl Mounted {
    /// Before the first walk, the lesson's side below and asked where the element names none;
    /// without a recall, and with a finding, where the side has nothing to play. `start` is the
    /// address of the lesson's start where it stands elsewhere on the page.
    pub(super) fn begin_recall(&mut self, lesson: &Lesson, side: &str, start: &str) -> State {
        if self.side.is_none() && value::SIDES.contains(&side) {
            self.side = Some(side.to_owned());
        }
        let (root, side) = self.begin(lesson);
        let recalling = Recall::new(lesson, root, side, 0, &self.progress, 0).map(|recall| {
            Box::new(Recalling {
                recall,
                answered: Vec::new(),
                memory: Memory::default(),
                tried: 0,
                start: start.to_owned(),
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
        if let (Some(lesson), Some(recalling)) = (&self.lesson, &mut self.state.recalling) {
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
        let (Some(lesson), Some(recalling)) = (&self.lesson, &self.state.recalling) else {
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
                        is_offered: more & 1 != 0,
                        is_kept: more & 2 != 0,
                        due: counted.due,
                        due_all: self.progress.due(day).max(counted.due),
                        changed: counted.changed,
                        positions: counted.positions,
                        has_any: !self.progress.all().is_empty(),
                        read: more >> 2,
                        known: counted.positions.saturating_sub(counted.new),
                        next: counted
                            .next
                            .map_or(0, |next| next.saturating_sub(day).max(0) as u32),
                        note: text.to_owned(),
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
