//! `plyline check`: says what is wrong with the notation in files and folders.

use super::args::{self, Format};
use super::out::{self, Out, say};
use super::read::read;
use super::report::Report;
use super::{Outcome, files};
use std::io::{self, Write};

/// Checks every file. One that cannot be read is named and does not hinder the others.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Check) -> io::Result<Outcome> {
    let colour = out::wants_colour(&io::stdout());
    let mut report = Report::new(Out::new(), wanted.format, colour);
    let mut outcome = Outcome::Clean;
    for found in files::find(&wanted.paths) {
        match found.and_then(|path| files::load(&path)) {
            Ok(text) => {
                let done = read(text, None, |_| Ok(()))?;
                report.add(&done.source, &done.findings)?;
                outcome = outcome.max(Outcome::of(done.has_error));
            }
            Err(unreadable) => {
                say(&unreadable.line());
                outcome = Outcome::Failed;
            }
        }
    }
    let count = report.finish()?;
    if let Some(count) = count.filter(|_| wanted.format == Format::Text) {
        // Where standard error is closed nobody wants the count.
        let _ = writeln!(io::stderr(), "{count}");
    }
    Ok(outcome)
}
