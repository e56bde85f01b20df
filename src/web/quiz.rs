//! A question in an element of its own: the lesson is mounted with it and shows nothing else.

use super::attribute::unplaced;
use super::mounted::Mounted;
use super::to_page;
use crate::ask::{DefaultPosition, Fault, Question, Wish};
use crate::lesson::Lesson;
use crate::text::{Code, Span, join};
use crate::view::{Asking, Effect, Intent, State, actions};
use shakmaty::{Color, Position};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

impl Mounted {
    /// Where a question begins; without one, and with a finding, where it cannot be asked.
    pub(super) fn begin_quiz(&mut self, lesson: &Lesson, said: &[String]) -> State {
        let said = |at: usize| said.get(at).map_or("", String::as_str);
        let at = self.at.clone().unwrap_or_default();
        let (place, start) = match said(3) {
            "pre" => (DefaultPosition::End, ""),
            start => (DefaultPosition::Start, start),
        };
        let wish = Wish {
            at: &at,
            place,
            prompt: "",
            accept: said(0),
            moves: said(1),
        };
        let seed = said(2).parse().unwrap_or(0);
        let asking = match Question::new(lesson, &wish, self.letters) {
            Ok(question) => {
                if let Some(told) = question.told(lesson, said(4)) {
                    let message = join(&["the prompt names its answer, ", told.san], "");
                    self.find(Code::PromptTells, message);
                }
                Some(Asking::new(question, seed))
            }
            Err(fault) => {
                let finding = match &fault {
                    Fault::Place(at, error) => unplaced(lesson, at, error),
                    _ => fault.finding(Span::default()),
                };
                let attribute = match fault {
                    Fault::Place(..) => "at",
                    Fault::Accepted(..) => "accept",
                    Fault::Moves(_) => "moves",
                    Fault::NoAnswer(..) => "",
                };
                self.findings.push(finding.of_attribute(attribute));
                None
            }
        };
        let node = asking.as_ref().map_or(0, |asking| asking.question.node);
        // The side that is asked is below, unless the author names another.
        let asked = lesson.node(node).position.turn();
        let named = self.side.as_deref();
        let side = named.map_or(asked, |name| Color::from_white(name != "black"));
        match asking {
            Some(asking) => State::quiz(lesson, asking, start.to_owned(), side),
            None => State::missing(),
        }
    }
}

#[wasm_bindgen]
impl Mounted {
    /// Answers the question with a move in English SAN or UCI. The verdict; none where the
    /// question is settled.
    pub fn answer(&mut self, word: &str) -> Option<String> {
        if !self.state.waits() {
            return None;
        }
        self.step(Intent::Home);
        let mut said = "illegal";
        for effect in self.step(Intent::Play(word.to_owned())) {
            if let Effect::Judged { judged, .. } = effect
                && let Some(verdict) = &judged.verdict
            {
                said = verdict.word();
            }
        }
        Some(said.to_owned())
    }

    /// What needs no more than a word; each export of its own costs the page a hundred bytes: the
    /// name of an action of the reader, as `hint`, `show`, `again`, `open`, `back`, `turn`; `white`
    /// or `black` below; `copied`, or `lost` where something could not be. True when it changed
    /// something, which an unknown word never does.
    pub fn ask(&mut self, what: &str) -> bool {
        let intent = match what {
            "white" => Some(Intent::Side(Color::White)),
            "black" => Some(Intent::Side(Color::Black)),
            "copied" => Some(Intent::Copied(true)),
            "lost" => Some(Intent::Copied(false)),
            _ => actions::named(what),
        };
        intent.is_some_and(|intent| !self.step(intent).is_empty())
    }

    /// Whether a question waits for a move; none where there is no question.
    pub fn waits(&self) -> Option<bool> {
        self.state.asking().map(Asking::is_open)
    }

    /// The events that tries have led to since this was last asked, each with its type and detail.
    pub fn told(&mut self) -> JsValue {
        to_page(&core::mem::take(&mut self.told))
    }
}
