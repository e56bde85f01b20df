//! A recall beside its board: what can be done, and how well each line is held.

use super::map::map_place;
use super::{Element, el};
use crate::view::{RecallView, Word, Words};

fn buttons(
    words: &Words,
    attribute: &'static str,
    list: &[(&'static str, Word)],
    into: Element,
) -> Element {
    into.children(list.iter().map(|&(does, word)| {
        let button = el("button").with("type", "button").with(attribute, does);
        button.text(words.get(word))
    }))
}

/// What a reader can do in a recall besides a move.
pub(super) fn row(words: &Words, recall: &RecallView) -> Element {
    let place = el("div").with("class", "try");
    let place = place.child(el("span").text(&recall.says));
    let does = |into| buttons(words, "data-do", &recall.does, into);
    match recall.is_asked {
        true => does(place),
        // Elsewhere than where a move is awaited: a second click on "go on" must not show it.
        false => {
            let list = does(el("span").with("class", "try"));
            place.child(buttons(words, "data-take", &recall.takes, list))
        }
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
