//! The lesson whose positions are counted: of a file of notation, or of a post.

use crate::check::author;
use crate::cli::files;
use crate::cli::out::say;
use crate::cli::posts::Beside;
use crate::lesson::Lesson;
use crate::post::{self, Other};
use std::path::{Path, PathBuf};

/// A lesson, and where it is.
pub struct Found {
    path: PathBuf,
    /// Its name or number, if it was named by that.
    which: String,
    pub lesson: Lesson,
}

impl Found {
    /// The counts file that belongs to it: `lesson.counts.json`, of one that was named `post.exchange.counts.json`.
    pub fn counts(&self) -> PathBuf {
        files::beside(&self.path, &self.which, "counts.json")
    }
}

/// Reads the lesson at `FILE`, `FILE.pgn#2` (the second game), `FILE.pgn#id` or `post.md#id`. Says if there is
/// something in it that is not read.
///
/// # Errors
/// Why there is none.
pub fn load(given: &Path) -> Result<Found, String> {
    let text = given.to_string_lossy();
    let (path, which) = match text.rsplit_once('#') {
        Some((path, which)) if !given.exists() => (PathBuf::from(path), which.to_owned()),
        _ => (given.to_owned(), String::new()),
    };
    let said = |why: String| format!("{}: {why}", path.display());
    let text = files::load(&path).map_err(|unreadable| unreadable.line())?;
    if text.is_too_long {
        return Err(said("this file is too long".to_owned()));
    }
    let kind = files::kind(&path);
    let all: Vec<(String, Option<Lesson>)> = match kind {
        None => {
            let (lessons, _) = author::lessons(&text.source);
            let named = |(at, lesson): (usize, Option<Lesson>)| {
                let id = lesson.as_ref().and_then(|it| it.tag("Id"));
                let id = id.map_or((at + 1).to_string(), str::to_owned);
                (id, lesson)
            };
            lessons.into_iter().enumerate().map(named).collect()
        }
        Some(kind) => {
            let other = Other {
                source: text.source,
                kind,
                around: Box::new(Beside::new(&path, None)),
            };
            let (_, lessons) = post::lessons(&other);
            let named = |it: post::Read| {
                let lesson = it.notation.as_ref().map(|it| it.lesson.clone());
                (it.id, lesson)
            };
            lessons.into_iter().map(named).collect()
        }
    };
    let names: Vec<String> = all
        .iter()
        .map(|(id, _)| format!("{}#{id}", path.display()))
        .collect();
    let at = match (all.len(), which.as_str(), kind) {
        (0, ..) => return Err(said("it holds no lesson".to_owned())),
        (1, "", _) | (_, "", None) => 0,
        (_, "", Some(_)) => {
            return Err(said(format!("which lesson? It has {}", names.join(", "))));
        }
        _ => {
            let named = all.iter().position(|(id, _)| *id == which);
            // In a file of games also by its number.
            let number: Option<usize> = which.parse().ok().filter(|_| kind.is_none());
            let numbered = number.and_then(|it| it.checked_sub(1));
            named
                .or(numbered.filter(|&at| at < all.len()))
                .ok_or_else(|| {
                    let names = names.join(", ");
                    said(format!("it has no lesson {which}; it has {names}"))
                })?
        }
    };
    let lesson = all.into_iter().nth(at).and_then(|(_, lesson)| lesson);
    let lesson = lesson
        .ok_or_else(|| said("this lesson cannot be read; plyline check says why".to_owned()))?;
    if !lesson.unread.is_empty() {
        say(&said("not all of this lesson can be read, and what comes after that is passed over; plyline check says where".to_owned()));
    }
    Ok(Found {
        path,
        which,
        lesson,
    })
}
