//! `plyline assets`: writes the page files that the program carries.

use super::Outcome;
use super::args;
use super::out::{Out, say, visible};
use std::fs;
use std::io::{self, Write};
use std::path::Path;

// `FILES`, made by the build script, `embed.rs`.
include!(concat!(env!("OUT_DIR"), "/carried.rs"));

/// The script with which `plyline preview` writes, from `www/writing`.
pub mod writing {
    include!(concat!(env!("OUT_DIR"), "/writing.rs"));
}

/// Writes the files and prints the path of each.
///
/// # Errors
/// Those of standard output.
pub fn run(wanted: &args::Assets) -> io::Result<Outcome> {
    if FILES.is_empty() {
        say(
            "this program was built without the page files: run `sh www/build.sh`, \
             then build it again",
        );
        return Ok(Outcome::Failed);
    }
    let mut out = Out::new();
    for &(name, bytes) in FILES {
        let path = wanted.dir.join(name);
        if let Err(error) = write(&path, bytes) {
            say(&format!("cannot write {}: {error}", path.display()));
            return Ok(Outcome::Failed);
        }
        writeln!(out, "{}", visible(&path.display().to_string()))?;
    }
    out.flush()?;
    Ok(Outcome::Clean)
}

fn write(path: &Path, bytes: &[u8]) -> io::Result<()> {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)?;
    }
    fs::write(path, bytes)
}
