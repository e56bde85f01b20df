//! How fast the program reads and validates, measured against pgn-reader with shakmaty playing
//! every move (crates.io `pgn-reader` 0.29.0), in one run and on the same bytes: two
//! collections of real games of about 1 MB each from that crate's own archive.
//!
//! `cargo bench`. Ratios count, not the figures: both halves of a round meet the same machine.

#[path = "collections.rs"]
mod collections;
#[path = "noted.rs"]
mod noted;

use pgn_reader::{RawTag, Reader, SanPlus, Visitor};
use plyline::check::author;
use plyline::notation::Syntax;
use plyline::text::Source;
use plyline::{lesson, notation};
use shakmaty::fen::Fen;
use shakmaty::{CastlingMode, Chess, Position};
use std::fs;
use std::hint::black_box;
use std::ops::ControlFlow;
use std::time::{Duration, Instant};

/// Rounds that count; one before them warms caches up.
const ROUNDS: usize = 21;

/// The share of pgn-reader's speed to hold (design, section 11), and the aim.
const BOUND: f64 = 0.25;
const AIM: f64 = 0.5;

fn main() {
    let mut held = true;
    for (path, number) in collections::all().iter().zip(1..) {
        let text = fs::read_to_string(path).expect("the games, which are UTF-8");
        held &= measure(&format!("collection {number}"), &text);
    }
    if !held {
        println!("MISSED: a median is under the bound");
        std::process::exit(1);
    }
}

/// Prints one line for a collection; whether its median meets the bound.
fn measure(name: &str, text: &str) -> bool {
    let (games, moves) = ours(text);
    assert_eq!(
        (games, moves),
        theirs(text),
        "both read the same games and moves"
    );
    let mut rounds = Vec::new();
    let mut times = (Vec::new(), Vec::new());
    for _ in 0..=ROUNDS {
        let own = time(|| ours(black_box(text)));
        let other = time(|| theirs(black_box(text)));
        rounds.push(other.as_secs_f64() / own.as_secs_f64());
        times.0.push(own.as_secs_f64());
        times.1.push(other.as_secs_f64());
    }
    let (low, ratio, high) = spread(rounds.split_off(1));
    let speed = |times: Vec<f64>| {
        let (_, median, _) = spread(times);
        format!(
            "{:.1} MB/s ({:.0} moves/s)",
            text.len() as f64 / median / 1e6,
            moves as f64 / median
        )
    };
    println!(
        "{name}: {} bytes, {games} games, {moves} moves, {ROUNDS} rounds",
        text.len()
    );
    println!("  plyline     {}", speed(times.0));
    println!("  pgn-reader  {}", speed(times.1));
    let verdict = match ratio {
        ratio if ratio >= AIM => "aim reached",
        ratio if ratio >= BOUND => "bound held",
        _ => "BOUND MISSED",
    };
    println!(
        "  plyline / pgn-reader: {ratio:.3}, middle half {low:.3} to {high:.3}; bound {BOUND}, aim {AIM}: {verdict}"
    );
    noted::note(
        &format!("reading and validating, natively, speed against pgn-reader, {name}"),
        &format!("{ratio:.3} times"),
        &format!("{low:.3}-{high:.3}"),
        &format!("{BOUND}, aim {AIM}"),
        Some(ratio >= BOUND),
    );
    ratio >= BOUND
}

fn time<T>(work: impl FnOnce() -> T) -> Duration {
    let start = Instant::now();
    black_box(work());
    start.elapsed()
}

/// Lower quartile, median, upper quartile.
fn spread(mut numbers: Vec<f64>) -> (f64, f64, f64) {
    numbers.sort_by(f64::total_cmp);
    let at = |part: f64| numbers[((numbers.len() - 1) as f64 * part).round() as usize];
    (at(0.25), at(0.5), at(0.75))
}

/// Everything that `plyline check` does to a text but read the file and print: each game is a
/// lesson with all its findings, and is dropped before the next. Games and moves.
fn ours(text: &str) -> (usize, usize) {
    let source = Source::new("games", text);
    let (syntax, _) = notation::parse(&source);
    let mut count = (0, 0);
    let mut file = author::File::default();
    for game in syntax.games {
        let one = Syntax { games: vec![game] };
        let (lessons, found) = lesson::validate(&source, &one);
        let lesson = lessons.first().and_then(Option::as_ref);
        black_box(file.game(&source, &one.games[0], lesson, found));
        for lesson in lessons.iter().flatten() {
            count.0 += 1;
            count.1 += lesson.nodes.len() - 1;
        }
    }
    count
}

/// The same games through pgn-reader, every move played by shakmaty. Games and moves.
fn theirs(text: &str) -> (usize, usize) {
    let mut count = (0, 0);
    let mut reader = Reader::new(text.as_bytes());
    while let Some(moves) = reader.read_game(&mut Player).expect("a text in memory") {
        count.0 += 1;
        count.1 += moves;
    }
    count
}

struct Player;

impl Visitor for Player {
    type Tags = Chess;
    type Movetext = (Chess, usize);
    type Output = usize;

    fn begin_tags(&mut self) -> ControlFlow<usize, Chess> {
        ControlFlow::Continue(Chess::default())
    }

    fn tag(&mut self, start: &mut Chess, name: &[u8], value: RawTag<'_>) -> ControlFlow<usize> {
        if name == b"FEN" {
            let fen = Fen::from_ascii(value.as_bytes()).expect("a FEN of a real game");
            *start = fen
                .into_position(CastlingMode::Standard)
                .expect("a real game's start");
        }
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, start: Chess) -> ControlFlow<usize, (Chess, usize)> {
        ControlFlow::Continue((start, 0))
    }

    fn san(&mut self, at: &mut (Chess, usize), san: SanPlus) -> ControlFlow<usize> {
        let played = san.san.to_move(&at.0).expect("a legal move of a real game");
        at.0.play_unchecked(played);
        at.1 += 1;
        ControlFlow::Continue(())
    }

    fn end_game(&mut self, at: (Chess, usize)) -> usize {
        at.1
    }
}
