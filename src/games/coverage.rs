//! What a lesson leaves unanswered: moves of the other side that are played and have no reply, moves that
//! nobody plays, and places where it stops while games go on.

use super::FEW;
use super::positions::{Positions, step};
use super::tally::Standing;
use crate::lesson::{Lesson, NodeId};
use shakmaty::{Chess, Color, Position};
use std::collections::{BTreeMap, BTreeSet};

/// What a lesson answers for one side, and what it does not.
#[derive(Clone, Debug, Default)]
pub struct Coverage {
    /// The share of what a reader meets that has a reply, up to the move that was asked for.
    pub answered: f64,
    /// The share of moves that have none.
    pub missing: f64,
    /// That of moves without a reply that are too rare where they are played to be told.
    pub rare: f64,
    /// The share for which the lesson stops before.
    pub stopped: f64,
    /// The share for which too few games are known.
    pub few: f64,
    /// Moves of the other side without a reply, those first that a reader meets most.
    pub moves: Vec<Missing>,
    /// Moves of the other side that the lesson has and nobody played, each with the games there.
    pub unplayed: Vec<(NodeId, u64)>,
    /// Places where the lesson stops while most games go on.
    pub stops: Vec<Stop>,
}

/// A move without a reply.
#[derive(Clone, Debug)]
pub struct Missing {
    /// Where it is played.
    pub at: NodeId,
    /// In SAN.
    pub played: String,
    /// The games in which it was, and all that went on from there.
    pub games: u64,
    pub of: u64,
    /// The share of a reader's games in which it comes, as far as they follow the lesson; 0 where only a
    /// line leads there that the lesson does not recommend.
    pub met: f64,
}

/// A place where the lesson stops.
#[derive(Clone, Debug)]
pub struct Stop {
    pub at: NodeId,
    /// The games that come there, and those that go on.
    pub games: u64,
    pub on: u64,
    pub met: f64,
}

/// The lesson as positions.
struct Tree<'a> {
    positions: &'a Positions,
    standings: &'a [Standing],
    all: Vec<(NodeId, &'a Chess)>,
    /// The moves that the lesson has at each: SAN, and where it leads.
    moves: Vec<Vec<(String, usize, NodeId)>>,
    /// Those that it recommends.
    choices: Vec<BTreeSet<usize>>,
}

impl Tree<'_> {
    fn of<'a>(lesson: &Lesson, positions: &'a Positions, standings: &'a [Standing]) -> Tree<'a> {
        let mut tree = Tree {
            positions,
            standings,
            all: positions.iter().collect(),
            moves: vec![Vec::new(); positions.count()],
            choices: vec![BTreeSet::new(); positions.count()],
        };
        for node in lesson.ids() {
            let find = |node: NodeId| positions.find(&lesson.node(node).position);
            let Some(here) = find(node) else {
                continue;
            };
            for child in lesson.moves(node) {
                let san = lesson.node(child).san.to_string();
                if let Some(there) = find(child)
                    && tree.moves[here].iter().all(|(known, ..)| *known != san)
                {
                    tree.moves[here].push((san, there, child)); // one a position
                }
            }
            let chosen = lesson.choices(node).into_iter().filter_map(find);
            tree.choices[here].extend(chosen); // one a position
        }
        tree
    }

    /// Where a move leads that was played at a position; none if the lesson does not have that.
    fn after(&self, here: usize, san: &str) -> Option<usize> {
        let position = self.all.get(here)?.1;
        self.positions.find(&step(position, san)?)
    }

    /// The games that went on from a position.
    fn on(&self, here: usize) -> u64 {
        let next = self.standings.get(here).map(|it| it.next.values());
        next.map_or(0, |next| next.map(|it| it.games()).sum())
    }
}

/// What is answered for a side up to a full move, by counts at the positions of a lesson; `least` is the
/// share at a position from which a move is told.
pub fn coverage(
    lesson: &Lesson,
    positions: &Positions,
    standings: &[Standing],
    side: Color,
    to: u32,
    least: f64,
) -> Coverage {
    let tree = Tree::of(lesson, positions, standings);
    let walk = |to: u32| {
        let mut walk = Walk {
            tree: &tree,
            side,
            least,
            met: vec![0.0; positions.count()],
            found: Coverage::default(),
        };
        walk.run(to);
        walk
    };
    let mut found = walk(to).found;
    // How often a place is met is of interest however late it comes: a walk ends where the lesson does, but
    // for positions that come again.
    let met = walk(to.max(deepest(lesson))).met;
    found.tell(&tree, &met, side, least);
    found
}

/// The last move of a lesson, by its number.
pub fn deepest(lesson: &Lesson) -> u32 {
    let number = |node: NodeId| lesson.node(node).position.fullmoves().get();
    lesson.ids().map(number).max().unwrap_or(1)
}

/// A reader on the way through a lesson.
struct Walk<'a> {
    tree: &'a Tree<'a>,
    side: Color,
    least: f64,
    /// For each position the share of games that come there.
    met: Vec<f64>,
    found: Coverage,
}

impl Walk<'_> {
    /// Goes on half-move by half-move up to a full move.
    fn run(&mut self, to: u32) {
        let start = self.tree.all.first();
        let Some((first, turn)) = start.map(|(_, it)| (it.fullmoves().get(), it.turn())) else {
            return;
        };
        let mut here: BTreeMap<usize, f64> = BTreeMap::from([(0, 1.0)]);
        let black = u32::from(turn == Color::Black);
        let plies = to.saturating_add(1).saturating_sub(first).saturating_mul(2);
        for ply in black..plies.max(black) {
            let mut next: BTreeMap<usize, f64> = BTreeMap::new();
            for (at, share) in here {
                self.met[at] += share; // one a position
                let is_ours = (ply % 2 == 0) == (self.side == Color::White);
                match is_ours {
                    true => self.ours(at, share, &mut next),
                    false => self.theirs(at, share, &mut next),
                }
            }
            here = next;
            if here.is_empty() {
                break;
            }
        }
        for (&at, share) in &here {
            self.met[at] += share; // one a position
            self.found.answered += share;
        }
    }

    /// A position of the side that is taught: the reader plays what the lesson recommends.
    fn ours(&mut self, at: usize, share: f64, next: &mut BTreeMap<usize, f64>) {
        let choices = &self.tree.choices[at]; // one a position
        if choices.is_empty() {
            self.found.stopped += share;
        }
        for &choice in choices {
            *next.entry(choice).or_default() += share / choices.len() as f64;
        }
    }

    /// A position of the other side, who plays what was played in the games.
    fn theirs(&mut self, at: usize, share: f64, next: &mut BTreeMap<usize, f64>) {
        let (tree, all) = (self.tree, self.tree.on(at));
        if tree.moves[at].is_empty() {
            self.found.stopped += share;
            return;
        }
        if all < FEW {
            self.found.few += share;
            return;
        }
        for (san, record) in &tree.standings[at].next {
            let played = record.games() as f64 / all as f64;
            let part = share * played;
            match tree.after(at, san) {
                Some(there) if !tree.choices[there].is_empty() => {
                    *next.entry(there).or_default() += part;
                }
                Some(there) => {
                    self.met[there] += part; // one a position
                    self.found.stopped += part;
                }
                None => {
                    self.found.missing += part;
                    if played < self.least {
                        self.found.rare += part;
                    }
                }
            }
        }
    }
}

impl Coverage {
    /// Finds what is told of each position.
    fn tell(&mut self, tree: &Tree, met: &[f64], side: Color, least: f64) {
        for (at, (node, position)) in tree.all.iter().enumerate() {
            let (all, share) = (tree.on(at), met[at]);
            let games = tree.standings.get(at).map_or(0, |it| it.all.games());
            if tree.moves[at].is_empty() {
                if games >= FEW && all * 2 > games {
                    self.stops.push(Stop {
                        at: *node,
                        games,
                        on: all,
                        met: share,
                    });
                }
                continue;
            }
            if position.turn() == side || all < FEW {
                continue;
            }
            for (san, record) in &tree.standings[at].next {
                let part = record.games() as f64 / all as f64;
                // Where the lesson has the move and stops, that is told as a stop.
                if part >= least && tree.after(at, san).is_none() {
                    self.moves.push(Missing {
                        at: *node,
                        played: (*san).clone(),
                        games: record.games(),
                        of: all,
                        met: share * part,
                    });
                }
            }
            for (_, there, node) in &tree.moves[at] {
                let played = tree.standings[at].next.keys();
                let is_played = played
                    .filter_map(|san| tree.after(at, san))
                    .any(|it| it == *there);
                if !is_played {
                    self.unplayed.push((*node, all));
                }
            }
        }
        let share = |it: &Missing| it.games as f64 / it.of as f64;
        self.moves.sort_by(|a, b| {
            let met = b.met.total_cmp(&a.met);
            met.then(share(b).total_cmp(&share(a)))
                .then(a.at.cmp(&b.at))
        });
        self.stops.sort_by(|a, b| {
            let met = b.met.total_cmp(&a.met);
            met.then(b.games.cmp(&a.games)).then(a.at.cmp(&b.at))
        });
    }
}
