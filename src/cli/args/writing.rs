//! What can be typed after the commands that write lessons.

use super::Side;
use clap::{Args as Arguments, ValueEnum};
use std::path::PathBuf;

/// `plyline new`
#[derive(Debug, Arguments)]
#[command(after_help = "\
The ending of the name says what the file is: .md (also where there is none), .html or .pgn. A file that is there
stays as it is.

Exit code: 0 written, 2 not.

Examples:
  plyline new exchange
  plyline new slow-lines.pgn --side black --from \"1.e4 c6\"")]
pub struct New {
    /// The name of the new file
    pub name: PathBuf,
    /// The side for which the lesson is, which is below on its board
    #[arg(long, value_enum)]
    pub side: Option<Side>,
    /// The moves with which it begins, or the FEN
    #[arg(long, value_name = "MOVES", default_value = "")]
    pub from: String,
}

/// `plyline merge`
#[derive(Debug, Arguments)]
#[command(after_help = "\
Lessons that begin at one position become one game. A position that another lesson reaches by other moves stands once,
and the other road to it has a link. Where lessons recommend different moves, both and their files are named on
standard error.

Exit code: 0 merged, 1 a game was not read whole, and nothing is printed, 2 could not run.

Example: plyline merge mine.pgn club.pgn --sources >both.pgn")]
pub struct Merge {
    /// PGN files, in the order in which their words are to stand
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<PathBuf>,
    /// End each comment with the name of its file
    #[arg(long)]
    pub sources: bool,
}

/// `plyline compare`
#[derive(Debug, Arguments)]
#[command(after_help = "\
Files are PGN or posts (.md, .html); of two folders the files of the same name are compared, and lessons by their
order in the file.

Exit code: 0 compared, 2 could not.

Examples:
  plyline compare last-year/ posts/ --format markdown
  plyline compare old.pgn new.pgn --format json")]
pub struct Compare {
    /// A file or folder as it was
    pub old: PathBuf,
    /// The same as it is now
    pub new: PathBuf,
    /// How the changes are written
    #[arg(long, value_enum, default_value_t = Told::Text)]
    pub format: Told,
}

/// How changes are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Told {
    /// A line for each
    Text,
    /// A list to publish
    Markdown,
    /// For programs: one JSON object a line, from which the new lesson can be made
    Json,
}
