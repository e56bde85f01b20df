//! What the element's class asks the core for.

use wasm_bindgen::prelude::wasm_bindgen;

#[wasm_bindgen]
extern "C" {
    /// What the element's class asks for; a plain object. Read through getters: a deserializer
    /// for it costs 8 kB on every page.
    pub type Request;

    /// The notation.
    #[wasm_bindgen(method, getter)]
    pub(super) fn text(this: &Request) -> String;

    /// Which game of the text, from 1; 0 where the lesson that is meant is not there. Any number, for
    /// an address may name one that is too large.
    #[wasm_bindgen(method, getter)]
    pub(super) fn game(this: &Request) -> f64;

    /// Whether the reader chooses among the games of the text.
    #[wasm_bindgen(method, getter)]
    pub(super) fn choose(this: &Request) -> bool;
    /// Whether the file was no UTF-8.
    #[wasm_bindgen(method, getter)]
    pub(super) fn latin1(this: &Request) -> bool;

    /// What findings call it: the element's id, or the address of `src`; of a lesson that is not
    /// there the id that was written, and behind U+0000 the ids of those that are.
    #[wasm_bindgen(method, getter)]
    pub(super) fn name(this: &Request) -> String;

    /// The id by which addresses name the lesson; empty for what none names.
    #[wasm_bindgen(method, getter)]
    pub(super) fn id(this: &Request) -> String;

    /// The attribute `at`.
    #[wasm_bindgen(method, getter)]
    pub(super) fn at(this: &Request) -> Option<String>;

    /// The language whose piece letters typed moves are read with first: the attribute
    /// `letters`, else the page's language.
    #[wasm_bindgen(method, getter)]
    pub(super) fn letters(this: &Request) -> Option<String>;

    /// The attribute `side`.
    #[wasm_bindgen(method, getter)]
    pub(super) fn side(this: &Request) -> Option<String>;

    /// Of a question what its element says: the attributes `accept` and `moves`, a number that
    /// says with which reply of the page it begins, where its notation is (`pre`, else the address
    /// of the lesson of the page that lends it), and its prompt, where the element holds one. Of a
    /// recall the last, and behind it the side of the lesson that it is about. Nothing of a lesson.
    /// One list, for each getter costs bytes.
    #[wasm_bindgen(method, getter)]
    pub(super) fn quiz(this: &Request) -> Vec<String>;

    /// Whether an earlier element has this id.
    #[wasm_bindgen(method, getter, js_name = idTaken)]
    pub(super) fn id_taken(this: &Request) -> bool;

    /// The texts of the page's language, names and texts in turn and U+0000 between them; empty
    /// for English. A list of texts would cost the core what it needs for no other.
    #[wasm_bindgen(method, getter)]
    pub(super) fn words(this: &Request) -> String;

    /// Where the reader was before the instance was thrown away, by `Mounted::carry`.
    #[wasm_bindgen(method, getter)]
    pub(super) fn carried(this: &Request) -> Option<String>;
}
