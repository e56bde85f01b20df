//! What `plyline weigh --engine` asks, keeps and tells.

use crate::cli::args;
use crate::cli::assessments::Assessments;
use crate::cli::engine::{Ended, Limit, Patience, Setup, ask_all};
use crate::cli::out::say;
use crate::cli::progress::Line;
use crate::lesson::Lesson;
use crate::lesson::rules::position_name;
use crate::text::Findings;
use crate::weigh::{Judge, disputed, positions};
use std::collections::{HashMap, HashSet};
use std::path::Path;
use std::thread;
use time::OffsetDateTime;

/// The file is written after so many positions.
const AT_ONCE: usize = 20;
/// How many nodes a search has where no limit is given.
const NODES: u64 = 1_000_000;

/// The engine that the arguments name; none where they name none.
///
/// # Errors
/// Why they cannot be used.
pub fn setup(wanted: &args::Weigh) -> Result<Option<Setup>, String> {
    let Some(command) = &wanted.engine else {
        return Ok(None);
    };
    let words = shlex::split(command).filter(|it| !it.is_empty());
    let command = words.ok_or_else(|| {
        format!("--engine {command}: a quotation mark is not closed, or there is no word")
    })?;
    let mut options = Vec::new();
    for text in &wanted.set {
        let (name, value) = text
            .split_once('=')
            .ok_or_else(|| format!("--set {text}: write it as NAME=VALUE"))?;
        options.push((name.trim().to_owned(), value.trim().to_owned()));
    }
    let limit = match (wanted.depth, wanted.seconds) {
        (Some(depth), _) => Limit::Depth(depth),
        (None, Some(seconds)) => Limit::Seconds(seconds),
        (None, None) => Limit::Nodes(wanted.nodes.unwrap_or(NODES)),
    };
    Ok(Some(Setup {
        command,
        options,
        limit,
        patience: Patience::of(limit),
    }))
}

/// Asks about the positions of a lesson that are not known yet, keeps what is found, and says what is disputed. The
/// second is why it ended early, if it did.
///
/// # Errors
/// Where nothing could be asked.
pub fn dispute(
    lesson: &Lesson,
    setup: &Setup,
    path: &Path,
) -> Result<(Findings, Option<String>), String> {
    let mut known = Assessments::new(&setup.options, setup.limit);
    if let Some(read) = Assessments::load(path)? {
        if let Some(what) = read.differs(&known) {
            return Err(format!(
                "{}: made with {what}; ask for the same, or move this file away",
                path.display()
            ));
        }
        known = read;
    }
    let all = positions(lesson);
    let order: Vec<String> = all.iter().map(position_name).collect();
    let asked: Vec<_> = {
        let there: HashSet<&str> = known.positions.iter().map(|it| it.fen.as_str()).collect();
        let numbered = all.iter().enumerate();
        numbered
            .filter(|(at, _)| !there.contains(order[*at].as_str())) // as many names as positions
            .collect()
    };
    let today = OffsetDateTime::now_utc().date().to_string();
    let (mut line, mut done, count) = (Line::default(), 0, asked.len());
    let mut early = None;
    if count > 0 {
        let engines = thread::available_parallelism().map_or(1, |it| it.get());
        let ended = ask_all(
            setup,
            &asked,
            engines,
            &mut |about, at, found| {
                if !known.is_by(about) {
                    return Err(format!(
                        "{}: made by {}, and this is {}; move this file away to ask anew",
                        path.display(),
                        known.engine.name,
                        about.name
                    ));
                }
                known.add(about, order[at].clone(), found, &today); // a number that was handed out
                done += 1;
                line.say(&format!("asked about {done} of {count} positions"));
                match done % AT_ONCE {
                    0 => known.save(path, &order),
                    _ => Ok(()),
                }
            },
            &mut |at, why| say(&format!("{}: no answer: the engine {why}", order[at])), // the same
        );
        line.clear();
        if done > 0 {
            known.save(path, &order)?;
        }
        match ended.map_err(|why| format!("the engine cannot be used: it {why}"))? {
            Ended::Whole => {}
            Ended::Early(why) => early = Some(why),
        }
    }
    let scores: HashMap<&str, _> = known
        .positions
        .iter()
        .map(|it| (it.fen.as_str(), it.score()))
        .collect();
    let limit = match setup.limit {
        Limit::Nodes(nodes) => format!("{nodes} nodes"),
        Limit::Depth(depth) => format!("depth {depth}"),
        Limit::Seconds(seconds) => format!("{seconds} s"),
    };
    let judge = Judge {
        name: format!("{}, {limit}", known.engine.name),
        score: &|position| scores.get(position_name(position).as_str()).copied(),
    };
    Ok((disputed(lesson, &judge), early))
}
