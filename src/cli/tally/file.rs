//! A counts file: what was counted, of which games, as JSON that one reads line by line.

use super::{counted_as, grouped, named};
use crate::cli::args;
use crate::counts::{self, Collection, Counted, Of};
use crate::games::{Positions, Predicted, Record, Results, Split, Standing, Tally};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::Read;
use std::path::Path;

/// The name and version of the format.
const FORMAT: &str = "counts 1";

/// A counts file.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Counts {
    plyline: String,
    /// The names of the collections.
    source: Vec<String>,
    /// The latest date of a game that counts, as the PGN standard writes it.
    date: Option<String>,
    filters: Filters,
    /// The games that count.
    games: u64,
    damaged: u64,
    left: u64,
    /// How all games ended that count.
    results: Ends,
    positions: Vec<At>,
}

/// Which games were wanted, as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
struct Filters {
    #[serde(skip_serializing_if = "Option::is_none")]
    since: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    until: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    rating: Option<String>,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    once: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    by: Option<String>,
}

#[derive(Clone, Copy, Debug, Serialize, Deserialize)]
struct Ends {
    #[serde(rename = "1-0")]
    white: u64,
    #[serde(rename = "1/2-1/2")]
    drawn: u64,
    #[serde(rename = "0-1")]
    black: u64,
    #[serde(rename = "*")]
    unknown: u64,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
struct At {
    fen: String,
    games: u64,
    results: Ends,
    #[serde(default, skip_serializing_if = "Foretold::is_nothing")]
    predicted: Foretold,
    next: Vec<Next>,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    by: BTreeMap<String, BTreeMap<String, Part>>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
struct Next {
    #[serde(rename = "move")]
    san: String,
    games: u64,
    results: Ends,
    #[serde(default, skip_serializing_if = "Foretold::is_nothing")]
    predicted: Foretold,
}

/// What ratings predict: the percents expected of White in so many games, added up. Files of before have none.
#[derive(Clone, Copy, Debug, Default, Serialize, Deserialize)]
struct Foretold {
    games: u64,
    sum: u64,
}

impl Foretold {
    fn of(it: &Predicted) -> Foretold {
        Foretold {
            games: it.games,
            sum: it.sum,
        }
    }

    fn is_nothing(&self) -> bool {
        self.games == 0
    }
}

#[derive(Clone, Copy, Debug, Serialize, Deserialize)]
struct Part {
    games: u64,
    results: Ends,
}

impl From<&Results> for Ends {
    fn from(it: &Results) -> Ends {
        Ends {
            white: it.white,
            drawn: it.drawn,
            black: it.black,
            unknown: it.unknown,
        }
    }
}

impl From<&Ends> for Results {
    fn from(it: &Ends) -> Results {
        Results {
            white: it.white,
            drawn: it.drawn,
            black: it.black,
            unknown: it.unknown,
        }
    }
}

/// Both, as they were counted.
fn record(results: &Ends, predicted: Foretold) -> Record {
    Record {
        results: results.into(),
        predicted: Predicted {
            games: predicted.games,
            sum: predicted.sum,
        },
    }
}

impl Part {
    fn of(results: &Results) -> Part {
        Part {
            games: results.games(),
            results: results.into(),
        }
    }
}

impl At {
    fn of(fen: String, it: &Standing, split: Option<Split>) -> At {
        let mut next: Vec<Next> = it
            .next
            .iter()
            .map(|(san, record)| Next {
                san: san.clone(),
                games: record.games(),
                results: (&record.results).into(),
                predicted: Foretold::of(&record.predicted),
            })
            .collect();
        next.sort_by(|a, b| (b.games, &a.san).cmp(&(a.games, &b.san)));
        let mut by = BTreeMap::new();
        if let Some(split) = split.filter(|_| !it.parts.is_empty()) {
            let part = |(name, results): (&String, &Results)| (name.clone(), Part::of(results));
            by.insert(split.name().to_owned(), it.parts.iter().map(part).collect());
        }
        At {
            fen,
            games: it.all.games(),
            results: (&it.all.results).into(),
            predicted: Foretold::of(&it.all.predicted),
            next,
            by,
        }
    }

    /// What a reader sees of it.
    fn counted(&self) -> Counted {
        let next = |it: &Next| counts::Next {
            shown: it.san.clone(),
            node: None,
            results: (&it.results).into(),
        };
        let part = |(name, it): (&String, &Part)| counts::Part {
            name: name.clone(),
            results: (&it.results).into(),
        };
        Counted {
            all: (&self.results).into(),
            next: self.next.iter().map(next).collect(),
            parts: self.by.values().flatten().map(part).collect(),
            predicted: record(&self.results, self.predicted).predicted,
        }
    }

    /// The same, as it was counted.
    fn standing(&self) -> Standing {
        let part = |(name, it): (&String, &Part)| (name.clone(), (&it.results).into());
        let next = |it: &Next| (it.san.clone(), record(&it.results, it.predicted));
        Standing {
            all: record(&self.results, self.predicted),
            next: self.next.iter().map(next).collect(),
            parts: self.by.values().flatten().map(part).collect(),
        }
    }
}

impl Counts {
    /// What was counted of the games that were asked for.
    ///
    /// # Errors
    /// Where a source is named twice.
    pub fn of(
        tally: &Tally,
        positions: &Positions,
        split: Option<Split>,
        wanted: &args::Tally,
    ) -> Result<Counts, String> {
        let standings = tally.standings(positions);
        let names = positions.names().into_iter();
        let at = names
            .zip(&standings)
            .map(|(fen, it)| At::of(fen, it, split));
        Ok(Counts {
            plyline: FORMAT.to_owned(),
            source: sources(wanted.games.iter().map(|path| named(path)))?,
            date: tally.date.as_ref().map(|it| it.replace(".00", ".??")),
            filters: Filters {
                since: wanted.since.clone(),
                until: wanted.until.clone(),
                rating: wanted.rating.clone(),
                once: wanted.once,
                by: split.map(|it| it.name().to_owned()),
            },
            games: tally.all.games(),
            damaged: tally.damaged,
            left: tally.left,
            results: (&tally.all).into(),
            positions: at.collect(),
        })
    }

    /// Reads a counts file.
    ///
    /// # Errors
    /// Why it cannot be used.
    pub fn load(path: &Path) -> Result<Counts, String> {
        let said = |why: String| format!("{}: {why}", path.display());
        let text =
            fs::read_to_string(path).map_err(|error| said(crate::cli::files::reason(&error)))?;
        Counts::read(&text).map_err(said)
    }

    /// The same of its text.
    ///
    /// # Errors
    /// Why it cannot be used.
    pub fn read(text: &str) -> Result<Counts, String> {
        let counts: Counts = match serde_json::from_str(text) {
            Ok(counts) => counts,
            Err(_) => {
                let format = serde_json::from_str::<serde_json::Value>(text).ok();
                let format = format.and_then(|it| it.get("plyline")?.as_str().map(str::to_owned));
                return Err(match format {
                    Some(format) if format != FORMAT => newer(&format),
                    _ => "this is no counts file: plyline tally writes one".to_owned(),
                });
            }
        };
        match counts.plyline == FORMAT {
            true => Ok(counts),
            false => Err(newer(&counts.plyline)),
        }
    }

    /// The same with what was counted in other games.
    ///
    /// # Errors
    /// Why they cannot be added up.
    pub fn with(mut self, other: Counts) -> Result<Counts, String> {
        if self.filters.once || other.filters.once {
            return Err(
                "counted with --once, which holds within one run only; count all games in one"
                    .to_owned(),
            );
        }
        if self.filters != other.filters {
            return Err("counted with other filters than the first file".to_owned());
        }
        let fens =
            |it: &Counts| -> Vec<String> { it.positions.iter().map(|at| at.fen.clone()).collect() };
        if fens(&self) != fens(&other) {
            return Err("counted for another lesson than the first file".to_owned());
        }
        self.source = sources(self.source.into_iter().chain(other.source))?;
        let days = |date: &Option<String>| date.as_ref().map(|it| it.replace("??", "00"));
        if days(&other.date) > days(&self.date) {
            self.date = other.date;
        }
        self.games += other.games;
        self.damaged += other.damaged;
        self.left += other.left;
        let mut results = Results::from(&self.results);
        results.add(&(&other.results).into());
        self.results = (&results).into();
        let split = self.filters.by.as_deref().and_then(Split::named);
        for (here, there) in self.positions.iter_mut().zip(&other.positions) {
            let mut both = here.standing();
            both.add(&there.standing());
            *here = At::of(std::mem::take(&mut here.fen), &both, split);
        }
        Ok(self)
    }

    /// What a reader sees of it.
    pub fn collection(&self) -> Collection {
        let by = self.filters.by.clone().unwrap_or_default();
        let mut date = self.date.clone().unwrap_or_else(|| "?".to_owned());
        let filters = [
            ("since", &self.filters.since),
            ("until", &self.filters.until),
            ("rating", &self.filters.rating),
        ];
        for (name, value) in filters {
            if let Some(value) = value {
                date = format!("{date}, {name} {value}");
            }
        }
        if self.filters.once {
            date += ", once true";
        }
        let of = Of {
            names: self.source.join(", "),
            date,
            all: (&self.results).into(),
            damaged: self.damaged,
            left: self.left,
            by,
        };
        let at = |it: &At| (it.fen.clone(), it.counted());
        Collection {
            of,
            at: self.positions.iter().map(at).collect(),
        }
    }

    /// The games that were counted.
    pub fn games(&self) -> u64 {
        self.games
    }

    /// What was counted at the positions of a lesson.
    ///
    /// # Errors
    /// If it was counted for another.
    pub fn standings(&self, positions: &Positions) -> Result<Vec<Standing>, String> {
        let fens = self.positions.iter().map(|it| it.fen.as_str());
        match fens.eq(positions.names().iter().map(String::as_str)) {
            true => Ok(self.positions.iter().map(At::standing).collect()),
            false => {
                Err("counted for another lesson, or before it was changed; count again".to_owned())
            }
        }
    }

    /// Whether no game comes to any of the positions.
    pub fn is_empty(&self) -> bool {
        self.positions.iter().all(|it| it.games == 0)
    }

    /// The file, with a line for each position.
    pub fn text(&self) -> String {
        let mut head = self.clone();
        head.positions = Vec::new();
        // Maps of strings and numbers are always JSON.
        let head = serde_json::to_string(&head).unwrap_or_default();
        let mut text = head.strip_suffix("]}").unwrap_or(&head).to_owned();
        let lines: Vec<String> = self
            .positions
            .iter()
            .map(|it| serde_json::to_string(it).unwrap_or_default())
            .collect();
        text.push('\n');
        text += &lines.join(",\n");
        text + "\n]}\n"
    }

    /// What there is in it, in a line.
    pub fn summary(&self) -> String {
        let reached = self.positions.iter().filter(|it| it.games > 0).count();
        let here = self.positions.iter().map(|it| it.games).max();
        let mut text = format!(
            "{} of {} to this lesson; {reached} of its {} positions are met",
            grouped(here.unwrap_or(0)),
            match self.games {
                1 => "1 game comes".to_owned(),
                games => format!("{} games come", grouped(games)),
            },
            self.positions.len()
        );
        if self.left > 0 {
            text += &format!("; {} left out", counted_as(self.left, "game"));
        }
        if self.damaged > 0 {
            text += &format!("; {} damaged", counted_as(self.damaged, "game"));
        }
        text
    }

    /// Which games were counted, in words; empty for all.
    pub fn chosen(&self) -> String {
        let it = &self.filters;
        let mut words = Vec::new();
        words.extend(it.since.as_ref().map(|date| format!("since {date}")));
        words.extend(it.until.as_ref().map(|date| format!("until {date}")));
        words.extend(it.rating.as_ref().map(|both| format!("ratings {both}")));
        words.extend(it.once.then(|| "identical ones once".to_owned()));
        words.join(", ")
    }
}

fn newer(format: &str) -> String {
    format!(
        "its format is \u{201c}{format}\u{201d}, and this plyline reads \u{201c}{FORMAT}\u{201d}"
    )
}

/// Whether a counts file may be written there.
///
/// # Errors
/// Where the folder is missing, or something else is there.
pub fn may_write(out: &Path) -> Result<(), String> {
    let folder = out.parent().filter(|it| !it.as_os_str().is_empty());
    if let Some(folder) = folder.filter(|it| !it.is_dir()) {
        let folder = folder.display();
        return Err(format!("{}: there is no folder {folder}", out.display()));
    }
    let mut start = Vec::new();
    let there = fs::File::open(out).map(|file| file.take(64).read_to_end(&mut start));
    let is_counts = start.starts_with(b"{\"plyline\":\"counts ");
    match there.is_err() || start.is_empty() || is_counts {
        true => Ok(()),
        false => Err(format!(
            "{}: this is no counts file, and it is left as it is",
            out.display()
        )),
    }
}

/// The names of sources, in their order as text.
///
/// # Errors
/// Where two are the same: a merge could not tell whether games are counted twice.
pub fn sources(names: impl Iterator<Item = String>) -> Result<Vec<String>, String> {
    let mut all = BTreeSet::new();
    for name in names {
        if !all.insert(name.clone()) {
            return Err(format!(
                "two collections are named {name}; rename one, or name it once"
            ));
        }
    }
    Ok(all.into_iter().collect())
}
