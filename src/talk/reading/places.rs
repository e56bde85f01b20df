//! Every position that some reading of a talk comes to: a tree in which the same moves lead to the same place.

use crate::lesson::rules::{after, moves};
use crate::talk::shape::Shape;
use shakmaty::{Chess, Move};

/// A place's number.
pub type PlaceId = u32;

/// A position reached by one path.
#[derive(Clone, Debug)]
struct Place {
    parent: Option<PlaceId>,
    played: Option<Move>,
    position: Chess,
    /// All that can be played.
    moves: Vec<Move>,
    children: Vec<(Move, PlaceId)>,
    ply: u32,
    /// Whether it was there before the talk: by `--from`, or in the lesson.
    given: bool,
}

/// All places.
#[derive(Clone, Debug)]
pub struct Places {
    all: Vec<Place>,
}

impl Places {
    /// Places of which there is only the start.
    pub fn new(start: Chess) -> Places {
        let start = Place {
            parent: None,
            played: None,
            moves: moves(&start).to_vec(),
            position: start,
            children: Vec::new(),
            ply: 0,
            given: true,
        };
        Places { all: vec![start] }
    }

    /// How many there are.
    pub fn count(&self) -> usize {
        self.all.len()
    }

    // A number of a place is only made by `child`, so it is one of `all`.

    fn at(&self, id: PlaceId) -> &Place {
        &self.all[id as usize]
    }

    /// The place before.
    pub fn parent(&self, id: PlaceId) -> Option<PlaceId> {
        self.at(id).parent
    }

    /// The move that leads to it.
    pub fn played(&self, id: PlaceId) -> Option<Move> {
        self.at(id).played
    }

    /// Its position.
    pub fn position(&self, id: PlaceId) -> &Chess {
        &self.at(id).position
    }

    /// What can be played there.
    pub fn moves(&self, id: PlaceId) -> &[Move] {
        &self.at(id).moves
    }

    /// How many half-moves there are from the start to it.
    pub fn ply(&self, id: PlaceId) -> u32 {
        self.at(id).ply
    }

    /// Whether it was there before the talk.
    pub fn is_given(&self, id: PlaceId) -> bool {
        self.at(id).given
    }

    /// The place that a move leads to, if there is one.
    pub fn find(&self, id: PlaceId, played: Move) -> Option<PlaceId> {
        let mut list = self.at(id).children.iter();
        list.find(|it| it.0 == played).map(|it| it.1)
    }

    /// The place that a legal move leads to.
    pub fn child(&mut self, id: PlaceId, played: Move) -> PlaceId {
        if let Some(there) = self.find(id, played) {
            return there;
        }
        let number = self.all.len() as PlaceId;
        let position = after(self.position(id), played);
        let place = Place {
            parent: Some(id),
            played: Some(played),
            moves: moves(&position).to_vec(),
            position,
            children: Vec::new(),
            ply: self.ply(id) + 1,
            given: false,
        };
        self.all[id as usize].children.push((played, number));
        self.all.push(place);
        number
    }

    /// The same, as one that is there before the talk.
    pub fn give(&mut self, id: PlaceId, played: Move) -> PlaceId {
        let number = self.child(id, played);
        self.all[number as usize].given = true;
        number
    }

    /// Whether the way to a place has a move of this shape.
    pub fn recalls(&self, id: PlaceId, shape: &Shape) -> bool {
        self.path(id).windows(2).any(|pair| {
            let played = self.played(pair[1]); // windows of two
            let of = |it: Move| shape.fits(self.position(pair[0]), &[it]) == [it];
            played.is_some_and(of)
        })
    }

    /// The places from the start to this one.
    pub fn path(&self, id: PlaceId) -> Vec<PlaceId> {
        let mut path = vec![id];
        let mut at = id;
        while let Some(parent) = self.parent(at) {
            path.push(parent);
            at = parent;
        }
        path.reverse();
        path
    }
}
