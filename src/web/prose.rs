//! Where a lesson is, as an address, and the moves that an article's sentences name.

use super::morph::morph;
use super::mounted::Mounted;
use super::to_page;
use crate::edge;
use crate::lesson::address::{address, follow};
use crate::lesson::prose::{Context, Place, finding, named};
use crate::markup;
use crate::notation::Letters;
use crate::text::{Findings, Source};
use crate::view::{self, Intent, State};
use js_sys::Array;
use wasm_bindgen::prelude::wasm_bindgen;
use web_sys::ShadowRoot;

#[wasm_bindgen]
impl Mounted {
    /// Where the reader is, as the run of an address: the moves of an aside at its end.
    pub fn address(&self) -> String {
        let Some(lesson) = &self.lesson else {
            return String::new();
        };
        let place = Place {
            node: self.state.node,
            aside: self.state.aside.clone(),
        };
        address(lesson, &place)
    }

    /// Goes where the run of an address leads. True when that changed something.
    pub fn visit(&mut self, run: &str) -> bool {
        let lesson = self.lesson.clone();
        let Some(place) = lesson.and_then(|lesson| follow(&lesson, run)) else {
            return false;
        };
        let before = self.turns();
        self.step(Intent::Go(place.node));
        for tried in place.aside {
            self.step(Intent::Typed(tried.san));
        }
        self.turns() != before
    }

    /// Whether the run of an address leads anywhere.
    pub fn leads(&self, run: &str) -> bool {
        let lesson = self.lesson.as_ref();
        lesson.is_some_and(|lesson| follow(lesson, run).is_some())
    }

    /// The moves that paragraphs name, in their order, as a list of two: first paragraph, from,
    /// to and run of each in turn, the places in UTF-16; then what there is to find fault with.
    pub fn named(&self, paragraphs: Vec<String>, letters: &str) -> Array {
        let found = Array::new();
        let mut said = Vec::new();
        let letters = Letters::of(letters).unwrap_or(Letters::ENGLISH);
        let mut context = Context::default();
        for (text, paragraph) in paragraphs.iter().zip(0u32..) {
            let Some(lesson) = &self.lesson else {
                break;
            };
            let source = Source::new("prose", text.as_str());
            let mut findings = Findings::default();
            for one in named(lesson, letters, &mut context, text) {
                let [from, to] =
                    [one.range.start, one.range.end].map(|at| source.place(at as u32).utf16);
                match &one.place {
                    Ok(place) => {
                        for number in [paragraph, from, to] {
                            found.push(&number.into());
                        }
                        found.push(&address(lesson, place).into());
                    }
                    Err(misplaced) => findings.push(finding(lesson, letters, text, misplaced)),
                }
            }
            said.extend(edge::findings(&source, &findings));
        }
        Array::of2(&found, &to_page(&said))
    }

    /// Draws a small board of where a run leads into the root of the link that names it.
    pub fn draw_small(&self, root: &ShadowRoot, run: &str) -> bool {
        let (Some(lesson), Some(document)) = (&self.lesson, root.owner_document()) else {
            return false;
        };
        let Some(place) = follow(lesson, run) else {
            return false;
        };
        let mut state = State::new(lesson, place.node, self.state.side);
        state.aside = place.aside;
        let figure = view::figure(&self.words, lesson, &state);
        morph(&document, root, &markup::small(&self.words, &figure));
        true
    }
}
