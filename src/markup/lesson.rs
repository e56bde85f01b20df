//! The whole of a lesson: outline, figure, line list.

use super::figure::{diagram, figure, named, panel, shown};
use super::map::map_place;
use super::{Element, el};
use crate::lesson::{LineId, NodeId};
use crate::notation::comment::{Paragraph, Piece, Style};
use crate::view::{Block, LineView, MoveView, OutlineRow, Page, Word, Words, wording};

/// The id of a node's move in the line list.
pub fn move_id(node: NodeId) -> String {
    format!("m{node}")
}

/// The id of a variation in the line list.
pub fn line_id(line: LineId) -> String {
    format!("f{line}")
}

/// The id of a line's row in the outline.
pub fn row_id(line: LineId) -> String {
    format!("o{line}")
}

/// What stands in the shadow root of a lesson.
pub fn lesson(page: &Page) -> Vec<Element> {
    let words = &page.words;
    let text = Text {
        words,
        at: page.at,
        is_plain: false,
    };
    let main = el("div").with("class", "lines").with("part", "lines");
    let drawn = page.map.as_ref().map(|(drawn, way)| (drawn, way.clone()));
    let mut body = el("div")
        .with("class", "lesson")
        .maybe(games(words, &page.games))
        .maybe(outline(words, &page.outline))
        .child(
            el("div")
                .with("class", "margin")
                // It may scroll, and Firefox would make that a tab stop without a name.
                .with("tabindex", "-1")
                .child(figure(words, &page.figure))
                .child(
                    el("div")
                        .with("class", "under")
                        .child(panel(words, &page.figure))
                        .child(map_place(words, drawn)),
                ),
        )
        .child(main.children(text.main_blocks(&page.lines)));
    if !page.notes.is_empty() {
        body = body.child(notes(words, &page.notes));
    }
    vec![body, paper(None)]
}

/// Where the printed form stands; empty but while the page is printed.
pub fn paper(printed: Option<Element>) -> Element {
    el("div").with("class", "paper").maybe(printed)
}

/// The lesson as it is printed: all text, diagrams, nothing to act on.
pub fn plain(words: &Words, lines: &LineView) -> Element {
    let text = Text {
        words,
        at: 0,
        is_plain: true,
    };
    el("div")
        .with("class", "plain")
        .children(text.main_blocks(lines))
}

/// What stands there instead when nothing can be drawn: a sentence, what the checker says, and
/// the element's own content.
pub fn failure(words: &Words, has_content: bool, findings: &[String]) -> Vec<Element> {
    let message = words.get(if has_content {
        Word::Failed
    } else {
        Word::FailedBare
    });
    let mut body = el("div")
        .with("class", "failed")
        .child(el("p").with("role", "status").text(message));
    if !findings.is_empty() {
        body = body.child(notes(words, findings));
    }
    vec![body, el("slot")]
}

/// What the author of a page is told in it.
pub fn notes(words: &Words, notes: &[String]) -> Element {
    el("div")
        .with("class", "notes")
        .with("role", "group")
        .with("aria-label", words.get(Word::Notes).to_owned())
        .child(el("p").child(el("b").text(words.get(Word::Notes))))
        .child(
            el("ul")
                .with("role", "list")
                .children(notes.iter().map(|note| el("li").text(note))),
        )
}

/// The lessons of a text that holds several.
fn games(words: &Words, games: &[(String, bool)]) -> Option<Element> {
    let rows = games.iter().enumerate().map(|(at, (name, is_current))| {
        let number = (at + 1).to_string();
        let name = match name.is_empty() {
            true => words.fill(Word::Game, &[("number", &number)]),
            false => name.clone(),
        };
        let button = el("button")
            .with("type", "button")
            .with("data-game", number);
        el("li").child(
            button
                .with_if(*is_current, "aria-current", "true")
                .text(&name),
        )
    });
    (!games.is_empty()).then(|| {
        el("nav")
            .with("class", "games")
            .with("aria-label", words.get(Word::Games).to_owned())
            .child(el("ol").with("role", "list").children(rows))
    })
}

fn outline(words: &Words, rows: &[OutlineRow]) -> Option<Element> {
    if rows.is_empty() {
        return None;
    }
    let rows = rows.iter().map(|row| {
        let label = named(el("span").with("class", "label"), words, &row.label);
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
            .with("aria-label", words.get(Word::Outline).to_owned())
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

/// How the text is set: with moves to act on, or plain.
struct Text<'a> {
    words: &'a Words,
    at: NodeId,
    is_plain: bool,
}

impl Text<'_> {
    /// The main line: moves, comments and variations each on lines of their own.
    fn main_blocks(&self, line: &LineView) -> Vec<Element> {
        let mut list = Vec::new();
        for block in &line.blocks {
            match block {
                Block::Moves(moves) => {
                    list.push(self.push_moves(el("p").with("class", "main"), moves));
                }
                Block::Text(paragraphs, of) => {
                    let of = of.as_ref();
                    list.extend(paragraphs.iter().map(|words| self.paragraph(words, of)));
                }
                Block::Sides(sides) => list.push(self.side_lines(sides)),
                Block::Unread(words) => list.push(self.push_unread(el("p"), words)),
                Block::Diagram(shown) => list.push(diagram(self.words, shown)),
                Block::Result(result) => {
                    list.push(el("p").with("class", "main").child(el("bdi").text(result)));
                }
            }
        }
        list
    }

    fn side_lines(&self, sides: &[LineView]) -> Element {
        el("ol")
            .with("class", "sides")
            .with("role", "list")
            .children(sides.iter().map(|side| {
                let item = el("li").with_if(side.is_folded, "class", "folded");
                let item = match self.is_plain {
                    true => item,
                    false => item.with("id", line_id(side.line)),
                };
                item.children(self.side_blocks(side))
            }))
    }

    /// A variation: moves and comments run on in one paragraph, behind its label.
    fn side_blocks(&self, line: &LineView) -> Vec<Element> {
        let mut list = Vec::new();
        let label = self.label(line);
        let mut open = Some(el("p").child(label).text(" ").maybe(self.first_move(line)));
        let start = || el("p");
        for block in &line.blocks {
            match block {
                Block::Moves(moves) => {
                    open = Some(self.push_moves(open.take().unwrap_or_else(start), moves));
                }
                Block::Text(paragraphs, of) => {
                    for (index, words) in paragraphs.iter().enumerate() {
                        // A comment's later paragraphs, and choices, begin lines of their own.
                        if index > 0 || words.is_choice {
                            list.extend(open.take());
                            list.push(self.paragraph(words, of.as_ref()));
                        } else {
                            let into = open.take().unwrap_or_else(start);
                            open = Some(self.push_pieces(into, &words.pieces).text(" "));
                        }
                    }
                }
                Block::Sides(sides) => {
                    list.extend(open.take());
                    list.push(self.side_lines(sides));
                }
                Block::Unread(words) => {
                    let into = open.take().unwrap_or_else(start);
                    open = Some(self.push_unread(into, words).text(" "));
                }
                Block::Result(_) | Block::Diagram(_) => {}
            }
        }
        list.extend(open);
        list
    }

    /// The first move of a variation that begins with words: while it is folded it would name none.
    fn first_move(&self, line: &LineView) -> Option<Element> {
        let mut moves = line.blocks.iter().filter_map(|block| match block {
            Block::Moves(moves) => moves.first(),
            _ => None,
        });
        let begins_with_words = matches!(line.blocks.first(), Some(Block::Text(..)));
        let first = moves
            .next()
            .filter(|_| begins_with_words && !self.is_plain)?;
        Some(el("b").with("class", "first").child(shown(first)).text(" "))
    }

    /// The label of a variation folds it and opens it again.
    fn label(&self, line: &LineView) -> Element {
        let (tag, open) = match self.is_plain {
            true => ("span", None),
            false => (
                "button",
                Some(if line.is_folded { "false" } else { "true" }),
            ),
        };
        let label = el(tag).with("class", "label");
        let label = match open {
            Some(open) => label
                .with("type", "button")
                .with("data-fold", line.line.to_string())
                .with("aria-expanded", open),
            None => label,
        };
        named(label, self.words, &line.label)
    }

    fn push_moves(&self, into: Element, moves: &[MoveView]) -> Element {
        if self.is_plain {
            return moves.iter().fold(into, |into, shown_move| {
                into.child(el("b").child(shown(shown_move))).text(" ")
            });
        }
        moves.iter().fold(into, |into, shown_move| {
            let button = el("button")
                .with("type", "button")
                .with("class", "move")
                .with("id", move_id(shown_move.node))
                .with("data-go", shown_move.node.to_string())
                // One tab stop for all moves: the current one, or the first at the start.
                .with(
                    "tabindex",
                    if shown_move.node == self.at.max(1) {
                        "0"
                    } else {
                        "-1"
                    },
                )
                .with_if(shown_move.node == self.at, "aria-current", "step");
            // The space is text: without it copied moves would run together.
            into.child(button.child(shown(shown_move))).text(" ")
        })
    }

    /// A comment's paragraph; a choice names the move it is of.
    fn paragraph(&self, paragraph: &Paragraph, of: Option<&MoveView>) -> Element {
        if !paragraph.is_choice {
            return self.push_pieces(el("p"), &paragraph.pieces);
        }
        let into = el("p")
            .with("class", "choice")
            .child(el("b").text(self.words.get(Word::Choose)))
            .text(": ")
            .maybe(of.map(|of| el("b").child(shown(of))));
        let Some(last) = paragraph.pieces.last() else {
            return into.text(".");
        };
        let into = if of.is_some() { into.text(", ") } else { into };
        let into = self.push_pieces(into, &paragraph.pieces);
        match last.text.trim_end().ends_with(['.', '!', '?', '\u{2026}']) {
            true => into,
            false => into.text("."),
        }
    }

    fn push_pieces(&self, into: Element, pieces: &[Piece]) -> Element {
        pieces.iter().fold(into, |into, piece| {
            if let Some(run) = piece
                .link
                .as_deref()
                .and_then(|link| link.strip_prefix('#'))
            {
                if self.is_plain {
                    return into.text(&piece.text);
                }
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
                None => match &piece.mark {
                    None => element,
                    Some(mark) => {
                        let said = wording::mark_said(self.words, mark);
                        let said =
                            (!said.is_empty()).then(|| el("span").with("class", "said").text(said));
                        element.with("class", "mark").maybe(said)
                    }
                },
            })
        })
    }

    /// Words that were not read: marked for the eye, called so for the ear.
    fn push_unread(&self, into: Element, words: &str) -> Element {
        let why = self.words.get(Word::Unread);
        let said = el("span").with("class", "said").text(why).text(": ");
        let unread = el("span").with("class", "unread");
        into.child(said)
            .child(unread.with("title", why.to_owned()).text(words))
    }
}
