//! A question in an element of its own: the lesson is mounted with it and shows nothing else.

use super::attribute::unplaced;
use super::mounted::Mounted;
use crate::ask::{DefaultPosition, Fault, Question, Wish};
use crate::lesson::Lesson;
use crate::text::{Code, Span, join};
use crate::view::{Asking, Intent, State};
use shakmaty::{Color, Position};
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
                Some(Box::new(Asking::new(question, seed)))
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
        State {
            asking,
            is_quiz: true,
            start: start.to_owned(),
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
    /// of a question `hint`, `show`, `again`; `open` for all of them; one move `back`; `flip`;
    /// `copied`, or `lost` where something could not be. True when it changed something.
    pub fn ask(&mut self, what: &str) -> bool {
        let intent = match what {
            "back" => Intent::Back,
            "flip" => Intent::Turn,
            "copied" => Intent::Copied(true),
            "lost" => Intent::Copied(false),
            "hint" => Intent::Hint,
            "show" => Intent::Show(None),
            "open" => Intent::OpenAll,
            "again" => Intent::Again,
            _ => return false,
        };
        self.step(intent).is_some()
    }

    /// Whether a question waits for a move; none where there is no question.
    pub fn waits(&self) -> Option<bool> {
        self.state.asking.as_ref().map(|asking| asking.is_open())
    }

    /// What has come of tries since this was last asked, five texts each: how it was settled, or the
    /// verdict, the move and the position; and how many tries there were.
    pub fn told(&mut self) -> Vec<String> {
        let mut texts = Vec::new();
        for told in core::mem::take(&mut self.told) {
            texts.push(told.how.unwrap_or_default().to_owned());
            texts.push(told.verdict.unwrap_or_default().to_owned());
            texts.push(told.played.unwrap_or_default());
            texts.push(told.fen.unwrap_or_default());
            texts.push(told.tries.to_string());
        }
        texts
    }
}
