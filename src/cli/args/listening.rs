//! What can be typed after `plyline listen`.

use super::Format;
use clap::{Args as Arguments, ValueEnum};
use std::path::PathBuf;

/// `plyline listen`
#[derive(Debug, Arguments)]
#[command(after_help = "\
The draft goes to standard output, what is doubtful to standard error, the gravest first. Read it against the talk,
mend it, and listen again with --lesson: what stands in the draft is taken as right, and more is understood.
On a lesson without times only the times are added, and what is said but not written and written but not said is listed.

A talk about a variation seldom says its first moves: say by --from where it begins.

Exit code: 0 something was understood, 1 nothing was, 2 could not run.

Examples:
  plyline listen talk.vtt --from \"1.e4 c5 2.c3\" >draft.pgn
  plyline listen talk.vtt --lesson draft.pgn >better.pgn
  plyline listen talk.srt --lesson published.pgn --comments none")]
pub struct Listen {
    /// Captions: WebVTT, SubRip, or text with stamps such as [4:27]
    #[arg(value_name = "TALK")]
    pub talk: PathBuf,
    /// The moves or the FEN after which the talk begins
    #[arg(long, value_name = "MOVES", default_value = "")]
    pub from: String,
    /// A draft or a lesson in which what stands is right
    #[arg(long, value_name = "FILE")]
    pub lesson: Option<PathBuf>,
    /// Which sentences become comments
    #[arg(long, value_enum, default_value_t = Spoken::Reasons)]
    pub comments: Spoken,
    /// The language of the talk
    #[arg(long, value_name = "CODE", default_value = "en")]
    pub lang: String,
    /// How what is doubtful is written
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}

/// Which sentences become comments.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Spoken {
    /// Those in which a move is named and a reason given
    Reasons,
    /// All
    All,
    /// None
    None,
}
