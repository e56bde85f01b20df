//! Answers what tests/oracles/search.py asks of the search: a line in, a line out.
//!
//! `value DEPTH FEN`: the value with every move to a depth, material as it stands. `gain BUDGET FEN`: what is won by
//! force, as JSON. `exchange SQUARE FEN`: what captures on a square come to.

use plyline::lesson::rules::uci;
use plyline::search::{Leaf, exchange, gain, value};
use serde_json::json;
use shakmaty::fen::Fen;
use shakmaty::{CastlingMode, Chess};
use std::io::{self, BufRead};

fn main() {
    for line in io::stdin().lock().lines() {
        let line = line.expect("a line of standard input");
        println!(
            "{}",
            answer(&line).unwrap_or_else(|| format!("cannot read {line}"))
        );
    }
}

fn answer(line: &str) -> Option<String> {
    let mut words = line.splitn(3, ' ');
    let (what, number, fen) = (words.next()?, words.next()?, words.next()?);
    let fen: Fen = fen.parse().ok()?;
    let position: Chess = fen.into_position(CastlingMode::Standard).ok()?;
    Some(match what {
        "value" => value(&position, number.parse().ok()?, Leaf::Standing).to_string(),
        "exchange" => exchange(&position, number.parse().ok()?).to_string(),
        "gain" => {
            let gain = gain(&position, number.parse().ok()?);
            let line: Vec<String> = gain.line.iter().map(|&it| uci(Some(it))).collect();
            let (pawns, mate, depth, complete) = (gain.pawns, gain.mate, gain.depth, gain.complete);
            json!({ "pawns": pawns, "mate": mate, "depth": depth, "complete": complete, "line": line }).to_string()
        }
        _ => return None,
    })
}
