//! Counts that can be added up in any order.

use super::Results;
use super::positions::Positions;
use super::reading::Met;
use super::wanted::{Header, Split};
use super::{Predicted, Record};
use crate::lesson::rules::san_of;
use shakmaty::{Chess, Move};
use std::collections::{BTreeMap, HashMap};

/// What is counted at one position.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Standing {
    /// The games that came to it, also those that ended there.
    pub all: Record,
    /// Those that went on, by the next move.
    pub next: BTreeMap<String, Record>,
    /// Those that came to it, by the part of a split.
    pub parts: BTreeMap<String, Results>,
}

impl Standing {
    /// Adds what was counted elsewhere at the same position.
    pub fn add(&mut self, other: &Standing) {
        self.all.add(&other.all);
        for (san, record) in &other.next {
            self.next.entry(san.clone()).or_default().add(record);
        }
        for (part, results) in &other.parts {
            self.parts.entry(part.clone()).or_default().add(results);
        }
    }
}

/// What is counted at the positions of a lesson.
#[derive(Clone, Debug, Default)]
pub struct Tally {
    /// All games that count, wherever they went.
    pub all: Results,
    /// How many could not be read.
    pub damaged: u64,
    /// How many were left out, by a filter or because they are of a variant.
    pub left: u64,
    /// The latest known date of those that count.
    pub date: Option<String>,
    at: Vec<Here>,
}

#[derive(Clone, Debug, Default)]
struct Here {
    all: Record,
    next: HashMap<Move, Record>,
    parts: BTreeMap<String, Results>,
}

impl Tally {
    /// Nothing yet, for so many positions.
    pub fn new(positions: &Positions) -> Tally {
        let at = vec![Here::default(); positions.count()];
        Tally {
            at,
            ..Tally::default()
        }
    }

    /// Counts a game: at each position that it met, with the move that it played there.
    pub fn count(&mut self, header: &Header, met: &Met, split: Option<Split>) {
        let part = split.map(|it| it.part(header));
        self.all.add(&met.result);
        self.date = self.date.take().max(header.known_date());
        let record = Record {
            results: met.result,
            predicted: Predicted::of(header.white_rating, header.black_rating),
        };
        for (position, played) in &met.positions {
            let Some(here) = self.at.get_mut(*position) else {
                continue;
            };
            here.all.add(&record);
            if let Some(played) = played {
                here.next.entry(*played).or_default().add(&record);
            }
            if let Some(part) = &part {
                let all = here.parts.entry(part.clone()).or_default();
                all.add(&met.result);
            }
        }
    }

    /// Adds what was counted elsewhere at the same positions.
    pub fn add(&mut self, other: Tally) {
        self.all.add(&other.all);
        self.damaged += other.damaged;
        self.left += other.left;
        self.date = self.date.take().max(other.date);
        for (here, there) in self.at.iter_mut().zip(other.at) {
            here.all.add(&there.all);
            for (played, record) in there.next {
                here.next.entry(played).or_default().add(&record);
            }
            for (part, results) in there.parts {
                here.parts.entry(part).or_default().add(&results);
            }
        }
    }

    /// What was counted at each position, in their order.
    pub fn standings(&self, positions: &Positions) -> Vec<Standing> {
        let one = |(here, (_, position)): (&Here, (_, &Chess))| Standing {
            all: here.all,
            next: here
                .next
                .iter()
                .map(|(played, record)| (san_of(position, *played), *record))
                .collect(),
            parts: here.parts.clone(),
        };
        self.at.iter().zip(positions.iter()).map(one).collect()
    }
}
