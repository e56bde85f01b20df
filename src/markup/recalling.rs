//! A recall beside its board: what can be done, and how well each line is held.

use super::map::map_place;
use super::{Element, el};
use crate::view::{DOES, RecallView, Word, Words};

/// What a reader can do in a recall besides a move.
pub(super) fn row(words: &Words, recall: &RecallView) -> Element {
    let place = el("div").with("class", "try");
    let mut place = place.child(el("span").text(&recall.says));
    // Elsewhere than where a move is awaited: a second click on "go on" must not show it.
    let mut more = el("span").with("class", "try");
    for (at, &(attribute, name, word)) in DOES.iter().enumerate() {
        if recall.does >> at & 1 == 1 {
            let button = el("button").with("type", "button").with(attribute, name);
            let button = button.text(words.get(word));
            match recall.is_asked {
                true => place = place.child(button),
                false => more = more.child(button),
            }
        }
    }
    match recall.is_asked {
        true => place,
        false => place.child(more),
    }
}

/// How well each line is held: in words, and on the map by its marks and what stands behind them.
pub(super) fn account(words: &Words, recall: &RecallView) -> Option<Element> {
    let (drawn, way) = recall.map.as_ref()?;
    let held = recall.held.iter().map(|line| el("li").text(line));
    let list = el("ul").with("class", "held").with("role", "list");
    let place = map_place(words, Some((drawn, way.clone())), Word::HeldKey);
    Some(el("div").child(list.children(held)).child(place))
}
