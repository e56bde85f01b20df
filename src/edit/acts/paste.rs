//! A piece of PGN that enters a lesson: step by step, each what the lesson lacks at one place.

use super::comment::comment;
use super::grow::branch;
use super::sign::sign;
use crate::edit::asked::{Refused, Why};
use crate::edit::held::{Held, Said, said, unread};
use crate::edit::meant::Made;
use crate::edit::movetext::link;
use crate::edit::placed::{Piece, piece};
use crate::edit::written::laid::Laid;
use crate::edit::written::style::Style;
use crate::lesson::{Lesson, NodeId, PositionKey, at_move, position_key, validate};
use crate::notation::{Game, parse};
use crate::text::Source;
use shakmaty::Chess;
use std::collections::{HashMap, HashSet};

/// What was pasted, read.
pub struct Pasted {
    games: Vec<(Lesson, Vec<String>)>,
    /// Its words that cannot be read.
    pub unread: Vec<String>,
    /// Where the lesson has positions of it already, each once: the moves from the start.
    known: HashMap<PositionKey, Vec<String>>,
}

impl Pasted {
    /// Reads it: games with tags from where they begin, if the lesson holds that position; all else as [`piece`] does.
    ///
    /// # Errors
    /// Where no move of it can be played.
    pub fn read(laid: &Laid<'_>, at: &[String], text: &str) -> Result<Pasted, Refused> {
        let node = laid.find(at)?;
        let bare = Source::new("paste", text);
        let (syntax, _) = parse(&bare);
        let is_tagged = |game: &Game| !game.tags.is_empty();
        let mut pasted = Pasted {
            games: Vec::new(),
            unread: Vec::new(),
            known: HashMap::new(),
        };
        if syntax.games.iter().any(is_tagged) {
            let (lessons, _) = validate(&bare, &syntax);
            for lesson in lessons.into_iter().flatten() {
                let key = position_key(&lesson.node(0).position);
                let is_here = |id: &NodeId| position_key(&laid.lesson.node(*id).position) == key;
                if let Some(there) = laid.lesson.ids().find(is_here) {
                    pasted.add(&bare, lesson, laid.lesson.run(there));
                }
            }
        } else if let Some(piece) = piece(laid.lesson, node, text).filter(Piece::has_moves) {
            pasted.unread = piece.unread;
            pasted
                .games
                .push((piece.lesson, laid.lesson.run(piece.from)));
        }
        match pasted.games.is_empty() {
            true => {
                let reason = "no move of this can be played in the lesson";
                let help = "go to the position at which it begins, and paste it there";
                Err(Refused::new(Why::NoMove, reason, help))
            }
            false => {
                pasted.know(laid);
                Ok(pasted)
            }
        }
    }

    /// Finds the positions of it that the lesson has. A link cannot name a pass.
    fn know(&mut self, laid: &Laid<'_>) {
        let nodes = self
            .games
            .iter()
            .flat_map(|(lesson, _)| lesson.nodes.iter());
        let keys: HashSet<PositionKey> = nodes.map(|it| position_key(&it.position)).collect();
        for id in laid.lesson.ids() {
            let key = position_key(&laid.lesson.node(id).position);
            if keys.contains(&key) && !self.known.contains_key(&key) {
                let run = laid.lesson.run(id);
                if run.iter().all(|san| san != "--") {
                    self.known.insert(key, run);
                }
            }
        }
    }

    /// Where a position that comes after a node or is its own stands already, by another road. One that its own line
    /// repeats is not meant.
    fn other(&self, laid: &Laid<'_>, position: &Chess, node: NodeId) -> Option<NodeId> {
        let run = self.known.get(&position_key(position))?;
        let there = laid.find(run).ok()?;
        (!laid.lesson.path(node).contains(&there)).then_some(there)
    }

    /// Adds nodes of another lesson with all that comes after them; their numbers. What comes after a position that
    /// stands elsewhere is to go there, and the road to it has a link. A move that is given twice is one.
    fn grow(
        &self,
        laid: &Laid<'_>,
        lesson: &Lesson,
        nodes: &[NodeId],
        to: NodeId,
        held: &mut Held,
    ) -> Vec<usize> {
        let mut first = Vec::new();
        let mut open: Vec<(NodeId, usize)> =
            nodes.iter().rev().map(|&it| (it, to as usize)).collect();
        while let Some((id, parent)) = open.pop() {
            let mut new = told_of(lesson, id);
            let beside = held.nodes.get(parent).map_or(&[][..], |it| &it.children);
            if beside
                .iter()
                .any(|&it| held.nodes.get(it).is_some_and(|it| it.san == new.san))
            {
                continue; // what it has more is added once it is there
            }
            let other = self.other(laid, &lesson.node(id).position, to);
            if let Some(other) = other {
                new.comments.push(link(
                    at_move(&laid.lesson.node(0).position),
                    &laid.lesson.run(other),
                ));
            }
            let place = held.add(parent, new);
            if parent == to as usize {
                first.push(place);
            }
            if other.is_none() {
                let children = lesson.node(id).children.iter().rev();
                open.extend(children.map(|&child| (child, place)));
            }
        }
        first
    }

    fn add(&mut self, source: &Source, lesson: Lesson, at: Vec<String>) {
        self.unread.extend(unread(source, &lesson));
        self.games.push((lesson, at));
    }

    /// The next thing that the lesson lacks; none when it has all.
    ///
    /// # Errors
    /// As for each of its steps.
    pub fn next(
        &self,
        laid: &Laid<'_>,
        style: &Style,
        held: &Held,
    ) -> Result<Option<Made>, Refused> {
        for (lesson, at) in &self.games {
            let mut pairs = vec![(0, laid.find(at)?)];
            while let Some((from, to)) = pairs.pop() {
                if let Some(made) = told(laid, style, held, lesson, (from, to))? {
                    return Ok(Some(made));
                }
                // What goes on from a position that stands elsewhere is there.
                let position = &laid.lesson.node(to).position;
                let to = match laid.lesson.node(to).children.is_empty() {
                    true => self.other(laid, position, to).unwrap_or(to),
                    false => to,
                };
                let mut new = Vec::new();
                for &child in lesson.node(from).children.iter() {
                    match laid.child(to, lesson.node(child).san.as_str()) {
                        Some(there) => pairs.push((child, there)),
                        None => new.push(child),
                    }
                }
                if !new.is_empty() {
                    let mut grown = held.clone();
                    let new = self.grow(laid, lesson, &new, to, &mut grown);
                    let splice = branch(laid, style, &grown, to, &new)?;
                    return Ok(Some(Made::new(vec![splice], grown, laid.lesson.run(to))));
                }
            }
        }
        Ok(None)
    }
}

/// A comment or a sign that a node of the lesson lacks.
fn told(
    laid: &Laid<'_>,
    style: &Style,
    held: &Held,
    lesson: &Lesson,
    (from, to): (NodeId, NodeId),
) -> Result<Option<Made>, Refused> {
    let (pasted, there) = (lesson.node(from), laid.lesson.node(to));
    let run = laid.lesson.run(to);
    for said in pasted.before.iter().chain(pasted.comments.iter()) {
        let mut known = there.before.iter().chain(there.comments.iter());
        if known.all(|it| it.text() != said.text()) {
            let nth = there.before.len() + there.comments.len();
            let made = comment(laid, style, held.clone(), &run, (nth, "", said.text()))?;
            return Ok(Some(made));
        }
    }
    let mut nags = there.nags.clone();
    nags.extend(pasted.nags.iter().filter(|it| !there.nags.contains(it)));
    if nags.len() > there.nags.len() && to > 0 {
        return Ok(Some(sign(laid, style, held.clone(), &run, &nags)?));
    }
    Ok(None)
}

/// What a node of what is pasted says, without what comes after it.
fn told_of(lesson: &Lesson, id: NodeId) -> Said {
    let mut told = said(lesson, id);
    told.children.clear();
    let parent = lesson.node(id).parent.unwrap_or(0);
    if lesson.node(parent).children.first() == Some(&id) {
        told.open();
    }
    told
}
