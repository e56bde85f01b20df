//! `plyline bake`: the pages of a site become complete without script.

mod files;
mod languages;
mod one;
mod png;

use self::files::{File, What};
use self::languages::Languages;
use self::one::{Done, PICTURES, Site};
pub use self::png::{og_image, png};
use super::Outcome;
use super::args;
use super::files::Unreadable;
use super::out::{self, Out, say};
use super::progress::{AT_ONCE, Progress};
use super::report::Report;
use super::written::{self, put};
use crate::bake::{Meetings, Member, Script};
use rayon::prelude::*;
use std::collections::{BTreeMap, HashSet};
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Bakes every page and feed of a site.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Bake) -> io::Result<Outcome> {
    let to = wanted.out.as_deref().unwrap_or(&wanted.site);
    if let Err(why) = usable(wanted, to) {
        say(&why);
        return Ok(Outcome::Failed);
    }
    written::tidy(to);
    let (files, failed) = files::all(&wanted.site, wanted.out.as_deref());
    let mut outcome = Outcome::Clean;
    for one in &failed {
        say(&one.line());
        outcome = Outcome::Failed;
    }
    let pages = files.par_iter().filter(|it| it.what == What::Page);
    let read: Vec<_> = pages
        .map(|it| one::member(&wanted.site, &it.path))
        .collect();
    let (series, posted): (Vec<_>, Vec<_>) = read.into_iter().unzip();
    let series: Vec<Member> = series.into_iter().flatten().collect();
    let meetings = Meetings::new(posted.into_iter().flatten().collect());
    for why in lonely(&series) {
        say(&why);
    }
    let site = Site {
        folder: &wanted.site,
        languages: &Languages::default(),
        assets: wanted.assets_url.as_deref(),
        base: wanted.base_url.as_deref(),
        series: &series,
        meetings: &meetings,
    };
    let colour = out::wants_colour(&io::stdout());
    let mut report = Report::new(Out::new(), wanted.format, colour);
    let mut progress = Progress::default();
    let mut told = Told::default();
    let mut waiting = files.as_slice();
    while !waiting.is_empty() {
        progress.tell(waiting.len());
        let (next, left) = waiting.split_at(waiting.len().min(AT_ONCE));
        let done: Vec<_> = next.par_iter().map(|file| bake(&site, to, file)).collect();
        progress.done += next.len();
        waiting = left;
        progress.clear();
        for (file, done) in next.iter().zip(done) {
            match done {
                Ok(done) => {
                    outcome = outcome.max(Outcome::of(done.read.has_error));
                    for why in &done.said {
                        say(&format!("{}: {why}", file.path.display()));
                    }
                    if done.count > 0 || !done.read.findings.is_empty() {
                        report.add(&done.read.source, &done.read.findings)?;
                    }
                    told.add(&file.path, done);
                }
                Err(unreadable) => {
                    say(&unreadable.line());
                    outcome = Outcome::Failed;
                }
            }
        }
    }
    if outcome != Outcome::Failed {
        tidy(&to.join(PICTURES), &told.pictures);
    }
    told.say();
    let count = report.finish()?;
    if let Some(count) = count.filter(|_| wanted.format != args::Format::Json) {
        let made = format!("{} elements baked, {count}", told.count);
        // If standard error is closed, nobody reads the count.
        let _ = writeln!(io::stderr(), "{made}");
    }
    Ok(outcome)
}

/// Series with a single post beside others: the name may have a slip.
fn lonely(series: &[Member]) -> Vec<String> {
    let mut posts: BTreeMap<&str, Vec<&Member>> = BTreeMap::new();
    for post in series {
        posts.entry(&post.series).or_default().push(post);
    }
    let is_other = posts.len() > 1;
    let alone = posts.iter().filter(|(_, of)| is_other && of.len() == 1);
    let say = |(name, of): (&&str, &Vec<&Member>)| {
        let path = of.first().map_or("", |it| it.path.as_str());
        format!(
            "{path}: the only post of the series \u{201c}{name}\u{201d}; is it written otherwise elsewhere?"
        )
    };
    alone.map(say).collect()
}

/// The names of the pictures that a page or a feed shows.
fn shown(bytes: &[u8]) -> Vec<String> {
    let text = String::from_utf8_lossy(bytes);
    let folder = format!("{PICTURES}/");
    let after = text.split(folder.as_str()).skip(1);
    after
        .filter_map(|it| it.get(..NAME).map(str::to_owned))
        .collect()
}

/// Bytes of a picture's name: a hash, a full stop and an ending.
const NAME: usize = 20;

/// Whether the folders can be used as they are given.
fn usable(wanted: &args::Bake, to: &Path) -> Result<(), String> {
    let site = wanted.site.display();
    if let Some(base) = wanted.base_url.as_ref().filter(|it| !it.contains("://")) {
        return Err(format!(
            "--base-url {base}: write the whole address, as https://{base}"
        ));
    }
    if !wanted.site.is_dir() {
        return Err(format!("{site}: there is no such folder"));
    }
    let Some(out) = &wanted.out else {
        return Ok(());
    };
    if files::is_same(&wanted.site, out) {
        return Err(format!(
            "{site}: to bake a site where it is, use --in-place"
        ));
    }
    fs::create_dir_all(to)
        .map_err(|error| format!("{}: {}", to.display(), super::files::reason(&error)))?;
    let real = |path: &Path| fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    if real(&wanted.site).starts_with(real(out)) {
        let out = out.display();
        return Err(format!("{out}: the site is in this folder; choose another"));
    }
    Ok(())
}

/// Reads a file, bakes it, and writes it with its pictures.
fn bake(site: &Site<'_>, to: &Path, file: &File) -> Result<Done, Unreadable> {
    let from = site.folder.join(&file.path);
    let target = to.join(&file.path);
    let is_elsewhere = from != target;
    let bytes = match file.what {
        What::Other if !is_elsewhere => return Ok(Done::nothing(&from)),
        What::Other => {
            let bytes = fs::read(&from)
                .map_err(|error| Unreadable::new(&from, super::files::reason(&error)))?;
            put(&target, &bytes).map_err(|why| Unreadable::new(&target, why))?;
            return Ok(Done::nothing(&from));
        }
        What::Page | What::Feed => {
            fs::read(&from).map_err(|error| Unreadable::new(&from, super::files::reason(&error)))?
        }
    };
    let done = match file.what {
        What::Page => one::page(site, &file.path, &bytes),
        _ => one::feed(site, &file.path, &bytes),
    };
    let mut done = match done {
        Ok(done) => done,
        // It is there as it was.
        Err(why) if is_elsewhere => {
            put(&target, &bytes).map_err(|why| Unreadable::new(&target, why))?;
            return Err(why);
        }
        Err(why) => return Err(why),
    };
    // The pictures first: a page never shows one that is not there.
    for (name, drawing) in std::mem::take(&mut done.pictures) {
        let path = to.join(PICTURES).join(name);
        // Its name says what is in it, and it was written whole.
        if path.exists() {
            continue;
        }
        let put = drawing.bytes().and_then(|bytes| put(&path, &bytes));
        put.map_err(|why| Unreadable::new(&path, why))?;
    }
    let bytes = done.bytes.as_deref().unwrap_or(&bytes);
    put(&target, bytes).map_err(|why| Unreadable::new(&target, why))?;
    // Also those of a feed that an earlier run wrote.
    done.shown = shown(bytes);
    Ok(done)
}

/// Takes away pictures that no page shows any more.
fn tidy(folder: &Path, used: &HashSet<String>) {
    let is_ours = |name: &str| {
        let (stem, ending) = name.split_once('.').unwrap_or((name, ""));
        let is_hash = stem.len() == 16 && stem.bytes().all(|it| it.is_ascii_hexdigit());
        is_hash && matches!(ending, "svg" | "png")
    };
    let Ok(list) = fs::read_dir(folder) else {
        return;
    };
    for entry in list.flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        if is_ours(&name) && !used.contains(&name) {
            // One that stays does no harm.
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// What is said once at the end.
#[derive(Default)]
struct Told {
    count: usize,
    pictures: HashSet<String>,
    /// The first page that loads the script in a way, and how many do.
    scripts: BTreeMap<&'static str, (PathBuf, usize)>,
}

impl Told {
    fn add(&mut self, path: &Path, done: Done) {
        self.count += done.count;
        self.pictures.extend(done.shown);
        let said = match done.script.filter(|_| done.count > 0) {
            Some(Script::Classic(_)) => {
                "loads plyline.js, so its readers load everything at once; a module script with \
                 plyline.mjs waits until a lesson is touched"
            }
            Some(Script::None) => {
                "loads no script of plyline, so its lessons are shown as lists and cannot be stepped \
                 through"
            }
            Some(Script::Module(_)) | None => return,
        };
        let entry = self
            .scripts
            .entry(said)
            .or_insert_with(|| (path.to_owned(), 0));
        entry.1 += 1;
    }

    fn say(&self) {
        for (said, (path, count)) in &self.scripts {
            let more = match count {
                1 => String::new(),
                2 => " (and 1 more page)".to_owned(),
                _ => format!(" (and {} more pages)", count - 1),
            };
            say(&format!("{}{more}: {said}", path.display()));
        }
    }
}
