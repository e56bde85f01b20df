//! Where the lines of a text are in the lesson that was made of them.

use crate::lesson::{Lesson, NodeId};
use crate::notation::{Game, ItemKind};
use crate::text::Span;
use shakmaty::Position;

/// Where a line of the text begins.
#[derive(Clone, Copy, Default)]
pub(super) struct LineStart {
    /// The node of the move that it is written beside; none for the main line, and where that
    /// move could not be read.
    pub(super) beside: Option<NodeId>,
    /// The node before its first move; none if that move could not be read.
    pub(super) start: Option<NodeId>,
    /// How far the numbers of the line that it is in are off there.
    pub(super) off: i64,
}

pub(super) fn lines(game: &Game, lesson: &Lesson) -> Vec<LineStart> {
    let mut all = vec![LineStart::default(); game.lines.len()];
    if let Some(main) = all.first_mut() {
        main.start = Some(0);
    }
    if all.len() < 2 {
        return all; // nothing is beside a move
    }
    for ix in 0..game.lines.len() {
        let mut inner = LineStart {
            off: all[ix].off,
            ..LineStart::default()
        };
        let mut written = None;
        for item in &game.lines[ix].items {
            match item.kind {
                ItemKind::Number { number, .. } => written = Some(number),
                ItemKind::Move => {
                    inner.beside = node_at(lesson, item.span);
                    inner.start = inner.beside.and_then(|id| lesson.node(id).parent);
                    let number = written.take().zip(inner.beside);
                    if let Some((number, node)) = number {
                        inner.off = i64::from(number) - number_of(lesson, node);
                    }
                }
                // A line is made before those within it, so its number is below theirs.
                ItemKind::Variation(within) => all[within] = inner,
                ItemKind::Nag(_) | ItemKind::Comment => {}
            }
        }
    }
    all
}

/// The node of the move that is written there.
pub(super) fn node_at(lesson: &Lesson, span: Span) -> Option<NodeId> {
    // Nodes are in the order of the text; the span of node 0 is that of its game.
    let moves = &lesson.nodes[1..];
    let at = moves.partition_point(|node| node.span.from < span.from);
    let node = moves.get(at).filter(|node| node.span == span);
    node.map(|_| at as NodeId + 1)
}

/// The number of the move that leads to a node, whose position before it counts.
pub(super) fn number_of(lesson: &Lesson, id: NodeId) -> i64 {
    let before = lesson.node(lesson.node(id).parent.unwrap_or(id));
    i64::from(before.position.fullmoves().get())
}
