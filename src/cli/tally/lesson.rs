//! The lesson whose positions are counted: of a file of notation, or of a post.

use crate::check::author;
use crate::cli::files;
use crate::cli::posts::Beside;
use crate::lesson::Lesson;
use crate::post::{self, Other};
use std::path::{Path, PathBuf};

/// A lesson, and where it is.
pub struct Found {
    path: PathBuf,
    pub lesson: Lesson,
}

impl Found {
    /// The file that it is in.
    pub fn path(&self) -> &Path {
        &self.path
    }
}

/// Reads the lesson at `FILE`, `FILE.pgn#2` (the second game) or `post.md#id`.
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
    let lesson = match files::kind(&path) {
        None => {
            let number = match which.is_empty() {
                true => 1,
                false => which
                    .parse()
                    .map_err(|_| said(format!("#{which} is no number of a game")))?,
            };
            let (mut lessons, _) = author::lessons(&text.source);
            match lessons.len() {
                count if (1..=count).contains(&number) => lessons.swap_remove(number - 1),
                count => {
                    return Err(said(format!(
                        "it has {count} games, so there is no game {number}"
                    )));
                }
            }
        }
        Some(kind) => {
            let other = Other {
                source: text.source,
                kind,
                around: Box::new(Beside::new(&path, None)),
            };
            let (_, lessons) = post::lessons(&other);
            let ids: Vec<String> = lessons.iter().map(|it| it.id.clone()).collect();
            let mut named = lessons
                .into_iter()
                .filter(|it| which.is_empty() || it.id == which);
            let first = named.next();
            match (first, ids.len()) {
                (Some(first), count) if count == 1 || !which.is_empty() => {
                    let notation = first.notation.as_ref();
                    notation.map(|it| it.lesson.clone())
                }
                (_, 0) => return Err(said("it has no lesson".to_owned())),
                _ => {
                    let ids: Vec<String> = ids
                        .iter()
                        .map(|id| format!("{}#{id}", path.display()))
                        .collect();
                    return Err(said(format!("which lesson? It has {}", ids.join(", "))));
                }
            }
        }
    };
    let lesson = lesson
        .ok_or_else(|| said("this lesson cannot be read; plyline check says why".to_owned()))?;
    Ok(Found { path, lesson })
}
