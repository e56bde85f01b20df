//! `plyline export`: prints the games of a file in the export format of the PGN standard.

use super::args;
use super::each_game::read;
use super::out::Out;
use super::report::beside;
use super::{Outcome, files, out};
use crate::lesson::{self, Incomplete};
use std::io::{self, Write};

/// Prints every game that was read whole; with `--partial` what was read of the others too.
/// Findings go to standard error.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Export) -> io::Result<Outcome> {
    let text = match files::load_notation(&wanted.file) {
        Ok(text) => text,
        Err(unreadable) => {
            out::say(&unreadable.line());
            return Ok(Outcome::Failed);
        }
    };
    let mut out = Out::new();
    let mut held_back = Vec::new();
    let done = read(text, wanted.game, |part| {
        let Some(lesson) = part.lesson else {
            return Ok(()); // its start cannot be used, which a finding says
        };
        match lesson::export(lesson, wanted.partial) {
            Ok(pgn) => out.write_all(pgn.as_bytes()),
            Err(Incomplete) => {
                held_back.push(part.number);
                Ok(())
            }
        }
    })?;
    out.flush()?;
    beside(&done);
    for number in &held_back {
        out::say(&format!(
            "game {number} is not printed, because it was not read whole (--partial prints what was read)"
        ));
    }
    match held_back.is_empty() {
        true => Ok(Outcome::of(done.has_error)),
        false => Ok(Outcome::Errors),
    }
}
