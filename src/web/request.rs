//! What the element's class asks the core for.

use crate::check::attributes::Kind;
use crate::view::Element;
use js_sys::{Object, Reflect};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

#[wasm_bindgen]
extern "C" {
    /// What the element's class asks for; a plain object. Read through getters: a deserializer
    /// for it costs 8 kB on every page.
    pub type Request;

    /// The notation.
    #[wasm_bindgen(method, getter)]
    pub(super) fn text(this: &Request) -> String;

    /// Which game of the text, from 1; 0 where the lesson that is meant is not there. Any number,
    /// because an address may name one that is too large.
    #[wasm_bindgen(method, getter)]
    pub(super) fn game(this: &Request) -> f64;

    /// Whether the reader chooses among the games of the text.
    #[wasm_bindgen(method, getter)]
    pub(super) fn choose(this: &Request) -> bool;
    /// Whether the file was no UTF-8.
    #[wasm_bindgen(method, getter)]
    pub(super) fn latin1(this: &Request) -> bool;

    /// What findings call it: the element's id, or the address of `src`; of a lesson that is not
    /// there the id that was written, and after U+0000 the ids of those that are.
    #[wasm_bindgen(method, getter)]
    pub(super) fn name(this: &Request) -> String;

    /// The language around the element; none where the page names none.
    #[wasm_bindgen(method, getter)]
    pub(super) fn lang(this: &Request) -> Option<String>;

    /// The name of the element, such as `ply-quiz`.
    #[wasm_bindgen(method, getter)]
    pub(super) fn element(this: &Request) -> String;

    /// What it says, an object of texts by the names that `view::Element::read` knows.
    #[wasm_bindgen(method, getter)]
    pub(super) fn given(this: &Request) -> Object;

    /// Whether an earlier element has this id.
    #[wasm_bindgen(method, getter, js_name = idTaken)]
    pub(super) fn id_taken(this: &Request) -> bool;

    /// The texts of the page's language, names and texts in turn and U+0000 between them; empty
    /// for English. A list of texts would cost the core code that nothing else needs.
    #[wasm_bindgen(method, getter)]
    pub(super) fn words(this: &Request) -> String;

    /// Where the reader was before the instance was thrown away, by `Mounted::carry`.
    #[wasm_bindgen(method, getter)]
    pub(super) fn carried(this: &Request) -> Option<String>;
}

/// The text under a name of an object; none if there is none.
pub(super) fn text(given: &Object, name: &str) -> Option<String> {
    Reflect::get(given, &JsValue::from_str(name))
        .ok()?
        .as_string()
}

/// What an element of this name asks for. An unknown name is treated as a lesson without
/// attributes.
pub(super) fn read(name: &str, value: &dyn Fn(&str) -> Option<String>) -> Element {
    let kind = Kind::named(name).unwrap_or(Kind::Lesson);
    Element::read(kind, value)
}
