//! `plyline check`: says what is wrong with the notation in files and folders, and fixes what
//! is certain.

use super::args::{self, Format};
use super::fix::{Mended, mend};
use super::out::{self, Out, say};
use super::report::Report;
use super::{Outcome, files};
use crate::cli::report::explain;
use crate::text::Severity;
use std::io::{self, Write};

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
    for found in files::find(&wanted.paths) {
        let done = found.and_then(|path| match wanted.fix {
            true => mend(&path),
            false => files::load(&path).map(Mended::untouched),
        });
        let done = match done {
            Ok(done) => done,
            Err(unreadable) => {
                say(&unreadable.line());
                outcome = Outcome::Failed;
                continue;
            }
        };
        if let Some((before, edits)) = &done.edits {
            report.mended(before, &done.read.source, edits)?;
        }
        if let Some(failed) = &done.failed {
            say(&failed.line());
            outcome = Outcome::Failed;
        }
        let read = &done.read;
        report.add(&read.source, &read.findings)?;
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
