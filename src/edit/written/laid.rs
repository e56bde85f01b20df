//! Where the parts of a lesson are in its text: the item of each move, and what belongs to it there.

use crate::edit::asked::{Refused, Why};
use crate::lesson::{Attempt, Lesson, NodeId, attempt_typed};
use crate::notation::{Game, Item, ItemKind, LineIx};
use crate::text::{Source, Span};
use std::collections::HashMap;
use std::ops::Range;

/// A lesson with its text.
pub struct Laid<'a> {
    pub source: &'a Source,
    pub game: &'a Game,
    pub lesson: &'a Lesson,
    /// Where the move of each node is; none for the start.
    places: Vec<Option<Place>>,
    /// The node of the move that begins at a byte.
    nodes: HashMap<u32, NodeId>,
    /// The item that each line of the text is beside, as a variation.
    beside: Vec<Option<Place>>,
}

/// An item of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    pub line: LineIx,
    pub item: usize,
}

impl<'a> Laid<'a> {
    pub fn new(source: &'a Source, game: &'a Game, lesson: &'a Lesson) -> Laid<'a> {
        let ids = lesson.ids().skip(1);
        let nodes: HashMap<u32, NodeId> = ids.map(|id| (lesson.node(id).span.from, id)).collect();
        let mut places = vec![None; lesson.nodes.len()];
        let mut beside = vec![None; game.lines.len()];
        for (line, items) in game.lines.iter().map(|it| &it.items).enumerate() {
            let mut last = None;
            for (item, it) in items.iter().enumerate() {
                let place = Place { line, item };
                match it.kind {
                    ItemKind::Move => {
                        last = Some(place);
                        if let Some(&id) = nodes.get(&it.span.from) {
                            places[id as usize] = last; // ids of this lesson
                        }
                    }
                    ItemKind::Variation(ix) => {
                        if let Some(beside) = beside.get_mut(ix) {
                            *beside = last;
                        }
                    }
                    _ => {}
                }
            }
        }
        Laid {
            source,
            game,
            lesson,
            places,
            nodes,
            beside,
        }
    }

    pub fn text(&self) -> &'a str {
        self.source.text()
    }

    pub fn slice(&self, from: u32, to: u32) -> &'a str {
        self.source.slice(Span { from, to })
    }

    pub fn items(&self, line: LineIx) -> &'a [Item] {
        self.game.lines.get(line).map_or(&[], |line| &line.items)
    }

    pub fn item(&self, place: Place) -> Option<Item> {
        self.items(place.line).get(place.item).copied()
    }

    /// Where the move of a node is; none for the start.
    pub fn place(&self, node: NodeId) -> Option<Place> {
        self.places.get(node as usize).copied().flatten()
    }

    /// The node of the move that is this item, if it could be read.
    pub fn node(&self, place: Place) -> Option<NodeId> {
        let item = self.item(place).filter(|it| it.kind == ItemKind::Move)?;
        self.nodes.get(&item.span.from).copied()
    }

    /// The move that a variation is beside.
    pub fn beside(&self, line: LineIx) -> Option<Place> {
        self.beside.get(line).copied().flatten()
    }

    /// The items that belong to the move of a node: after it, up to the next move or its number. For the start those
    /// before the first move.
    pub fn tail(&self, node: NodeId) -> (LineIx, Range<usize>) {
        let (line, from) = match self.place(node) {
            Some(place) => (place.line, place.item + 1),
            None => (0, 0),
        };
        (line, from..self.tail_end(line, from))
    }

    /// Where the items end that belong to the move before this item.
    pub fn tail_end(&self, line: LineIx, from: usize) -> usize {
        let items = self.items(line);
        let rest = items.iter().skip(from);
        let is_next = |it: &Item| matches!(it.kind, ItemKind::Move | ItemKind::Number { .. });
        from + rest.take_while(|it| !is_next(it)).count()
    }

    /// The next move of a line from this item on.
    pub fn next_move(&self, line: LineIx, from: usize) -> Option<Place> {
        let mut rest = self.items(line).iter().enumerate().skip(from);
        let (item, _) = rest.find(|(_, it)| it.kind == ItemKind::Move)?;
        Some(Place { line, item })
    }

    /// The number before a move.
    pub fn number(&self, place: Place) -> Option<Item> {
        let before = Place {
            item: place.item.checked_sub(1)?,
            ..place
        };
        self.item(before)
            .filter(|it| matches!(it.kind, ItemKind::Number { .. }))
    }

    /// Where a move begins, with its number.
    pub fn begin(&self, place: Place) -> u32 {
        let number = self.number(place).or(self.item(place));
        number.map_or(0, |it| it.span.from)
    }

    /// Where all of an item is: the item of a variation is its bracket alone.
    pub fn whole(&self, item: &Item) -> Span {
        match item.kind {
            ItemKind::Variation(ix) => self.game.lines.get(ix).map_or(item.span, |it| it.span),
            _ => item.span,
        }
    }

    /// Where a line ends: after its last item.
    pub fn end(&self, line: LineIx) -> u32 {
        self.items(line).last().map_or(0, |it| self.whole(it).to)
    }

    /// The node at the end of a run of moves from the start.
    ///
    /// # Errors
    /// Where the lesson does not hold it.
    pub fn find(&self, run: &[String]) -> Result<NodeId, Refused> {
        let mut at = 0;
        for (ply, word) in run.iter().enumerate() {
            at = self.child(at, word).ok_or_else(|| {
                let said = run.get(..=ply).unwrap_or_default().join(" ");
                let reason = format!("the lesson does not hold {said}");
                let help = "it was changed elsewhere: read it again";
                Refused::new(Why::PlaceGone, reason, help)
            })?;
        }
        Ok(at)
    }

    /// The node that a move leads to.
    pub fn child(&self, at: NodeId, word: &str) -> Option<NodeId> {
        let node = self.lesson.node(at);
        let mut children = node.children.iter().copied();
        let exact = children.find(|&it| self.lesson.node(it).san.as_str() == word);
        exact.or_else(|| {
            let Attempt::Played(tried) = attempt_typed(&node.position, word, self.lesson.letters())
            else {
                return None;
            };
            let mut children = node.children.iter().copied();
            children.find(|&it| self.lesson.node(it).san.as_str() == tried.san)
        })
    }

    /// Where all of a line is, a variation with its brackets.
    pub fn span(&self, line: LineIx) -> Span {
        let line = self.game.lines.get(line);
        line.map_or(Span::default(), |it| it.span)
    }

    /// Whether a move is the first of a variation.
    pub fn begins_variation(&self, place: Place) -> bool {
        place.line > 0 && self.next_move(place.line, 0) == Some(place)
    }

    /// Refuses what is asked at a variation that has no closing bracket.
    ///
    /// # Errors
    /// Where the line is one.
    pub fn closed(&self, line: LineIx) -> Result<Span, Refused> {
        let span = self.span(line);
        match line == 0 || self.source.slice(span).ends_with(')') {
            true => Ok(span),
            false => Err(Refused::broken("a variation here has no closing bracket")),
        }
    }
}
