//! `plyline weigh`: what a search says of the lessons in files and folders.

mod engines;

use super::Outcome;
use super::args::{self, Format};
use super::each_game;
use super::engine::Setup;
use super::files::{self, Queue, Text, Unreadable};
use super::out::{self, Out, say, visible};
use super::posts::Beside;
use super::progress::Line;
use super::report::Report;
use crate::lesson::Lesson;
use crate::post;
use crate::text::{Findings, Severity, Source};
use crate::weigh::{Told, weigh};
use serde_json::json;
use std::convert::Infallible;
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
    /// Why an engine was not asked about all of it.
    early: Option<String>,
}

/// Weighs one lesson after another of a file.
struct Scale<'a> {
    wanted: &'a args::Weigh,
    setup: Option<&'a Setup>,
    path: &'a Path,
    /// How many lessons there were so far.
    count: usize,
    told: Vec<Told>,
    unread: usize,
    early: Option<String>,
}

impl Scale<'_> {
    /// What is found of the next lesson; none where it cannot be read.
    fn weigh(&mut self, lesson: Option<&Lesson>) -> (Findings, Vec<Told>) {
        self.count += 1;
        let Some(lesson) = lesson else {
            self.unread += 1;
            return Default::default();
        };
        let weighed = weigh(lesson, self.wanted.budget, self.wanted.report);
        let mut findings = weighed.findings;
        self.unread += usize::from(!lesson.unread.is_empty());
        if let Some(setup) = self.setup.filter(|_| self.early.is_none()) {
            // The first of a file has the file's own name.
            let which = match (self.count, lesson.tag("Id")) {
                (1, _) => String::new(),
                (_, Some(id)) => id.to_owned(),
                (number, None) => number.to_string(),
            };
            let path = files::beside(self.path, &which, "assessments.json");
            match engines::dispute(lesson, setup, &path) {
                Ok((more, early)) => {
                    findings.extend(more);
                    self.early = early;
                }
                Err(why) => self.early = Some(why),
            }
        }
        (findings, weighed.told)
    }
}

/// Weighs every lesson, one after the other, on all cores.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Weigh) -> io::Result<Outcome> {
    let setup = match engines::setup(wanted) {
        Ok(setup) => setup,
        Err(why) => {
            say(&why);
            return Ok(Outcome::Failed);
        }
    };
    let colour = out::wants_colour(&io::stdout());
    let mut report = Report::new(Out::new(), wanted.format, colour);
    let mut outcome = Outcome::Clean;
    let mut asks = setup.is_some();
    let mut waiting = Queue::of(&wanted.paths);
    let mut progress = Line::default();
    while let Some(next) = waiting.next(1).pop() {
        let done = next.and_then(|path| {
            progress.say(&format!("weighing {}", path.display()));
            one(wanted, setup.as_ref().filter(|_| asks), &path)
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
            // One that is not there is told by check.
            if source.exists() {
                waiting.add(source);
            }
        }
        if done.unread > 0 {
            let name = done.source.name();
            say(&format!(
                "{name}: not all of this can be read, and what comes after that is not weighed; plyline check says where"
            ));
            outcome = Outcome::Failed;
        }
        if let Some(why) = &done.early {
            say(why);
            // What an engine has said so far is kept; it is asked no more.
            asks = false;
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

fn one(wanted: &args::Weigh, setup: Option<&Setup>, path: &Path) -> Result<Weighed, Unreadable> {
    let text = files::load(path)?;
    if text.is_too_long {
        return Err(Unreadable::new(path, "this file is too long"));
    }
    let root = wanted.root.as_deref().or(files::root(&wanted.paths, path));
    let scale = Scale {
        wanted,
        setup,
        path,
        count: 0,
        told: Vec::new(),
        unread: 0,
        early: None,
    };
    Ok(match files::kind(path) {
        None => of_notation(scale, text),
        Some(kind) => of_post(scale, text, kind, root),
    })
}

fn of_notation(mut scale: Scale<'_>, text: Text) -> Weighed {
    let mut findings = Findings::default();
    let read = each_game::read(text, None, |part| {
        let (found, told) = scale.weigh(part.lesson);
        findings.extend(found);
        scale.told.extend(told);
        Ok::<(), Infallible>(())
    });
    let Ok(read) = read;
    Weighed {
        source: read.source,
        findings,
        told: scale.told,
        unread: scale.unread,
        sources: Vec::new(),
        early: scale.early,
    }
}

fn of_post(mut scale: Scale<'_>, text: Text, kind: post::Kind, root: Option<&Path>) -> Weighed {
    let path = scale.path;
    let beside = Beside::new(path, root);
    let asked = post::each_own(&text.source, kind, &beside, &mut |lesson, mapping| {
        let (findings, told) = scale.weigh(Some(lesson));
        scale.told.extend(told.into_iter().map(|it| Told {
            span: mapping.outer(it.span),
            ..it
        }));
        findings
    });
    let mut findings = Findings::default();
    for finding in asked.findings {
        findings.push(finding);
    }
    findings.sort();
    scale.told.sort_by_key(|it| it.span.from);
    let sources = asked.sources.iter();
    Weighed {
        sources: sources
            .filter_map(|it| super::posts::file(path, root, it))
            .collect(),
        source: text.source,
        findings,
        told: scale.told,
        unread: scale.unread + asked.unread,
        early: scale.early,
    }
}

/// Writes what is no finding: an object for programs, else a line.
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
