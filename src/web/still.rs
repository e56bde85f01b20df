//! What other elements of the page show of a lesson without acting on it: diagrams and recaps.

use super::mounted::Mounted;
use super::request::{self, text};
use super::to_page;
use crate::check::page::no_such_lesson;
use crate::edge;
use crate::lesson::Lesson;
use crate::markup::{self, Element};
use crate::nodes::morph;
use crate::text::{Code, Finding, Findings, Source, Span, cut};
use crate::view::{self, DiagramOf, Mode, wording};
use js_sys::Object;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;
use web_sys::ShadowRoot;

#[wasm_bindgen]
extern "C" {
    /// What such an element's class asks for; a plain object.
    pub type Asked;

    /// The name of the element.
    #[wasm_bindgen(method, getter)]
    fn element(this: &Asked) -> String;

    /// What it says, an object of texts by the names that `view::Element::read` knows; of a recap
    /// `start`, the address of the lesson's start, too; of a diagram `worded`, if it holds words of
    /// its author, which are its caption then.
    #[wasm_bindgen(method, getter)]
    fn given(this: &Asked) -> Object;

    /// Whether what is found is shown in the page.
    #[wasm_bindgen(method, getter)]
    fn debug(this: &Asked) -> bool;

    /// Whether the element holds nothing that could be shown instead.
    #[wasm_bindgen(method, getter)]
    fn bare(this: &Asked) -> bool;
}

#[wasm_bindgen]
impl Mounted {
    /// Reads what a diagram or a recap asks for and, with a root, draws it there: what is asked
    /// for, else the element's own content, and for the author what was found. Returns the
    /// findings; where there is an error among them, there is nothing to show.
    pub fn show(&self, root: Option<ShadowRoot>, asked: &Asked) -> JsValue {
        let given = asked.given();
        // The lesson's side is that of its element, however the reader has turned its board.
        let element = request::read(&asked.element(), &|name| match name {
            "lesson-side" => self.side.clone(),
            _ => text(&given, name),
        });
        let source = Source::new("", element.text());
        let mut findings = Findings::default();
        let start = text(&given, "start").unwrap_or_default();
        let is_worded = text(&given, "worded").is_some();
        let shown = self.asked(&element, &start, is_worded, &source, &mut findings);
        findings.sort();
        if let Some(root) = root {
            let is_bare = shown.is_none() && asked.bare();
            let mut tree = shown.unwrap_or_else(|| markup::missing(&self.words, is_bare));
            let mut notes = Vec::new();
            if asked.debug() {
                for finding in findings.iter() {
                    notes.push(wording::note(&source, finding));
                }
            }
            if !notes.is_empty() {
                tree.push(markup::notes(&self.words, &notes));
            }
            morph(&root, &tree);
        }
        to_page(&edge::findings(&source, &findings))
    }
}

impl Mounted {
    /// What is asked for; none, with a finding, where it cannot be shown. Links of a recap begin with
    /// the address of the lesson's start; the caption of a diagram `is_worded` by its author.
    fn asked(
        &self,
        element: &view::Element,
        start: &str,
        is_worded: bool,
        source: &Source,
        findings: &mut Findings,
    ) -> Option<Vec<Element>> {
        let words = &self.words;
        let drawn = |of, findings: &mut Findings| {
            let shown = view::still(words, element, of, is_worded, source, findings);
            Some(markup::diagram(words, &shown?))
        };
        if let view::Element::Diagram {
            of: DiagramOf::Placement(_),
            ..
        } = element
        {
            findings.extend(element.amiss(None));
            return drawn(None, findings);
        }
        let Some(lesson) = self.lesson_or(findings) else {
            findings.extend(element.amiss(None));
            return None;
        };
        let (state, found) = view::open(lesson, element, self.words.letters());
        findings.extend(found);
        if let Mode::Missing = state.mode {
            return None;
        }
        if let view::Element::Recap { .. } = element {
            let is_closed = |id| self.state.is_closed(lesson, id);
            let shown = view::recap(&self.words, lesson, state.side, is_closed);
            if shown.is_cut {
                let message = "this recap has more rows than are shown".to_owned();
                findings.push(Finding::new(Code::RecapTooLong, Span::default(), message));
            }
            return Some(markup::recap(words, &shown, start));
        }
        drawn(Some((lesson, &state)), findings)
    }

    /// The lesson; where there is none, a finding that says so.
    pub(super) fn lesson_or(&self, findings: &mut Findings) -> Option<&Lesson> {
        if self.lesson.is_none() {
            findings.push(lost(self.source.name()));
        }
        self.lesson.as_deref()
    }
}

/// The finding that the lesson is not there. The name is its id, and after U+0000 the ids that the page has.
pub(super) fn lost(name: &str) -> Finding {
    let (id, ids) = cut(name, "\0").unwrap_or((name, ""));
    no_such_lesson(id, ids)
}
