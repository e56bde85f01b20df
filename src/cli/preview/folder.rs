//! What is served: a folder or one file, and which file on the disk an address means. Nothing outside is reached, by
//! whatever links there are.

use crate::cli::files::{self, Text};
use crate::cli::fix::{As, Mended};
use crate::edit::Form;
use crate::preview::{Counted, Path as Names};
use crate::text::Severity;
use rayon::prelude::*;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// What is served.
#[derive(Debug)]
pub struct Folder {
    /// Without links in its path.
    pub root: PathBuf,
    /// The one page, where a file was named.
    only: Option<PathBuf>,
    /// What it is called.
    pub name: String,
}

/// What an address means.
#[derive(Debug, PartialEq, Eq)]
pub enum Place {
    Page(PathBuf, Form),
    Folder(PathBuf),
    File(PathBuf),
    /// A folder whose address lacks the slash at its end.
    Unended,
    Missing,
}

/// Endings of files that a page beside them may load, where only that page is served.
const BESIDE: &[&str] = &[
    "css", "js", "mjs", "json", "png", "jpg", "jpeg", "gif", "svg", "webp", "avif", "ico", "woff",
    "woff2", "mp3", "m4a", "ogg", "opus", "wav", "mp4", "webm", "vtt", "pgn",
];

impl Folder {
    /// The folder, or the one file.
    ///
    /// # Errors
    /// Why it cannot be served.
    pub fn new(path: &Path) -> Result<Folder, String> {
        let said = |reason: &str| format!("{}: {reason}", path.display());
        let real = fs::canonicalize(path).map_err(|error| said(&files::reason(&error)))?;
        let name = real
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        if real.is_dir() {
            fs::read_dir(&real).map_err(|error| said(&files::reason(&error)))?;
            let (root, only) = (real, None);
            return Ok(Folder { root, only, name });
        }
        let is_page = Form::named(&name).is_some() && real.is_file();
        match real.parent().filter(|_| is_page) {
            Some(root) => Ok(Folder {
                root: root.to_owned(),
                only: Some(real.clone()),
                name,
            }),
            None => Err(said("this is no folder and no .md, .html or .pgn file")),
        }
    }

    /// What an address means.
    pub fn find(&self, names: &Names) -> Place {
        let mut path = self.root.clone();
        path.extend(&names.names);
        // Links may lead to any place in the folder, and to none outside.
        let Ok(real) = fs::canonicalize(&path) else {
            return Place::Missing;
        };
        if !real.starts_with(&self.root) || self.is_hidden(&real) {
            return Place::Missing;
        }
        if real.is_dir() {
            return match (names.is_folder, &self.only) {
                (_, Some(_)) if real != self.root => Place::Missing,
                (true, _) => Place::Folder(real),
                (false, _) => Place::Unended,
            };
        }
        // A pipe or a device can be read forever.
        if names.is_folder || !real.is_file() {
            return Place::Missing;
        }
        let form = real
            .file_name()
            .and_then(|it| Form::named(&it.to_string_lossy()));
        match (form, &self.only) {
            (Some(form), None) => Place::Page(real, form),
            (Some(form), Some(only)) if *only == real => Place::Page(real, form),
            (None, None) => Place::File(real),
            (_, Some(_)) => {
                let ending = real
                    .extension()
                    .unwrap_or_default()
                    .to_string_lossy()
                    .to_lowercase();
                match BESIDE.contains(&ending.as_str()) {
                    true => Place::File(real),
                    false => Place::Missing,
                }
            }
        }
    }

    fn is_hidden(&self, real: &Path) -> bool {
        let below = real.strip_prefix(&self.root).unwrap_or(real);
        below
            .iter()
            .any(|it| it.as_encoded_bytes().starts_with(b"."))
    }

    /// The page that is shown for a folder.
    pub fn index(&self, folder: &Path) -> Option<(PathBuf, Form)> {
        if self.only.is_some() {
            return None;
        }
        let names = ["index.html", "index.md"];
        let mut pages = names
            .iter()
            .map(|it| folder.join(it))
            .filter(|it| it.is_file());
        let page = pages.next()?;
        let form = Form::named(&page.file_name()?.to_string_lossy())?;
        let real = fs::canonicalize(&page).ok()?;
        real.starts_with(&self.root).then_some((real, form))
    }

    /// The page that an address means, that of a folder included.
    pub fn page(&self, names: &Names) -> Option<(PathBuf, Form)> {
        match self.find(names) {
            Place::Page(path, form) => Some((path, form)),
            Place::Folder(folder) => self.index(&folder),
            _ => None,
        }
    }

    /// All pages.
    pub fn pages(&self) -> Vec<PathBuf> {
        self.below(&self.root)
    }

    fn below(&self, folder: &Path) -> Vec<PathBuf> {
        let all = match &self.only {
            Some(only) => vec![Ok(only.clone())],
            None => files::find(&[folder.to_owned()]),
        };
        all.into_iter().flatten().collect()
    }

    /// The pages below a folder, with what is found in each.
    pub fn counted(&self, folder: &Path) -> Vec<Counted> {
        let pages = self.below(folder);
        pages.par_iter().filter_map(|path| self.one(path)).collect()
    }

    fn one(&self, path: &Path) -> Option<Counted> {
        let below = path.strip_prefix(&self.root).ok()?;
        let real = fs::canonicalize(path)
            .ok()
            .filter(|it| it.starts_with(&self.root));
        let mut counted = Counted {
            names: below
                .iter()
                .map(|it| it.to_string_lossy().into_owned())
                .collect(),
            errors: 0,
            warnings: 0,
            hints: 0,
            unreadable: None,
        };
        if real.is_none() {
            counted.unreadable = Some("this leads out of the folder".to_owned());
            return Some(counted);
        }
        match self.read(path) {
            Err(reason) => counted.unreadable = Some(reason),
            Ok(mended) => {
                for finding in mended.read.findings.iter() {
                    match finding.severity() {
                        Severity::Error => counted.errors += 1,
                        Severity::Warning => counted.warnings += 1,
                        Severity::Hint => counted.hints += 1,
                    }
                }
            }
        }
        Some(counted)
    }

    fn read(&self, path: &Path) -> Result<Mended, String> {
        let text = files::load(path).map_err(|it| it.reason)?;
        Ok(self.checked(path, text))
    }

    /// What the checker says of a text that is in a file.
    pub fn checked(&self, path: &Path, text: Text) -> Mended {
        let root = Some(self.root.as_path());
        Mended::untouched(text, As { path, root })
    }
}

/// The bytes of a file that is served as it is; at most so many from a place.
pub fn part(path: &Path, from: u64, most: u64) -> io::Result<Vec<u8>> {
    use std::io::{Read, Seek, SeekFrom};
    let mut file = fs::File::open(path)?;
    file.seek(SeekFrom::Start(from))?;
    let mut bytes = Vec::new();
    file.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}
