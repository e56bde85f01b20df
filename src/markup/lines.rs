//! The line list: moves, comments and variations as the text of a book.

use super::diagram::in_text;
#[cfg(not(target_family = "wasm"))]
use super::diagram::{Pictures, in_file};
use super::figure::diagram;
use super::parts::{named, shown};
use super::{Element, el};
use crate::lesson::{LineId, NodeId};
use crate::text::find;
use crate::view::{Block, Diagram, Gist, Kind, LineView, MoveView, Paragraph, Piece, Word, Words};

/// The id of a node's move in the line list.
pub fn move_id(node: NodeId) -> String {
    format!("m{node}")
}

/// The id of a variation in the line list.
pub fn line_id(line: LineId) -> String {
    format!("f{line}")
}

/// Whether nothing is said but when a talk speaks of this.
fn is_times(paragraphs: &[Paragraph]) -> bool {
    paragraphs.iter().all(|it| it.kind == Kind::Times)
}

/// How the text is set: with moves to act on, or plain.
pub(super) struct Text<'a> {
    pub words: &'a Words,
    /// The node on the board.
    pub at: NodeId,
    pub is_plain: bool,
    /// Where the picture of a board is, by the board and its description, if it is a file of its own.
    #[cfg(not(target_family = "wasm"))]
    pub pictures: Option<Pictures<'a>>,
}

impl<'a> Text<'a> {
    pub fn new(words: &'a Words, at: NodeId, is_plain: bool) -> Text<'a> {
        Text {
            words,
            at,
            is_plain,
            #[cfg(not(target_family = "wasm"))]
            pictures: None,
        }
    }

    /// The main line: moves, comments and variations each on lines of their own.
    pub fn main_blocks(&self, line: &LineView) -> Vec<Element> {
        let mut list = Vec::new();
        let mut open: Option<Element> = None; // moves that may go on
        for block in &line.blocks {
            if let Block::Text(paragraphs, _) = block
                && let Some(moves) = open.take_if(|_| is_times(paragraphs))
            {
                // A lesson of which each move is spoken would else have a paragraph for each.
                let pieces = paragraphs.iter().map(|it| self.pieces(&it.pieces));
                open = Some(moves.children(pieces).text(" "));
                continue;
            }
            if !matches!(block, Block::Moves(_)) {
                list.extend(open.take());
            }
            match block {
                Block::Moves(moves) => {
                    let into = open.take();
                    let into = into.unwrap_or_else(|| el("p").with("class", "main"));
                    open = Some(self.push_moves(into, moves));
                }
                Block::Text(paragraphs, of) => {
                    let of = of.as_ref();
                    list.extend(paragraphs.iter().map(|words| self.paragraph(words, of)));
                }
                Block::Ask(prompt, asked) => list.extend(self.question(prompt, asked)),
                Block::Answers(answers) => list.extend(self.answers(answers)),
                Block::Same(to, label) => list.push(self.push_same(el("p"), to, label)),
                Block::Sides(sides, gist) => {
                    let is_away = gist.as_ref().is_some_and(|gist| !gist.is_open);
                    list.extend(gist.as_ref().map(|gist| self.gist(gist)));
                    // A search in the page finds what is folded away.
                    let sides = self.side_lines(sides);
                    list.push(sides.with_if(is_away, "hidden", "until-found"));
                }
                Block::Unread(words) => list.push(self.push_unread(el("p"), words)),
                Block::Diagram(shown) => list.push(diagram(self.words, shown)),
                Block::Still(shown, said) => list.push(self.still(shown, said)),
                Block::Result(result) => {
                    list.push(
                        el("p")
                            .with("class", "main")
                            .child(el("bdi").with("dir", "ltr").text(result)),
                    );
                }
            }
        }
        list.extend(open);
        list
    }

    /// What variations are beside a move; it folds them away and opens them again.
    fn gist(&self, gist: &Gist) -> Element {
        let count = gist.firsts.len().to_string();
        let many = self.words.fill(Word::Lines, &[("count", &count)]);
        let mut button = el("button")
            .with("type", "button")
            .with("data-beside", gist.beside.to_string())
            .with("aria-expanded", if gist.is_open { "true" } else { "false" })
            .text(match gist.firsts.len() {
                1 => self.words.get(Word::OneLine),
                _ => &many,
            });
        for (at, first) in gist.firsts.iter().enumerate() {
            button = button
                .text(if at == 0 { "" } else { ", " })
                .child(shown(first));
        }
        el("p").with("class", "gist").child(button)
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

    /// A variation: moves and comments run on in one paragraph, after its label.
    fn side_blocks(&self, line: &LineView) -> Vec<Element> {
        let mut list = Vec::new();
        let label = self.label(line);
        let mut open = Some(el("p").child(label).text(" ").maybe(self.first_move(line)));
        let start = || el("p");
        let mut left = line.blocks.len();
        let mut is_judged = false;
        for block in &line.blocks {
            left -= 1;
            match block {
                Block::Moves(moves) => {
                    // A sign of the position comes after a space.
                    let last = moves.last();
                    is_judged = last.is_some_and(|last| find(&last.signs, "\u{a0}").is_some());
                    open = Some(self.push_moves(open.take().unwrap_or_else(start), moves));
                }
                Block::Text(paragraphs, of) => {
                    for (index, words) in paragraphs.iter().enumerate() {
                        // A comment's later paragraphs, choices, and the verdict with which the
                        // line ends begin lines of their own.
                        if index > 0 || words.kind == Kind::Choice || (left == 0 && is_judged) {
                            list.extend(open.take());
                            list.push(self.paragraph(words, of.as_ref()));
                        } else {
                            let into = open.take().unwrap_or_else(start);
                            open = Some(self.push_pieces(into, &words.pieces).text(" "));
                        }
                    }
                }
                Block::Ask(prompt, asked) => {
                    list.extend(open.take());
                    list.extend(self.question(prompt, asked));
                }
                Block::Same(to, label) => {
                    let into = open.take().unwrap_or_else(start);
                    open = Some(self.push_same(into, to, label).text(" "));
                }
                Block::Sides(sides, _) => {
                    list.extend(open.take());
                    list.push(self.side_lines(sides));
                }
                Block::Still(shown, said) => {
                    list.extend(open.take());
                    list.push(self.still(shown, said));
                }
                Block::Unread(words) => {
                    let into = open.take().unwrap_or_else(start);
                    open = Some(self.push_unread(into, words).text(" "));
                }
                Block::Result(_) | Block::Diagram(_) | Block::Answers(_) => {}
            }
        }
        list.extend(open);
        list
    }

    /// The first move of a variation that begins with words: without it the folded variation would
    /// show no move.
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

    fn still(&self, shown: &Diagram, said: &[Piece]) -> Element {
        let said = (!said.is_empty()).then(|| self.push_pieces(el("figcaption"), said));
        #[cfg(not(target_family = "wasm"))]
        if let Some(pictures) = self.pictures {
            return in_file(self.words, shown, said, pictures);
        }
        in_text(self.words, shown, said)
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

    /// Where else the lesson has the same position.
    fn push_same(&self, into: Element, to: &MoveView, label: &str) -> Element {
        let (before, after) = self.words.around(Word::SameAs, "{move}");
        let moved = match self.is_plain {
            true => shown(to),
            false => el("button")
                .with("type", "button")
                .with("class", "to")
                .with("data-go", to.node.to_string())
                .child(shown(to)),
        };
        let into = into.text(before).child(moved).text(after);
        let into = match label.is_empty() {
            true => into,
            false => into
                .text(", ")
                .text(&self.words.fill(Word::Line, &[("label", label)])),
        };
        into.text(".")
    }

    /// Words that were not read: marked when seen, and named when spoken.
    fn push_unread(&self, into: Element, words: &str) -> Element {
        let why = self.words.get(Word::Unread);
        let said = el("span").with("class", "said").text(why).text(": ");
        let unread = el("span").with("class", "unread");
        into.child(said)
            .child(unread.with("title", why.to_owned()).text(words))
    }
}

#[cfg(test)]
mod tests {
    use crate::lesson::given::lesson;
    use crate::markup::{html, lesson as drawn};
    use crate::text::{Findings, Source};
    use crate::view::{State, Words, page};
    use shakmaty::Color;

    /// The line list of a lesson as it is drawn.
    fn lines(text: &str) -> String {
        let (lesson, source) = (lesson(text), Source::new("a", text));
        let state = State::new(&lesson, 0, Color::White);
        let (words, none) = (Words::default(), Findings::default());
        let page = page(&words, &lesson, &state, &none, &source, &[]);
        let html = html(&drawn(&page));
        let from = html.find("<div class=\"lines\"").expect("the lines");
        html.get(from..).unwrap_or_default().to_owned()
    }

    /// A comment after 1.e4 as it is drawn.
    fn comment(written: &str) -> String {
        let html = lines(&format!(
            "1. e4 {{{written}}} e5 2. Nf3 (2. Bc4 Nf6) 2... Nf6 *"
        ));
        let from = html.find("<p><bdi>See ").expect("the comment");
        let more = html.get(from..).unwrap_or_default();
        more.split_inclusive("</p>")
            .next()
            .unwrap_or_default()
            .to_owned()
    }

    #[test]
    fn a_diagram_stands_where_the_author_asks_for_it_with_their_caption_or_the_move() {
        let html = lines(
            "1. e4 {First.\n\nDiagram: The @e5 square.\n\nLast.} e5 (1... c5 {Diagram:} 2. Nf3) *",
        );
        let after = |from: &str| html.split_once(from).expect("it is there").1;
        let own = after("<bdi>First.</bdi></p><figure class=\"still\">");
        let caption = own.split_once("<figcaption>").expect("a caption").1;
        assert!(
            caption.starts_with("<bdi>The <i class=\"mark\">e5"),
            "{caption}"
        );
        assert!(caption.contains("</figcaption></figure><p><bdi>Last."));
        let side = after("c5</bdi></button> </p><figure class=\"still\">");
        let caption = side.split_once("<figcaption>").expect("a caption").1;
        assert!(caption.starts_with("after <b>"), "{caption}");
    }

    #[test]
    fn the_words_with_which_a_variation_ends_after_a_verdict_stand_on_a_line_of_their_own() {
        let html =
            lines("1. e4 e5 (1... c5 {Sharp.} 2. Nf3 $16 {White is better.}) (1... e6 {Solid.}) *");
        assert!(html.contains("</p><p><bdi>White is better."), "{html}");
        assert!(html.contains("</button> <bdi>Solid."), "{html}");
    }

    #[test]
    fn a_link_goes_where_its_locator_says() {
        let button =
            "<p><bdi>See <button type=\"button\" class=\"to\" data-go=\"3\">x</button>.</bdi></p>";
        assert_eq!(comment("See [x](#2.Nf3)."), button);
    }

    #[test]
    fn a_link_that_names_no_place_or_several_is_plain_text() {
        for target in ["#5", "#", "#Nf6", "#2.d4", "page.html"] {
            assert_eq!(
                comment(&format!("See [x]({target}).")),
                "<p><bdi>See x.</bdi></p>",
                "{target}"
            );
        }
    }
}
