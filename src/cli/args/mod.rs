//! What can be typed: commands, their arguments, and the help that explains them.

mod counting;
mod listening;
mod previewing;
mod writing;

pub use listening::{Listen, Spoken};
pub use previewing::Preview;
pub use writing::{Compare, Merge, New, Told};

pub use counting::{By, Draft, Games, GamesBy, Side, Tally, Unanswered, Written};

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
    /// Weigh a lesson by computation: moves that lose by force, chances passed over, signs against the material
    Weigh(Weigh),
    /// Write a draft of a lesson from a talk: from its captions, each move with its time
    Listen(Listen),
    /// Write the file of a new lesson
    New(New),
    /// Put several lessons together, by position, with the words of all
    Merge(Merge),
    /// Say what has changed between two states of a file or folder
    Compare(Compare),
    /// Show pages in a browser while they are written, and write what is played on their boards
    Preview(Preview),
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

With --chapters the parts of a recording are printed instead, by the times in the lesson's comments
(`Hear: 4:27`): a chapter for the lesson and for each of its lines.

Examples:
  plyline export lesson.pgn >tidy.pgn
  plyline export lesson.pgn --game 2 --partial
  plyline export lesson.pgn --chapters vtt >chapters.vtt")]
pub struct Export {
    /// A PGN file
    pub file: PathBuf,
    /// Only the game of this number, counted from 1
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    pub game: Option<u32>,
    /// Print what was read of a game, also where that is not all of it
    #[arg(long)]
    pub partial: bool,
    /// Print the chapters of the talk about one lesson
    #[arg(long, value_enum, value_name = "FORM")]
    pub chapters: Option<Chapters>,
}

/// How chapters are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Chapters {
    /// WebVTT, for `<track kind="chapters">`
    Vtt,
    /// A list for a description: `m:ss Title` a line
    Text,
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

/// `plyline weigh`
#[derive(Debug, Arguments)]
#[command(after_help = "\
Material is counted and mate is looked for, as far as the budget goes; nothing is said of positions beyond that.
A move is told that loses two pawns or more by force where the lesson has no reply that shows it, and says of the move
neither by a sign nor by a word that it is weak or that something is given. A paragraph `Weighed: why` in the comment
of a move ends what is told of it.

With --engine what an engine says of each position is kept in NAME.assessments.json beside the lesson, so that
a second run asks only about what is new. It is told where it is far from a sign, from a choice, and where it
swings without a word. plyline brings no engine.

Exit code: 0 nothing (with --strict: no warning) was found, 1 with --strict at least one warning, 2 could not run, or
a lesson cannot be read.

Examples:
  plyline weigh lesson.pgn
  plyline weigh posts/ --strict
  plyline weigh post.md --report --budget 10000000")]
pub struct Weigh {
    /// PGN files, posts (.md, .html), and folders in which all of these are weighed
    #[arg(required = true, value_name = "PATH")]
    pub paths: Vec<PathBuf>,
    /// How findings are written
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Fail where there is a warning; hints never count
    #[arg(long)]
    pub strict: bool,
    /// Say also what was confirmed, and what was not found and how far that was searched
    #[arg(long)]
    pub report: bool,
    /// How many positions are looked at for a move that is suspected; a hundredth of that for each move
    #[arg(long, value_name = "NODES", default_value_t = 2_000_000, value_parser = clap::value_parser!(u64).range(10_000..))]
    pub budget: u64,
    /// The folder that / means in the addresses of posts [default: the given one that holds the post]
    #[arg(long, value_name = "DIR")]
    pub root: Option<PathBuf>,
    /// Ask an engine too that speaks the UCI protocol: its command, with arguments
    #[arg(long, value_name = "COMMAND")]
    pub engine: Option<String>,
    /// Set an option of the engine, as NAME=VALUE; Threads is 1 if you do not set it
    #[arg(long, value_name = "NAME=VALUE", requires = "engine")]
    pub set: Vec<String>,
    /// How many nodes the engine searches for each position [default: 1000000]
    #[arg(long, value_name = "N", requires = "engine", conflicts_with_all = ["depth", "seconds"], value_parser = clap::value_parser!(u64).range(1..))]
    pub nodes: Option<u64>,
    /// How deep it searches instead
    #[arg(long, value_name = "N", requires = "engine", conflicts_with = "seconds", value_parser = clap::value_parser!(u32).range(1..=200))]
    pub depth: Option<u32>,
    /// How long it searches instead; then a second run may find something else
    #[arg(long, value_name = "S", requires = "engine", value_parser = clap::value_parser!(u32).range(1..=86_400))]
    pub seconds: Option<u32>,
}
