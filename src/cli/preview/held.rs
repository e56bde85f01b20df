//! An open page: its file on the disk, and what was seen and done in it.

use super::disk;
use super::exchange;
use super::folder::Folder;
use super::protocol::{Finding, Lesson, Page};
use crate::cli::files::Text;
use crate::cli::fix::{self, encoded};
use crate::edit::Form;
use crate::preview::{Ask, Hunk, Made, Open, Placed, Refused, Written, title};
use crate::text::Source;
use std::collections::HashSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard};
use std::time::SystemTime;
use tokio::sync::watch;

/// What was asked for, once it is known what the file holds.
pub type Wish<'a> = &'a mut dyn FnMut(&Open) -> Result<Ask, Refused>;

/// A page that a browser has asked for.
pub struct Held {
    pub path: PathBuf,
    folder: Arc<Folder>,
    disk: Mutex<Disk>,
    version: watch::Sender<u64>,
}

struct Disk {
    open: Open,
    /// As they were seen last.
    bytes: Vec<u8>,
    /// Why they cannot be read any more.
    problem: Option<Refused>,
    /// Files that the page names, and when they were changed.
    named: Vec<(PathBuf, Option<SystemTime>)>,
    /// What was told of this version.
    told: Option<Told>,
}

#[derive(Clone)]
struct Told {
    page: Page,
    /// The change that each finding's fix is.
    fixes: Vec<Option<(Hunk, Option<usize>, String)>>,
}

impl Held {
    /// Opens a page. Its versions count from this one.
    ///
    /// # Errors
    /// Where it cannot be read.
    pub fn new(
        path: PathBuf,
        form: Form,
        folder: Arc<Folder>,
        version: u64,
    ) -> Result<Held, Refused> {
        let bytes = disk::settled(&path, None)?;
        let open = Open::new(form, &text(&path, &bytes)?, version);
        let disk = Disk {
            open,
            bytes,
            problem: None,
            named: Vec::new(),
            told: None,
        };
        Ok(Held {
            path,
            folder,
            disk: Mutex::new(disk),
            version: watch::Sender::new(version),
        })
    }

    /// Tells when the version changes.
    pub fn changes(&self) -> watch::Receiver<u64> {
        self.version.subscribe()
    }

    fn lock(&self) -> MutexGuard<'_, Disk> {
        // What is held is whole between its calls, also where one of them has panicked.
        self.disk
            .lock()
            .unwrap_or_else(|poisoned| poisoned.into_inner())
    }

    /// Whether one of these paths is its file or one that it names.
    pub fn is_about(&self, paths: &HashSet<PathBuf>) -> bool {
        paths.contains(&self.path)
            || self
                .lock()
                .named
                .iter()
                .any(|(path, _)| paths.contains(path))
    }

    /// What is read of the file as it is now.
    pub fn read<T>(&self, read: impl FnOnce(&Open) -> T) -> T {
        let mut disk = self.lock();
        self.look(&mut disk);
        read(&disk.open)
    }

    /// Looks at the file, and takes over what somebody has saved.
    pub fn refresh(&self) {
        let mut disk = self.lock();
        self.look(&mut disk);
    }

    fn look(&self, disk: &mut Disk) {
        let read = disk::settled(&self.path, Some(&disk.bytes));
        let read = read.and_then(|bytes| Ok((text(&self.path, &bytes)?, bytes)));
        match read {
            Ok((text, bytes)) => {
                let was_amiss = disk.problem.take().is_some();
                let is_new = disk.bytes != bytes && disk.open.seen(&text);
                disk.bytes = bytes;
                let is_named = disk.named.iter().any(|(path, then)| changed(path) != *then);
                if (is_named || was_amiss) && !is_new {
                    disk.open.touch();
                }
            }
            Err(reason) if disk.problem.as_ref() != Some(&reason) => {
                disk.problem = Some(reason);
                disk.open.touch();
            }
            Err(_) => {}
        }
        self.say(disk);
    }

    fn say(&self, disk: &Disk) {
        let version = disk.open.version();
        self.version
            .send_if_modified(|it| std::mem::replace(it, version) != version);
    }

    /// What the page is now.
    pub fn page(&self) -> Page {
        let mut disk = self.lock();
        self.look(&mut disk);
        self.told(&mut disk).page
    }

    /// Does what is wished.
    ///
    /// # Errors
    /// Where it cannot be done; then the file is as others have left it.
    pub fn act(&self, lesson: usize, wish: Wish<'_>) -> Result<(Written, Page), Refused> {
        let mut disk = self.lock();
        self.look(&mut disk);
        let written = self.write(&mut disk, lesson, wish)?;
        Ok((written, self.told(&mut disk).page))
    }

    fn write(&self, disk: &mut Disk, lesson: usize, wish: Wish<'_>) -> Result<Written, Refused> {
        if let Some(problem) = &disk.problem {
            return Err(problem.clone());
        }
        let mut made: Option<Made> = None;
        let (open, seen) = (&mut disk.open, disk.bytes.clone());
        let mut seen_last = seen.clone();
        let done = exchange::write(&self.path, seen, &mut |base| {
            if *base != *seen_last {
                open.seen(&text(&self.path, base)?);
                seen_last = base.to_vec();
            }
            let ask = wish(open)?;
            let new = open.ask(lesson, &ask)?;
            let bytes = match new.is_nothing() {
                true => None,
                false => Some(file_of(&new.text, base)?),
            };
            made = Some(new);
            Ok(bytes)
        });
        let done = done.map(|bytes| disk.bytes = bytes);
        if done.is_err() {
            disk.bytes = seen_last;
        }
        disk.told = None;
        let made = done.and_then(|()| made.ok_or_else(Refused::no_lesson));
        let written = made.map(|made| disk.open.commit(made));
        self.say(disk);
        written
    }

    /// Makes the fix of a finding of a version.
    ///
    /// # Errors
    /// Where the page is at another version, the finding has no fix, or it cannot be made.
    pub fn mend(&self, version: u64, finding: usize) -> Result<(Written, Page), Refused> {
        let mut disk = self.lock();
        self.look(&mut disk);
        let is_still = |open: &Open| match open.version() == version {
            true => Ok(()),
            false => Err(Refused::new(
                "changed",
                "the page has changed meanwhile",
                "look at what it says now",
            )),
        };
        is_still(&disk.open)?;
        let fixes = self.told(&mut disk).fixes;
        let nothing = || {
            Refused::new(
                "no-fix",
                "this finding has no certain fix",
                "mend it by hand",
            )
        };
        let fix = fixes.into_iter().nth(finding).flatten();
        let (hunk, lesson, label) = fix.ok_or_else(nothing)?;
        let ask = Ask::Mend { hunk, label };
        let mut wish = |open: &Open| is_still(open).map(|()| ask.clone());
        let written = self.write(&mut disk, lesson.unwrap_or_default(), &mut wish)?;
        Ok((written, self.told(&mut disk).page))
    }

    /// What there is to tell of the version that was seen last.
    fn told(&self, disk: &mut Disk) -> Told {
        let version = disk.open.version();
        if let Some(told) = disk.told.as_ref().filter(|it| it.page.version == version) {
            return told.clone();
        }
        let mended = self
            .folder
            .checked(&self.path, Text::decode(&self.path, &disk.bytes));
        disk.named = mended
            .sources
            .into_iter()
            .map(|path| (path.clone(), changed(&path)))
            .collect();
        let open = &disk.open;
        let mut placed = Placed::new(open.source(), open.blocks());
        let (mut findings, mut fixes) = (Vec::new(), Vec::new());
        for finding in mended.read.findings.iter() {
            let found = placed.found(finding);
            fixes.push(fix::change(open.text(), finding).map(|change| {
                let hunk = Hunk {
                    from: change.span.from as usize,
                    was: open.source().slice(change.span).to_owned(),
                    now: change.text,
                };
                (hunk, found.lesson, format!("mend of {}", finding.code.id()))
            }));
            findings.push(Finding {
                fix: fixes.last().is_some_and(Option::is_some),
                ..found.into()
            });
        }
        let problem = disk.problem.as_ref().map(|it| it.reason.clone());
        let page = Page {
            version,
            title: title(open.form, open.source(), &name(&self.path)),
            kind: open.form.word(),
            lessons: lessons(open, problem.as_deref()),
            findings,
            around: open.around(),
            problem,
        };
        let told = Told { page, fixes };
        disk.told = Some(told.clone());
        told
    }
}

fn lessons(open: &Open, problem: Option<&str>) -> Vec<Lesson> {
    let all = open.blocks().iter().zip(open.histories()).enumerate();
    let lesson = all.map(|(number, (block, history))| {
        let fixed = block
            .fixed
            .as_ref()
            .map(|it| format!("{}; {}", it.reason, it.help));
        let why = problem.map(str::to_owned).or(fixed);
        Lesson {
            number,
            text: block.shown(),
            writable: why.is_none(),
            why,
            undo: history.undo_label().map(str::to_owned),
            redo: history.redo_label().map(str::to_owned),
            lost: history.lost.len(),
        }
    });
    lesson.collect()
}

/// The last part of a path.
pub fn name(path: &Path) -> String {
    path.file_name()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned()
}

/// When a file was changed last.
fn changed(path: &Path) -> Option<SystemTime> {
    fs::metadata(path).and_then(|it| it.modified()).ok()
}

/// The text of a file.
fn text(path: &Path, bytes: &[u8]) -> Result<String, Refused> {
    if crate::cli::files::is_utf_16(bytes) {
        let reason = "this text is UTF-16, which is not read";
        return Err(Refused::new("encoding", reason, "save it as UTF-8"));
    }
    let text = Text::decode(path, bytes);
    match text.is_too_long {
        true => Err(disk::too_long()),
        false => Ok(text.source.text().to_owned()),
    }
}

/// A text as the bytes of a file that had others before.
fn file_of(text: &str, like: &[u8]) -> Result<Vec<u8>, Refused> {
    if Source::new("page", text).is_too_long() {
        return Err(disk::too_long());
    }
    let letters = |reason: String| Refused::new("encoding", reason, "then do it again");
    encoded(text, like).map_err(letters)
}
