//! A question in an element of its own: the lesson is mounted with it and shows nothing else.

use super::mounted::Mounted;
use super::request::Request;
use super::to_page;
use crate::ask::{Place, Question, Wish};
use crate::lesson::Lesson;
use crate::text::Span;
use crate::view::{Asking, Intent, State};
use shakmaty::{Color, Position};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

impl Mounted {
    /// Where a question begins; without one, and with a finding, where it cannot be asked.
    pub(super) fn begin_quiz(&mut self, lesson: &Lesson, request: &Request) -> State {
        self.has_prompt = request.prompted();
        let at = self.at.clone().unwrap_or_default();
        let (accept, moves) = (
            request.accept().unwrap_or_default(),
            request.moves().unwrap_or_default(),
        );
        let wish = Wish {
            at: &at,
            place: match request.own() {
                true => Place::End,
                false => Place::Start,
            },
            prompt: "",
            accept: &accept,
            moves: &moves,
        };
        let asking = match Question::new(lesson, &wish, self.letters) {
            Ok(question) => Some(Box::new(Asking::new(question, request.seed()))),
            Err(fault) => {
                self.findings.push(fault.finding(Span::default()));
                None
            }
        };
        let node = asking.as_ref().map_or(0, |asking| asking.question.node);
        // The side that is asked is below, unless the author names another.
        let asked = lesson.node(node).position.turn();
        let named = self.side.as_deref();
        let side = named.map_or(asked, |name| Color::from_white(name != "black"));
        State {
            asking,
            is_quiz: true,
            map: false,
            ..State::at_question(lesson, node, side)
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
        let before = self.told.len();
        self.step(Intent::Play(word.to_owned()));
        let told = self.told.get(before).and_then(|told| told.verdict);
        Some(told.unwrap_or("illegal").to_owned())
    }

    /// What needs no more than a word; each export of its own costs the page a hundred bytes:
    /// of a question `hint`, `show`, `again`; `open` for all of them; one move `back`; `flip`, or
    /// `white` or `black` below; `copied`, or `lost` where something could not be. True when it
    /// changed something.
    pub fn ask(&mut self, what: &str) -> bool {
        let intent = match what {
            "back" => Intent::Back,
            "flip" => Intent::Turn,
            "white" => Intent::Side(Color::White),
            "black" => Intent::Side(Color::Black),
            "copied" => Intent::Copied(true),
            "lost" => Intent::Copied(false),
            "hint" => Intent::Hint,
            "show" => Intent::Show(None),
            "open" => Intent::OpenAll,
            _ => Intent::Again,
        };
        self.step(intent).is_some()
    }

    /// Whether a question waits for a move; none where there is no question.
    pub fn waits(&self) -> Option<bool> {
        self.state.asking.as_ref().map(|asking| asking.is_open())
    }

    /// What has come of tries since this was last asked.
    pub fn told(&mut self) -> JsValue {
        to_page(&core::mem::take(&mut self.told))
    }
}
