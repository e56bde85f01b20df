//! DOM events to intents.

use crate::view::{Intent, actions};
use shakmaty::{Role, Square};
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, HtmlInputElement, KeyboardEvent, ShadowRoot};

/// What a reader means by an event.
pub struct Meant {
    /// What to do.
    pub what: What,
    /// Whether the step was made by keys or buttons rather than by picking a place in the
    /// text: then the new place may be out of sight.
    pub follow: bool,
}

/// An intent, or something that only the page can turn into one.
pub enum What {
    /// Do this.
    Do(Intent),
    /// Go to the place of this address, named in the comment of this node.
    Find(String, u32),
}

impl Meant {
    fn with(intent: Intent) -> Option<Meant> {
        let what = What::Do(intent);
        Some(Meant { what, follow: true })
    }
}

/// The intent of a click or a key, if it is one of ours. `black` says which side is below.
pub fn meant(event: &Event, root: &ShadowRoot, black: bool) -> Option<Meant> {
    let target = event.target()?.dyn_into::<Element>().ok()?;
    match event.dyn_ref::<KeyboardEvent>() {
        Some(key) => meant_by_key(key, &target, black),
        None => meant_by_click(&target, root),
    }
}

fn meant_by_click(target: &Element, root: &ShadowRoot) -> Option<Meant> {
    const OURS: &str = "[data-square],[data-go],[data-do],[data-find],[data-fold],[data-ask],[data-becomes],[data-show],[data-beside]";
    let hit = target.closest(OURS).ok()??;
    let value = |name: &str| hit.get_attribute(name);
    if let Some(square) = value("data-square") {
        return Meant::with(Intent::Square(square_named(&square)?));
    }
    if let Some(node) = value("data-go") {
        // A row of the outline, of the next moves or of the map leads elsewhere in the text.
        // By the attribute: a mark of the map is SVG, and `className` of SVG is no text.
        let follow = hit.get_attribute("class").as_deref() != Some("move");
        let what = What::Do(Intent::Go(node.parse().ok()?));
        return Some(Meant { what, follow });
    }
    if let Some(locator) = value("data-find") {
        let what = What::Find(locator, value("data-by")?.parse().ok()?);
        return Some(Meant { what, follow: true });
    }
    if let Some(line) = value("data-fold") {
        return Meant::with(Intent::Fold(line.parse().ok()?));
    }
    if let Some(node) = value("data-beside") {
        return Meant::with(Intent::Beside(node.parse().ok()?));
    }
    if let Some(node) = value("data-show") {
        return Meant::with(Intent::Show(Some(node.parse().ok()?)));
    }
    if let Some(letter) = value("data-becomes") {
        return Meant::with(Intent::Promote(Role::from_char(letter.chars().next()?)?));
    }
    let name = value("data-do").or_else(|| value("data-ask"))?;
    match actions::named(&name)? {
        Intent::Typed(_) => {
            let field = root.query_selector("input").ok()??;
            typed(&field.dyn_into().ok()?)
        }
        intent => Meant::with(intent),
    }
}

/// What is in the field; it is emptied, ready for the next move.
fn typed(field: &HtmlInputElement) -> Option<Meant> {
    let text = field.value();
    field.set_value("");
    Meant::with(Intent::Typed(text))
}

/// In the grid the arrows move between squares; elsewhere left and right step back and on. No
/// single letters, and nothing with a modifier key, which belongs to the browser.
fn meant_by_key(key: &KeyboardEvent, target: &Element, black: bool) -> Option<Meant> {
    let name = key.key();
    // Keys that choose among the characters of an input method are none of ours.
    if key.is_composing() || key.alt_key() || key.meta_key() || key.shift_key() {
        return None;
    }
    if let Some(square) = target.get_attribute("data-square") {
        let square = square_named(&square)?;
        return Meant::with(match name.as_str() {
            "Enter" | " " if !key.ctrl_key() => Intent::Square(square),
            "Escape" => Intent::Release,
            _ => Intent::Cursor(beside(square, &name, key.ctrl_key(), black)?),
        });
    }
    if key.ctrl_key() {
        return None;
    }
    if name == "Escape" && matches!(target.closest(".desk"), Ok(Some(_))) {
        return Meant::with(Intent::Desk);
    }
    if let Some(field) = target.dyn_ref::<HtmlInputElement>() {
        return if name == "Enter" { typed(field) } else { None };
    }
    Meant::with(match name.as_str() {
        "ArrowLeft" => Intent::Back,
        "ArrowRight" => Intent::Next(None),
        "Escape" => Intent::Release,
        _ => return None,
    })
}

/// The square that a key leads to from another: nothing wraps. Home and End go to the ends of
/// the row, with Ctrl to the corners of the board.
fn beside(square: Square, key: &str, ctrl: bool, black: bool) -> Option<Square> {
    // Column and row as they are seen.
    let seen = |square: Square| {
        let (file, rank) = (square.file() as i32, square.rank() as i32);
        if black {
            (7 - file, rank)
        } else {
            (file, 7 - rank)
        }
    };
    let (column, row) = seen(square);
    let (column, row) = match (key, ctrl) {
        ("ArrowLeft", false) => (column - 1, row),
        ("ArrowRight", false) => (column + 1, row),
        ("ArrowUp", false) => (column, row - 1),
        ("ArrowDown", false) => (column, row + 1),
        ("Home", false) => (0, row),
        ("End", false) => (7, row),
        ("Home", true) => (0, 0),
        ("End", true) => (7, 7),
        _ => return None,
    };
    let (column, row) = (column.clamp(0, 7), row.clamp(0, 7));
    Square::ALL
        .into_iter()
        .find(|&other| seen(other) == (column, row))
}

/// The square of that name.
pub fn square_named(name: &str) -> Option<Square> {
    Square::from_ascii(name.as_bytes()).ok()
}
