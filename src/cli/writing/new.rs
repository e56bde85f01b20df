//! `plyline new`: the file of a new lesson.

use crate::cli::args::{New, Side};
use crate::cli::out::{Out, say};
use crate::cli::{Outcome, files};
use crate::edit::{Form, begun};
use shakmaty::Color;
use std::fs::{self, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Writes the file, if there is none of that name.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &New) -> io::Result<Outcome> {
    let (path, form) = named(&wanted.name);
    let side = wanted.side.map(|side| match side {
        Side::White => Color::White,
        Side::Black => Color::Black,
    });
    let text = match begun(form, &title(&path), side, &wanted.from) {
        Ok(text) => text,
        Err(refused) => {
            say(&format!("--from: {}; {}", refused.reason, refused.help));
            return Ok(Outcome::Failed);
        }
    };
    if let Err(reason) = write(&path, &text) {
        say(&format!("{}: {reason}", path.display()));
        return Ok(Outcome::Failed);
    }
    let mut out = Out::new();
    writeln!(out, "{}", path.display())?;
    out.flush()?;
    Ok(Outcome::Clean)
}

/// The path of the file, and what it is.
fn named(name: &Path) -> (PathBuf, Form) {
    let form = name
        .file_name()
        .and_then(|it| Form::named(&it.to_string_lossy()));
    match form {
        Some(form) => (name.to_owned(), form),
        None => {
            // The name may have a full stop of its own.
            let mut path = name.as_os_str().to_owned();
            path.push(".md");
            (PathBuf::from(path), Form::Markdown)
        }
    }
}

/// What a lesson is called by the name of its file.
fn title(path: &Path) -> String {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let words = stem.replace(['-', '_'], " ");
    let mut letters = words.trim().chars();
    let first: String = letters
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .collect();
    let plain: String = format!("{first}{}", letters.as_str());
    plain
        .chars()
        .map(|it| if it.is_control() { ' ' } else { it })
        .collect()
}

fn write(path: &Path, text: &str) -> Result<(), String> {
    let said = |error: io::Error| match error.kind() {
        ErrorKind::AlreadyExists => "this is there already, and is left as it is".to_owned(),
        _ => files::reason(&error),
    };
    let mut file = OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(path)
        .map_err(said)?;
    let written = file
        .write_all(text.as_bytes())
        .and_then(|()| file.sync_all());
    if written.is_err() {
        // It is ours, and not whole.
        let _ = fs::remove_file(path);
    }
    written.map_err(said)
}
