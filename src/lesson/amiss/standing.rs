//! Where the lines of a text stand in the lesson that was made of them: for the checker, which
//! looks at both, and not for the page.

use super::super::tree::{Lesson, NodeId};
use crate::notation::{Game, ItemKind, Letters};
use crate::text::{Source, Span};
use shakmaty::Position;

/// The text of a game, and the lesson that was made of it.
pub(super) struct Text<'a> {
    pub(super) source: &'a Source,
    pub(super) game: &'a Game,
    pub(super) lesson: &'a Lesson,
    pub(super) letters: &'a Letters,
    /// Where each line of the game begins.
    pub(super) standing: Vec<Standing>,
}

impl<'a> Text<'a> {
    pub(super) fn new(source: &'a Source, game: &'a Game, lesson: &'a Lesson) -> Text<'a> {
        Text {
            source,
            game,
            lesson,
            letters: lesson.letters(),
            standing: lines(game, lesson),
        }
    }
}

/// Where a line of the text begins.
#[derive(Clone, Copy, Default)]
pub(super) struct Standing {
    /// The node of the move that it is written beside; none for the main line, and where that
    /// move could not be read.
    pub(super) beside: Option<NodeId>,
    /// The node before its first move; none where that move could not be read.
    pub(super) start: Option<NodeId>,
    /// How far the numbers of the line that it is in are off there.
    pub(super) off: i64,
}

fn lines(game: &Game, lesson: &Lesson) -> Vec<Standing> {
    let mut all = vec![Standing::default(); game.lines.len()];
    if let Some(main) = all.first_mut() {
        main.start = Some(0);
    }
    for ix in 0..game.lines.len() {
        let mut inner = Standing {
            off: all[ix].off,
            ..Standing::default()
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
    // Nodes stand in the order of the text; the span of node 0 is that of its game.
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

/// What tests ask: the findings of a text, after a look at its first game.
#[cfg(test)]
pub(super) fn looked(
    text: &str,
    look: impl FnOnce(&Text, &mut crate::text::Findings),
) -> (Source, crate::text::Findings) {
    let source = Source::new("a.pgn", text);
    let (syntax, mut findings) = crate::notation::parse(&source);
    let (lessons, played) = crate::lesson::validate(&source, &syntax);
    findings.extend(played);
    findings.sort();
    let lesson = lessons[0].as_ref().expect("a lesson");
    look(&Text::new(&source, &syntax.games[0], lesson), &mut findings);
    (source, findings)
}
