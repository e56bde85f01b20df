//! The draft: the tree of the moves that were told, each with the times at which it was.

use super::reading::{Act, Manner, PlaceId, Places, Read};
use super::words::Said;
use crate::lesson::position_key;
use crate::lesson::rules::san_of;
use crate::notation::comment::clock::Millis;
use std::collections::{HashMap, HashSet};

/// A position of the draft.
#[derive(Clone, Debug)]
pub struct Node {
    /// Its place.
    pub place: PlaceId,
    /// The node before; none for the first.
    pub parent: Option<usize>,
    /// The move that leads to it, in SAN; empty for the first.
    pub san: String,
    /// Those after it, in the order in which they were told.
    pub children: Vec<usize>,
    /// When the talk is about it, and for how many words.
    pub heard: Vec<(Millis, usize)>,
    /// The sayings that named its move.
    pub sayings: Vec<usize>,
    /// What is written of it.
    pub comments: Vec<String>,
    /// What is written before its move.
    pub before: Vec<String>,
    /// The condition with which it is recommended.
    pub choose: Option<String>,
    /// Signs.
    pub nags: Vec<u8>,
    /// Whether it was there before the talk.
    pub given: bool,
    /// Whether nobody named its move.
    pub supplied: bool,
    /// The node that has the same position, where the talk says that it does.
    pub same: Option<usize>,
}

/// The tree; node 0 is the start.
#[derive(Clone, Debug)]
pub struct Draft {
    /// A node comes after its parent.
    pub nodes: Vec<Node>,
    by_place: HashMap<PlaceId, usize>,
}

impl Draft {
    /// One of the start only.
    pub fn new(start: PlaceId) -> Draft {
        let mut draft = Draft {
            nodes: Vec::new(),
            by_place: HashMap::new(),
        };
        draft.push(start, None, String::new(), true);
        draft
    }

    fn push(&mut self, place: PlaceId, parent: Option<usize>, san: String, given: bool) -> usize {
        let number = self.nodes.len();
        self.nodes.push(Node {
            place,
            parent,
            san,
            children: Vec::new(),
            heard: Vec::new(),
            sayings: Vec::new(),
            comments: Vec::new(),
            before: Vec::new(),
            choose: None,
            nags: Vec::new(),
            given,
            supplied: false,
            same: None,
        });
        self.by_place.insert(place, number);
        if let Some(parent) = parent {
            self.nodes[parent].children.push(number); // one that is there
        }
        number
    }

    /// The node of a place, made with those before it where it is new.
    pub fn node(&mut self, places: &Places, place: PlaceId, given: bool) -> usize {
        let mut at = 0;
        for id in places.path(place) {
            at = match self.by_place.get(&id) {
                Some(&there) => there,
                None => {
                    let before = self.nodes[at].place; // one that is there
                    let played = places.played(id);
                    let san = played.map(|it| san_of(places.position(before), it));
                    self.push(id, Some(at), san.unwrap_or_default(), given)
                }
            };
        }
        at
    }

    /// The node of a place, if it is in the draft.
    pub fn find(&self, place: PlaceId) -> Option<usize> {
        self.by_place.get(&place).copied()
    }

    /// Adds what was told.
    pub fn tell(&mut self, places: &Places, said: &Said, read: &Read) {
        let withdrawn = withdrawn(places, read);
        let plays: Vec<(usize, PlaceId, PlaceId, Manner)> = read
            .acts
            .iter()
            .enumerate()
            .filter(|(at, _)| !withdrawn.contains(at))
            .filter_map(|(at, act)| match act {
                Act::Play {
                    at: from,
                    to,
                    manner,
                    ..
                } => Some((at, *from, *to, *manner)),
                Act::Talk => None,
            })
            .collect();
        for (number, &(at, from, to, manner)) in plays.iter().enumerate() {
            let next = plays.get(number + 1).and_then(|it| said.sayings.get(it.0));
            let until = next.map_or(said.words.len(), |it| it.words.start);
            let Some(saying) = said.sayings.get(at) else {
                continue;
            };
            let words = until.saturating_sub(saying.words.start);
            let known = self.nodes.len();
            let node = self.node(places, to, false);
            let goes_on = number > 0 && plays[number - 1].2 == to;
            let heard = &mut self.nodes[node].heard; // one that is there
            match heard.last_mut().filter(|_| goes_on) {
                Some(last) => last.1 += words,
                None => heard.push((saying.at, words)),
            }
            self.nodes[node].sayings.push(at);
            self.nodes[node].supplied = false;
            if let Manner::Supplied(_) = manner {
                let mut before = self.nodes[node].parent;
                while let Some(id) =
                    before.filter(|id| *id >= known && self.nodes[*id].place != from)
                {
                    self.nodes[id].supplied = true;
                    before = self.nodes[id].parent;
                }
            }
        }
    }

    /// How many moves hang on a node, itself included.
    pub fn behind(&self) -> Vec<usize> {
        let mut counts = vec![1; self.nodes.len()];
        for (at, node) in self.nodes.iter().enumerate().rev() {
            if let Some(parent) = node.parent {
                counts[parent] += counts[at]; // a parent comes before its children
            }
        }
        counts
    }

    /// Notes that a node has the position of another, where one has.
    pub fn joins(&mut self, places: &Places, at: usize) {
        let key = |node: &Node| position_key(places.position(node.place));
        let own = key(&self.nodes[at]); // one that is there
        let same = self.nodes.iter().position(|it| key(it) == own);
        self.nodes[at].same = same.filter(|it| *it != at);
    }
}

/// The sayings whose move was taken back and never told again.
fn withdrawn(places: &Places, read: &Read) -> HashSet<usize> {
    let mut list = HashSet::new();
    let mut last: HashMap<PlaceId, usize> = HashMap::new();
    for (at, act) in read.acts.iter().enumerate() {
        let Act::Play { to, instead, .. } = act else {
            continue;
        };
        last.insert(*to, at);
        if let Some(back) = instead
            && !places.is_given(*back)
            && let Some(&told) = last.get(back)
        {
            list.insert(told);
        }
    }
    list
}
