//! `plyline tree`: shows what is read from a file, as an outline, as JSON, or one step of the
//! way from text to page.

mod emit;
mod outline;

use super::args;
use super::each_game::read;
use super::out::{Out, say};
use super::report::beside;
use super::{Outcome, files};
use crate::edge;
use std::io::{self, Write};

/// Prints the games of a file; a game whose start cannot be used prints nothing. Findings go
/// to standard error.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Tree) -> io::Result<Outcome> {
    let text = match files::load_notation(&wanted.file) {
        Ok(text) => text,
        Err(unreadable) => {
            say(&unreadable.line());
            return Ok(Outcome::Failed);
        }
    };
    let mut out = Out::new();
    let done = read(text, wanted.game, |part| match (wanted.emit, part.lesson) {
        (Some(step), _) => emit::emit(&mut out, step, part),
        (None, None) => Ok(()),
        (None, Some(lesson)) if wanted.json => {
            serde_json::to_writer(&mut out, &edge::lesson(lesson))?;
            writeln!(out)
        }
        (None, Some(lesson)) => outline::write(&mut out, part.number, lesson),
    })?;
    out.flush()?;
    beside(&done);
    Ok(Outcome::of(done.has_error))
}
