//! What a page's script, an address or a reference moves in a mounted lesson.

use super::mounted::Mounted;
use crate::check::attributes::SIDES;
use crate::lesson::place::address;
use crate::lesson::{NodeId, Place as There, locate};
use crate::view::{self, Intent};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

#[wasm_bindgen]
impl Mounted {
    /// The reader of another text of the same lesson stays where they are. False, and nothing is done, where it is
    /// another lesson.
    pub fn stay(&mut self, old: &Mounted) -> bool {
        let Some(lesson) = &self.lesson else {
            return false;
        };
        let Some(was) = old.lesson.as_deref() else {
            return false;
        };
        if !view::resume(lesson, &mut self.state, &old.carry(), Some(was)) {
            return false;
        }
        self.is_new = false;
        // The text may come between the two clicks of a move.
        if self.state.position(lesson) == old.state.position(was) {
            self.state.hand = old.state.hand;
        }
        true
    }

    /// Goes to a node for a reader, at most to the first open question before it.
    pub fn lead(&mut self, node: NodeId) {
        self.step(Intent::Go(node));
    }

    /// Goes to a node, by number or locator; questions on the way are opened.
    pub fn go(&mut self, place: &JsValue) -> bool {
        match (place.as_f64(), place.as_string()) {
            // Only whole numbers name a node; the cast saturates.
            (Some(number), _) if number.fract() == 0.0 && number >= 0.0 => {
                !self.step(Intent::Open(number as NodeId)).is_empty()
            }
            (_, Some(locator)) => {
                let node = self
                    .lesson
                    .as_ref()
                    .and_then(|it| locate(it, &locator).ok());
                node.is_some_and(|node| !self.step(Intent::Open(node)).is_empty())
            }
            _ => false,
        }
    }

    /// Goes to the place that an address or a locator names, in the lesson or beside it. True if it
    /// names one.
    pub fn enter(&mut self, run: &str) -> bool {
        let Some(place) = self
            .lesson
            .as_ref()
            .and_then(|lesson| address::follow(lesson, run))
        else {
            return false;
        };
        self.step(Intent::Enter(place));
        true
    }

    /// The run of moves that is in the address for the position on the board, or for the one
    /// before its last change; empty for the start. None without a lesson.
    pub fn run(&self, was: bool) -> Option<String> {
        let now = || There {
            node: self.state.node,
            aside: self.state.aside.clone(),
        };
        let place = if was { self.was.clone() } else { now() };
        Some(address::address(self.lesson.as_ref()?, &place))
    }

    /// Whether the last change of the position was more than a step on along its line or back.
    #[wasm_bindgen(getter)]
    pub fn jumped(&self) -> bool {
        self.jumped
    }

    /// Brings the move on the board into sight, and the board where it is beside it.
    pub fn reveal(&self) {
        self.bring();
    }

    /// The attribute `side` has changed: that side is below, or the one that the tag names.
    pub fn side(&mut self, side: Option<String>) {
        self.side = side.filter(|side| SIDES.contains(&side.as_str()));
        if let Some(lesson) = self.lesson.clone() {
            self.step(Intent::Side(view::below(&lesson, &[&self.side])));
        }
    }

    /// One move on: the child with that index, else the first.
    pub fn next(&mut self, choice: Option<u32>) -> bool {
        let choice = choice.map(|index| index as usize);
        !self.step(Intent::Next(choice)).is_empty()
    }

    /// Plays a move, in English SAN or UCI. True when it was legal.
    pub fn play(&mut self, word: &str) -> bool {
        let before = self.turns;
        self.step(Intent::Play(word.to_owned()));
        self.turns != before
    }
}
