//! The files of a site, and what each is.

use crate::cli::files::{Unreadable, reason};
use crate::cli::written::is_beside;
use crate::post::Kind;
use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};

/// What is done with a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    Page,
    Feed,
    /// It is copied.
    Other,
}

/// A file of a site.
#[derive(Debug)]
pub struct File {
    /// Seen from the site's folder.
    pub path: PathBuf,
    pub what: What,
}

/// All files below a folder, sorted. Links to folders are passed over: they can lead round in a circle.
/// `except` is the folder that a copy is written to: nothing below it is among the files, and a link to a
/// folder, which is not copied, is told.
pub fn all(site: &Path, except: Option<&Path>) -> (Vec<File>, Vec<Unreadable>) {
    let (mut found, mut failed) = (Vec::new(), Vec::new());
    let mut waiting = vec![PathBuf::new()];
    while let Some(below) = waiting.pop() {
        let folder = site.join(&below);
        let list = fs::read_dir(&folder).and_then(Iterator::collect::<Result<Vec<_>, _>>);
        let list = match list {
            Ok(list) => list,
            Err(error) => {
                failed.push(Unreadable::new(&folder, reason(&error)));
                continue;
            }
        };
        for entry in list {
            let (name, path) = (entry.file_name(), below.join(entry.file_name()));
            let about = fs::metadata(entry.path());
            let is_link = entry.file_type().is_ok_and(|it| it.is_symlink());
            match about {
                Ok(about) if about.is_dir() => {
                    let is_out = except.is_some_and(|it| is_same(&entry.path(), it));
                    // Version control keeps its own copies of pages.
                    if is_link && except.is_some() {
                        let why = "this link leads to a folder and is not copied";
                        failed.push(Unreadable::new(&entry.path(), why));
                    } else if !is_link && !is_out && name != ".git" {
                        waiting.push(path);
                    }
                }
                // A program that was ended may have left it, or another is writing it.
                Ok(_) if is_beside(&name.to_string_lossy()) => {}
                Ok(about) if about.is_file() => {
                    let what = what(&name);
                    found.push(File { path, what });
                }
                Ok(_) => {
                    let why = "this is not a file and is ignored";
                    failed.push(Unreadable::new(&entry.path(), why));
                }
                Err(error) => failed.push(Unreadable::new(&entry.path(), reason(&error))),
            }
        }
    }
    found.sort_by(|one, other| one.path.cmp(&other.path));
    (found, failed)
}

/// Whether two paths are one folder.
pub fn is_same(one: &Path, other: &Path) -> bool {
    let real = |path: &Path| fs::canonicalize(path).ok();
    real(one).is_some_and(|it| Some(it) == real(other))
}

fn what(name: &OsStr) -> What {
    let name = name.to_string_lossy();
    let ending = name
        .rsplit_once('.')
        .map(|(_, ending)| ending.to_ascii_lowercase());
    match (Kind::named(&name), ending.as_deref()) {
        (Some(Kind::Html), _) => What::Page,
        (_, Some("xml" | "rss" | "atom" | "json")) => What::Feed,
        _ => What::Other,
    }
}
