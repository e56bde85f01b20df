//! What other elements of the page show of a lesson without acting on it: diagrams and recaps.

use super::morph::morph;
use super::mounted::{Mounted, named};
use super::to_page;
use crate::edge;
use crate::lesson::Lesson;
use crate::lesson::diagram;
use crate::markup::{self, Element};
use crate::text::{Code, Finding, Findings, Source, Span, quote};
use crate::view::{self, Diagram, Word, wording};
use js_sys::Array;
use shakmaty::Color;
use wasm_bindgen::prelude::wasm_bindgen;
use web_sys::ShadowRoot;

#[wasm_bindgen]
extern "C" {
    /// What such an element's class asks for; a plain object.
    pub type Asked;

    /// The attribute `for`.
    #[wasm_bindgen(method, getter, js_name = "for")]
    fn wanted(this: &Asked) -> Option<String>;

    /// The ids of the page's lessons.
    #[wasm_bindgen(method, getter)]
    fn lessons(this: &Asked) -> Vec<String>;

    /// The attribute `at`.
    #[wasm_bindgen(method, getter)]
    fn at(this: &Asked) -> Option<String>;

    /// A placement with its marks, where it is no position of a lesson.
    #[wasm_bindgen(method, getter)]
    fn text(this: &Asked) -> Option<String>;

    /// The attribute `marks`.
    #[wasm_bindgen(method, getter)]
    fn marks(this: &Asked) -> Option<String>;

    /// The attribute `side`, else that of the lesson.
    #[wasm_bindgen(method, getter)]
    fn side(this: &Asked) -> Option<String>;

    /// The address of the lesson's start.
    #[wasm_bindgen(method, getter)]
    fn start(this: &Asked) -> String;

    /// Whether what is found is shown in the page.
    #[wasm_bindgen(method, getter)]
    fn debug(this: &Asked) -> bool;

    /// Whether the element holds nothing that could be shown instead.
    #[wasm_bindgen(method, getter)]
    fn bare(this: &Asked) -> bool;
}

#[wasm_bindgen]
impl Mounted {
    /// Reads what a diagram asks for and, with a root, draws it there. Returns a list of three:
    /// whether there is something to show, the findings, and the same as sentences.
    pub fn diagram(&self, root: Option<ShadowRoot>, asked: &Asked) -> Array {
        let mut findings = Findings::default();
        let text = asked.text();
        let is_placed = text.is_some();
        let source = Source::new("", text.or_else(|| asked.marks()).unwrap_or_default());
        let shown = match is_placed {
            true => self.placed(&source, asked, &mut findings),
            false => self.position(&source, asked, &mut findings),
        };
        findings.sort();
        let notes = notes(&source, &findings);
        if let Some(root) = root {
            let told: &[String] = if asked.debug() { &notes } else { &[] };
            let tree = match &shown {
                Some(shown) => markup::diagram(&self.words, shown, told),
                None => {
                    let sentence = asked.bare().then_some(Word::FailedBare);
                    markup::missing(&self.words, sentence, told)
                }
            };
            put(&root, &tree);
        }
        answer(shown.is_some(), &source, &findings, notes)
    }

    /// The same for a recap.
    pub fn recap(&self, root: Option<ShadowRoot>, asked: &Asked) -> Array {
        let mut findings = Findings::default();
        let source = Source::new("", "");
        let shown = self.asked_lesson(asked, &mut findings).map(|lesson| {
            // No question of a lesson can be settled yet, so each is open.
            view::recap(lesson, self.side_of(asked), |_| true)
        });
        let notes = notes(&source, &findings);
        if let Some(root) = root {
            let told: &[String] = if asked.debug() { &notes } else { &[] };
            let tree = match &shown {
                Some(shown) if !shown.rows.is_empty() => {
                    markup::recap(&self.words, shown, &asked.start())
                }
                Some(_) => markup::missing(&self.words, Some(Word::NoChoices), told),
                None => {
                    let sentence = asked.bare().then_some(Word::NoRecap);
                    markup::missing(&self.words, sentence, told)
                }
            };
            put(&root, &tree);
        }
        answer(shown.is_some(), &source, &findings, notes)
    }
}

impl Mounted {
    /// The diagram of a text of its own.
    fn placed(&self, source: &Source, asked: &Asked, findings: &mut Findings) -> Option<Diagram> {
        let (placement, marks) = diagram::read(source, findings);
        Some(view::placed_diagram(
            &self.words,
            &placement?,
            self.side_of(asked),
            marks,
        ))
    }

    /// The diagram of a position of this lesson; the text is that of its marks.
    fn position(&self, source: &Source, asked: &Asked, findings: &mut Findings) -> Option<Diagram> {
        let marks = asked.marks();
        let marks = marks.map(|_| diagram::read_marks(source, 0, findings));
        let lesson = self.asked_lesson(asked, findings)?;
        let node = match asked.at().map_or(Ok(0), |at| named(lesson, &at)) {
            Ok(node) => node,
            Err(finding) => {
                findings.push(finding);
                return None;
            }
        };
        let side = self.side_of(asked);
        Some(view::diagram(&self.words, lesson, node, side, marks))
    }

    /// The lesson; where there is none, a finding that says why.
    fn asked_lesson(&self, asked: &Asked, findings: &mut Findings) -> Option<&Lesson> {
        if let Some(lesson) = &self.lesson {
            return Some(lesson);
        }
        let lessons = asked.lessons();
        let wanted = asked.wanted();
        let is_known = |id: &String| lessons.contains(id);
        let message = match &wanted {
            Some(id) if is_known(id) => {
                format!("the lesson \u{201c}{}\u{201d} could not be read", quote(id))
            }
            Some(id) => format!(
                "no lesson of this page has the id \u{201c}{}\u{201d}",
                quote(id)
            ),
            None if lessons.is_empty() => "there is no lesson in this page".to_owned(),
            None if lessons.len() == 1 => "the lesson of this page could not be read".to_owned(),
            None => {
                "this page has several lessons, and `for` says of none that it is meant".to_owned()
            }
        };
        let mut finding = Finding::new(Code::NoSuchLesson, Span::default(), message);
        if !lessons.is_empty() {
            finding = finding.with_help(["the page has ", &lessons.join(", ")].concat());
        }
        findings.push(finding);
        None
    }

    /// The side below in a diagram, or taught by a recap: the element's, else the lesson's own,
    /// however the reader has turned its board.
    fn side_of(&self, asked: &Asked) -> Color {
        let tag = || Some(self.lesson.as_ref()?.tag("Side")?.to_owned());
        let side = asked.side().or_else(|| self.side.clone()).or_else(tag);
        Color::from_white(side.as_deref() != Some("black"))
    }
}

fn notes(source: &Source, findings: &Findings) -> Vec<String> {
    let notes = findings.iter();
    notes
        .map(|finding| wording::note(source, finding))
        .collect()
}

fn put(root: &ShadowRoot, tree: &[Element]) {
    if let Some(document) = root.owner_document() {
        morph(&document, root, tree);
    }
}

fn answer(is_shown: bool, source: &Source, findings: &Findings, notes: Vec<String>) -> Array {
    let notes: Array = notes.into_iter().map(wasm_bindgen::JsValue::from).collect();
    Array::of3(
        &is_shown.into(),
        &to_page(&edge::findings(source, findings)),
        &notes,
    )
}
