//! The author's words in the text of a lesson: paragraphs, and the pieces that they are made of.

use super::lines::Text;
use super::parts::{marked, shown};
use super::{Element, el};
use crate::notation::comment::passage::Style;
use crate::view::{Does, Kind, MoveView, Named, Paragraph, Piece, Word};

impl Text<'_> {
    /// A comment's paragraph. A choice runs in as in a book: its condition in italics, then the move.
    pub(super) fn paragraph(&self, paragraph: &Paragraph, of: Option<&MoveView>) -> Element {
        match paragraph.kind {
            Kind::Words | Kind::Times | Kind::Caption => {
                return self.push_pieces(el("p"), &paragraph.pieces);
            }
            Kind::Choice => {}
        }
        let marked = marked(self.words, &paragraph.pieces, false);
        let mut pieces = paragraph.pieces.clone();
        if let Some(last) = pieces.last_mut() {
            let end = last.text.trim_end().trim_end_matches('.').len();
            last.text.truncate(end);
        }
        let when = match pieces.last() {
            Some(_) => el("em").child(self.pieces(&pieces)),
            None => el("em").text(self.words.get(Word::Choice)),
        };
        // A sign that ends the condition stands for the colon.
        let between = match pieces.last() {
            Some(last) if last.text.ends_with(['!', '?', '\u{2026}']) => " ",
            _ => ": ",
        };
        let into = el("p").with("class", "choice").child(when);
        match of {
            Some(of) => into.text(between).child(el("b").child(shown(of))),
            None => into.text("."),
        }
        .maybe(marked)
    }

    /// Puts an author's words into an element, in a direction of their own: in a page that is read from
    /// the right the full stop of an English sentence would be on the wrong side. What the marks say is heard after it.
    pub(super) fn push_pieces(&self, into: Element, pieces: &[Piece]) -> Element {
        into.child(self.pieces(pieces))
            .maybe(marked(self.words, pieces, true))
    }

    pub(super) fn pieces(&self, pieces: &[Piece]) -> Element {
        pieces
            .iter()
            .fold(el("bdi"), |into, piece| self.push_piece(into, piece))
    }

    fn push_piece(&self, into: Element, piece: &Piece) -> Element {
        let text = piece.text.as_str();
        let button = || el("button").with("type", "button").with("class", "to");
        let element = match (&piece.does, piece.style) {
            (Does::LeadsTo(_) | Does::Names(_), _) if self.is_plain => return into.text(text),
            (Does::Says, Style::Plain) => return into.text(text),
            (Does::Says, Style::Emphasis) => el("em").text(text),
            (Does::Says, Style::Strong) => el("strong").text(text),
            (Does::LeadsTo(node), _) => button().with("data-go", node.to_string()).text(text),
            (Does::Names(named), _) => {
                let button = match named {
                    Named::Node(node) => button().with("data-go", node.to_string()),
                    Named::Beside(run, by) => {
                        let button = button().with("data-find", run.clone());
                        button.with("data-by", by.to_string())
                    }
                };
                button.child(el("bdi").with("dir", "ltr").text(text))
            }
            (Does::LeadsOut(address), _) => {
                let link = el("a").text(text).with("href", address.clone());
                link.with("rel", "noopener")
            }
            (Does::Marks(_), _) => el("i").text(text).with("class", "mark"),
        };
        into.child(element)
    }
}
