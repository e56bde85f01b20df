//! The tree of all lessons that begin at one position, and its text.

use super::{Differs, Given};
use crate::edit::{Held, Said, link, whole};
use crate::lesson::{Lesson, NodeId, PositionKey, at_move, export, position_key, validate};
use crate::notation::parse;
use crate::notation::printer::Printer;
use crate::text::Source;
use shakmaty::Position;
use std::collections::HashMap;

/// Lessons that were merged.
#[derive(Clone, Debug, Default)]
pub struct Merged {
    /// PGN in the standard's export format, a game for each position from which lessons begin.
    pub pgn: String,
    pub differs: Vec<Differs>,
}

/// Merges lessons in their order. With `sources` each comment ends with the names of the files that have it.
///
/// # Errors
/// The name of a lesson of which not all could be read: nobody should put less in its place.
pub fn merge(given: &[Given<'_>], sources: bool) -> Result<Merged, String> {
    let is_whole = |it: &&Given<'_>| it.lesson.unread.is_empty() && !it.lesson.passed_over;
    if let Some(broken) = given.iter().find(|it| !is_whole(it)) {
        return Err(broken.name.to_owned());
    }
    let mut groups: Vec<Vec<Given<'_>>> = Vec::new();
    for &one in given {
        let key = |it: &Given<'_>| position_key(&it.lesson.node(0).position);
        match groups
            .iter_mut()
            .find(|group| group.first().is_some_and(|it| key(it) == key(&one)))
        {
            Some(group) => group.push(one),
            None => groups.push(vec![one]),
        }
    }
    let mut merged = Merged::default();
    for group in &groups {
        let mut tree = Tree::of(group);
        for &one in group {
            tree.add(one);
        }
        merged.pgn += &tree
            .pgn(group, sources)
            .ok_or_else(|| group[0].name.to_owned())?; // no group is empty
        merged.differs.extend(tree.differs());
    }
    Ok(merged)
}

/// A comment, and the files that have it.
type Told = (String, Vec<String>);

#[derive(Default)]
struct Place {
    san: String,
    parent: Option<usize>,
    children: Vec<usize>,
    key: PositionKey,
    nags: Vec<u8>,
    before: Vec<Told>,
    comments: Vec<Told>,
    /// What lessons recommend here.
    choices: Vec<(String, Vec<String>)>,
    /// The place at which this position stands with its moves.
    same: Option<usize>,
}

struct Tree {
    places: Vec<Place>,
    /// The first place of each position.
    first: HashMap<PositionKey, usize>,
    start: (shakmaty::Color, u32),
}

impl Tree {
    fn of(group: &[Given<'_>]) -> Tree {
        let start = group
            .first()
            .map(|it| it.lesson.node(0).position.clone())
            .unwrap_or_default();
        let place = Place {
            key: position_key(&start),
            ..Place::default()
        };
        Tree {
            first: HashMap::from([(place.key, 0)]),
            places: vec![place],
            start: at_move(&start),
        }
    }

    fn add(&mut self, given: Given<'_>) {
        let Given { name, lesson } = given;
        // Only positions of other lessons are joined: one lesson's own order is its author's.
        let known = self.places.len();
        let mut open: Vec<(NodeId, usize)> = vec![(0, 0)];
        while let Some((from, to)) = open.pop() {
            self.tell(given, from, to);
            let node = lesson.node(from);
            let choices: Vec<String> = lesson
                .choices(from)
                .into_iter()
                .map(|it| lesson.node(it).san.as_str().to_owned())
                .collect();
            let counts = lesson.tag("Side").is_none() || lesson.side() == node.position.turn();
            if !choices.is_empty() && counts {
                self.places[to].choices.push((name.to_owned(), choices)); // a place that was made
            }
            let mut next = Vec::new();
            for &child in node.children.iter() {
                next.push((child, self.child(lesson, child, to, known)));
            }
            open.extend(next.into_iter().rev());
        }
    }

    /// The place to which a move leads from another, made where it is new. Where another lesson has its position, what
    /// comes after it goes there.
    fn child(&mut self, lesson: &Lesson, child: NodeId, to: usize, known: usize) -> usize {
        let node = lesson.node(child);
        let mut children = self.places[to].children.iter().copied();
        if let Some(there) = children.find(|&it| self.places[it].san == node.san.as_str()) {
            return self.places[there].same.unwrap_or(there);
        }
        let key = position_key(&node.position);
        let place = self.places.len();
        // One that its own line repeats is not joined.
        let other = self
            .first
            .get(&key)
            .copied()
            .filter(|&it| it < known && !self.is_within(to, it));
        self.places.push(Place {
            san: node.san.as_str().to_owned(),
            parent: Some(to),
            key,
            same: other,
            ..Place::default()
        });
        self.places[to].children.push(place);
        self.first.entry(key).or_insert(place);
        other.unwrap_or(place)
    }

    fn is_within(&self, place: usize, other: usize) -> bool {
        let mut up = std::iter::successors(Some(place), |&it| self.places[it].parent);
        up.any(|it| it == other)
    }

    /// Adds what a lesson says of a node.
    fn tell(&mut self, given: Given<'_>, from: NodeId, to: usize) {
        let node = given.lesson.node(from);
        let place = &mut self.places[to];
        place.nags.extend(
            node.nags
                .iter()
                .filter(|it| !place.nags.contains(it))
                .copied()
                .collect::<Vec<_>>(),
        );
        let is_first = place.before.is_empty() && place.comments.is_empty();
        let add = |list: &mut Vec<Told>, text: &str| match list.iter_mut().find(|it| it.0 == text) {
            Some((_, names)) if names.iter().any(|it| it == given.name) => {}
            Some((_, names)) => names.push(given.name.to_owned()),
            None => list.push((text.to_owned(), vec![given.name.to_owned()])),
        };
        for comment in &node.before {
            let list = if is_first {
                &mut place.before
            } else {
                &mut place.comments
            };
            add(list, comment.text());
        }
        for comment in node.comments.iter() {
            add(&mut place.comments, comment.text());
        }
    }

    fn run(&self, place: usize) -> Vec<String> {
        let up = std::iter::successors(Some(place), |&it| self.places[it].parent);
        let mut run: Vec<String> = up.map(|it| self.places[it].san.clone()).collect();
        run.pop(); // the start has no move
        run.reverse();
        run
    }

    fn differs(&self) -> Vec<Differs> {
        let mut list = Vec::new();
        for (at, place) in self.places.iter().enumerate() {
            let mut others = place.choices.iter().skip(1);
            let Some((_, first)) = place.choices.first() else {
                continue;
            };
            if others.any(|(_, it)| !it.iter().any(|san| first.contains(san))) {
                list.push(Differs {
                    at: self.run(at),
                    choices: place.choices.clone(),
                });
            }
        }
        list
    }

    fn pgn(&self, group: &[Given<'_>], sources: bool) -> Option<String> {
        let text = |told: &Told| match sources && !told.0.ends_with(':') {
            true => format!("{} ({})", told.0, told.1.join(", ")),
            false => told.0.clone(),
        };
        let texts = |list: &[Told]| list.iter().map(text).collect::<Vec<String>>();
        let mut held = Held::default();
        for (at, place) in self.places.iter().enumerate() {
            let is_first = place
                .parent
                .is_none_or(|it| self.places[it].children.first() == Some(&at));
            let mut said = Said {
                san: place.san.clone(),
                nags: place.nags.clone(),
                before: texts(&place.before),
                comments: texts(&place.comments),
                children: place.children.clone(),
            };
            if is_first {
                said.open();
            }
            let link = place.same.map(|it| link(self.start, &self.run(it)));
            said.comments.extend(link);
            held.nodes.push(said);
        }
        let mut tags: Vec<(&str, &str)> = Vec::new();
        for (name, value) in group.iter().flat_map(|it| it.lesson.tags.iter()) {
            // What is written is in English letters, and a tag has one value.
            if name.as_str() != "Letters" && tags.iter().all(|it| it.0 != name.as_str()) {
                tags.push((name.as_str(), value));
            }
        }
        let mut head = Printer::default();
        for (name, value) in tags {
            head.tag(name, value);
        }
        let tags = head.finish();
        let result = group.first().map_or("*", |it| it.lesson.result);
        let source = Source::new(
            "merged",
            format!("{tags}\n{}\n{result}\n", whole(&held, self.start)),
        );
        let (syntax, _) = parse(&source);
        let (lessons, _) = validate(&source, &syntax);
        let lesson = lessons.into_iter().next().flatten()?;
        let is_all = lesson.nodes.len() == self.places.len();
        export(&lesson, false).ok().filter(|_| is_all)
    }
}
