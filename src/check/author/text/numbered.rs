//! The moves of a text that have numbers or could not be read, beside the positions before them.

use super::Text;
use super::line_starts::node_at;
use crate::lesson::{NodeId, dots};
use crate::notation::{ItemKind, LineIx};
use crate::text::Span;
use shakmaty::{Color, Position};

/// A move that has a number, or could not be read.
pub(super) struct Numbered {
    pub(super) line: LineIx,
    /// Where its number is; its word, if it has none.
    pub(super) span: Span,
    pub(super) word: Span,
    /// The number and its dots, where it has one.
    pub(super) written: Option<(i64, u32)>,
    /// The node that it was read at.
    pub(super) at: NodeId,
    /// The number and the side that it has by the order of the moves.
    pub(super) right: i64,
    pub(super) turn: Color,
    pub(super) is_first: bool,
}

impl Numbered {
    /// How far its number is off, where it says the side that is to move.
    pub(super) fn off(&self) -> Option<i64> {
        let (number, dots) = self.written?;
        ((dots > 1) == self.turn.is_black()).then_some(number - self.right)
    }

    /// `5.` or `4...`
    pub(super) fn right(&self) -> String {
        format!("{}{}", self.right, dots(self.turn))
    }
}

/// All of them, in the order of the text; what comes after a move that could not be read is not
/// among them.
pub(super) fn numbered(text: &Text) -> Vec<Numbered> {
    let lesson = text.lesson;
    let mut list = Vec::new();
    for (line, (written, start)) in text.game.lines.iter().zip(&text.starts).enumerate() {
        let mut at = start.start;
        let (mut number, mut is_first) = (None, true);
        for item in &written.items {
            match item.kind {
                ItemKind::Number {
                    number: value,
                    dots,
                } => {
                    number = Some((item.span, (i64::from(value), dots)));
                }
                ItemKind::Move => {
                    let Some(before) = at else {
                        break; // after what could not be read
                    };
                    let position = &lesson.node(before).position;
                    at = node_at(lesson, item.span);
                    let number = number.take();
                    if number.is_some() || at.is_none() {
                        list.push(Numbered {
                            line,
                            span: number.map_or(item.span, |(span, _)| span),
                            word: item.span,
                            written: number.map(|(_, written)| written),
                            at: before,
                            right: i64::from(position.fullmoves().get()),
                            turn: position.turn(),
                            is_first,
                        });
                    }
                    is_first = false;
                }
                _ => {}
            }
        }
    }
    list
}
