//! A recall in an element of its own: the lesson is mounted with it and shows nothing else. What is
//! kept passes through as text; the page decides where it is kept, and which day it is.

use super::mounted::Mounted;
use super::request::text;
use super::to_page;
use crate::ask::progress_json::{self, Unreadable};
use crate::ask::recall::Recall;
use crate::ask::schedule::Progress;
use crate::ask::{Tally, tally};
use crate::edge;
use crate::view::{Intent, Keeping, Memory, Mode, Note};
use js_sys::Object;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

impl Mounted {
    fn counted(&self, day: i32) -> Option<Tally> {
        let (lesson, recalling) = (self.lesson.as_ref()?, self.state.recalling()?);
        let Recall { root, side, .. } = recalling.recall;
        Some(tally(lesson, root, side, &self.progress, day))
    }

    /// Reads kept progress and adds what was answered since, on this day. Returns all of it as text
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

#[wasm_bindgen]
impl Mounted {
    /// The requests of the page to a recall, on a day, with texts by their names. One function,
    /// because each would cost the page 200 bytes.
    ///
    /// - `learn`: reads `text`, kept progress, and adds what was answered since; returns all of it
    ///   as text to keep, or why it cannot: `newer`, `corrupt`, `full`
    /// - `forget`: forgets all positions
    /// - `again`: a recall from its first walk on, with this `seed`
    /// - `show`: shows whether progress is kept: `keeping` is `offered`, `kept`, `forgetting` or
    ///   nothing; and what has just happened to it, `note`, of so many positions, `read`
    /// - `tally`: the state of the part; null without a recall
    pub fn recall(&mut self, what: &str, day: i32, given: &Object) -> JsValue {
        let text = |name| text(given, name).unwrap_or_default();
        match what {
            "learn" => return self.learn(&text("text"), day).into(),
            "forget" => self.progress = Progress::default(),
            "anew" => self.anew(day, text("seed").parse().unwrap_or(0)),
            _ => {
                let Some(counted) = self.counted(day) else {
                    return JsValue::NULL;
                };
                if what == "tally" {
                    return to_page(&edge::TallyData::from(counted));
                }
                let next = counted.next.map_or(0, |next| next.saturating_sub(day));
                let read = text("read").parse().unwrap_or(0);
                self.step(Intent::Memory(Memory {
                    keeping: Keeping::named(&text("keeping")),
                    due: counted.due,
                    due_all: self.progress.due(day).max(counted.due),
                    changed: counted.changed,
                    positions: counted.positions,
                    has_any: !self.progress.all().is_empty(),
                    known: counted.positions.saturating_sub(counted.new),
                    next: next.max(0) as u32,
                    note: Note::named(&text("note"), read),
                }));
            }
        }
        JsValue::NULL
    }
}
