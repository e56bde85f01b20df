//! Collections of games, read in blocks that all cores share. What is kept is bounded by the lesson and by
//! the number of cores, not by the collection.

use super::{known, named};
use crate::cli::files;
use crate::cli::progress::Line;
use crate::games::{Damage, Header, Met, Positions, Read, Tally, Wanted, Why, last, read};
use std::collections::{BTreeMap, HashSet};
use std::fs::{self, File, Metadata};
use std::io::{self, BufReader, Read as _};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, Instant};

/// Bytes of a block. The same on every machine, so that the games are cut apart at the same places.
const BLOCK: usize = 1 << 18;
/// The most bytes of one game: more are no game.
const GAME: usize = 64 << 20;
/// The largest window of a `.zst`, as a power of two: 128 MB.
const WINDOW: u32 = 27;
/// How many damaged games are named; the others are counted.
const NAMED: usize = 20;

/// Whole games of a collection.
pub struct Block {
    number: usize,
    file: usize,
    pub bytes: Vec<u8>,
    /// Whether the collection ends with it.
    pub is_last: bool,
}

/// What was read of a block.
struct Done<T> {
    number: usize,
    file: usize,
    made: T,
}

/// Reads collections in blocks: `work` is done to each on any core, and `add` takes what it made, with the
/// number of the file, in the order of the games.
///
/// # Errors
/// Where a collection cannot be read, and why.
pub fn blocks<T: Send>(
    paths: &[PathBuf],
    work: impl Fn(&Block) -> T + Sync,
    mut add: impl FnMut(usize, T),
) -> Result<(), String> {
    let mut seen = HashSet::new();
    for path in paths {
        let real = fs::canonicalize(path).unwrap_or_else(|_| path.clone());
        if !seen.insert(real) {
            return Err(format!("{} would be counted twice", path.display()));
        }
    }
    let bytes = AtomicU64::new(0);
    let workers = thread::available_parallelism().map_or(1, usize::from);
    thread::scope(|scope| {
        // Both ends are held by those alone who use them: who waits for one that has ended does not wait for ever.
        let (to_work, to_do) = sync_channel::<Block>(workers * 2);
        let (to_add, done) = sync_channel::<Done<T>>(workers * 2);
        let to_do = Arc::new(Mutex::new(to_do));
        for _ in 0..workers {
            let (to_do, work, to_add) = (Arc::clone(&to_do), &work, to_add.clone());
            scope.spawn(move || take_turns(&to_do, work, &to_add));
        }
        drop((to_add, to_do));
        let read = &bytes;
        let reading = scope.spawn(move || cut_all(paths, read, &to_work));
        let mut waiting: BTreeMap<usize, Done<T>> = BTreeMap::new();
        let mut progress = Progress::new(paths, &bytes);
        let mut next = 0;
        while let Ok(one) = done.recv() {
            waiting.insert(one.number, one);
            while let Some(one) = waiting.remove(&next) {
                next += 1;
                add(one.file, one.made);
            }
            progress.tell();
        }
        progress.line.clear();
        match reading.join() {
            Ok(done) => done,
            Err(_) => Err("the collection could not be read".to_owned()),
        }
    })
}

/// Works on blocks as long as there are any.
fn take_turns<T>(
    to_do: &Mutex<Receiver<Block>>,
    work: &(impl Fn(&Block) -> T + Sync),
    to_add: &SyncSender<Done<T>>,
) {
    loop {
        // A worker that has ended by a panic holds nothing that others could not use.
        let next = to_do.lock().unwrap_or_else(|held| held.into_inner()).recv();
        let Ok(block) = next else {
            return;
        };
        let (number, file, made) = (block.number, block.file, work(&block));
        if to_add.send(Done { number, file, made }).is_err() {
            return;
        }
    }
}

/// What was counted in a block.
#[derive(Default)]
struct InBlock {
    tally: Tally,
    /// How many games and lines it has.
    size: Size,
    /// The first that are damaged: which game of the block each is, and on which line that is seen.
    damaged: Vec<(u64, Option<u64>, Damage)>,
    /// The games, where they are counted in their order.
    games: Vec<(Header, Met)>,
}

/// Games and lines.
#[derive(Clone, Copy, Default)]
struct Size {
    games: u64,
    lines: u64,
}

/// Counts the games of collections; with lines about those that are damaged.
///
/// # Errors
/// Where a collection cannot be read, and why.
pub fn count(
    paths: &[PathBuf],
    positions: &Positions,
    wanted: &Wanted,
) -> Result<(Tally, Vec<String>), String> {
    let mut all = Tally::new(positions);
    let mut damaged = Damaged::default();
    let mut seen: HashSet<u128> = HashSet::new();
    let work = |block: &Block| {
        let mut done = InBlock {
            tally: Tally::new(positions),
            ..InBlock::default()
        };
        let mut each = |game| {
            done.size.games += 1;
            match game {
                Read::Left => done.tally.left += 1,
                Read::Damaged(damage) => {
                    done.tally.damaged += 1;
                    if done.damaged.len() < NAMED {
                        let before = damage.at.and_then(|at| block.bytes.get(..at));
                        done.damaged
                            .push((done.size.games, before.map(lines), damage));
                    }
                }
                Read::Counted(header, met) if wanted.once => done.games.push((header, met)),
                Read::Counted(header, met) => done.tally.count(&header, &met, wanted.split),
            }
        };
        read(&block.bytes, positions, wanted, block.is_last, &mut each);
        done.size.lines = lines(&block.bytes);
        done
    };
    // Of the file that is added.
    let (mut of, mut before) = (0, Size::default());
    blocks(paths, work, |file, done| {
        if of != file {
            (of, before) = (file, Size::default());
        }
        for (header, met) in done.games {
            // The first of those that are the same counts.
            match met.same.is_none_or(|same| seen.insert(same)) {
                true => all.count(&header, &met, wanted.split),
                false => all.left += 1,
            }
        }
        for (game, line, damage) in done.damaged {
            let line = line.map(|it| before.lines + it + 1);
            damaged.add(file, before.games + game, line, damage);
        }
        before.games += done.size.games;
        before.lines += done.size.lines;
        all.add(done.tally);
    })?;
    let name = |file: usize| paths.get(file).map_or(String::new(), |path| named(path));
    let lines = damaged.lines(all.damaged, &name);
    Ok((all, lines))
}

/// The lines that end in a text.
fn lines(text: &[u8]) -> u64 {
    text.iter().filter(|&&it| it == b'\n').count() as u64
}

/// Cuts all collections into blocks.
fn cut_all(paths: &[PathBuf], bytes: &AtomicU64, blocks: &SyncSender<Block>) -> Result<(), String> {
    let mut number = 0;
    for (file, path) in paths.iter().enumerate() {
        let said = |error: io::Error| {
            format!(
                "{}: it cannot be read to its end: {}",
                path.display(),
                files::reason(&error)
            )
        };
        let mut from = open(path, bytes)
            .map_err(|error| format!("{}: {}", path.display(), files::reason(&error)))?;
        let mut held: Vec<u8> = Vec::with_capacity(2 * BLOCK);
        loop {
            let before = held.len();
            let wanted = (BLOCK as u64).max(before as u64);
            (&mut from)
                .take(wanted)
                .read_to_end(&mut held)
                .map_err(said)?;
            let is_last = held.len() == before;
            let cut = match is_last {
                true => held.len(),
                false => last(&held),
            };
            if cut == 0 && held.len() > GAME {
                let why = "a game of more than 64 MB: is this a collection of games?";
                return Err(format!("{}: {why}", path.display()));
            }
            if cut > 0 {
                let mut rest = Vec::with_capacity(2 * BLOCK);
                rest.extend_from_slice(held.get(cut..).unwrap_or_default());
                held.truncate(cut);
                let bytes = std::mem::replace(&mut held, rest);
                let block = Block {
                    number,
                    file,
                    bytes,
                    is_last,
                };
                number += 1;
                if blocks.send(block).is_err() {
                    return Ok(()); // nobody counts any more
                }
            }
            if is_last {
                break;
            }
        }
    }
    Ok(())
}

/// A collection, unpacked.
fn open<'a>(path: &Path, bytes: &'a AtomicU64) -> io::Result<Box<dyn io::Read + Send + 'a>> {
    if path == Path::new("-") {
        return Ok(Box::new(io::stdin()));
    }
    let file = File::open(path)?;
    if file.metadata()?.is_dir() {
        return Err(io::Error::from(io::ErrorKind::IsADirectory));
    }
    let file = Counted { file, bytes };
    let ending = path.extension().unwrap_or_default().to_ascii_lowercase();
    let packed = |file| BufReader::with_capacity(1 << 16, file);
    Ok(match ending.to_str() {
        Some("zst") => {
            let mut unpacked = zstd::Decoder::with_buffer(packed(file))?;
            unpacked.window_log_max(WINDOW)?;
            Box::new(unpacked)
        }
        Some("gz") => Box::new(flate2::bufread::MultiGzDecoder::new(packed(file))),
        Some("bz2") => Box::new(bzip2::bufread::MultiBzDecoder::new(packed(file))),
        _ => Box::new(file),
    })
}

/// Games that could not be read: the first of them.
#[derive(Default)]
struct Damaged(Vec<Seen>);

/// A damaged game, with its number in its file and the line on which that is seen.
struct Seen {
    file: usize,
    game: u64,
    line: Option<u64>,
    damage: Damage,
}

impl Damaged {
    fn add(&mut self, file: usize, game: u64, line: Option<u64>, damage: Damage) {
        if self.0.len() < NAMED {
            self.0.push(Seen {
                file,
                game,
                line,
                damage,
            });
        }
    }

    /// What is said of them; `all` is how many there are.
    fn lines(&self, all: u64, name: &dyn Fn(usize) -> String) -> Vec<String> {
        let mut lines: Vec<String> = self.0.iter().map(|it| it.text(&name(it.file))).collect();
        if all > lines.len() as u64 {
            lines.push(format!(
                "and {} more damaged games",
                all - lines.len() as u64
            ));
        }
        lines
    }
}

impl Seen {
    fn text(&self, name: &str) -> String {
        let line = self.line.map_or(String::new(), |line| format!(":{line}"));
        let it = &self.damage.header;
        let why = match &self.damage.why {
            Why::Start => "the position in its FEN tag cannot be read".to_owned(),
            Why::Move(played) => format!("{played} cannot be played"),
            Why::Word(word) => format!("\u{201c}{word}\u{201d} is no move"),
            Why::Cut => "the file ends inside it".to_owned(),
        };
        format!(
            "{name}{line}: game {}, {} against {}, {}, {}, is damaged and not counted: {why}",
            self.game,
            known(&it.white),
            known(&it.black),
            known(&it.event),
            known(&it.date)
        )
    }
}

/// A file that counts what is read of it, packed or not.
struct Counted<'a> {
    file: File,
    bytes: &'a AtomicU64,
}

impl io::Read for Counted<'_> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let count = self.file.read(into)?;
        self.bytes.fetch_add(count as u64, Ordering::Relaxed);
        Ok(count)
    }
}

/// How far a run is.
struct Progress<'a> {
    started: Instant,
    told: Instant,
    /// The bytes of all files; none where standard input is among them.
    whole: Option<u64>,
    /// Those that were read.
    bytes: &'a AtomicU64,
    line: Line,
}

impl Progress<'_> {
    fn new<'a>(paths: &[PathBuf], bytes: &'a AtomicU64) -> Progress<'a> {
        let started = Instant::now();
        let sizes = paths.iter().map(|path| fs::metadata(path).ok());
        let sizes = sizes.map(|about| about.filter(Metadata::is_file).map(|it| it.len()));
        Progress {
            started,
            told: started,
            whole: sizes.sum(),
            bytes,
            line: Line::default(),
        }
    }

    fn tell(&mut self) {
        if self.told.elapsed() < Duration::from_millis(500) {
            return;
        }
        self.told = Instant::now();
        let read = self.bytes.load(Ordering::Relaxed);
        let rate = (read as f64 / self.started.elapsed().as_secs_f64()).max(1.0);
        let megabytes = |bytes: f64| bytes / 1e6;
        let left = match self.whole {
            Some(whole) => {
                let left = whole.saturating_sub(read) as f64;
                let whole = megabytes(whole as f64);
                format!(" of {whole:.0} MB, {:.0} s left", left / rate)
            }
            None => " MB".to_owned(),
        };
        let (read, rate) = (megabytes(read as f64), megabytes(rate));
        self.line
            .say(&format!("{read:.0}{left}, {rate:.0} MB a second"));
    }
}
