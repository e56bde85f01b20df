//! The arguments of the commands that count in collections of games.

use clap::{Args as Arguments, ValueEnum};
use std::path::PathBuf;

/// `plyline tally`
#[derive(Debug, Arguments)]
#[command(
    override_usage = "plyline tally <LESSON> --games <FILE>... [OPTIONS]\n       plyline tally --merge <FILE> <FILE>... --out <FILE>"
)]
#[command(after_help = "\
Counts say who played what and how it ended, not what is best. A game counts once at each position that it
comes to, however it comes there. NAME.counts.json is written beside the lesson.

Exit code: 0 done, 2 could not run; then nothing is written.

Examples:
  plyline tally lesson.pgn --games club.pgn league.pgn.zst
  plyline tally post.md#exchange --games all.pgn.gz --by year --since 2015
  plyline tally lesson.pgn#2 --games - --rating 2000-2400 --out b.counts.json
  plyline tally --merge a.counts.json b.counts.json --out all.counts.json")]
pub struct Tally {
    /// A PGN file or a post; #id after it names a lesson, in a PGN file also #2 a game
    #[arg(required_unless_present = "merge", value_name = "LESSON")]
    pub lesson: Option<PathBuf>,
    /// Collections of games: PGN, also as .zst, .gz or .bz2, and - for standard input
    #[arg(long, required_unless_present = "merge", num_args = 1.., value_name = "FILE")]
    pub games: Vec<PathBuf>,
    /// Split the counts of each position
    #[arg(long, value_enum)]
    pub by: Option<By>,
    /// Only games from this day on: 2024, 2024-06 or 2024-06-01
    #[arg(long, value_name = "DATE")]
    pub since: Option<String>,
    /// Only games up to this day
    #[arg(long, value_name = "DATE")]
    pub until: Option<String>,
    /// Only games of two players with ratings between these
    #[arg(long, value_name = "MIN-MAX")]
    pub rating: Option<String>,
    /// Count games of the same players, date and moves once
    #[arg(long)]
    pub once: bool,
    /// Add up counts files of one lesson instead, into the file that --out names
    #[arg(long, num_args = 2.., value_name = "FILE", conflicts_with_all = ["lesson", "games", "by", "since", "until", "rating", "once"])]
    pub merge: Vec<PathBuf>,
    /// The file to write [default: NAME.counts.json beside the lesson, NAME.ID.counts.json for a named one]
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
}

/// By what counts are split.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum By {
    /// The year of the game
    Year,
    /// Bands of 200 by the mean of both ratings
    Rating,
    /// Standard (60 minutes or more for 60 moves), rapid or blitz (10 or less), by the time that the players had
    Time,
}

/// `plyline unanswered`
#[derive(Debug, Arguments)]
#[command(
    override_usage = "plyline unanswered <LESSON> --side <SIDE> [--games <FILE>... | --counts <FILE>] [OPTIONS]"
)]
#[command(after_help = "\
A reader is taken to play what the lesson recommends, and the other side what was played in the games. A move
is answered where its position has a reply anywhere in the lesson. Nothing is said of positions with fewer than
30 games. Moves are listed however late they come; the summary is up to one move.

Exit code: 0 no move is listed without a reply, 1 at least one is, 2 could not run, or too few games are known.

Examples:
  plyline unanswered lesson.pgn --side white
  plyline unanswered post.md#exchange --side black --games club.pgn --at-least 10%")]
pub struct Unanswered {
    /// A PGN file or a post; #id after it names a lesson, in a PGN file also #2 a game
    #[arg(value_name = "LESSON")]
    pub lesson: PathBuf,
    /// The side that is taught
    #[arg(long, value_enum)]
    pub side: Side,
    /// Count these collections of games
    #[arg(long, num_args = 1.., value_name = "FILE", conflicts_with = "counts")]
    pub games: Vec<PathBuf>,
    /// The counts file [default: NAME.counts.json beside the lesson]
    #[arg(long, value_name = "FILE")]
    pub counts: Option<PathBuf>,
    /// The share of the games at a position from which a move is told
    #[arg(long, value_name = "SHARE", default_value = "5%")]
    pub at_least: String,
    /// Up to which move it is computed what the lesson answers [default: its last one, at most 10]
    #[arg(long, value_name = "MOVE", value_parser = clap::value_parser!(u32).range(1..=9_999))]
    pub to: Option<u32>,
    /// How it is written
    #[arg(long, value_enum, default_value_t = Written::Text)]
    pub format: Written,
}

/// A side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Side {
    White,
    Black,
}

impl Side {
    pub fn name(self) -> &'static str {
        match self {
            Side::White => "White",
            Side::Black => "Black",
        }
    }
}

/// How what is found is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Written {
    /// For people
    Text,
    /// For programs: one JSON object
    Json,
}

/// `plyline draft`
#[derive(Debug, Arguments)]
#[command(
    override_usage = "plyline draft --games <FILE>... --from <MOVES> --side <SIDE> [OPTIONS]"
)]
#[command(after_help = "\
The files are read once for each half-move. Numbers may rise from one move to the next, because a position counts
all games that come to it, by any order. Both sides have the moves that are played; --side says from where the
board is seen. The comments are for you: replace them by your own words. Counts say who played what and how it
ended, not what is best: which moves are good, and why, is for you to add.

Exit code: 0 done, 2 could not run.

Examples:
  plyline draft --games club.pgn --from \"1.e4 c6\" --side black >lesson.pgn
  plyline draft --games all.pgn.zst --from \"1.d4 d5 2.c4\" --side white --share 10% --plies 12")]
pub struct Draft {
    /// Collections of games: PGN, also as .zst, .gz or .bz2
    #[arg(long, required = true, num_args = 1.., value_name = "FILE")]
    pub games: Vec<PathBuf>,
    /// Where the lesson begins: moves, start, or a FEN
    #[arg(long, value_name = "MOVES")]
    pub from: String,
    /// The side that is taught
    #[arg(long, value_enum)]
    pub side: Side,
    /// The share of the games at a position from which a move is kept
    #[arg(long, value_name = "SHARE", default_value = "5%")]
    pub share: String,
    /// In how many games a move must be played to be kept
    #[arg(long, value_name = "N", default_value_t = 30)]
    pub games_at_least: u64,
    /// How many half-moves the draft is long
    #[arg(long, value_name = "N", default_value_t = 20, value_parser = clap::value_parser!(u32).range(1..=400))]
    pub plies: u32,
}

/// `plyline games`
#[derive(Debug, Arguments)]
#[command(override_usage = "plyline games <LESSON> --at <LOCATOR> --games <FILE>... [OPTIONS]")]
#[command(after_help = "\
Exit code: 0 done, 2 could not run.

Examples:
  plyline games lesson.pgn --at \"4.cxd5 exd5\" --games club.pgn
  plyline games lesson.pgn --at \"line B\" --games all.pgn.zst --sort rating --first 5 --pgn >models.pgn")]
pub struct Games {
    /// A PGN file or a post; #id after it names a lesson, in a PGN file also #2 a game
    #[arg(value_name = "LESSON")]
    pub lesson: PathBuf,
    /// The position: moves of the lesson, start, or a line
    #[arg(long, value_name = "LOCATOR")]
    pub at: String,
    /// Collections of games: PGN, also as .zst, .gz or .bz2, and - for standard input
    #[arg(long, required = true, num_args = 1.., value_name = "FILE")]
    pub games: Vec<PathBuf>,
    /// The latest or the highest rated first [default: as in the files]
    #[arg(long, value_enum)]
    pub sort: Option<GamesBy>,
    /// How many are shown; 0 for all
    #[arg(long, value_name = "N", default_value_t = 20)]
    pub first: usize,
    /// Write the games as PGN: tags and moves, without comments and variations
    #[arg(long)]
    pub pgn: bool,
}

/// By what games are sorted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum GamesBy {
    Year,
    Rating,
}
