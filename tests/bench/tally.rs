//! How fast games are counted, measured against pgn-reader with shakmaty playing every move (crates.io
//! `pgn-reader` 0.29.0), in one run and on the same file: the crate's own collections of real games, again and
//! again; and how much memory a run takes for files of 20, 200 and 1,000 MB.
//!
//! `cargo bench --bench tally`; `-- N` says how many megabytes are counted for speed (200). Ratios count, not
//! the figures.

#[path = "collections.rs"]
mod collections;
#[path = "noted.rs"]
mod noted;

use pgn_reader::{RawTag, Reader, SanPlus, Visitor};
use shakmaty::fen::Fen;
use shakmaty::{CastlingMode, Chess, Position};
use std::fs::{self, File};
use std::io::Write;
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

/// A lesson of a common opening: many games leave it early, some late.
const LESSON: &str = "1. e4 e5 (1... c5 2. Nf3 d6 (2... Nc6 3. d4 cxd4 4. Nxd4) 3. d4 cxd4 4. Nxd4 Nf6) (1... e6 2. d4 d5) \
                      2. Nf3 Nc6 3. Bb5 (3. Bc4 Bc5) 3... a6 4. Ba4 Nf6 5. O-O *\n";

fn main() {
    let asked = std::env::args().skip(1).find_map(|it| it.parse().ok());
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("tally");
    fs::create_dir_all(&folder).expect("a folder");
    fs::write(folder.join("l.pgn"), LESSON).expect("a lesson");
    let megabytes = asked.unwrap_or(200);
    let file = made(&folder, megabytes);
    let theirs = best(|| validated(&file));
    println!(
        "{megabytes} MB: pgn-reader validates in {:.2} s on one core",
        theirs.as_secs_f64()
    );
    for cores in 1..=thread::available_parallelism()
        .map_or(1, usize::from)
        .min(2)
    {
        let ours = best(|| counted(&folder, &file, cores).0);
        let ratio = ours.as_secs_f64() / theirs.as_secs_f64();
        println!(
            "{megabytes} MB: plyline counts in {:.2} s on {cores} core(s): {ratio:.2} of that",
            ours.as_secs_f64()
        );
        let what = format!("counting games on {cores} core(s), time against pgn-reader on one");
        noted::note(&what, &format!("{ratio:.2} times"), "best of 3", "", None);
    }
    for megabytes in [20, 200, 1_000] {
        let file = made(&folder, megabytes);
        let (_, memory) = counted(&folder, &file, 2);
        println!(
            "{megabytes} MB: at most {:.1} MB of memory of its own",
            memory as f64 / 1e6
        );
    }
}

/// A file of so many megabytes.
fn made(folder: &Path, megabytes: usize) -> PathBuf {
    let path = folder.join(format!("{megabytes}.pgn"));
    let wanted = megabytes * 1_000_000;
    if path
        .metadata()
        .is_ok_and(|about| about.len() as usize >= wanted)
    {
        return path;
    }
    let all: Vec<Vec<u8>> = collections::all()
        .iter()
        .map(|path| fs::read(path).expect("games"))
        .collect();
    let mut file = File::create(&path).expect("a file");
    let mut written = 0;
    for games in all.iter().cycle() {
        file.write_all(games)
            .and_then(|()| file.write_all(b"\n\n"))
            .expect("written");
        written += games.len() + 2;
        if written >= wanted {
            return path;
        }
    }
    path
}

/// The shortest of three runs.
fn best(run: impl Fn() -> Duration) -> Duration {
    (0..3).map(|_| run()).min().unwrap_or_default()
}

/// The time of a run of the program, and the most memory of its own that it took, in bytes.
fn counted(folder: &Path, file: &Path, cores: usize) -> (Duration, u64) {
    let started = Instant::now();
    let list = if cores == 1 { "0" } else { "0,1" };
    let mut child = Command::new("taskset")
        .args([
            "--cpu-list",
            list,
            env!("CARGO_BIN_EXE_plyline"),
            "tally",
            "l.pgn",
            "--games",
        ])
        .arg(file)
        .current_dir(folder)
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts");
    let status = format!("/proc/{}/status", child.id());
    let mut most = 0;
    while child.try_wait().expect("a child").is_none() {
        let now = fs::read_to_string(&status).unwrap_or_default();
        let line = now.lines().find_map(|line| line.strip_prefix("RssAnon:"));
        let kilobytes = line.and_then(|it| it.split_whitespace().next()?.parse::<u64>().ok());
        most = most.max(kilobytes.unwrap_or(0) * 1024);
        thread::sleep(Duration::from_millis(5));
    }
    (started.elapsed(), most)
}

/// The time in which pgn-reader reads a file and shakmaty plays every move.
fn validated(path: &Path) -> Duration {
    let started = Instant::now();
    let mut reader = Reader::new(File::open(path).expect("the games"));
    let mut count = 0_u64;
    while let Some(moves) = reader.read_game(&mut Player).expect("games") {
        count += moves;
    }
    assert!(count > 0);
    started.elapsed()
}

struct Player;

impl Visitor for Player {
    type Tags = Option<Chess>;
    type Movetext = (Chess, u64);
    type Output = u64;

    fn begin_tags(&mut self) -> ControlFlow<u64, Self::Tags> {
        ControlFlow::Continue(None)
    }

    fn tag(&mut self, start: &mut Self::Tags, name: &[u8], value: RawTag<'_>) -> ControlFlow<u64> {
        if name == b"FEN" {
            let fen = Fen::from_ascii(value.as_bytes()).ok();
            *start = fen.and_then(|fen| fen.into_position(CastlingMode::Standard).ok());
        }
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, start: Self::Tags) -> ControlFlow<u64, Self::Movetext> {
        ControlFlow::Continue((start.unwrap_or_default(), 0))
    }

    fn san(&mut self, (position, count): &mut Self::Movetext, san: SanPlus) -> ControlFlow<u64> {
        let Ok(played) = san.san.to_move(position) else {
            return ControlFlow::Break(*count);
        };
        position.play_unchecked(played);
        *count += 1;
        ControlFlow::Continue(())
    }

    fn end_game(&mut self, (_, count): Self::Movetext) -> u64 {
        count
    }
}
