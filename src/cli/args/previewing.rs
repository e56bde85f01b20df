//! What can be typed after `preview`.

use clap::Args as Arguments;
use std::path::PathBuf;

/// `plyline preview`
#[derive(Debug, Arguments)]
#[command(after_help = "\
Open the address that is printed: pages are shown as readers will see them, with findings where they belong, and are
shown anew when their files change. What is played on a board while `write` is on is written into the file of the
lesson, at its place; every other byte of the file stays. Your editor may have the same file open: nothing that it
saves is lost, and what it saves over can be made again.

With --through the pages come from the server of a generator; a lesson of a page is written where it is in the files
under PATH, found by its text.

Only this machine can reach the pages, and only the address as it is printed can write. Stop it with Ctrl-C.

Exit code: 2 where the pages cannot be served.

Examples:
  plyline preview posts/
  plyline preview exchange.pgn --port 4100
  plyline preview posts/ --through http://127.0.0.1:4000")]
pub struct Preview {
    /// A folder of pages (.md, .html, .pgn), or one of them
    pub path: PathBuf,
    /// The port of the address [default: a free one]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    pub port: Option<u16>,
    /// Show the pages of a generator's server on this machine, and write in the files under PATH
    #[arg(long, value_name = "URL")]
    pub through: Option<String>,
}
