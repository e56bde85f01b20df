//! `plyline compare`: what has changed in the lessons of a file or folder.

use super::told::{Line, Place, markdown, text};
use crate::cli::args::{Compare, Told};
use crate::cli::out::{Out, say};
use crate::cli::{Outcome, files};
use crate::compare::compare;
use crate::lesson::{Lesson, export, validate};
use crate::notation::parse;
use crate::post::{self, Unfit};
use crate::text::Source;
use std::collections::BTreeSet;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Prints the changes.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &Compare) -> io::Result<Outcome> {
    let pairs = match pairs(&wanted.old, &wanted.new) {
        Ok(pairs) => pairs,
        Err(why) => {
            say(&why);
            return Ok(Outcome::Failed);
        }
    };
    // All is read before anything is printed.
    let mut lines = Vec::new();
    for (name, old, new) in &pairs {
        match (lessons(old.as_deref()), lessons(new.as_deref())) {
            (Ok(old), Ok(new)) => lines.extend(changes(name, &old, &new)),
            (Err(why), _) | (_, Err(why)) => {
                say(&why);
                return Ok(Outcome::Failed);
            }
        }
    }
    let mut out = Out::new();
    if wanted.format == Told::Markdown {
        writeln!(out, "## What changed\n")?;
    }
    let is_one = pairs.len() == 1;
    for line in &lines {
        match wanted.format {
            Told::Json => {
                serde_json::to_writer(&mut out, &line.json())?;
                writeln!(out)?;
            }
            Told::Text => writeln!(out, "{}", text(line, is_one))?,
            Told::Markdown => writeln!(out, "{}", markdown(line, is_one))?,
        }
    }
    if lines.is_empty() && wanted.format != Told::Json {
        writeln!(out, "nothing")?;
    }
    out.flush()?;
    Ok(Outcome::Clean)
}

/// A name that two files share, and the two; none where one is missing.
type Pair = (String, Option<PathBuf>, Option<PathBuf>);

fn pairs(old: &Path, new: &Path) -> Result<Vec<Pair>, String> {
    match (old.is_dir(), new.is_dir()) {
        (false, false) => {
            let name = new
                .file_name()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            Ok(vec![(name, Some(old.to_owned()), Some(new.to_owned()))])
        }
        (true, true) => {
            let (old, new) = (within(old)?, within(new)?);
            let names: BTreeSet<&String> = old.iter().chain(&new).map(|(name, _)| name).collect();
            let find = |list: &[(String, PathBuf)], name: &str| {
                let found = list.iter().find(|it| it.0 == name);
                found.map(|it| it.1.clone())
            };
            Ok(names
                .into_iter()
                .map(|name| (name.clone(), find(&old, name), find(&new, name)))
                .collect())
        }
        _ => Err("one of these is a folder and the other is not".to_owned()),
    }
}

/// The files of a folder by their names within it.
fn within(folder: &Path) -> Result<Vec<(String, PathBuf)>, String> {
    let mut list = Vec::new();
    for found in files::find(&[folder.to_owned()]) {
        let path = found.map_err(|it| it.line())?;
        let name = path.strip_prefix(folder).unwrap_or(&path);
        list.push((name.to_string_lossy().replace('\\', "/"), path));
    }
    Ok(list)
}

/// The lessons of a file.
fn lessons(path: Option<&Path>) -> Result<Vec<Lesson>, String> {
    let Some(path) = path else {
        return Ok(Vec::new());
    };
    let file = files::load(path).map_err(|it| it.line())?;
    let name = path.display();
    if file.is_too_long {
        return Err(format!("{name}: this file is too long to be read"));
    }
    let mut texts = Vec::new();
    match files::kind(path) {
        None => texts.push(file.source),
        Some(kind) => {
            for text in post::texts(&file.source, kind) {
                match text {
                    Ok(text) => texts.push(Source::new(file.source.name(), text)),
                    // Those of other files are compared there.
                    Err(Unfit::Elsewhere(_) | Unfit::Empty) => {}
                    Err(_) => return Err(format!("{name}: a lesson here is not closed")),
                }
            }
        }
    }
    let mut all = Vec::new();
    for source in texts {
        let (syntax, _) = parse(&source);
        for lesson in validate(&source, &syntax).0 {
            match lesson.filter(|it| it.unread.is_empty() && !it.passed_over) {
                Some(lesson) => all.push(lesson),
                None => {
                    return Err(format!(
                        "{name}: not all of this can be read; plyline check says where"
                    ));
                }
            }
        }
    }
    Ok(all)
}

fn changes(file: &str, old: &[Lesson], new: &[Lesson]) -> Vec<Line> {
    let mut lines = Vec::new();
    for at in 0..old.len().max(new.len()) {
        let place = Place {
            file: file.to_owned(),
            game: at + 1,
        };
        let pgn = |lesson: &Lesson| export(lesson, true).unwrap_or_default();
        match (old.get(at), new.get(at)) {
            (Some(old), Some(new)) => {
                let changes = compare(old, new).into_iter();
                let start = crate::lesson::at_move(&new.node(0).position);
                lines.extend(changes.map(|change| Line::new(place.clone(), start, change)));
            }
            (None, Some(new)) => {
                lines.push(Line::game(place, None, Some(pgn(new)), new.nodes.len() - 1))
            }
            (Some(old), None) => {
                lines.push(Line::game(place, Some(pgn(old)), None, old.nodes.len() - 1))
            }
            (None, None) => {}
        }
    }
    lines
}
