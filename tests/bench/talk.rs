//! How long `plyline listen` takes for long talks, and how that grows: captions of one megabyte and of five, in which
//! lines of twelve half-moves are told one after the other, each from the position after 1.e4, with sentences between
//! them. Once each line is new (moves by chance: as many positions as can be), once all are one line.
//!
//! `cargo bench --bench talk`, `-- long` also fifty. The ratio counts, not the figures: a megabyte of five may take no
//! more than a fifth longer than one of one (issue, "Growth: linear in the talk's length"). A talk of ten hours has
//! about one.

use plyline::talk::{Comments, Given, Language, Listened, Wanted, listen};
use plyline::text::Source;
use shakmaty::{Chess, Move, Position, Role};
use std::time::Instant;

/// Bytes in a megabyte.
const MEGABYTE: usize = 1_000_000;
/// How much longer a megabyte may take in the longer talk.
const GROWTH: f64 = 1.2;
const FILL: [&str; 4] = [
    "This is a position that we see again and again.",
    "The knight on f3 looks at the centre, because it attacks e5.",
    "Many players would stop here and think.",
    "White wants to castle next, and Black too.",
];

fn main() {
    let is_long = std::env::args().any(|it| it == "long");
    let mut held = true;
    for (name, is_new) in [("one line told again", false), ("each line new", true)] {
        let one = measure(name, 1, is_new);
        let five = measure(name, 5, is_new);
        if is_long {
            measure(name, 50, is_new);
        }
        let ratio = five / one;
        held &= ratio <= GROWTH;
        println!("  a megabyte of five against one of one: {ratio:.2}, bound {GROWTH}");
    }
    if !held {
        println!("MISSED: it grows faster than the talk");
        std::process::exit(1);
    }
}

/// Seconds for a megabyte of a talk of so many. Prints one line.
fn measure(name: &str, megabytes: usize, is_new: bool) -> f64 {
    let (captions, hours) = talk(megabytes * MEGABYTE, is_new);
    let source = Source::new("talk.vtt", captions);
    let began = Instant::now();
    let done = heard(&source);
    let seconds = began.elapsed().as_secs_f64();
    let draft = done.draft.map_or(0, |it| it.len());
    println!(
        "{name}: {megabytes} MB, {hours:.0} hours: {seconds:.1} s, a draft of {draft} bytes, {} doubts, {} findings; {}",
        done.doubts.len(),
        done.findings.iter().count(),
        memory()
    );
    seconds / megabytes as f64
}

fn heard(source: &Source) -> Listened {
    let wanted = Wanted {
        given: Given::From(""),
        comments: Comments::Reasons,
        language: Language::of("en").expect("English"),
        title: "talk.vtt",
    };
    listen(source, &wanted).expect("the start")
}

/// The most memory that this program has had so far (Linux, proc(5)).
fn memory() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let peak = status.lines().find_map(|it| it.strip_prefix("VmHWM:"));
    format!("memory so far at most {}", peak.unwrap_or("?").trim())
}

/// Captions of about so many bytes, and how many hours they last.
fn talk(bytes: usize, is_new: bool) -> (String, f64) {
    let mut text = "WEBVTT\n\n00:00.000 --> 00:02.000\nWhite plays e4.\n\n".to_owned();
    let (mut at, mut luck) = (2_000, Luck(7));
    while text.len() < bytes {
        if !is_new {
            luck = Luck(7);
        }
        for said in line(&mut luck) {
            let end = at + said.len() as u64 * 66; // fifteen letters a second
            text += &format!("{} --> {}\n{said}\n\n", stamp(at), stamp(end));
            at = end + 200;
        }
    }
    (text, at as f64 / 3_600_000.0)
}

fn stamp(time: u64) -> String {
    let (seconds, rest) = (time / 1000, time % 1000);
    let (hours, minutes) = (seconds / 3600, seconds / 60 % 60);
    format!("{hours:02}:{minutes:02}:{:02}.{rest:03}", seconds % 60)
}

/// A splitmix64 generator (Steele, Lea and Flood 2014, "Fast splittable pseudorandom number generators").
struct Luck(u64);

impl Luck {
    /// A number from 0 to one less than this.
    fn below(&mut self, count: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut it = self.0;
        it = (it ^ (it >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        it = (it ^ (it >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((it ^ (it >> 31)) % count as u64) as usize
    }
}

/// A line of moves by chance after 1.e4, in sentences.
fn line(luck: &mut Luck) -> Vec<String> {
    let mut position = Chess::default();
    let mut first = position.legal_moves().into_iter();
    let first = first.find(|it| it.to() == shakmaty::Square::E4);
    position.play_unchecked(first.expect("1.e4"));
    let mut said = vec!["Back to the position after e4.".to_owned()];
    for at in 0..12 {
        let moves = position.legal_moves();
        if moves.is_empty() {
            break;
        }
        let played = moves[luck.below(moves.len())];
        let who = position.turn().fold_wb("White plays", "Black answers");
        said.push(format!("{who} {}.", name(played)));
        position.play_unchecked(played);
        if at % 3 == 2 {
            said.push(FILL[luck.below(FILL.len())].to_owned());
        }
    }
    said
}

/// A move as it is said.
fn name(played: Move) -> String {
    let takes = if played.is_capture() { "takes " } else { "" };
    let piece = match played.role() {
        _ if played.is_castle() => return "castles".to_owned(),
        Role::Pawn if played.is_capture() => {
            let file = played.from().map_or('?', |it| it.file().char());
            return format!("{file} takes {}", played.to());
        }
        Role::Pawn => return played.to().to_string(),
        Role::Knight => "knight",
        Role::Bishop => "bishop",
        Role::Rook => "rook",
        Role::Queen => "queen",
        Role::King => "king",
    };
    format!("{piece} {takes}{}", played.to())
}
