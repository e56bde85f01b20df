//! Files: which ones a path means, and what is in them.

use crate::post::Kind;
use crate::text::{Code, Finding, Findings, Source, Span, limits};
use std::collections::{HashSet, VecDeque};
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

/// A path that gave nothing to read, and why.
#[derive(Debug)]
pub struct Unreadable {
    /// As it was written, or as it was found in a folder.
    pub path: PathBuf,
    /// Why, for people.
    pub reason: String,
}

impl Unreadable {
    /// A path and why.
    pub fn new(path: &Path, reason: impl ToString) -> Unreadable {
        Unreadable {
            path: path.to_owned(),
            reason: reason.to_string(),
        }
    }

    /// One line that names the path and the reason.
    pub fn line(&self) -> String {
        format!("{}: {}", self.path.display(), self.reason)
    }
}

/// The system's sentence without its number, which is of no use to an author.
pub fn reason(error: &io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error")
        .next()
        .unwrap_or_default()
        .to_owned()
}

/// The files that these paths mean, in their order and each once: a file is itself, a folder
/// its `.pgn` files and its posts, also those in folders inside it, sorted.
pub fn find(paths: &[PathBuf]) -> Vec<Result<PathBuf, Unreadable>> {
    let mut found = Vec::new();
    let mut seen = HashSet::new();
    for path in paths {
        if path.is_dir() {
            walk(path, &mut found);
        } else {
            found.push(Ok(path.clone()));
        }
    }
    found.retain(|one| match one {
        Ok(path) => seen.insert(path.clone()),
        Err(_) => true,
    });
    found
}

/// What `/` means in the addresses of a file where nothing else is said: the folder among the paths that
/// holds it, else the first one.
pub fn root<'a>(paths: &'a [PathBuf], file: &Path) -> Option<&'a Path> {
    let folders = || paths.iter().filter(|it| it.is_dir());
    let holds = folders().find(|it| file.starts_with(it));
    holds.or(folders().next()).map(PathBuf::as_path)
}

/// The files that are still to be read: those that paths mean, and those that are named on the way, each once.
#[derive(Debug)]
pub struct Queue {
    waiting: VecDeque<Result<PathBuf, Unreadable>>,
    seen: HashSet<PathBuf>,
}

impl Queue {
    /// The files that these paths mean.
    pub fn of(paths: &[PathBuf]) -> Queue {
        let waiting: VecDeque<_> = find(paths).into();
        let seen = waiting.iter().flatten().map(|path| real(path)).collect();
        Queue { waiting, seen }
    }

    /// The next ones, at most so many.
    pub fn next(&mut self, count: usize) -> Vec<Result<PathBuf, Unreadable>> {
        let count = count.min(self.waiting.len());
        self.waiting.drain(..count).collect()
    }

    /// Adds a file, unless it was there before.
    pub fn add(&mut self, path: PathBuf) {
        if self.seen.insert(real(&path)) {
            self.waiting.push_back(Ok(path));
        }
    }

    /// How many are left.
    pub fn len(&self) -> usize {
        self.waiting.len()
    }
}

/// A path by which a file is known again, however it was named.
fn real(path: &Path) -> PathBuf {
    fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
}

/// The file of an ending that belongs to a lesson: `lesson.counts.json` for `lesson.pgn`, of one lesson among several, by
/// its name or number, `post.exchange.counts.json`.
pub fn beside(path: &Path, which: &str, ending: &str) -> PathBuf {
    let is_plain = |it: char| it.is_alphanumeric() || matches!(it, '-' | '_');
    let which: String = which
        .chars()
        .map(|it| if is_plain(it) { it } else { '-' })
        .collect();
    match which.is_empty() {
        true => path.with_extension(ending),
        false => path.with_extension(format!("{which}.{ending}")),
    }
}

/// Adds the files of a folder that may hold notation. Names that begin with a dot are ignored, and so are
/// links to folders, which can lead round in a circle. What has the name and is no file, such as
/// a pipe, is named: reading it could take forever.
fn walk(top: &Path, found: &mut Vec<Result<PathBuf, Unreadable>>) {
    let before = found.len();
    // Folders and files that are still to be looked at; the last comes first.
    let mut waiting = vec![top.to_owned()];
    while let Some(path) = waiting.pop() {
        if path != top && !path.is_dir() {
            // What cannot be examined, such as a link that leads nowhere, is reported when it is
            // opened.
            let is_other = path.metadata().is_ok_and(|it| !it.is_file());
            found.push(match is_other {
                true => Err(Unreadable::new(&path, "this is not a file and is ignored")),
                false => Ok(path),
            });
            continue;
        }
        match entries(&path) {
            Ok(list) => waiting.extend(list.into_iter().rev()),
            Err(error) => found.push(Err(Unreadable::new(&path, reason(&error)))),
        }
    }
    if found.len() == before {
        found.push(Err(Unreadable::new(
            top,
            "there is no .pgn, .md or .html file in this folder",
        )));
    }
}

/// The folders and the files with notation in a folder, sorted.
fn entries(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let mut list = Vec::new();
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let path = entry.path();
        let hidden = entry.file_name().as_encoded_bytes().starts_with(b".");
        let wanted = match path.is_dir() {
            true => !entry.file_type()?.is_symlink(),
            false => has_extension(&path, &["pgn"]) || kind(&path).is_some(),
        };
        if wanted && !hidden {
            list.push(path);
        }
    }
    list.sort();
    Ok(list)
}

fn has_extension(path: &Path, wanted: &[&str]) -> bool {
    let extension = path.extension().and_then(|extension| extension.to_str());
    extension.is_some_and(|it| wanted.iter().any(|other| it.eq_ignore_ascii_case(other)))
}

/// The kind of post that a file is; none if it is notation.
pub fn kind(path: &Path) -> Option<Kind> {
    Kind::named(&path.file_name()?.to_string_lossy())
}

/// What was read from a file.
#[derive(Debug)]
pub struct Text {
    /// Its text; empty if it was too long to be kept.
    pub source: Source,
    /// What the reading itself found.
    pub findings: Findings,
    /// Whether the text was too long, which `findings` says.
    pub is_too_long: bool,
}

/// Reads a file as text.
///
/// # Errors
/// Where it cannot be read or decoded.
pub fn load(path: &Path) -> Result<Text, Unreadable> {
    bytes(path).map(|bytes| Text::decode(path, &bytes))
}

/// Reads a file of notation and nothing else.
///
/// # Errors
/// Those of [`load`], and where the file is a post.
pub fn load_notation(path: &Path) -> Result<Text, Unreadable> {
    match kind(path) {
        None => load(path),
        Some(_) => Err(Unreadable::new(
            path,
            "this is a post, which `plyline check` reads; here only PGN files are read",
        )),
    }
}

/// The bytes of a file, but never many more than the core would read.
///
/// # Errors
/// Where it cannot be read, or is in an encoding that is recognised but not read.
pub fn bytes(path: &Path) -> Result<Vec<u8>, Unreadable> {
    let unreadable = |error: io::Error| Unreadable::new(path, reason(&error));
    if path.is_dir() {
        return Err(Unreadable::new(path, "this is a folder"));
    }
    let file = File::open(path).map_err(unreadable)?;
    all(path, file)
}

/// The bytes of what is read under a name, in the same way.
///
/// # Errors
/// As those of [`bytes`].
pub fn all(path: &Path, input: impl Read) -> Result<Vec<u8>, Unreadable> {
    up_to(limits::TEXT_BYTES, path, input)
}

/// Captions, which may be longer than a lesson; one byte more than are read, where there are.
///
/// # Errors
/// As those of [`bytes`].
pub fn captions(path: &Path, most: usize) -> Result<Vec<u8>, Unreadable> {
    if path.is_dir() {
        return Err(Unreadable::new(path, "this is a folder"));
    }
    let file = File::open(path).map_err(|error| Unreadable::new(path, reason(&error)))?;
    up_to(most, path, file)
}

fn up_to(most: usize, path: &Path, input: impl Read) -> Result<Vec<u8>, Unreadable> {
    // The length that the system gives is not used: a device may have none and never end.
    let mut bytes = Vec::new();
    input
        .take(most as u64 + MARK.len() as u64 + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| Unreadable::new(path, reason(&error)))?;
    match is_utf_16(&bytes) {
        true => Err(Unreadable::new(
            path,
            "this text is UTF-16, which is not read; save it as UTF-8",
        )),
        false => Ok(bytes),
    }
}

/// The byte order marks of UTF-16, both ways. Without the mark it cannot be recognised.
const UTF_16: [&[u8]; 2] = [b"\xff\xfe", b"\xfe\xff"];

/// Whether bytes are text in UTF-16, which is not read.
pub fn is_utf_16(bytes: &[u8]) -> bool {
    UTF_16.iter().any(|mark| bytes.starts_with(mark))
}

/// The byte order mark of UTF-8.
const MARK: &[u8] = b"\xef\xbb\xbf";

/// The bytes without a byte order mark.
pub fn without_mark(bytes: &[u8]) -> &[u8] {
    bytes.strip_prefix(MARK).unwrap_or(bytes)
}

impl Text {
    /// The text that the bytes of a file are.
    pub fn decode(path: &Path, bytes: &[u8]) -> Text {
        let name = path.display().to_string();
        let is_too_long = without_mark(bytes).len() > limits::TEXT_BYTES;
        let (source, findings) = match is_too_long {
            true => (Source::new(name, ""), too_long()),
            false => Source::from_bytes(name, bytes),
        };
        Text {
            source,
            findings,
            is_too_long,
        }
    }
}

fn too_long() -> Findings {
    let message = format!(
        "this text has more than {} bytes and is not read",
        limits::TEXT_BYTES
    );
    let mut findings = Findings::default();
    findings.push(Finding::new(Code::TextTooLong, Span::default(), message));
    findings
}
