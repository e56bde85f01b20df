//! A lesson in a shadow root: drawn once, and then step by step.

use super::event::{self, What};
use super::handle::{LessonHandle, Reading, read};
use super::morph::{morph, morph_element};
use super::to_page;
use crate::edge;
use crate::lesson::{Lesson, LocateError, NodeId, locate};
use crate::markup::{self, move_id, row_id};
use crate::text::{Code, Finding, Findings, Source, Span, not_utf8};
use crate::view::{self, Effect, Intent, State, wording};
use shakmaty::Color;
use std::rc::Rc;
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Document, Element, Event, HtmlElement, ShadowRoot};

#[wasm_bindgen]
extern "C" {
    /// What the element's class asks for; a plain object. Read through getters: a deserializer
    /// for it costs 8 kB on every page.
    pub type Request;

    /// The notation.
    #[wasm_bindgen(method, getter)]
    fn text(this: &Request) -> String;

    /// Which game of the text, from 1.
    #[wasm_bindgen(method, getter)]
    fn game(this: &Request) -> u32;

    /// Whether the file was no UTF-8.
    #[wasm_bindgen(method, getter)]
    fn latin1(this: &Request) -> bool;

    /// What findings call it: the element's id, or the address of `src`.
    #[wasm_bindgen(method, getter)]
    fn name(this: &Request) -> String;

    /// The attribute `at`.
    #[wasm_bindgen(method, getter)]
    fn at(this: &Request) -> Option<String>;

    /// The attribute `side`.
    #[wasm_bindgen(method, getter)]
    fn side(this: &Request) -> Option<String>;

    /// Whether an earlier element has this id.
    #[wasm_bindgen(method, getter, js_name = idTaken)]
    fn id_taken(this: &Request) -> bool;

    /// Whether the page shows findings to its author.
    #[wasm_bindgen(method, getter)]
    fn debug(this: &Request) -> bool;

    /// The language of the page at the element.
    #[wasm_bindgen(method, getter)]
    fn language(this: &Request) -> String;

    /// The stamp of a baked shadow root.
    #[wasm_bindgen(method, getter)]
    fn baked(this: &Request) -> Option<String>;

    /// Where the reader was before the instance was thrown away.
    #[wasm_bindgen(method, getter)]
    fn node(this: &Request) -> Option<NodeId>;

    /// Whether Black was below then.
    #[wasm_bindgen(method, getter)]
    fn black(this: &Request) -> Option<bool>;
}

/// A lesson in a shadow root.
#[wasm_bindgen]
pub struct Mounted {
    root: ShadowRoot,
    document: Document,
    source: Source,
    findings: Findings,
    lesson: Option<Rc<Lesson>>,
    state: State,
    made: u32,
}

/// Reads a lesson and draws it into a shadow root.
///
/// # Errors
/// Where the root belongs to no document, which is a mistake of the calling script.
#[wasm_bindgen]
pub fn mount(root: ShadowRoot, request: &Request) -> Result<Mounted, JsValue> {
    let document = root
        .owner_document()
        .ok_or("the root belongs to no document")?;
    let name = request.name();
    let Reading {
        source,
        lesson,
        findings,
    } = read(&name, request.text(), request.game().max(1));
    let mut mounted = Mounted {
        root,
        document,
        source,
        findings,
        lesson,
        state: State::default(),
        made: 0,
    };
    let (at, side) = (request.at(), request.side());
    if let Some(baked) = request.baked() {
        let attributes = [("at", at.as_deref()), ("side", side.as_deref())];
        let stamp = edge::stamp(mounted.source.text(), &attributes, &request.language());
        if baked != stamp {
            mounted.root.set_text_content(None);
        }
    }
    if request.latin1() {
        mounted.findings.push(not_utf8(Span::default()));
    }
    if request.id_taken() {
        mounted.find(
            Code::IdTaken,
            format!("an earlier element has the id {name}"),
        );
    }
    mounted.place(at, side);
    mounted.resume(request.node(), request.black());
    mounted.draw(request.debug());
    Ok(mounted)
}

impl Mounted {
    /// A finding about the page; it has no place in the text.
    fn find(&mut self, code: Code, message: String) {
        self.findings
            .push(Finding::new(code, Span::default(), message));
    }

    /// Where the reader begins: the attributes, else the tags of the same names.
    fn place(&mut self, at: Option<String>, side: Option<String>) {
        let Some(lesson) = self.lesson.clone() else {
            return;
        };
        let tag = |name: &str| lesson.tag(name).map(str::to_owned);
        if side.or_else(|| tag("Side")).as_deref() == Some("black") {
            self.state.side = Color::Black;
        }
        let Some(at) = at.or_else(|| tag("At")) else {
            return;
        };
        match locate(&lesson, &at) {
            Ok(node) => self.state.node = node,
            Err(LocateError::None) => {
                self.find(
                    Code::LocatorNone,
                    format!("\u{201c}{at}\u{201d} names no place of this lesson"),
                );
            }
            Err(LocateError::Several(nodes)) => {
                let mut message = format!("\u{201c}{at}\u{201d} names several places:");
                for &node in nodes.iter().take(4) {
                    message.push('\n');
                    message.push_str(&wording::path(&lesson, node));
                }
                self.find(Code::LocatorSeveral, message);
            }
        }
    }

    /// Back to where the reader was before the instance was thrown away.
    fn resume(&mut self, node: Option<NodeId>, black: Option<bool>) {
        let there = |node: &NodeId| self.lesson.as_ref().is_some_and(|l| l.get(*node).is_some());
        if let Some(node) = node.filter(there) {
            self.state.node = node;
        }
        if let Some(black) = black {
            self.state.side = if black { Color::Black } else { Color::White };
        }
    }

    fn draw(&mut self, debug: bool) {
        let none = Findings::default();
        let shown = if debug { &self.findings } else { &none };
        let tree = match &self.lesson {
            Some(lesson) => markup::lesson(&view::page(lesson, &self.state, shown, &self.source)),
            None => {
                let bare = self.source.text().trim().is_empty();
                let message = if bare {
                    wording::FAILED_BARE
                } else {
                    wording::FAILED
                };
                let notes = self.findings.iter().take(3);
                let notes: Vec<String> = notes
                    .map(|finding| wording::note(&self.source, finding))
                    .collect();
                markup::failure(message, &notes)
            }
        };
        self.made = morph(&self.document, &self.root, &tree);
    }

    /// Carries an intent out and draws what it changes.
    fn step(&mut self, intent: Intent) -> Option<Effect> {
        let lesson = self.lesson.clone()?;
        let (state, effect) = view::update(&lesson, self.state, intent);
        self.state = state;
        let effect = effect?;
        if let Effect::Moved { from, to } = effect {
            self.mark(from, false);
            self.mark(to, true);
            let rows = [from, to].map(|node| view::current_row(&lesson, node));
            if rows[0] != rows[1] {
                for (row, is_current) in rows.into_iter().zip([false, true]) {
                    let element = row.and_then(|row| self.by_id(&row_id(row)));
                    set_current(element.as_ref(), is_current.then_some("true"));
                }
            }
        }
        if let Ok(Some(figure)) = self.root.query_selector("figure") {
            let wanted = markup::figure(&view::figure(&lesson, &self.state));
            morph_element(&self.document, &figure, &wanted);
        }
        Some(effect)
    }

    fn find_and_go(&mut self, locator: &str) -> Option<Effect> {
        let node = locate(self.lesson.as_ref()?, locator).ok()?;
        self.step(Intent::Go(node))
    }

    fn by_id(&self, id: &str) -> Option<Element> {
        self.root.get_element_by_id(id)
    }

    /// Marks the current move in the text; it is the one tab stop of all moves. At the start
    /// the first move is.
    fn mark(&self, node: NodeId, is_current: bool) {
        let element = self.by_id(&move_id(node.max(1)));
        set_current(element.as_ref(), (is_current && node > 0).then_some("step"));
        if let Some(element) = element {
            let _ = element.set_attribute("tabindex", if is_current { "0" } else { "-1" });
        }
    }

    /// Keeps the focus in the element and the current move in sight.
    fn follow(&self, had_focus: Option<Element>, follow: bool) {
        let current = self.by_id(&move_id(self.state.node.max(1)));
        let was_in_text = had_focus
            .as_ref()
            .is_some_and(|el| el.class_name() == "move");
        if follow && was_in_text {
            focus(current.as_ref());
        } else if had_focus.is_some_and(|element| !element.is_connected()) {
            // A row of the next moves is gone; the word beside it goes on.
            focus(
                self.root
                    .query_selector("[data-do=next]")
                    .ok()
                    .flatten()
                    .as_ref(),
            );
        }
        if follow && let Some(current) = current {
            let options = web_sys::ScrollIntoViewOptions::new();
            options.set_block(web_sys::ScrollLogicalPosition::Nearest);
            current.scroll_into_view_with_scroll_into_view_options(&options);
        }
    }
}

fn set_current(element: Option<&Element>, value: Option<&str>) {
    let Some(element) = element else {
        return;
    };
    let _ = match value {
        Some(value) => element.set_attribute("aria-current", value),
        None => element.remove_attribute("aria-current"),
    };
}

fn focus(element: Option<&Element>) {
    if let Some(element) = element.and_then(|element| element.dyn_ref::<HtmlElement>()) {
        let _ = element.focus();
    }
}

#[wasm_bindgen]
impl Mounted {
    /// Carries out what a reader means by a click or a key. True when the position changed.
    pub fn handle(&mut self, event: &Event) -> bool {
        let Some(meant) = event::meant(event) else {
            return false;
        };
        let had_focus = self.root.active_element();
        let effect = match meant.what {
            What::Do(intent) => self.step(intent),
            What::Find(locator) => self.find_and_go(&locator),
        };
        if effect.is_some() {
            event.prevent_default();
            let moved = matches!(effect, Some(Effect::Moved { .. }));
            self.follow(had_focus, meant.follow && moved);
        }
        matches!(effect, Some(Effect::Moved { .. }))
    }

    /// Goes to a node, by number or locator.
    pub fn go(&mut self, place: &JsValue) -> bool {
        let node = match (place.as_f64(), place.as_string()) {
            // Only whole numbers of nodes name one; the cast saturates.
            (Some(number), _) if number.fract() == 0.0 && number >= 0.0 => number as NodeId,
            (_, Some(locator)) => return self.find_and_go(&locator).is_some(),
            _ => return false,
        };
        self.step(Intent::Go(node)).is_some()
    }

    /// One move on: the child of that index, else the first.
    pub fn next(&mut self, choice: Option<u32>) -> bool {
        self.step(Intent::Next(choice.map(|index| index as usize)))
            .is_some()
    }

    /// One move back.
    pub fn back(&mut self) -> bool {
        self.step(Intent::Back).is_some()
    }

    /// The other side below.
    pub fn flip(&mut self) -> bool {
        self.step(Intent::Turn).is_some()
    }

    /// The side that an attribute names below.
    pub fn side(&mut self, name: &str) -> bool {
        let side = if name == "black" {
            Color::Black
        } else {
            Color::White
        };
        self.step(Intent::Side(side)).is_some()
    }

    /// Where the reader is, or null without a lesson.
    pub fn current(&self) -> JsValue {
        match &self.lesson {
            Some(lesson) => to_page(&edge::current(lesson, self.state.node)),
            None => JsValue::NULL,
        }
    }

    /// What the checker says.
    pub fn findings(&self) -> JsValue {
        to_page(&edge::findings(&self.source, &self.findings))
    }

    /// The findings as sentences, for the author's console.
    pub fn notes(&self) -> Vec<String> {
        let notes = self.findings.iter();
        notes
            .map(|finding| wording::note(&self.source, finding))
            .collect()
    }

    /// The lesson, or nothing where the text holds none.
    pub fn lesson(&self) -> Option<LessonHandle> {
        self.lesson.clone().map(LessonHandle::new)
    }

    /// The number of the node on the board, to mount again there.
    #[wasm_bindgen(getter)]
    pub fn node(&self) -> NodeId {
        self.state.node
    }

    /// Whether Black is below.
    #[wasm_bindgen(getter)]
    pub fn black(&self) -> bool {
        self.state.side.is_black()
    }

    /// How many nodes the first drawing made: none where a baked page was taken over.
    #[wasm_bindgen(getter)]
    pub fn made(&self) -> u32 {
        self.made
    }
}
