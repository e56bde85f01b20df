//! What an article has named so far, by which the next move is placed.

use crate::lesson::ids::NodeId;
use crate::lesson::place::Place;
use crate::lesson::tree::Lesson;
use crate::notation::mention::Ordinal;

/// How many places are remembered: so the work is linear in the text's length.
pub(super) const REMEMBERED: usize = 64;

/// What was named last, carried from paragraph to paragraph.
#[derive(Clone, Debug, Default)]
pub struct Context {
    pub(super) last: Option<Place>,
    /// The node that the text belongs to, if it is a comment.
    pub(super) own: Option<NodeId>,
    /// The places named last, each once, in the order of their last naming; at most
    /// [`REMEMBERED`].
    pub(super) played: Vec<Place>,
    /// How many more numbers of White's moves were without a dot than with one.
    pub(super) undotted: i32,
    /// The moves that were listed last as alternatives to each other. One alone is no list: what
    /// was listed before counts till a second follows it.
    list: Vec<Place>,
    alone: Option<Place>,
    /// Whether the text has gone back to the main line since.
    pub(super) returned: bool,
}

impl Context {
    /// What a text begins with that is at a place.
    pub fn at(place: Place) -> Context {
        let mut context = Context::default();
        context.note(&place);
        context.own = Some(place.node);
        context
    }

    pub(super) fn note(&mut self, place: &Place) {
        self.last = Some(place.clone());
        self.returned = false;
        match self.played.iter().position(|known| known == place) {
            Some(at) => _ = self.played.remove(at),
            None if self.played.len() >= REMEMBERED => _ = self.played.remove(0), // there is one
            None => {}
        }
        self.played.push(place.clone());
    }

    /// Keeps a place as one more of the list, or as what may begin another.
    pub(super) fn list(&mut self, lesson: &Lesson, place: &Place) {
        let before = place.before(lesson);
        let is_beside = |other: Option<&Place>| other.is_some_and(|it| it.before(lesson) == before);
        if self.list.contains(place) || self.alone.as_ref() == Some(place) {
            return;
        }
        if is_beside(self.list.last()) && self.list.len() < REMEMBERED {
            self.list.push(place.clone());
        } else if is_beside(self.alone.as_ref()) {
            self.list = self.alone.take().into_iter().collect();
            self.list.push(place.clone());
        } else {
            self.alone = Some(place.clone());
        }
    }

    /// The move that a word such as `the latter` means: one of those that were listed last.
    pub(super) fn listed(&self, ordinal: Ordinal) -> Option<Place> {
        let one = match ordinal {
            Ordinal::At(at) => self.list.get(usize::from(at)),
            Ordinal::Last => self.list.last(),
        };
        one.cloned()
    }
}
