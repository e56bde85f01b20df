//! A lesson in an element: read at once, drawn when the page asks, and then moved step by step.

use super::drag::{self, Drag, Dragged};
use super::draw::Mount;
use super::event::{self, What};
use super::handle::{LessonHandle, Reading, read};
use super::request::{self, Request, text};
use super::still::lost;
use super::to_page;
use crate::ask::schedule::Progress;
use crate::check::attributes::SIDES;
use crate::edge;
use crate::lesson::place::address;
use crate::lesson::prose::Context;
use crate::lesson::{Lesson, Place as There};
use crate::markup;
use crate::notation::Letters;
use crate::text::{Code, Finding, Findings, Listed, Source, Span, not_utf8, split};
use crate::view::{self, Effect, Intent, State, Words, actions, wording};
use js_sys::Array;
use shakmaty::Square;
use std::rc::Rc;
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Element, Event, PointerEvent, ShadowRoot, UiEvent};

/// A lesson in an element.
#[wasm_bindgen]
pub struct Mounted {
    pub(super) source: Source,
    pub(super) findings: Findings,
    pub(super) lesson: Option<Rc<Lesson>>,
    pub(super) words: Words,
    /// The names of the games to choose from, and which one this is; empty for a single one.
    pub(super) games: Vec<(String, bool)>,
    pub(super) state: State,
    pub(super) place: Option<Mount>,
    /// The rows of the board's grid as they were drawn last by a step; none where all was drawn since.
    pub(super) rows: Vec<markup::Element>,
    pub(super) at: Option<String>,
    pub(super) side: Option<String>,
    drag: Option<Drag>,
    /// Whether the click that follows a drag must still be ignored.
    swallow: bool,
    /// The pieces that the last step moved: where from and where to.
    slides: Vec<(Square, Square)>,
    /// What the polite region says.
    pub(super) heard: String,
    /// Counts changes of the position.
    pub(super) turns: u32,
    /// Events of tries at questions since the page last asked.
    pub(super) told: Vec<edge::AnswerEvent>,
    /// What is kept of recalled positions.
    pub(super) progress: Progress,
    /// Whether the lesson that the element is about is not there.
    pub(super) is_lost: bool,
    /// Whether the element of a question holds its prompt.
    pub(super) has_prompt: bool,
    /// Whether what the checker says is shown in the page.
    pub(super) debug: bool,
    /// Whether the reader begins, and does not go on in another instance.
    pub(super) is_new: bool,
    /// The place before the last change, and whether that was more than a single step.
    pub(super) was: There,
    pub(super) jumped: bool,
    /// What was named last in the article that is read.
    pub(super) article: Context,
    /// What was found in articles, for the author.
    pub(super) said_of_prose: Vec<String>,
}

/// Reads a lesson. Nothing is drawn yet.
#[wasm_bindgen]
pub fn mount(request: &Request) -> Mounted {
    let name = request.name();
    let written = request.game() as u32; // saturates: there is no such game
    let game = written.max(1);
    let given = request.given();
    let element = request::read(&request.element(), &|name| text(&given, name));
    let Reading {
        source,
        lesson,
        findings,
        names,
    } = read(&name, request.text(), game, None);
    let texts = request.words();
    let mut texts = split(&texts, b'\0').map(str::to_owned);
    let pairs = core::iter::from_fn(|| Some((texts.next()?, texts.next()?)));
    let mut games = Vec::new();
    if names.len() > 1 && request.choose() {
        for name in names {
            let is_this = games.len() as u32 + 1 == game; // a file holds fewer
            games.push((name, is_this));
        }
    }
    let (own, around) = (text(&given, "letters"), request.lang());
    let tag = lesson.as_deref().and_then(|it| it.tag("Letters"));
    let codes = [own.as_deref(), tag, around.as_deref()];
    let letters = Letters::first(codes.into_iter().flatten());
    let mut mounted = Mounted {
        source,
        findings,
        words: Words::with(pairs).lettered(letters),
        games,
        state: State::empty(),
        lesson: None,
        place: None,
        rows: Vec::new(),
        at: text(&given, "at"),
        side: text(&given, "side").filter(|side| SIDES.contains(&side.as_str())),
        drag: None,
        swallow: false,
        slides: Vec::new(),
        heard: String::new(),
        turns: 0,
        told: Vec::new(),
        progress: Progress::default(),
        is_lost: written == 0,
        has_prompt: text(&given, "prompt").is_some_and(|prompt| !prompt.is_empty()),
        debug: false,
        is_new: true,
        was: There::default(),
        jumped: false,
        article: Context::default(),
        said_of_prose: Vec::new(),
    };
    if mounted.is_lost {
        mounted.findings = Findings::default();
        mounted.findings.push(lost(&name));
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
    let Some(lesson) = lesson else {
        mounted.findings.extend(element.amiss(None));
        return mounted;
    };
    let (mut state, findings) = view::open(&lesson, &element, letters);
    mounted.findings.extend(findings);
    if let Some(carried) = request.carried() {
        view::resume(&lesson, &mut state, &carried, None);
        mounted.is_new = false;
    }
    mounted.state = state;
    mounted.lesson = Some(lesson);
    mounted
}

impl Mounted {
    /// A finding about the page; it has no place in the text.
    pub(super) fn find(&mut self, code: Code, message: String) {
        self.findings
            .push(Finding::new(code, Span::default(), message));
    }

    /// Carries an intent out and draws what it changes.
    pub(super) fn step(&mut self, intent: Intent) -> Vec<Effect> {
        let Some(lesson) = self.lesson.clone() else {
            return Vec::new();
        };
        let (state, effects) = view::update(&lesson, &self.state, intent, self.words.letters());
        let before = core::mem::replace(&mut self.state, state);
        self.told.extend(edge::answer_events(&effects));
        if effects.iter().any(Effect::is_step) {
            self.turns = self.turns.wrapping_add(1);
            self.slides = view::slides(&effects);
            (self.was.node, self.was.aside) = (before.node, before.aside);
            self.jumped = effects.iter().any(|effect| effect.is_jump(&lesson));
        }
        self.draw_step(&lesson, &effects);
        effects
    }

    fn find_and_go(&mut self, locator: &str, by: u32) -> Vec<Effect> {
        let lesson = self.lesson.as_ref();
        match lesson.and_then(|lesson| address::follow(lesson, locator)) {
            Some(place) => self.step(Intent::Told(place, by)),
            None => Vec::new(),
        }
    }

    pub(super) fn focused(&self) -> Option<Element> {
        self.place.as_ref()?.focused()
    }

    fn root(&self) -> Option<ShadowRoot> {
        self.place.as_ref()?.root()
    }

    fn drag(&mut self, event: &PointerEvent) -> bool {
        let Some(root) = self.root() else {
            return false;
        };
        if event.type_() == "pointerdown" {
            self.swallow = false;
        }
        match drag::follow(&mut self.drag, event, &root, self.state.side) {
            Dragged::Nothing => return false,
            Dragged::Back => self.swallow = true,
            Dragged::Put(from, to) => {
                self.swallow = true;
                let had_focus = self.focused();
                let effects = self.step(Intent::Move(from, to));
                if self.slides.first().is_some_and(|&(was, _)| was == from) {
                    self.slides.clear(); // it is where the hand put it
                }
                self.follow(had_focus, leads_on(&effects));
            }
        }
        true
    }
}

/// Whether the place on the board is elsewhere in a text that stays: what a settled question opens
/// is drawn again around the reader, who stays there.
fn leads_on(effects: &[Effect]) -> bool {
    // Not by comparing: that would compare whole verdicts.
    let opens = |effect: &Effect| matches!(effect, Effect::Opened);
    effects.iter().any(Effect::is_step) && !effects.iter().any(opens)
}

#[wasm_bindgen]
impl Mounted {
    /// Draws the lesson into a shadow root. `baked` is the stamp of one that a baked page
    /// brought; `narrow` says that there is no room for a map. Returns how many nodes were
    /// made: none if a baked page was taken over. That page stays as it is where there is no room,
    /// but for its map, which its style has hidden there.
    pub fn draw(
        &mut self,
        root: &ShadowRoot,
        baked: Option<String>,
        language: &str,
        debug: bool,
        narrow: bool,
    ) -> u32 {
        self.state.map &= !narrow;
        let narrow = narrow && baked.is_none();
        if let Some(baked) = baked {
            let attributes = [("at", self.at.as_deref()), ("side", self.side.as_deref())];
            if baked != edge::stamp(self.source.text(), &attributes, language) {
                root.set_text_content(None);
            }
        }
        if let Some(lesson) = self.lesson.as_deref().filter(|_| narrow && self.is_new) {
            self.state.narrow(lesson);
        }
        self.is_new = false;
        self.place = Some(Mount::new(root, narrow));
        self.debug = debug;
        self.draw_all()
    }

    /// Carries out what a reader means by an event. True when it was ours.
    pub fn handle(&mut self, event: &Event) -> bool {
        if let Some(pointer) = event
            .dyn_ref::<PointerEvent>()
            .filter(|event| event.type_() != "click")
        {
            return self.drag(pointer);
        }
        // The click that a mouse makes at the end of a drag; those of keys and voice have a click
        // count of 0.
        let clicks = event.dyn_ref::<UiEvent>().map_or(0, UiEvent::detail);
        if core::mem::take(&mut self.swallow) && event.type_() == "click" && clicks > 0 {
            return false;
        }
        let black = self.state.side.is_black();
        let Some(meant) = self
            .root()
            .and_then(|root| event::meant(event, &root, black))
        else {
            return false;
        };
        let had_focus = self.focused();
        let had_desk = self.state.desk;
        let effects = match meant.what {
            What::Do(Intent::Typed(text)) => {
                let (words, state) = (&self.words, &self.state);
                let lesson = self.lesson.as_ref();
                match lesson.map(|it| actions::meant_at(words, it, state, &text)) {
                    Some(intent) => self.step(intent),
                    None => Vec::new(),
                }
            }
            What::Do(intent) => self.step(intent),
            What::Find(locator, by) => self.find_and_go(&locator, by),
        };
        if !effects.is_empty() || event.type_() == "keydown" {
            event.prevent_default();
        }
        if event.type_() == "keydown" {
            // A page may have keys of its own: mdBook's arrows lead to the next chapter.
            event.stop_propagation();
        }
        self.follow(had_focus, meant.follow && leads_on(&effects));
        if self.state.desk != had_desk {
            self.face_desk();
        }
        !effects.is_empty()
    }

    /// Whether a piece is in the air, so that the page must not scroll.
    #[wasm_bindgen(getter)]
    pub fn dragging(&self) -> bool {
        self.drag.as_ref().is_some_and(Drag::is_active)
    }

    /// The pieces that the last step moved, four numbers each, in units of the picture: its place
    /// now, and where it came from, relative to that place. Returned once.
    pub fn slides(&mut self) -> Array {
        let side = self.state.side;
        let numbers = Array::new();
        for (from, to) in core::mem::take(&mut self.slides) {
            let ((x, y), (to_x, to_y)) = (markup::corner(from, side), markup::corner(to, side));
            for number in [to_x, to_y, x - to_x, y - to_y] {
                numbers.push(&number.into());
            }
        }
        numbers
    }

    /// Speaks the result of a step. The page asks when no other step has come for a moment, so that
    /// only the last of several is heard.
    pub fn say(&mut self) {
        if let Some(lesson) = self.lesson.clone() {
            let shown = view::figure(&self.words, &lesson, &self.state);
            self.draw_figure(&shown);
        }
    }

    /// The lesson as it is printed, drawn into an element of the root while `on`.
    pub fn print(&mut self, on: bool) {
        self.draw_print(on);
    }

    /// Where the reader is, or null without a lesson.
    pub fn current(&self) -> JsValue {
        match &self.lesson {
            Some(lesson) => to_page(&edge::current(lesson, &self.state)),
            None => JsValue::NULL,
        }
    }

    /// What the checker says.
    pub fn findings(&self) -> JsValue {
        to_page(&edge::findings(&self.source, &self.findings))
    }

    /// The findings as sentences, for the author's console.
    pub fn notes(&self) -> JsValue {
        let notes = self.findings.iter();
        let notes = notes.map(|finding| wording::note(&self.source, finding));
        to_page(&notes.listed())
    }

    /// The lesson, or nothing where the text holds none.
    pub fn lesson(&self) -> Option<LessonHandle> {
        self.lesson.clone().map(LessonHandle::new)
    }

    /// Where the reader is, to mount again there in another instance.
    pub fn carry(&self) -> String {
        view::carry(&self.state)
    }

    /// Counts changes of the position.
    #[wasm_bindgen(getter)]
    pub fn turns(&self) -> u32 {
        self.turns
    }
}
