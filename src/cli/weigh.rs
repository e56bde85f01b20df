//! `plyline weigh`: what a search says of the lessons in files and folders.

use super::Outcome;
use super::args::{self, Format};
use super::check::{around, real};
use super::each_game;
use super::files::{self, Text, Unreadable};
use super::out::{self, Out, say, visible};
use super::posts::Beside;
use super::progress::Line;
use super::report::Report;
use crate::post;
use crate::text::{Findings, Severity, Source};
use crate::weigh::{Told, weigh};
use serde_json::json;
use std::collections::{HashSet, VecDeque};
use std::convert::Infallible;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// What was weighed of a file.
struct Weighed {
    source: Source,
    findings: Findings,
    told: Vec<Told>,
    /// Lessons that cannot be read, or not to their end.
    unread: usize,
    /// Files of notation that it names.
    sources: Vec<PathBuf>,
}

/// Weighs every lesson, one after the other, on all cores.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Weigh) -> io::Result<Outcome> {
    let colour = out::wants_colour(&io::stdout());
    let mut report = Report::new(Out::new(), wanted.format, colour);
    let mut outcome = Outcome::Clean;
    let mut waiting: VecDeque<_> = files::find(&wanted.paths).into();
    let asked = waiting.iter().flatten().map(|path| real(path));
    let mut seen: HashSet<PathBuf> = asked.collect();
    let mut progress = Line::default();
    while let Some(next) = waiting.pop_front() {
        let done = next.and_then(|path| {
            progress.say(&format!("weighing {}", path.display()));
            one(wanted, &path)
        });
        progress.clear();
        let done = match done {
            Ok(done) => done,
            Err(unreadable) => {
                say(&unreadable.line());
                outcome = Outcome::Failed;
                continue;
            }
        };
        for source in done.sources {
            if fs::metadata(&source).is_ok() && seen.insert(real(&source)) {
                waiting.push_back(Ok(source));
            }
        }
        if done.unread > 0 {
            let name = done.source.name();
            say(&format!(
                "{name}: not all of this can be read, and what comes after that is not weighed; plyline check says where"
            ));
            outcome = Outcome::Failed;
        }
        report.add(&done.source, &done.findings)?;
        for told in &done.told {
            tell(report.out(), wanted.format, &done.source, told)?;
        }
        let mut list = done.findings.iter();
        let warns = list.any(|it| it.severity() == Severity::Warning);
        outcome = outcome.max(Outcome::of(wanted.strict && warns));
    }
    let count = report.finish()?;
    if let Some(count) = count.filter(|_| wanted.format != Format::Json) {
        // If standard error is closed, nobody reads the count.
        let _ = writeln!(io::stderr(), "{count}");
    }
    Ok(outcome)
}

fn one(wanted: &args::Weigh, path: &Path) -> Result<Weighed, Unreadable> {
    let text = files::load(path)?;
    if text.is_too_long {
        return Err(Unreadable::new(path, "this file is too long"));
    }
    let root = wanted.root.as_deref().or(around(&wanted.paths, path));
    Ok(match files::kind(path) {
        None => of_notation(wanted, text),
        Some(kind) => of_post(wanted, text, kind, path, root),
    })
}

fn of_notation(wanted: &args::Weigh, text: Text) -> Weighed {
    let (mut findings, mut told, mut unread) = (Findings::default(), Vec::new(), 0);
    let read = each_game::read(text, None, |part| {
        match part.lesson {
            Some(lesson) => {
                let weighed = weigh(lesson, wanted.budget, wanted.report);
                findings.extend(weighed.findings);
                told.extend(weighed.told);
                unread += usize::from(!lesson.unread.is_empty());
            }
            None => unread += 1,
        }
        Ok::<(), Infallible>(())
    });
    let Ok(read) = read;
    Weighed {
        source: read.source,
        findings,
        told,
        unread,
        sources: Vec::new(),
    }
}

fn of_post(
    wanted: &args::Weigh,
    text: Text,
    kind: post::Kind,
    path: &Path,
    root: Option<&Path>,
) -> Weighed {
    let (mut told, mut unread) = (Vec::new(), 0);
    let beside = Beside::new(path, root);
    let asked = post::each_own(&text.source, kind, &beside, &mut |lesson, mapping| {
        let weighed = weigh(lesson, wanted.budget, wanted.report);
        told.extend(weighed.told.into_iter().map(|it| Told {
            span: mapping.outer(it.span),
            ..it
        }));
        unread += usize::from(!lesson.unread.is_empty());
        weighed.findings
    });
    let mut findings = Findings::default();
    for finding in asked.findings {
        findings.push(finding);
    }
    findings.sort();
    told.sort_by_key(|it| it.span.from);
    let sources = asked.sources.iter();
    Weighed {
        sources: sources
            .filter_map(|it| super::posts::file(path, root, it))
            .collect(),
        source: text.source,
        findings,
        told,
        unread: unread + asked.unread,
    }
}

/// Writes what is no finding: a line for people, an object for programs, a notice for GitHub.
fn tell(out: &mut Out, format: Format, source: &Source, told: &Told) -> io::Result<()> {
    let place = source.place(told.span.from);
    let (line, column) = (place.line, place.column);
    let name = source.name();
    match format {
        Format::Json => {
            let line = json!({
                "file": name, "line": line, "column": column, "told": told.kind, "text": told.text,
            });
            writeln!(out, "{line}")
        }
        Format::Text | Format::Github => writeln!(
            out,
            "{}:{line}:{column}: {}: {}",
            visible(name),
            told.kind,
            visible(&told.text)
        ),
    }
}
