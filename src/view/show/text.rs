//! What the author says, as it is shown: paragraphs of pieces, each with what it does.

use crate::lesson::{Lesson, NodeId};
use crate::notation::comment::keyword::Lead;
use crate::notation::comment::mark::Mark;
use crate::notation::comment::passage::{self, Passage, Style};
use crate::text::typeset;

/// A paragraph.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Paragraph {
    /// What it is; the word that says so is not in it.
    pub kind: Kind,
    /// Its stretches; none if nothing follows that word.
    pub pieces: Vec<Piece>,
}

/// What a paragraph is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Words.
    Words,
    /// When to choose the move before it.
    Choice,
    /// When a talk speaks of this.
    Times,
    /// Of a still diagram, which stands there; without words it has the one that tells the move.
    Caption,
}

/// A stretch of a paragraph.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Its words; never empty.
    pub text: String,
    /// How they are set.
    pub style: Style,
    /// What it does.
    pub does: Does,
}

/// What a piece does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Does {
    /// Nothing: words, also those of a link that leads nowhere.
    Says,
    /// It points at squares of the board.
    Marks(Mark),
    /// The author's link to a web address, `http` or `https`.
    LeadsOut(String),
    /// The author's link to a node of the lesson.
    LeadsTo(NodeId),
    /// A move that the sentence names: the position after it.
    Names(Named),
}

/// The position after a move that a sentence names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Named {
    /// A node of the lesson.
    Node(NodeId),
    /// One beside the lesson: the run of its address, and the node of the comment.
    Beside(String, NodeId),
}

/// A passage of a lesson's comment as it is shown.
pub(crate) fn paragraphs(lesson: &Lesson, passage: &Passage) -> Vec<Paragraph> {
    shown(Some(lesson), passage)
}

/// The prompt beside a board; links to positions lead nowhere there, and no talk is followed.
pub fn prompt(passage: &Passage) -> Vec<Paragraph> {
    let mut list = shown(None, passage);
    list.retain(|it| it.kind != Kind::Times);
    list
}

fn shown(lesson: Option<&Lesson>, passage: &Passage) -> Vec<Paragraph> {
    let mut list = Vec::new();
    for paragraph in passage.paragraphs() {
        let kind = match paragraph.lead {
            None if paragraph.is_heard() => Kind::Times,
            None => Kind::Words,
            Some(Lead::Choose) => Kind::Choice,
            Some(Lead::InShort) => continue, // the recap's
            Some(Lead::Diagram) => Kind::Caption,
        };
        let mut pieces: Vec<Piece> = Vec::new();
        for piece in paragraph.pieces() {
            let does = match piece.does {
                passage::Does::Marks(mark) => Does::Marks(mark),
                passage::Does::Links(passage::Link::Web(to)) => Does::LeadsOut(to.to_owned()),
                passage::Does::Links(passage::Link::Locator { span, .. }) => {
                    let node = lesson.and_then(|lesson| lesson.linked(span));
                    node.map_or(Does::Says, Does::LeadsTo)
                }
                passage::Does::Says
                | passage::Does::MarksNothing
                | passage::Does::LinksNowhere { .. } => Does::Says,
            };
            match pieces.last_mut() {
                Some(last)
                    if last.style == piece.style
                        && last.does == Does::Says
                        && does == Does::Says =>
                {
                    last.text.push_str(&typeset(&piece.text));
                }
                _ => pieces.push(Piece {
                    text: typeset(&piece.text),
                    style: piece.style,
                    does,
                }),
            }
        }
        list.push(Paragraph { kind, pieces });
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::given::lesson;

    /// What the pieces of the comment after 1.e4 do.
    fn does(comment: &str) -> Vec<(String, Does)> {
        let lesson = lesson(&format!(
            "1. e4 {{{comment}}} e5 2. Nf3 (2. Bc4 Nf6) 2... Nf6 *"
        ));
        let said = lesson.node(1).comments[0].told().expect("no question");
        let pieces = paragraphs(&lesson, said)
            .into_iter()
            .flat_map(|it| it.pieces);
        pieces.map(|piece| (piece.text, piece.does)).collect()
    }

    #[test]
    fn a_link_leads_to_the_node_that_its_locator_names() {
        let wanted = [("x".to_owned(), Does::LeadsTo(3))];
        assert_eq!(does("[x](#2.Nf3)"), wanted);
        assert_eq!(does("[x](#start)"), [("x".to_owned(), Does::LeadsTo(0))]);
    }

    #[test]
    fn a_link_that_names_no_place_or_several_is_no_more_than_its_words() {
        for target in [
            "#5",
            "#",
            "#2.Nc3",
            "#Nf6",
            "#0",
            "javascript:alert(1",
            "page.html",
        ] {
            let found = does(&format!("See [x]({target})."));
            assert_eq!(found, [("See x.".to_owned(), Does::Says)], "{target}");
        }
    }

    #[test]
    fn a_web_address_leads_out() {
        let address = "https://example.org/#5";
        let wanted = [("x".to_owned(), Does::LeadsOut(address.to_owned()))];
        assert_eq!(does(&format!("[x]({address})")), wanted);
    }
}
