//! The format of counts files: what was counted, of which games, as JSON that one reads line by line.

use crate::counts::{self, Collection, Counted, MOST, Of};
use crate::games::{Predicted, Record, Results, Split, Standing};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The name and version of the format.
pub(super) const FORMAT: &str = "counts 1";

/// A counts file.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Counts {
    pub(super) plyline: String,
    /// The names of the collections.
    pub(super) source: Vec<String>,
    /// The latest date of a game that counts, as the PGN standard writes it.
    pub(super) date: Option<String>,
    pub(super) filters: Filters,
    /// The games that count.
    pub(super) games: u64,
    pub(super) damaged: u64,
    pub(super) left: u64,
    /// How all games ended that count.
    pub(super) results: Ends,
    pub(super) positions: Vec<At>,
}

/// Which games were wanted, as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Filters {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) since: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) until: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) rating: Option<String>,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub(super) once: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) by: Option<String>,
}

#[derive(Clone, Copy, Debug, Serialize, Deserialize)]
pub(super) struct Ends {
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
pub(super) struct At {
    pub(super) fen: String,
    pub(super) games: u64,
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
            white: it.white.min(MOST),
            drawn: it.drawn.min(MOST),
            black: it.black.min(MOST),
            unknown: it.unknown.min(MOST),
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
    pub(super) fn of(fen: String, it: &Standing, split: Option<Split>) -> At {
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
    pub(super) fn standing(&self) -> Standing {
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
    /// Reads the text of a counts file.
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

    /// What a reader sees of it.
    pub fn collection(&self) -> Collection {
        let by = self.filters.by.clone().unwrap_or_default();
        let date = self.date.clone().unwrap_or_else(|| "?".to_owned());
        let date = match self.chosen() {
            chosen if chosen.is_empty() => date,
            chosen => format!("{date}; {chosen}"),
        };
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
