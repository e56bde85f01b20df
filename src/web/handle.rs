//! A lesson in the hands of a page's own script.

use super::to_page;
use crate::check;
use crate::edge;
use crate::lesson::{self, Lesson, locate};
use crate::notation::{self, Letters, Syntax};
use crate::text::{Code, Finding, Findings, Listed, Source, Span};
use std::rc::Rc;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// A validated lesson, by reference. `free()` gives its memory back; so does the garbage
/// collector, later.
#[wasm_bindgen(js_name = Lesson)]
pub struct LessonHandle {
    lesson: Rc<Lesson>,
}

impl LessonHandle {
    pub(super) fn new(lesson: Rc<Lesson>) -> LessonHandle {
        LessonHandle { lesson }
    }
}

#[wasm_bindgen(js_class = Lesson)]
impl LessonHandle {
    /// The tags in the order written.
    #[wasm_bindgen(getter)]
    pub fn tags(&self) -> JsValue {
        to_page(&edge::tags(&self.lesson))
    }

    /// The start as FEN.
    #[wasm_bindgen(getter)]
    pub fn start(&self) -> String {
        edge::start(&self.lesson)
    }

    /// The termination marker.
    #[wasm_bindgen(getter)]
    pub fn result(&self) -> String {
        self.lesson.result.to_owned()
    }

    /// The node that a locator names, or null.
    pub fn find(&self, locator: &str) -> JsValue {
        match locate(&self.lesson, locator) {
            Ok(node) => node.into(),
            Err(_) => JsValue::NULL,
        }
    }

    /// The node of that number as data, or null.
    pub fn node(&self, id: u32) -> JsValue {
        to_page(&edge::node(&self.lesson, id))
    }

    /// The lesson as PGN in the standard's export format; null if the text holds more than
    /// was read, because nobody should overwrite a lesson with less.
    #[wasm_bindgen(js_name = toPgn)]
    pub fn to_pgn(&self) -> JsValue {
        match lesson::export(&self.lesson, false) {
            Ok(text) => text.into(),
            Err(lesson::Incomplete) => JsValue::NULL,
        }
    }

    /// The variations.
    pub fn outline(&self) -> JsValue {
        to_page(&edge::outline(&self.lesson))
    }
}

/// The lesson that a text holds, and what the checker says of it.
pub(super) struct Reading {
    pub source: Source,
    pub lesson: Option<Rc<Lesson>>,
    pub findings: Findings,
    /// The names of all games of the text, empty if a game has none.
    pub names: Vec<String>,
}

/// Reads the `game`-th game of a text, from 1, and what was found in it. Findings in other games
/// are returned only if there is no such game, because they may be the reason.
pub(super) fn read(
    name: &str,
    text: String,
    game: u32,
    letters: Option<&'static Letters>,
) -> Reading {
    let source = Source::new(name, text);
    let (mut syntax, mut written) = notation::parse(&source);
    written.sort();
    let count = syntax.games.len();
    let names = syntax.games.iter().map(|game| game.name(&source)).listed();
    let index = (game as usize).wrapping_sub(1);
    let mut lesson = None;
    let mut findings = written;
    if index < count {
        findings = findings.within(&syntax.bytes_of(index));
        // `index` is below the number of games.
        let games = vec![syntax.games.swap_remove(index)];
        let one = Syntax { games };
        let (mut lessons, played) = lesson::validate_written(&source, &one, letters);
        findings.extend(played);
        lesson = lessons.pop().flatten().map(Rc::new);
        findings = check::page::game(&source, &one.games[0], lesson.as_deref(), findings);
    } else if count > 0 {
        let message = format!("there is no game {game} in this text");
        findings.push(Finding::new(Code::NoSuchGame, Span::default(), message));
    }
    findings.sort();
    Reading {
        source,
        lesson,
        findings,
        names,
    }
}

/// `{ lesson, findings }` of a text, which is written with the letters of this language unless it names its own; `lesson` is null if there is no such game.
#[wasm_bindgen(js_name = readLesson)]
pub fn read_lesson(text: String, game: f64, letters: Option<String>) -> JsValue {
    let letters = letters.as_deref().and_then(Letters::of);
    let reading = read("", text, game as u32, letters); // saturates: there is no such game
    let findings = to_page(&edge::findings(&reading.source, &reading.findings));
    let lesson = match reading.lesson {
        Some(lesson) => LessonHandle::new(lesson).into(),
        None => JsValue::NULL,
    };
    let result = js_sys::Object::new();
    // Setting a property of a plain object that was just made cannot fail.
    let _ = js_sys::Reflect::set(&result, &"lesson".into(), &lesson);
    let _ = js_sys::Reflect::set(&result, &"findings".into(), &findings);
    result.into()
}
