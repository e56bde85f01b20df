//! The figure: board with its grid, caption, spoken text, next moves, buttons to step with.

use super::parts::{button, captioned, labelled, link, shown};
use super::picture::board::board;
use super::recall::{account, row};

use super::{Element, el};
use crate::lesson::rules::square_name;
use crate::text::Listed;
use crate::view::actions::QUESTIONS;
use crate::view::{Action, AskingView, Figure, NextMove, Word, Words};

/// The figure of a lesson. A step redraws it and nothing else.
pub fn figure(words: &Words, shown: &Figure) -> Element {
    stepped(words, shown, &mut Vec::new())
}

/// The same after a step: rows of the grid that are drawn already are those that are there, for most of a step's work is in
/// their cells. `rows` holds what is drawn, nothing where that is not known, and then the rows of this figure.
pub fn stepped(words: &Words, figure: &Figure, rows: &mut Vec<Element>) -> Element {
    let plate = el("div")
        .with("class", "plate")
        .child(board(&figure.board, None))
        .child(grid(words, figure, rows))
        .maybe(figure.promotes.then(|| promotion(words)));
    let class = match (figure.is_shut, figure.is_aside) {
        (false, false) => "figure",
        (true, false) => "figure shut",
        (false, true) => "figure aside",
        (true, true) => "figure shut aside",
    };
    el("figure")
        .with("class", class)
        .with("part", "figure")
        .child(plate)
        .child(caption(words, figure))
        .child(controls(words, figure))
        .child(
            el("div")
                .with("class", "onward")
                .maybe(next_moves(words, figure))
                .maybe(
                    figure
                        .asking
                        .as_ref()
                        .and_then(|asking| asked(words, asking, figure.is_aside)),
                )
                .maybe(figure.recall.as_ref().map(|recall| row(words, recall))),
        )
}

/// What is under the figure: the field for moves and questions while it is open, and what
/// is answered. On narrow pages it lies over the text, at the board.
pub fn panel(words: &Words, figure: &Figure) -> Element {
    // The summary begins with it.
    let stays = figure.recall.as_ref().is_some_and(|it| it.map.is_some());
    let is_remarked = !figure.remark.is_empty();
    // For the script that writes the lesson: what it shows is at the board, and stays there.
    let writing = (!figure.is_apart).then(|| el("slot").with("name", "writing"));
    el("div")
        .with("class", "panel")
        .maybe(writing)
        // Always there, so that the region after it stays the same node.
        .child(desk(words, figure))
        .child(
            el("div")
                .with("class", if figure.is_notice { "notice" } else { "said" })
                .child(
                    el("p")
                        .with("role", "status")
                        .with_if(is_remarked, "class", "said")
                        .text(&figure.said),
                )
                .maybe(is_remarked.then(|| el("p").text(&figure.remark)))
                .maybe((figure.is_notice && !stays).then(|| button(words, Action::Close))),
        )
        .maybe(figure.has_desk.then(|| takes(words)))
        .maybe(figure.recall.as_ref().map(|recall| account(words, recall)))
}

/// A board with its caption and nothing to act on, as it is printed.
pub(super) fn diagram(words: &Words, figure: &Figure) -> Element {
    el("figure")
        .with("class", "diagram")
        .child(board(&figure.board, Some(&figure.description)))
        .child(caption(words, figure))
}

fn caption(words: &Words, figure: &Figure) -> Element {
    let word = match (figure.is_aside, figure.is_against) {
        (_, true) => Word::AgainstAfter,
        (true, _) if figure.told.is_some() => Word::ToldAfter,
        (true, _) => Word::AsideAfter,
        _ => Word::After,
    };
    let at = figure.told.as_deref().unwrap_or_default();
    captioned(words, word, &figure.last, at, &figure.turn)
}

/// Whether a question waits for a move.
fn waits(figure: &Figure) -> bool {
    figure.asking.as_ref().is_some_and(|asking| asking.is_open)
}

/// The grid over the board: one tab stop, each cell named.
fn grid(words: &Words, figure: &Figure, drawn: &mut Vec<Element>) -> Element {
    let rows = figure.cells.chunks(8).map(|row| {
        el("div")
            .with("role", "row")
            .children(row.iter().map(|(square, name)| {
                let has_stop = *square == figure.cursor;
                el("div")
                    .with("role", "gridcell")
                    .with("data-square", square_name(*square))
                    .with("tabindex", if has_stop { "0" } else { "-1" })
                    .with("aria-label", name.clone())
                    .with_if(figure.board.held == Some(*square), "aria-selected", "true")
            }))
    });
    let rows: Vec<Element> = rows.listed();
    let mut kept = Vec::new();
    for (at, row) in rows.iter().enumerate() {
        kept.push(match drawn.get(at) == Some(row) {
            true => Element::kept(),
            false => row.clone(),
        });
    }
    *drawn = rows;
    let mut name = words.get(Word::Board).to_owned();
    if !figure.name.is_empty() {
        name.push_str(": ");
        name.push_str(&figure.name);
    }
    // Arrow keys go as the board is seen.
    if figure.board.side.is_black() {
        name.push_str(". ");
        name.push_str(words.get(Word::BlackBelow));
    }
    el("div")
        .with("class", "grid")
        .with("role", "grid")
        .with("aria-label", name)
        .children(kept)
}

/// What a pawn becomes.
fn promotion(words: &Words) -> Element {
    let choices = [
        ("q", Word::Queen),
        ("r", Word::Rook),
        ("b", Word::Bishop),
        ("n", Word::Knight),
    ];
    el("div")
        .with("class", "promotion")
        .with("role", "group")
        .with("aria-label", words.get(Word::Promotion).to_owned())
        .child(el("span").text(words.get(Word::Promotion)).text(" "))
        .children(choices.map(|(letter, word)| {
            el("button")
                .with("type", "button")
                .with("data-becomes", letter)
                .text(words.get(word))
        }))
}

fn next_moves(words: &Words, figure: &Figure) -> Option<Element> {
    let list = |word: Word| {
        el("ol")
            .with("class", "next")
            .with("role", "list")
            .with("aria-label", words.get(word).to_owned())
    };
    if let Some(home) = &figure.rejoin {
        let back = el("span")
            .with("class", "label")
            .text(words.get(Word::BackTo));
        return Some(list(Word::LineEnds).child(next_row(words, home, back, here(home))));
    }
    if figure.next.is_empty() {
        return None;
    }
    let rows = figure.next.iter().map(|next| {
        let label = labelled(words, next.label.as_deref().unwrap_or_default());
        next_row(words, next, label, here(next))
    });
    Some(list(Word::NextMoves).children(rows))
}

/// What a reader can do with a question besides a move.
fn asked(words: &Words, asking: &AskingView, is_aside: bool) -> Option<Element> {
    let place = el("div").with("class", "try");
    let place = match (asking.is_open, asking.can_repeat) {
        (true, _) => place
            .maybe((!is_aside).then(|| el("span").text(words.get(Word::YourMove))))
            .child(button(words, Action::Hint))
            .child(button(words, Action::Show)),
        (false, true) => place.child(button(words, Action::Again)),
        (false, false) => return None,
    };
    Some(
        place.maybe(asking.stands.as_ref().map(|(there, start, run)| {
            let label = el("span").with("class", "label").text("\u{2192}");
            let list = el("ol").with("class", "next").with("role", "list");
            let row = match start.is_empty() {
                true => here(there),
                false => link(start, run, there.node),
            };
            list.child(next_row(words, there, label, row))
        })),
    )
}

/// A button that leads to a place on the board.
fn here(next: &NextMove) -> Element {
    el("button")
        .with("type", "button")
        .with("data-go", next.node.to_string())
}

/// A row that leads to a place, by this button or link.
fn next_row(words: &Words, next: &NextMove, label: Element, row: Element) -> Element {
    let to = match &next.shown {
        Some(next) => shown(next),
        None => el("span").text(words.get(Word::Start)),
    };
    let row = row.child(label).text(" ").child(el("b").child(to));
    let row = match next.words.is_empty() {
        true => row,
        false => row
            .text(" ")
            .child(el("span").with("class", "words").text(&next.words)),
    };
    el("li").child(row)
}

fn controls(words: &Words, figure: &Figure) -> Element {
    let word = |action: Action, possible: bool| {
        // Not `disabled`: the button would drop the focus of a reader who steps to the end.
        button(words, action).with("aria-disabled", if possible { "false" } else { "true" })
    };
    let next = word(Action::Next, figure.can_next);
    // Why it does nothing there.
    let next = match waits(figure) && !figure.is_aside {
        true => next.with("title", words.get(Word::YourMove).to_owned()),
        false => next,
    };
    let opens = |action: Action, is_open: bool| {
        let expanded = if is_open { "true" } else { "false" };
        word(action, true).with("aria-expanded", expanded)
    };
    let fold = match figure.is_shut {
        true => Action::Unfold,
        false => Action::Fold,
    };
    let steps = [
        word(Action::Back, figure.can_back),
        next,
        word(Action::Top, figure.can_back),
    ];
    let map = figure.has_map.map(|is_open| opens(Action::Map, is_open));
    let others = [
        Some(word(Action::Turn, true)),
        map,
        Some(opens(Action::Desk, figure.has_desk)),
        // Only narrow pages show it: there the board stays over the text.
        Some(word(fold, true).with("class", "fold")),
    ];
    let others = others.into_iter().flatten();
    let rests = figure.is_apart && !figure.can_back && !figure.can_next;
    let controls = el("div")
        .with("class", if rests { "controls rest" } else { "controls" })
        .with("role", "group")
        .with("aria-label", words.get(Word::Controls).to_owned());
    // The step buttons of a quiz are hidden while there is nowhere to step to. They are last, so
    // nothing moves when they appear.
    let controls = match figure.is_apart {
        true => controls.children(others).children(steps),
        // The last two are shown only where the board has left its place to follow the reader.
        false => controls
            .children(steps)
            .children(others)
            .child(
                button(words, Action::CopyLink).with("title", words.get(Word::LinkHere).to_owned()),
            )
            .child(button(words, Action::InText))
            .child(button(words, Action::Leave)),
    };
    match figure.is_aside {
        true if waits(figure) => controls.child(word(Action::ToQuestion, true)),
        true => controls.child(word(Action::Home, true)),
        false => controls,
    }
}

/// Where moves and questions are typed or chosen; empty while it is closed.
fn desk(words: &Words, figure: &Figure) -> Element {
    let place = el("div").with("class", "desk");
    if !figure.has_desk {
        return place;
    }
    let field = el("input")
        .with("type", "text")
        .with("class", "typed")
        .with("autocomplete", "off")
        .with("autocapitalize", "off")
        .with("spellcheck", "false")
        .with("aria-label", words.get(Word::Field).to_owned())
        .with("placeholder", words.get(Word::Desk).to_owned());
    let enter = button(words, Action::Enter);
    let questions = QUESTIONS.map(|action| el("li").child(button(words, action)));
    let aloud = match figure.is_aloud {
        true => Action::Quiet,
        false => Action::Aloud,
    };
    // A question or a recall has no text beside it, and all comments are read.
    let aloud = (!figure.is_apart).then(|| el("li").child(button(words, aloud)));
    place
        .child(el("p").child(field).text(" ").child(enter))
        .child(el("p").with("class", "words").text(words.get(Word::ByHand)))
        .child(
            listed(words, Word::Questions)
                .children(questions)
                .maybe(aloud),
        )
}

/// What can be taken along.
fn takes(words: &Words) -> Element {
    let takes = [Action::CopyFen, Action::CopyPgn, Action::SavePgn];
    let takes = takes.map(|action| el("li").child(button(words, action)));
    listed(words, Word::Take).children(takes)
}

fn listed(words: &Words, word: Word) -> Element {
    el("ul")
        .with("role", "list")
        .with("aria-label", words.get(word).to_owned())
}
