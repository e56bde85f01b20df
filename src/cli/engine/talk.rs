//! A talk with one engine: it is begun, and then asked about one position after another.

use super::process::{Process, Silence};
use super::said::{Info, Said};
use crate::assessments::{Bound, Score};
use crate::lesson::rules::{EnPassantForm, fen, san_of};
use crate::lesson::{Attempt, attempt};
use shakmaty::{Chess, Position, Role, Square};
use std::time::{Duration, Instant};

/// What is run, and how it is asked.
#[derive(Clone, Debug)]
pub struct Setup {
    /// The program and its arguments.
    pub command: Vec<String>,
    /// Options by their names.
    pub options: Vec<(String, String)>,
    pub limit: Limit,
    pub patience: Patience,
}

/// When a search ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limit {
    /// The same on every machine.
    Nodes(u64),
    Depth(u32),
    Seconds(u32),
}

/// How long an engine may be silent.
#[derive(Clone, Copy, Debug)]
pub struct Patience {
    /// Until it has begun, and until it is ready.
    pub begin: Duration,
    /// While it searches.
    pub search: Duration,
    /// How long a search may take in all, however much is said meanwhile.
    pub whole: Duration,
    /// After it was told to stop.
    pub stop: Duration,
}

impl Patience {
    /// As the rules of weighing have it (point 8).
    pub fn of(limit: Limit) -> Patience {
        let seconds = Duration::from_secs;
        let (search, whole) = match limit {
            Limit::Seconds(time) => (seconds(u64::from(time) + 10), seconds(u64::from(time) + 10)),
            Limit::Nodes(_) | Limit::Depth(_) => (seconds(60), seconds(HOURS * 3_600)),
        };
        Patience {
            begin: seconds(10),
            search,
            whole,
            stop: seconds(5),
        }
    }
}

/// So long a search of a number of nodes or to a depth may take.
const HOURS: u64 = 1;

/// What an engine says of itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct About {
    pub name: String,
    pub author: String,
}

/// What an engine says of a position, for White.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assessed {
    pub score: Score,
    pub bound: Bound,
    pub depth: Option<u32>,
    pub nodes: Option<u64>,
    /// In SAN.
    pub line: Vec<String>,
}

/// An engine that has begun.
pub struct Talk {
    process: Process,
    limit: Limit,
    patience: Patience,
}

impl Talk {
    /// Starts an engine and sets its options; `Threads` is 1 where nothing else is wanted.
    ///
    /// # Errors
    /// Why it cannot be used.
    pub fn begin(setup: &Setup) -> Result<(Talk, About), String> {
        let mut process = Process::start(&setup.command)?;
        let mut about = About::default();
        let mut options: Vec<String> = Vec::new();
        process.say("uci");
        let until = Instant::now() + setup.patience.begin;
        loop {
            match process.hear(until).map(|line| Said::read(&line)) {
                Ok(Said::Name(name)) => about.name = name,
                Ok(Said::Author(author)) => about.author = author,
                Ok(Said::Option(name)) => options.push(name),
                Ok(Said::Begun) => break,
                Ok(_) => {}
                Err(Silence::Late) => {
                    let what = "has not said that it has begun (uciok)";
                    return Err(late(what, setup.patience.begin));
                }
                Err(Silence::Over) => return Err("ended before it had begun".to_owned()),
            }
        }
        let is = |one: &str, other: &str| one.eq_ignore_ascii_case(other);
        let mut wanted = setup.options.clone();
        if let Some((name, _)) = wanted
            .iter()
            .find(|(name, _)| !options.iter().any(|it| is(it, name)))
        {
            return Err(format!(
                "has no option {name}; it has {}",
                options.join(", ")
            ));
        }
        let has_threads = options.iter().any(|it| is(it, "Threads"));
        if has_threads && !wanted.iter().any(|(name, _)| is(name, "Threads")) {
            wanted.push(("Threads".to_owned(), "1".to_owned()));
        }
        for (name, value) in &wanted {
            process.say(&format!("setoption name {name} value {value}"));
        }
        let mut talk = Talk {
            process,
            limit: setup.limit,
            patience: setup.patience,
        };
        talk.ready()?;
        Ok((talk, about))
    }

    /// Waits until the engine is ready.
    fn ready(&mut self) -> Result<(), String> {
        self.process.say("isready");
        let until = Instant::now() + self.patience.begin;
        loop {
            match self.process.hear(until).map(|line| Said::read(&line)) {
                Ok(Said::Ready) => return Ok(()),
                Ok(_) => {}
                Err(Silence::Late) => {
                    let what = "has not said that it is ready (readyok)";
                    return Err(late(what, self.patience.begin));
                }
                Err(Silence::Over) => return Err("has ended".to_owned()),
            }
        }
    }

    /// Asks about a position, as if it knew no other.
    ///
    /// # Errors
    /// Why there is no answer; then the engine is of no more use.
    pub fn ask(&mut self, position: &Chess) -> Result<Assessed, String> {
        self.process.say("ucinewgame");
        self.ready()?;
        self.process.say(&format!(
            "position fen {}",
            fen(position, EnPassantForm::Legal)
        ));
        let go = match self.limit {
            Limit::Nodes(nodes) => format!("go nodes {nodes}"),
            Limit::Depth(depth) => format!("go depth {depth}"),
            Limit::Seconds(seconds) => format!("go movetime {}", u64::from(seconds) * 1000),
        };
        self.process.say(&go);
        let (info, best) = self.search()?;
        let Some(best) = best else {
            return Err("says that there is no move, and there is".to_owned());
        };
        if moved(position, &best).is_none() {
            return Err(format!("wants to play {best}, which cannot be played"));
        }
        let Some(info) = info else {
            return Err("gives a move and no score".to_owned());
        };
        let is_white = position.turn().is_white();
        Ok(Assessed {
            score: if is_white {
                info.score
            } else {
                info.score.turned()
            },
            bound: if is_white {
                info.bound
            } else {
                info.bound.turned()
            },
            depth: info.depth,
            nodes: info.nodes,
            line: sans(position, &info.line),
        })
    }

    /// Hears a search to its end: the last score that is one, else the last bound, and the best move.
    fn search(&mut self) -> Result<(Option<Info>, Option<String>), String> {
        let is_timed = matches!(self.limit, Limit::Seconds(_));
        let Patience { search, whole, .. } = self.patience;
        let end = Instant::now() + whole;
        let mut found: Option<Info> = None;
        loop {
            let until = (Instant::now() + search).min(end);
            match self.process.hear(until).map(|line| Said::read(&line)) {
                Ok(Said::Info(info)) => {
                    let is_better = info.bound == Bound::Exact
                        || found.as_ref().is_none_or(|it| it.bound != Bound::Exact);
                    if is_better {
                        found = Some(info);
                    }
                }
                Ok(Said::Best(best)) => return Ok((found, best)),
                Ok(_) => {}
                Err(Silence::Over) => return Err("ended in the middle of a search".to_owned()),
                Err(Silence::Late) => break,
            }
        }
        let why = match Instant::now() < end {
            true => late("is silent", search),
            false => late("finds no end", whole),
        };
        self.process.say("stop");
        let until = Instant::now() + self.patience.stop;
        loop {
            match self.process.hear(until).map(|line| Said::read(&line)) {
                // A search by time may well be asked to stop. Another has not searched what it should.
                Ok(Said::Best(best)) if is_timed => return Ok((found, best)),
                Ok(Said::Best(_)) | Err(_) => return Err(why),
                Ok(_) => {}
            }
        }
    }
}

fn late(what: &str, after: Duration) -> String {
    format!("{what} for {} s", after.as_secs_f32())
}

/// The position after a move in letters and digits, and the move in SAN.
fn moved(position: &Chess, word: &str) -> Option<(String, Chess)> {
    let square = |range: core::ops::Range<usize>| word.get(range)?.parse::<Square>().ok();
    let (from, to) = (square(0..2)?, square(2..4)?);
    let becomes = match word.get(4..)?.chars().next() {
        None => None,
        Some(letter) => Some(Role::from_char(letter)?),
    };
    match attempt(position, from, to, becomes) {
        Attempt::Played(tried) => Some((san_of(position, tried.played?), tried.position)),
        _ => None,
    }
}

/// The moves of a line in SAN, up to one that cannot be played.
fn sans(position: &Chess, line: &[String]) -> Vec<String> {
    let mut position = position.clone();
    let mut list = Vec::new();
    for word in line {
        let Some((san, next)) = moved(&position, word) else {
            break;
        };
        list.push(san);
        position = next;
    }
    list
}
