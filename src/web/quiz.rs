//! A question in an element of its own: the lesson is mounted with it and shows nothing else.

use super::mounted::Mounted;
use super::to_page;
use crate::view::{Asking, Effect, Intent, Report, actions};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

#[wasm_bindgen]
impl Mounted {
    /// Answers the question with a move in English SAN or UCI. The verdict; none if the
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

    /// Carries out what needs only a word; a separate export for each would cost the page a hundred
    /// bytes: the name of an action of the reader, as `hint`, `show`, `again`, `open`, `back`,
    /// `turn`; or what the page reports: `copied`, `lost` where the position could not be, with a
    /// text where that link could not be, `nowhere` where the address names no place by that text.
    /// True when it changed something, which an unknown word never does.
    pub fn ask(&mut self, what: &str, text: Option<String>) -> bool {
        let report = match (what, text) {
            ("copied", _) => Some(Report::Copied),
            ("lost", None) => Some(Report::NotCopied),
            ("lost", Some(link)) => Some(Report::NotLinked(link)),
            ("nowhere", Some(run)) => Some(Report::NoPlace(run)),
            _ => None,
        };
        let intent = match report {
            Some(report) => Some(Intent::Report(report)),
            None => actions::named(what),
        };
        intent.is_some_and(|intent| !self.step(intent).is_empty())
    }

    /// Whether a question waits for a move; none if there is no question.
    pub fn waits(&self) -> Option<bool> {
        self.state.asking().map(Asking::is_open)
    }

    /// The events that tries have led to since this was last asked, each with its type and detail.
    pub fn told(&mut self) -> JsValue {
        to_page(&core::mem::take(&mut self.told))
    }
}
