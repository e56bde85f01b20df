//! Places that sentences name: a node of a lesson, and the moves after it that the lesson does
//! not hold.

pub mod address;
pub(crate) mod found;
pub mod hints;
pub mod locate;
pub(crate) mod number;
pub(super) mod orders;
pub(super) mod played;
mod sorted;

use super::attempt::Tried;
use super::rules;
use super::tree::{Lesson, NodeId};
use crate::notation::word::san::{Kind, Shape};
use shakmaty::{Chess, Position, Role};

/// The most moves after a lesson's last that are followed; so no text can make a place larger.
const ASIDE: usize = 40;

/// A position that a sentence names: a node, and the moves tried after it that the lesson does
/// not hold.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Place {
    /// The last node of the lesson on the way.
    pub node: NodeId,
    /// The moves after it.
    pub aside: Vec<Tried>,
}

impl Place {
    /// The place of a node.
    pub fn of(node: NodeId) -> Place {
        Place {
            node,
            aside: Vec::new(),
        }
    }

    /// Its position.
    pub(crate) fn position<'a>(&'a self, lesson: &'a Lesson) -> &'a Chess {
        match self.aside.last() {
            Some(tried) => &tried.position,
            None => &lesson.node(self.node).position,
        }
    }

    /// Whether no move after it is followed any more.
    pub(crate) fn is_full(&self) -> bool {
        self.aside.len() >= ASIDE
    }

    /// Goes one move back; false at the start of the lesson.
    pub(crate) fn back(&mut self, lesson: &Lesson) -> bool {
        let parent = lesson.node(self.node).parent;
        let left = self.aside.pop().is_some();
        if !left {
            self.node = parent.unwrap_or(self.node);
        }
        left || parent.is_some()
    }

    /// The place one move back.
    pub(crate) fn before(&self, lesson: &Lesson) -> Option<Place> {
        let mut before = self.clone();
        before.back(lesson).then_some(before)
    }

    /// Whether it is reached from the place before it by such a move.
    pub(crate) fn is_by(&self, lesson: &Lesson, shape: &Shape) -> bool {
        let node = lesson.node(self.node);
        let (before, played) = match self.aside.as_slice() {
            [] => (&lesson.node(node.parent.unwrap_or(0)).position, node.played),
            [tried] => (&node.position, tried.played),
            [.., before, tried] => (&before.position, tried.played),
        };
        rules::resolve(before, shape).is_ok_and(|(resolved, _)| Some(resolved) == played)
    }

    /// The node that such a move leads to from a place in the lesson.
    pub(crate) fn child(&self, lesson: &Lesson, shape: &Shape) -> Option<NodeId> {
        if !self.aside.is_empty() {
            return None;
        }
        let node = lesson.node(self.node);
        let (played, _) = rules::resolve(&node.position, shape).ok()?;
        // No position has more legal moves than 218; after as many, a move given twice is left out.
        let mut children = node.children.iter().copied().take(218);
        children.find(|&child| lesson.node(child).played == Some(played))
    }

    /// The place that such a move leads to, in the lesson or out of it.
    pub(crate) fn after(&self, lesson: &Lesson, shape: &Shape) -> Option<Place> {
        if let Some(child) = self.child(lesson, shape) {
            return Some(Place::of(child));
        }
        if self.is_full() {
            return None;
        }
        let position = self.position(lesson);
        let (played, _) = rules::resolve(position, shape).ok()?;
        let mut place = self.clone();
        place.aside.push(Tried::of(position, played));
        Some(place)
    }

    /// Whether a piece's word says no more than it has to: a capture needs something to capture,
    /// and where the piece comes from is said only where another such piece looks at the square
    /// too, even if it is pinned. Otherwise the word belongs to another position.
    pub(crate) fn can_be_meant(&self, lesson: &Lesson, shape: &Shape) -> bool {
        let Kind::Piece {
            role: Some(role),
            file,
            rank,
            to,
            ..
        } = shape.kind
        else {
            return true;
        };
        let position = self.position(lesson);
        let board = position.board();
        if role != Role::Pawn && shape.capture && board.piece_at(to).is_none() {
            return false;
        }
        if file.is_none() && rank.is_none() || file.is_some() && rank.is_some() {
            return true; // `Ng1-f3` is how some write each move
        }
        let lookers = board.attacks_to(to, position.turn(), board.occupied()) & board.by_role(role);
        role == Role::Pawn || lookers.count() > 1
    }
}

/// How deep the line of a node is nested; 0 is the main line.
pub(crate) fn depth(lesson: &Lesson, id: NodeId) -> usize {
    let mut line = lesson.node(id).line;
    let mut depth = 0;
    while let Some(parent) = lesson.line(line).parent {
        depth += 1;
        line = parent;
    }
    depth
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::given;
    use crate::notation::Letters;
    use crate::notation::word::san;

    fn lesson() -> Lesson {
        given::lesson("1. d4 d5 2. c4 e6 (2... c6 3. Nf3) 3. Nc3 *")
    }

    fn shape(word: &str) -> Shape {
        san::read(word, Letters::ENGLISH).shape.expect("a move")
    }

    #[test]
    fn a_move_of_the_lesson_leads_to_its_node_and_another_beside_it() {
        let lesson = lesson();
        let start = Place::of(0);
        assert_eq!(start.after(&lesson, &shape("d4")), Some(Place::of(1)));
        let beside = start.after(&lesson, &shape("Nf3")).expect("legal");
        assert_eq!((beside.node, beside.aside.len()), (0, 1));
        assert_eq!(start.after(&lesson, &shape("Nd2")), None);
    }

    #[test]
    fn one_move_back_from_beside_the_lesson_is_where_it_was_left() {
        let lesson = lesson();
        let beside = Place::of(1).after(&lesson, &shape("Nf6")).expect("legal");
        assert_eq!(beside.before(&lesson), Some(Place::of(1)));
        assert_eq!(Place::of(0).before(&lesson), None);
    }

    #[test]
    fn no_text_makes_a_place_grow_without_end() {
        let lesson = lesson();
        let mut place = Place::of(0);
        for word in ["Nf3", "Nf6", "Ng1", "Ng8"].into_iter().cycle().take(ASIDE) {
            place = place.after(&lesson, &shape(word)).expect(word);
        }
        assert!(place.is_full());
        assert_eq!(place.after(&lesson, &shape("Nf3")), None);
    }

    #[test]
    fn a_sideline_is_nested_deeper_than_the_main_line() {
        let lesson = lesson();
        let depths: Vec<usize> = lesson.ids().map(|id| depth(&lesson, id)).collect();
        assert!(depths.contains(&0) && depths.contains(&1), "{depths:?}");
    }
}
