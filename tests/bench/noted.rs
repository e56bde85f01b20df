//! Rows for the one table of all benchmarks, which `sh tests/bench/run.sh` prints.

use std::fs::OpenOptions;
use std::io::Write;

/// Adds a row to the file that PLYLINE_TABLE names, if it names one: what is measured, its median, the middle half of the
/// rounds, the bound, and whether that is held; what has no bound says none.
pub fn note(what: &str, median: &str, spread: &str, bound: &str, held: Option<bool>) {
    let Some(path) = std::env::var_os("PLYLINE_TABLE") else {
        return;
    };
    let verdict = match held {
        Some(true) => "held",
        Some(false) => "MISSED",
        None => "",
    };
    let file = OpenOptions::new().create(true).append(true).open(path);
    let written =
        file.and_then(|mut it| writeln!(it, "{what}\t{median}\t{spread}\t{bound}\t{verdict}"));
    if let Err(error) = written {
        eprintln!("no row for {what}: {error}");
    }
}
