//! What can be typed: commands, their arguments, and the help that explains them.

use clap::{ArgGroup, Args as Arguments, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Checks chess lines written as PGN and shows what plyline reads in them.
///
/// A page shows a lesson from the same text; what this program says about a text is what
/// the page will make of it. It checks that moves are legal, not that they are good.
#[derive(Debug, Parser)]
#[command(name = "plyline", version, arg_required_else_help = true)]
#[command(after_help = "Example: plyline check posts/")]
pub struct Args {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Check notation: what is wrong, where, why, and the way out
    Check(Check),
    /// Show the tree of moves that is read from a file
    Tree(Tree),
    /// Write the games of a file as the PGN standard writes them
    Export(Export),
    /// Make the pages of a site complete without script: with pictures, lists and links
    Bake(Bake),
    /// Count what is played at the positions of a lesson, in collections of games
    Tally(Tally),
    /// Say which moves of the other side a lesson has no reply to, by counts from games
    Unanswered(Unanswered),
    /// Write a lesson to start from: the moves that are played most in collections of games
    Draft(Draft),
    /// List the games that come to a position of a lesson
    Games(Games),
    /// Write the files that a web page loads
    Assets(Assets),
}

/// `plyline check`
#[derive(Debug, Arguments)]
#[command(after_help = "\
Exit code: 0 no error (there may be warnings and hints), 1 at least one error (after --fix: one
that is left), 2 could not run.

Examples:
  plyline check lesson.pgn
  plyline check --fix --strict lessons/
  plyline check posts/ --links
  plyline check --name posts/a.md - <draft
  plyline check --format json lessons/
  plyline check --explain P014")]
pub struct Check {
    /// PGN files, posts (.md, .html), folders in which all of these are checked, and - for standard input
    #[arg(required_unless_present = "explain", value_name = "PATH")]
    pub paths: Vec<PathBuf>,
    /// How findings are written
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Count warnings as errors; hints never count
    #[arg(long)]
    pub strict: bool,
    /// Fix in the files what is certain, and nothing else; say what was fixed and what is left
    #[arg(long)]
    pub fix: bool,
    /// The name of what comes from standard input, whose ending says what it is
    #[arg(long, value_name = "FILE")]
    pub name: Option<PathBuf>,
    /// The folder that / means in the addresses of posts [default: the given one that holds the post]
    #[arg(long, value_name = "DIR")]
    pub root: Option<PathBuf>,
    /// Instead of findings, print where each move leads that is named in the prose of posts
    #[arg(long)]
    pub links: bool,
    /// Explain a code: what it means, why it matters and how to fix it; `all` explains every code
    #[arg(long, value_name = "CODE", conflicts_with_all = ["paths", "fix", "strict"])]
    pub explain: Option<String>,
}

/// How findings are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people: the source line, with the place marked
    Text,
    /// For programs: one JSON object a line
    Json,
    /// For a run on GitHub: findings shown beside the lines of a change
    Github,
}

/// `plyline tree`
#[derive(Debug, Arguments)]
#[command(after_help = "\
Findings go to standard error. Exit code: as for check.

Examples:
  plyline tree lesson.pgn
  plyline tree lesson.pgn --game 2 --json")]
pub struct Tree {
    /// A PGN file
    pub file: PathBuf,
    /// Only the game of this number, counted from 1
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    pub game: Option<u32>,
    /// Print every game as one line of JSON, instead of its outline
    #[arg(long, conflicts_with = "emit")]
    pub json: bool,
    /// Print one step of the way from text to page, instead of the outline
    #[arg(long, value_enum, value_name = "STEP")]
    pub emit: Option<Emit>,
}

/// A step of the way from text to page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Emit {
    /// The pieces that the text is cut into
    Tokens,
    /// Games, lines and what they hold, before the rules of chess are applied
    Syntax,
    /// What a reader sees at the start, as plain data
    View,
    /// The same as the HTML that the page shows
    Html,
    /// The position at the start as a picture (SVG) with its description, a line for each game
    Picture,
}

/// `plyline export`
#[derive(Debug, Arguments)]
#[command(after_help = "\
Findings go to standard error. Exit code: as for check.

A game that could not be read whole is not printed, so that nobody replaces a lesson with a part
of it; the other games are printed.

Examples:
  plyline export lesson.pgn >tidy.pgn
  plyline export lesson.pgn --game 2 --partial")]
pub struct Export {
    /// A PGN file
    pub file: PathBuf,
    /// Only the game of this number, counted from 1
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    pub game: Option<u32>,
    /// Print what was read of a game, also where that is not all of it
    #[arg(long)]
    pub partial: bool,
}

/// `plyline bake`
#[derive(Debug, Arguments)]
#[command(group(ArgGroup::new("where").args(["out", "in_place"]).required(true)))]
#[command(after_help = "\
Run it on what your generator has made, as the last line of your build. It changes our elements and
what is about them; every other byte stays, and a second run changes nothing.

Exit code: 0 no error in a page (warnings are printed), 1 at least one page has errors (it is baked
all the same, with what could be read), 2 something could not be read or written.

Examples:
  plyline bake _site --in-place
  plyline bake public --out dist --base-url https://example.org/
  plyline bake _site --in-place --assets-url /plyline/")]
pub struct Bake {
    /// The folder with the pages and feeds that a generator has made
    #[arg(value_name = "SITE")]
    pub site: PathBuf,
    /// The folder that the baked site is written to; what is not baked is copied there
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Write the pages where they are
    #[arg(long)]
    pub in_place: bool,
    /// The address of the folder with plyline.css [default: where a page loads the script from]
    #[arg(long, value_name = "URL")]
    pub assets_url: Option<String>,
    /// The address of the site: pictures in feeds and for other sites need it
    #[arg(long, value_name = "URL")]
    pub base_url: Option<String>,
    /// How findings are written
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}

/// `plyline assets`
#[derive(Debug, Arguments)]
#[command(after_help = "\
Files of the same names are overwritten.

Example: plyline assets site/plyline/")]
pub struct Assets {
    /// The folder to write to; it is made where it is missing
    pub dir: PathBuf,
}

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
