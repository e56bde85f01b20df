//! `plyline export`: prints the games of a file in the export format of the PGN standard, or the chapters of the talk
//! about one.

use super::args;
use super::each_game::read;
use super::files::Text;
use super::out::Out;
use super::report::beside;
use super::{Outcome, files, out};
use crate::lesson::{self, Incomplete};
use crate::talk::chapters::{Chapter, chapters, list, vtt};
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
    if let Some(form) = wanted.chapters {
        return told(text, wanted, form);
    }
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
    held_back.iter().for_each(|number| say_held_back(*number));
    match held_back.is_empty() {
        true => Ok(Outcome::of(done.has_error)),
        false => Ok(Outcome::Errors),
    }
}

fn say_held_back(number: usize) {
    out::say(&format!(
        "game {number} is not printed, because it was not read whole (--partial prints what was read)"
    ));
}

/// Prints the chapters of one lesson. A recording is about one, so of several the reader says which.
fn told(text: Text, wanted: &args::Export, form: args::Chapters) -> io::Result<Outcome> {
    let name = wanted.file.display();
    // The number of each lesson, and its chapters where it was read whole.
    let mut all: Vec<(usize, Option<Vec<Chapter>>)> = Vec::new();
    let done = read(text, wanted.game, |part| {
        if let Some(lesson) = part.lesson {
            let is_whole = lesson::export(lesson, wanted.partial).is_ok();
            all.push((part.number, is_whole.then(|| chapters(lesson))));
        }
        Ok::<(), io::Error>(())
    })?;
    let mut all = all.into_iter();
    let (first, more) = (all.next(), all.next());
    if more.is_some() {
        out::say(&format!(
            "{name}: more than one game, and chapters are of one lesson; say which by --game"
        ));
        return Ok(Outcome::Failed);
    }
    beside(&done);
    match first {
        Some((number, None)) => say_held_back(number),
        Some((_, Some(list))) if list.is_empty() => out::say(&format!(
            "{name}: no chapters, because no comment says when the talk speaks of its position (`Hear: 4:27`); \
             plyline listen TALK --lesson {name} writes these times"
        )),
        Some((_, Some(chapters))) => {
            let mut out = Out::new();
            out.write_all(
                match form {
                    args::Chapters::Vtt => vtt(&chapters),
                    args::Chapters::Text => list(&chapters),
                }
                .as_bytes(),
            )?;
            out.flush()?;
            return Ok(Outcome::of(done.has_error));
        }
        None => {} // its start cannot be used or there is no game, which a finding says
    }
    Ok(Outcome::Errors)
}
