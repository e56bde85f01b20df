//! The figure: board, caption, next moves, and the words to step with.

use super::board::board;
use super::{Element, el};
use crate::view::{Figure, MoveView, NextMove, wording};

/// The figure of a lesson. A step redraws it and nothing else.
pub fn figure(figure: &Figure) -> Element {
    let caption = el("figcaption");
    let caption = match &figure.last {
        None => caption.text(wording::START),
        Some(last) => caption
            .text(wording::AFTER)
            .child(el("b").child(shown(last))),
    };
    el("figure")
        .with("class", "figure")
        .with("part", "figure")
        .child(
            el("div")
                .with("class", "stuck")
                .child(board(&figure.board, &figure.description))
                .child(caption.text(figure.turn))
                .child(controls(figure)),
        )
        .maybe(next_moves(&figure.next))
        .child(
            el("p")
                .with("class", "said")
                .with("role", "status")
                .text(&figure.said),
        )
}

/// A move with its number and signs, kept left to right and in one piece.
pub(super) fn shown(shown: &MoveView) -> Element {
    let number = shown.number.as_deref().unwrap_or_default();
    el("bdi")
        .with("dir", "ltr")
        .text(number)
        .text(&shown.san)
        .text(&shown.signs)
}

fn next_moves(moves: &[NextMove]) -> Option<Element> {
    if moves.is_empty() {
        return None;
    }
    let rows = moves.iter().map(|next| {
        let button = el("button")
            .with("type", "button")
            .with("data-go", next.node.to_string())
            .child(el("span").with("class", "label").text(&next.label))
            .text(" ")
            .child(el("b").child(shown(&next.shown)));
        let button = match next.words.is_empty() {
            true => button,
            false => button
                .text(" ")
                .child(el("span").with("class", "words").text(&next.words)),
        };
        el("li").child(button)
    });
    Some(
        el("ol")
            .with("class", "next")
            .with("role", "list")
            .with("aria-label", wording::NEXT_MOVES)
            .children(rows),
    )
}

fn controls(figure: &Figure) -> Element {
    let word = |does: &'static str, word: &'static str, possible: bool| {
        // Not `disabled`: the button would drop the focus of a reader who steps to the end.
        el("button")
            .with("type", "button")
            .with("data-do", does)
            .with("aria-disabled", if possible { "false" } else { "true" })
            .text(word)
    };
    el("div")
        .with("class", "controls")
        .with("role", "group")
        .with("aria-label", wording::CONTROLS)
        .child(word("back", wording::BACK, figure.can_back))
        .child(word("next", wording::NEXT, figure.can_next))
        .child(word("top", wording::TOP, figure.can_back))
        .child(word("turn", wording::TURN, true))
}
