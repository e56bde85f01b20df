//! `plyline check`: says what is wrong with the notation in files and folders, and fixes what
//! is certain.

use super::Outcome;
use super::across::Across;
use super::args::{self, Format};
use super::files::{self, Queue, Text, Unreadable};
use super::fix::{As, Mended, mend};
use super::out::{self, Out, say};
use super::progress::{AT_ONCE, Progress};
use super::report::{Report, links};
use crate::cli::report::explain;
use crate::text::{Severity, Source};
use rayon::prelude::*;
use std::collections::VecDeque;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// The path that means standard input.
const INPUT: &str = "-";

/// Checks every file. One that cannot be read or fixed is named; the others are still checked.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Check) -> io::Result<Outcome> {
    if let Some(code) = &wanted.explain {
        return explain::run(code);
    }
    let colour = out::wants_colour(&io::stdout());
    let mut report = Report::new(Out::new(), wanted.format, colour);
    let mut outcome = Outcome::Clean;
    let mut waiting = Queue::of(&wanted.paths);
    let mut progress = Progress::default();
    let mut ready = VecDeque::new();
    let mut across = Across::default();
    while waiting.len() + ready.len() > 0 {
        if ready.is_empty() {
            progress.tell(waiting.len());
            let next = waiting.next(AT_ONCE);
            progress.done += next.len();
            let read =
                |found: Result<PathBuf, Unreadable>| found.and_then(|path| read(wanted, &path));
            ready = next.into_par_iter().map(read).collect::<Vec<_>>().into();
            progress.clear();
        }
        let Some(done) = ready.pop_front() else {
            continue;
        };
        let mut done = match done {
            Ok(done) => done,
            Err(unreadable) => {
                say(&unreadable.line());
                outcome = Outcome::Failed;
                continue;
            }
        };
        // What a post shows from a file of its own is checked there, once.
        for source in done.sources {
            waiting.add(source);
        }
        if let Some((before, edits)) = &done.edits {
            report.mended(before, &done.read.source, edits)?;
        }
        if let Some(failed) = &done.failed {
            say(&failed.line());
            outcome = Outcome::Failed;
        }
        let chosen = std::mem::take(&mut done.chosen);
        for finding in across.add(&done.read.source, chosen) {
            done.read.findings.push(finding);
        }
        done.read.findings.sort();
        let read = &done.read;
        if let Some(line) = other_kind(&read.source) {
            say(&line);
        }
        match wanted.links {
            true => links::write(report.out(), &read.source, &done.links, wanted.format)?,
            false => report.add(&read.source, &read.findings)?,
        }
        let warns = || {
            let mut list = read.findings.iter();
            list.any(|finding| finding.severity() == Severity::Warning)
        };
        outcome = outcome.max(Outcome::of(read.has_error || (wanted.strict && warns())));
    }
    let count = report.finish()?;
    if let Some(count) = count.filter(|_| wanted.format != Format::Json) {
        // If standard error is closed, nobody reads the count.
        let _ = writeln!(io::stderr(), "{count}");
    }
    Ok(outcome)
}

/// Reads a file, and mends it where that is wanted.
fn read(wanted: &args::Check, path: &Path) -> Result<Mended, Unreadable> {
    let root = wanted.root.as_deref().or(files::root(&wanted.paths, path));
    let is_input = path == Path::new(INPUT);
    let name = wanted.name.as_deref().filter(|_| is_input);
    let path = name.unwrap_or(path);
    let like = As { path, root };
    if is_input && wanted.fix {
        return Err(Unreadable::new(
            path,
            "standard input cannot be fixed in place",
        ));
    }
    if is_input {
        let bytes = files::all(path, io::stdin().lock())?;
        return Ok(Mended::untouched(Text::decode(path, &bytes), like));
    }
    match wanted.fix {
        true => mend(like),
        false => files::load(path).map(|text| Mended::untouched(text, like)),
    }
}

/// What there is to say of a text that is read as notation and looks like a post.
fn other_kind(source: &Source) -> Option<String> {
    let name = source.name();
    let text = source.text().trim_start();
    let is_post = text.starts_with(['#', '<'])
        || text.starts_with("---")
        || text
            .lines()
            .any(|line| line.trim_start().starts_with("```pgn"));
    let way_out = match name {
        INPUT => "say so by --name post.md",
        _ => "say so by an ending, .md or .html",
    };
    let is_named = name != INPUT && !name.ends_with(".txt");
    (is_post && !is_named).then(|| format!("{name}: this looks like a post; {way_out}"))
}
