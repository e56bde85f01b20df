//! A recall beside its board: what can be done, how well each line is remembered, and what is kept.

use super::parts::{button, labelled, link, run, shown};
use super::picture::map::map_place;
use super::{Element, el};
use crate::view::{Action, HeldView, PlaceView, RecallView, Word, Words};

/// What a reader can do in a recall at the board besides a move.
pub(crate) fn row(words: &Words, recall: &RecallView) -> Element {
    let place = el("div").with("class", "try");
    let place = place.child(el("span").text(&recall.says));
    if recall.is_asked {
        return buttons(place, words, recall.steps);
    }
    // Each in an element of its own kind, so that none of its buttons becomes one of another: a
    // second click on "go on" must not show the move, nor begin again, and one on "again" not show.
    let more = el(if recall.is_over { "div" } else { "span" }).with("class", "try");
    let more = buttons(more, words, recall.steps);
    let keeps = match recall.map {
        Some(_) => &[], // they come after the summary
        None => &recall.keeps[..],
    };
    place.child(buttons(more, words, keeps))
}

fn buttons(mut into: Element, words: &Words, actions: &[Action]) -> Element {
    for &action in actions {
        // No other button in its place: it may have the focus, and may be clicked a second time.
        let is_done = action == Action::Remembered;
        into = into.child(button(words, action).with_if(is_done, "aria-disabled", "true"));
    }
    into
}

/// What is below the text about a try: how well each line is remembered, in words and on the map;
/// what can be kept, and what happened to it.
pub(crate) fn account(words: &Words, recall: &RecallView) -> Element {
    let mut place = el("div").with("class", "account");
    if let Some((drawn, way)) = &recall.map {
        let mut list = el("ul").with("class", "held").with("role", "list");
        for line in &recall.held {
            list = list.child(held(words, recall, line));
        }
        let drawn = Some((drawn, way.clone()));
        place = place
            .child(list)
            .child(map_place(words, drawn, Word::HeldKey));
    }
    let keeps = el("div").with("class", "try");
    let note = el("p").with("role", "status").text(&recall.note);
    place
        .child(match recall.map {
            Some(_) => buttons(keeps, words, &recall.keeps),
            None => keeps,
        })
        .child(note.with_if(recall.is_note_heard, "class", "said"))
}

fn held(words: &Words, recall: &RecallView, line: &HeldView) -> Element {
    let start = &recall.start;
    let mut name = there(start, &line.first).child(labelled(words, &line.label));
    name = name.text(" ");
    if line.is_before && line.first.shown.is_some() {
        name = name.text(words.get(Word::RecapAfter)).text(" ");
    }
    let row = el("li")
        .child(run(name, line.first.shown.as_slice()))
        .text(" ");
    let mut row = row.child(el("span").text(&line.count));
    if !line.again.is_empty() {
        let mut again = el("p").text(words.get(Word::ToCome));
        for (at, place) in line.again.iter().enumerate() {
            let name = there(start, place);
            let name = match &place.shown {
                Some(last) => name.child(shown(last)),
                None => name.text(words.get(Word::Start)),
            };
            again = again.text(if at > 0 { "; " } else { "" }).child(name);
        }
        row = row.child(again);
    }
    row
}

/// A link to a place, if the lesson is elsewhere on the page.
fn there(start: &str, place: &PlaceView) -> Element {
    match start.is_empty() {
        true => el("span"),
        false => link(start, &place.address, place.node),
    }
}
