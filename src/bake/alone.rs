//! Other words for paragraphs of what is drawn.

use crate::markup::{Element, Markup};

/// Puts other words in the place of a text below an element that is all that its own element holds, where there are any
/// for it.
pub fn say(it: &mut Element, words: &dyn Fn(&str) -> Option<String>) {
    let is_alone = it.children.len() == 1;
    for child in &mut it.children {
        match child {
            Markup::Element(child) => say(child, words),
            Markup::Text(text) if is_alone => {
                if let Some(said) = words(text) {
                    *text = said;
                }
            }
            Markup::Text(_) => {}
        }
    }
}
