//! Assessments files: what an engine said of the positions of a lesson (design, section 15).

use crate::assessments::{self, Assessment, Bound, Collection, Of, Score};
use crate::cli::engine::{About, Assessed, Limit};
use crate::cli::written::put;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, HashMap};
use std::fs;
use std::path::Path;

const FORMAT: &str = "assessments 1";

/// A file of assessments.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Assessments {
    plyline: String,
    pub engine: Engine,
    pub limit: BTreeMap<String, u64>,
    /// The day on which the last of them was made.
    pub date: String,
    pub positions: Vec<Entry>,
}

/// The engine's own words of itself, and the options that were set.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Engine {
    pub name: String,
    pub author: String,
    pub options: BTreeMap<String, String>,
}

/// One position, from White's view.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// Four fields.
    pub fen: String,
    score: Number,
    bound: Option<Side>,
    depth: Option<u32>,
    nodes: Option<u64>,
    line: Vec<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Number {
    Pawns(f64),
    Mate(i32),
}

#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Side {
    Lower,
    Upper,
}

impl Entry {
    pub fn new(fen: String, found: Assessed) -> Entry {
        Entry {
            fen,
            score: match found.score {
                Score::Pawns(hundredths) => Number::Pawns(f64::from(hundredths) / 100.0),
                Score::Mate(moves) => Number::Mate(moves),
            },
            bound: match found.bound {
                Bound::Exact => None,
                Bound::Lower => Some(Side::Lower),
                Bound::Upper => Some(Side::Upper),
            },
            depth: found.depth,
            nodes: found.nodes,
            line: found.line,
        }
    }

    /// As a page shows it, by its position.
    fn shown(&self) -> (String, Assessment) {
        let (score, bound) = self.score();
        let shown = Assessment {
            score,
            bound,
            depth: self.depth,
            line: self.line.clone(),
        };
        (self.fen.clone(), shown)
    }

    /// For White.
    pub fn score(&self) -> (Score, Bound) {
        let score = match self.score {
            // Files have two digits; what is no number becomes 0.
            Number::Pawns(pawns) => Score::Pawns((pawns * 100.0).round() as i32),
            Number::Mate(moves) => Score::Mate(moves),
        };
        let bound = match self.bound {
            None => Bound::Exact,
            Some(Side::Lower) => Bound::Lower,
            Some(Side::Upper) => Bound::Upper,
        };
        (score, bound)
    }
}

impl Assessments {
    /// One without positions.
    pub fn new(options: &[(String, String)], limit: Limit) -> Assessments {
        let (name, number) = match limit {
            Limit::Nodes(nodes) => ("nodes", nodes),
            Limit::Depth(depth) => ("depth", u64::from(depth)),
            Limit::Seconds(seconds) => ("seconds", u64::from(seconds)),
        };
        Assessments {
            plyline: FORMAT.to_owned(),
            engine: Engine {
                options: options.iter().cloned().collect(),
                ..Engine::default()
            },
            limit: BTreeMap::from([(name.to_owned(), number)]),
            date: String::new(),
            positions: Vec::new(),
        }
    }

    /// Reads a file; none where there is none.
    ///
    /// # Errors
    /// Why it cannot be used.
    pub fn load(path: &Path) -> Result<Option<Assessments>, String> {
        let said = |why: String| format!("{}: {why}", path.display());
        if !path.exists() {
            return Ok(None);
        }
        let text =
            fs::read_to_string(path).map_err(|error| said(crate::cli::files::reason(&error)))?;
        Assessments::read(&text).map(Some).map_err(said)
    }

    /// Reads the text of a file.
    ///
    /// # Errors
    /// Why it cannot be used.
    pub fn read(text: &str) -> Result<Assessments, String> {
        let value: serde_json::Value = serde_json::from_str(text)
            .map_err(|error| format!("this is no assessments file: {error}"))?;
        match value.get("plyline").and_then(|it| it.as_str()) {
            Some(FORMAT) => {}
            Some(other) if other.starts_with("assessments ") => {
                return Err(format!(
                    "it is written as {other}, and this version reads {FORMAT}"
                ));
            }
            _ => return Err("this is no assessments file".to_owned()),
        }
        serde_json::from_value(value).map_err(|error| error.to_string())
    }

    /// As a page shows them.
    pub fn collection(&self) -> Collection {
        let Engine { name, author, .. } = &self.engine;
        let by = match author.is_empty() {
            true => name.clone(),
            false => format!("{name}, {author}"),
        };
        let mut limits = self.limit.iter();
        Collection {
            of: Of {
                name: by,
                limit: limits.find_map(|(name, &number)| assessments::limit(name, number)),
                date: self.date.clone(),
            },
            at: self.positions.iter().map(|it| it.shown()).collect(),
        }
    }

    /// Why what is found by `other` cannot be added; none if it can.
    pub fn differs(&self, other: &Assessments) -> Option<&'static str> {
        if self.limit != other.limit {
            return Some("another limit");
        }
        (self.engine.options != other.engine.options).then_some("other options")
    }

    /// Whether it was made by this engine; one without positions by any.
    pub fn is_by(&self, about: &About) -> bool {
        self.positions.is_empty()
            || (self.engine.name == about.name && self.engine.author == about.author)
    }

    /// Adds what is found of a position.
    pub fn add(&mut self, about: &About, fen: String, found: Assessed, date: &str) {
        self.engine.name.clone_from(&about.name);
        self.engine.author.clone_from(&about.author);
        date.clone_into(&mut self.date);
        self.positions.push(Entry::new(fen, found));
    }

    /// Writes the file, its positions in an order that does not depend on which was found first.
    ///
    /// # Errors
    /// Why it cannot be written.
    pub fn save(&mut self, path: &Path, order: &[String]) -> Result<(), String> {
        let places: HashMap<&str, usize> = order.iter().map(String::as_str).zip(0..).collect();
        let place = |fen: &str| places.get(fen).copied().unwrap_or(usize::MAX);
        self.positions
            .sort_by_cached_key(|it| (place(&it.fen), it.fen.clone()));
        let mut text = serde_json::to_string_pretty(self).map_err(|error| error.to_string())?;
        text.push('\n');
        put(path, text.as_bytes()).map_err(|why| format!("{}: {why}", path.display()))
    }
}
