//! DOM events to intents.

use crate::view::Intent;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, KeyboardEvent};

/// What a reader means by an event, and whether the step was made by keys or buttons rather
/// than by picking a place in the text.
pub struct Meant {
    /// What to do.
    pub what: What,
    /// Whether the new place in the text may be out of sight.
    pub follow: bool,
}

/// An intent, or a locator whose node the lesson knows.
pub enum What {
    /// Do this.
    Do(Intent),
    /// Go to the node that this names.
    Find(String),
}

/// The intent of a click or a key, if it is one of ours.
pub fn meant(event: &Event) -> Option<Meant> {
    match event.dyn_ref::<KeyboardEvent>() {
        Some(key) => meant_by_key(key),
        None => meant_by_click(event),
    }
}

fn meant_by_click(event: &Event) -> Option<Meant> {
    let target = event.target()?.dyn_into::<Element>().ok()?;
    let hit = target.closest("[data-go],[data-do],[data-find]").ok()??;
    if let Some(node) = hit.get_attribute("data-go") {
        let what = What::Do(Intent::Go(node.parse().ok()?));
        // A row of the outline or of the next moves leads elsewhere in the text.
        let follow = hit.class_name() != "move";
        return Some(Meant { what, follow });
    }
    if let Some(locator) = hit.get_attribute("data-find") {
        let (what, follow) = (What::Find(locator), true);
        return Some(Meant { what, follow });
    }
    let intent = match hit.get_attribute("data-do")?.as_str() {
        "back" => Intent::Back,
        "next" => Intent::Next(None),
        "top" => Intent::Top,
        "turn" => Intent::Turn,
        _ => return None,
    };
    let (what, follow) = (What::Do(intent), true);
    Some(Meant { what, follow })
}

/// Left and right step back and on; no single letters, and nothing with a modifier key, which
/// belongs to the browser.
fn meant_by_key(key: &KeyboardEvent) -> Option<Meant> {
    if key.alt_key() || key.ctrl_key() || key.meta_key() || key.shift_key() {
        return None;
    }
    let intent = match key.key().as_str() {
        "ArrowLeft" => Intent::Back,
        "ArrowRight" => Intent::Next(None),
        _ => return None,
    };
    let (what, follow) = (What::Do(intent), true);
    Some(Meant { what, follow })
}
