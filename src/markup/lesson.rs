//! The whole of a lesson: outline, figure, line list.

use super::figure::{figure, shown};
use super::{Element, el};
use crate::lesson::{LineId, NodeId};
use crate::notation::comment::{Paragraph, Piece, Style};
use crate::view::{Block, LineView, MoveView, OutlineRow, Page, wording};

/// The id of a node's move in the line list.
pub fn move_id(node: NodeId) -> String {
    format!("m{node}")
}

/// The id of a line's row in the outline.
pub fn row_id(line: LineId) -> String {
    format!("o{line}")
}

/// What stands in the shadow root of a lesson.
pub fn lesson(page: &Page) -> Vec<Element> {
    let main = el("div").with("class", "lines").with("part", "lines");
    let mut body = el("div")
        .with("class", "lesson")
        .maybe(outline(&page.outline))
        .child(figure(&page.figure))
        .child(main.children(main_blocks(&page.lines, page.at)));
    if !page.notes.is_empty() {
        body = body.child(notes(&page.notes));
    }
    vec![body]
}

/// What stands there instead when nothing can be drawn: a sentence, what the checker says, and
/// the element's own content.
pub fn failure(message: &str, findings: &[String]) -> Vec<Element> {
    let mut body = el("div")
        .with("class", "failed")
        .child(el("p").with("role", "status").text(message));
    if !findings.is_empty() {
        body = body.child(notes(findings));
    }
    vec![body, el("slot")]
}

fn notes(notes: &[String]) -> Element {
    el("div")
        .with("class", "notes")
        .with("role", "group")
        .with("aria-label", wording::NOTES)
        .child(el("p").child(el("b").text(wording::NOTES)))
        .child(
            el("ul")
                .with("role", "list")
                .children(notes.iter().map(|note| el("li").text(note))),
        )
}

fn outline(rows: &[OutlineRow]) -> Option<Element> {
    if rows.is_empty() {
        return None;
    }
    let rows = rows.iter().map(|row| {
        let label = el("span").with("class", "label").text(&row.label);
        let button = el("button")
            .with("type", "button")
            .with("id", row_id(row.line))
            .with("data-go", row.first.node.to_string())
            .with_if(row.is_current, "aria-current", "true")
            .child(label)
            .text(" ")
            .child(shown(&row.first));
        let item = el("li").with("class", depth(row.depth)).child(button);
        match row.words.is_empty() {
            true => item,
            false => item
                .text(" ")
                .child(el("span").with("class", "words").text(&row.words)),
        }
    });
    Some(
        el("div")
            .with("class", "outline")
            .with("role", "group")
            .with("part", "outline")
            .with("aria-label", wording::OUTLINE)
            .child(el("ol").with("role", "list").children(rows)),
    )
}

/// Indentation by class, for a style attribute is forbidden under a strict policy. Deeper than
/// four the indentation stays, for the label tells the rest.
fn depth(depth: u32) -> &'static str {
    match depth {
        0 | 1 => "d1",
        2 => "d2",
        3 => "d3",
        _ => "d4",
    }
}

/// The main line: moves, comments and variations each on lines of their own.
fn main_blocks(line: &LineView, at: NodeId) -> Vec<Element> {
    let mut list = Vec::new();
    for block in &line.blocks {
        match block {
            Block::Moves(moves) => {
                list.push(push_moves(el("p").with("class", "main"), moves, at));
            }
            Block::Text(paragraphs) => list.extend(paragraphs.iter().map(paragraph)),
            Block::Sides(sides) => list.push(side_lines(sides, at)),
            Block::Unread(words) => list.push(el("p").child(unread(words))),
            Block::Result(result) => {
                list.push(el("p").with("class", "main").child(el("bdi").text(result)));
            }
        }
    }
    list
}

fn side_lines(sides: &[LineView], at: NodeId) -> Element {
    el("ol")
        .with("class", "sides")
        .with("role", "list")
        .children(
            sides
                .iter()
                .map(|side| el("li").children(side_blocks(side, at))),
        )
}

/// A variation: moves and comments run on in one paragraph, behind its label.
fn side_blocks(line: &LineView, at: NodeId) -> Vec<Element> {
    let mut list = Vec::new();
    let label = el("span")
        .with("class", "label")
        .child(el("span").with("class", "said").text(wording::LINE))
        .text(&line.label);
    let mut open = Some(el("p").child(label).text(" "));
    let start = || el("p");
    for block in &line.blocks {
        match block {
            Block::Moves(moves) => {
                open = Some(push_moves(open.take().unwrap_or_else(start), moves, at));
            }
            Block::Text(paragraphs) => {
                for (index, words) in paragraphs.iter().enumerate() {
                    // A comment's later paragraphs, and choices, begin lines of their own.
                    if index > 0 || words.is_choice {
                        list.extend(open.take());
                        list.push(paragraph(words));
                    } else {
                        let into = open.take().unwrap_or_else(start);
                        open = Some(push_pieces(into, &words.pieces).text(" "));
                    }
                }
            }
            Block::Sides(sides) => {
                list.extend(open.take());
                list.push(side_lines(sides, at));
            }
            Block::Unread(words) => {
                open = Some(
                    open.take()
                        .unwrap_or_else(start)
                        .child(unread(words))
                        .text(" "),
                );
            }
            Block::Result(_) => {}
        }
    }
    list.extend(open);
    list
}

fn push_moves(into: Element, moves: &[MoveView], at: NodeId) -> Element {
    moves.iter().fold(into, |into, shown_move| {
        let button = el("button")
            .with("type", "button")
            .with("class", "move")
            .with("id", move_id(shown_move.node))
            .with("data-go", shown_move.node.to_string())
            // One tab stop for all moves: the current one, or the first at the start.
            .with(
                "tabindex",
                if shown_move.node == at.max(1) {
                    "0"
                } else {
                    "-1"
                },
            )
            .with_if(shown_move.node == at, "aria-current", "step");
        // The space is text: without it copied moves would run together.
        into.child(button.child(shown(shown_move))).text(" ")
    })
}

fn paragraph(paragraph: &Paragraph) -> Element {
    if !paragraph.is_choice {
        return push_pieces(el("p"), &paragraph.pieces);
    }
    let into = el("p")
        .with("class", "choice")
        .child(el("b").text(wording::CHOOSE));
    match paragraph.pieces.is_empty() {
        true => into,
        false => push_pieces(into.text(": "), &paragraph.pieces),
    }
}

fn push_pieces(into: Element, pieces: &[Piece]) -> Element {
    pieces.iter().fold(into, |into, piece| {
        if let Some(run) = piece
            .link
            .as_deref()
            .and_then(|link| link.strip_prefix('#'))
        {
            let button = el("button").with("type", "button").with("class", "to");
            return into.child(button.with("data-find", run.to_owned()).text(&piece.text));
        }
        let tag = match (&piece.link, piece.style, &piece.mark) {
            (Some(_), ..) => "a",
            (_, _, Some(_)) => "i",
            (_, Style::Emphasis, _) => "em",
            (_, Style::Strong, _) => "strong",
            (_, Style::Plain, _) => return into.text(&piece.text),
        };
        let element = el(tag).text(&piece.text);
        into.child(match &piece.link {
            // The parser lets `http` and `https` through and nothing else.
            Some(link) => element.with("href", link.clone()).with("rel", "noopener"),
            None => element.with_if(piece.mark.is_some(), "class", "mark"),
        })
    })
}

fn unread(words: &str) -> Element {
    el("span")
        .with("class", "unread")
        .with("title", wording::UNREAD)
        .text(words)
}
