//! What a lesson recommends, so that it can be compared with what others say of the same position.

use crate::lesson::{Lesson, PositionKey, position_key};
use crate::text::Span;

/// The most moves of one position that are compared: no position has more legal ones than 218.
const MOST: usize = 218;

/// What is recommended in a position by a written choice.
#[derive(Clone, Debug)]
pub struct Chosen {
    /// The position: equal keys are equal positions, by the first four fields of their FEN.
    pub key: PositionKey,
    /// The moves that are recommended, in English SAN.
    pub moves: Vec<String>,
    /// The first of them that has a written choice, and its place.
    pub first: String,
    pub span: Span,
}

impl Chosen {
    /// Whether what is recommended here and there has no move in common.
    pub fn contradicts(&self, other: &Chosen) -> bool {
        !self.moves.iter().any(|one| other.moves.contains(one))
    }
}

/// What a lesson recommends, in the order of its nodes.
pub fn chosen(lesson: &Lesson) -> Vec<Chosen> {
    let of = |id| {
        let choices = lesson.choices(id);
        let mut written = choices
            .iter()
            .filter(|&&it| lesson.node(it).choice().is_some());
        let first = lesson.node(*written.next()?);
        let moves = choices.iter().take(MOST);
        Some(Chosen {
            key: position_key(&lesson.node(id).position),
            moves: moves
                .map(|&it| lesson.node(it).san.as_str().to_owned())
                .collect(),
            first: first.san.as_str().to_owned(),
            span: first.span,
        })
    };
    lesson.ids().filter_map(of).collect()
}
