//! Scores and their ranges, written down for `tests/oracles/intervals.py`, which asks statsmodels for the same.

use plyline::counts::{Results, score};
use std::fmt::Write;
use std::fs;
use std::path::Path;

/// The games of those results that are written with draws.
const GAMES: u64 = 30;

#[test]
fn scores_are_written_for_the_outside_oracle() {
    let mut text = String::new();
    let mut lines = 0;
    let mut tell = |white: u64, drawn: u64, black: u64| {
        let results = Results {
            white,
            drawn,
            black,
            unknown: 0,
        };
        let it = score(&results).expect("a score of known results");
        let _ = match it.range {
            Some((low, high)) => {
                writeln!(text, "{white} {drawn} {black} {} {low} {high}", it.score)
            }
            None => writeln!(text, "{white} {drawn} {black} {} - -", it.score),
        };
        lines += 1;
    };
    for games in 1..=200 {
        for white in 0..=games {
            tell(white, 0, games - white);
        }
    }
    for drawn in 1..=GAMES {
        for white in 0..=GAMES - drawn {
            tell(white, drawn, GAMES - drawn - white);
        }
    }
    assert_eq!(lines, 20_300 + 465);
    // The folder where the oracle looks for them.
    if let Some(folder) = std::env::var_os("PLYLINE_CHOICES") {
        fs::write(Path::new(&folder).join("scores.txt"), text).expect("a folder to write to");
    }
}
