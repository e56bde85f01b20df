//! `plyline merge`: several lessons as one.

use crate::cli::args::Merge;
use crate::cli::out::{Out, say};
use crate::cli::{Outcome, files};
use crate::lesson::Lesson;
use crate::lesson::validate;
use crate::merge::{Given, merge};
use crate::notation::parse;
use std::io::{self, Write};

/// Prints the merged lessons. Nothing is printed where a game was not read whole.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &Merge) -> io::Result<Outcome> {
    let mut lessons: Vec<(String, Lesson)> = Vec::new();
    for path in &wanted.files {
        let text = match files::load_notation(path) {
            Ok(text) if !text.is_too_long => text,
            Ok(_) => {
                say(&format!(
                    "{}: this file is too long to be read",
                    path.display()
                ));
                return Ok(Outcome::Failed);
            }
            Err(unreadable) => {
                say(&unreadable.line());
                return Ok(Outcome::Failed);
            }
        };
        let (syntax, _) = parse(&text.source);
        let (read, _) = validate(&text.source, &syntax);
        if read.is_empty() || read.iter().any(Option::is_none) {
            say(&not_whole(&path.display().to_string()));
            return Ok(Outcome::Errors);
        }
        let name = path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        lessons.extend(
            read.into_iter()
                .flatten()
                .map(|lesson| (name.clone(), lesson)),
        );
    }
    let given = lessons.iter().map(|(name, lesson)| Given { name, lesson });
    let given: Vec<Given<'_>> = given.collect();
    let merged = match merge(&given, wanted.sources) {
        Ok(merged) => merged,
        Err(name) => {
            say(&not_whole(&name));
            return Ok(Outcome::Errors);
        }
    };
    let mut out = Out::new();
    write!(out, "{}", merged.pgn)?;
    out.flush()?;
    for differs in &merged.differs {
        let place = match differs.at.is_empty() {
            true => "at the start".to_owned(),
            false => format!("after {}", differs.at.join(" ")),
        };
        let choices = differs
            .choices
            .iter()
            .map(|(name, moves)| format!("{} ({name})", moves.join(", ")));
        say(&format!(
            "{place} the files choose differently: {}",
            choices.collect::<Vec<_>>().join("; ")
        ));
    }
    Ok(Outcome::Clean)
}

fn not_whole(name: &str) -> String {
    format!(
        "{name}: not all of this can be read, and what is left of it would be lost; plyline check says where"
    )
}
