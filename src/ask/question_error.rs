//! Why there is no question where an author asks one, and what they are told.

use crate::lesson::place::address::address;
use crate::lesson::{Lesson, LocateError, NodeId, Place, Reason};
use crate::text::{Code, Finding, Span, join, limits, quote};

/// Why there is no question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// This locator names no position, or several.
    Place(String, LocateError),
    /// No move is right there: none follows, or only weak ones, and none is accepted. The node,
    /// this reason in words, and the address of the first question that a comment asks, if one
    /// does.
    NoAnswer(NodeId, String, Option<String>),
    /// This word among the accepted moves is not legal there, for this reason; none if it is no
    /// move at all. The last part says where, as in `after 2.Nf3`.
    Accepted(String, Option<Reason>, String),
    /// This is no number of moves.
    Moves(String),
}

impl Fault {
    /// What the author is told; the place is where the fault is written.
    pub fn finding(&self, span: Span) -> Finding {
        match self {
            Fault::Place(locator, error) => error.finding(locator, span),
            Fault::NoAnswer(_, what, asks) => {
                let message = join(&["this question has no answer: ", what], "");
                let mut help = "name the right moves with `accept`".to_owned();
                if let Some(place) = asks {
                    help.push_str(", or name the place where a comment asks: at=\"");
                    help.push_str(place);
                    help.push('"');
                }
                Finding::new(Code::NoAnswer, span, message).with_help(help)
            }
            Fault::Accepted(word, reason, there) => {
                let word = quote(word);
                let Some(reason) = reason else {
                    let message = format!("the accepted \u{201c}{word}\u{201d} is no move");
                    return Finding::new(Code::NotAMove, span, message);
                };
                let why = &reason.message;
                let message = join(
                    &[
                        "the accepted move ",
                        &word,
                        " cannot be played ",
                        there,
                        ": ",
                        why,
                    ],
                    "",
                );
                let mut finding = Finding::new(reason.code, span, message);
                finding.help.clone_from(&reason.help);
                finding
            }
            Fault::Moves(written) => {
                let (written, most) = (quote(written), limits::QUESTION_MOVES);
                let message =
                    format!("\u{201c}{written}\u{201d} is no number of moves to find in a row");
                Finding::new(Code::BadMoves, span, message)
                    .with_help(format!("write a number from 1 to {most}"))
            }
        }
    }
}

/// The finding that no move is right at a node.
pub(crate) fn no_answer(lesson: &Lesson, node: NodeId) -> Fault {
    let mut what = place(lesson, node);
    what.push_str(match lesson.moves(node).next().is_none() {
        true if lesson.line_nodes(0).last() == Some(node) => {
            ", at the end of the main line, no move follows"
        }
        true => " no move follows",
        false => " only weak moves follow",
    });
    let asks = lesson.ids().find(|&id| lesson.asks(id));
    let asks = asks.map(|id| match id {
        0 => "start".to_owned(),
        id => address(lesson, &Place::of(id)),
    });
    Fault::NoAnswer(node, what, asks)
}

/// The place of a node, in words.
pub(crate) fn place(lesson: &Lesson, node: NodeId) -> String {
    match node {
        0 => "at the start".to_owned(),
        _ => join(&["after ", &lesson.numbered(node)], ""),
    }
}
