//! How fast the search is, and how long the claims of the demo's lessons take. `cargo bench --bench search`
//!
//! Positions a second, natively against a walk over all moves with the same move generation (`count_paths`, which asks at
//! the last half-move only how many there are), and in the page's core, in Node: `sh www/build.sh` before it. Ratios
//! count, not the figures.

use plyline::lesson::rules::{count_paths, fen};
use plyline::search::Deepening;
use std::hint::black_box;
use std::path::Path;
use std::process::Command;
use std::time::Instant;

/// Positions that are looked at in each.
const BUDGET: u64 = 300_000;
const WALK: u32 = 4;

/// Openings and a middle game, common knowledge; the second is position 2 of the usual move generator tests.
const POSITIONS: [&str; 4] = [
    "r1bqkb1r/pppp1ppp/2n2n2/4p3/2B1P3/5N2/PPPP1PPP/RNBQK2R w KQkq - 4 4",
    "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1",
    "rnbqkb1r/pp3ppp/4pn2/2pp4/2PP4/2N1P3/PP3PPP/R1BQKBNR w KQkq - 0 5",
    "r1bq1rk1/pp2bppp/2n1pn2/2pp4/2PP4/1PN1PN2/PB2BPPP/R2QK2R w KQ - 2 8",
];

#[path = "noted.rs"]
mod noted;

fn main() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let (mut searched, mut walked) = (Vec::new(), Vec::new());
    for text in POSITIONS {
        let position = fen::position(text).expect("a FEN");
        let began = Instant::now();
        let mut search = Deepening::in_turns(position.clone());
        search.turn(BUDGET);
        searched.push(BUDGET as f64 / began.elapsed().as_secs_f64());
        let depth = search.found().depth;
        let began = Instant::now();
        let paths = black_box(count_paths(&position, WALK));
        walked.push(paths as f64 / began.elapsed().as_secs_f64());
        println!(
            "{depth} half-moves deep with {BUDGET} positions, {:.2} million a second: {text}",
            searched.last().unwrap_or(&0.0) / 1e6
        );
    }
    let native = median(&mut searched);
    let walk = median(&mut walked);
    println!("native: {:.2} million positions a second", native / 1e6);
    println!(
        "a walk over all moves: {:.2} million a second, the search has {:.3} of it",
        walk / 1e6,
        native / walk
    );
    let ratio = format!("{:.3} times", native / walk);
    noted::note(
        "searching natively, speed against a walk over all moves",
        &ratio,
        "",
        "",
        None,
    );
    let script = root.join("tests/bench/search.mjs");
    let args = [&[BUDGET.to_string()][..], &POSITIONS.map(String::from)].concat();
    let node = Command::new("node").arg(script).args(args).status();
    if !node.is_ok_and(|it| it.success()) {
        println!("the page's core was not measured: sh www/build.sh before it, and Node");
    }
    let pages = root.join("demo-site/pages");
    let began = Instant::now();
    let program = env!("CARGO_BIN_EXE_plyline");
    let weighed = Command::new(program).arg("weigh").arg(&pages).output();
    let is_clean = weighed.is_ok_and(|it| it.status.success());
    let seconds = began.elapsed().as_secs_f64();
    println!("the demo's lessons are weighed in {seconds:.1} s, clean: {is_clean}");
}

fn median(list: &mut [f64]) -> f64 {
    list.sort_by(f64::total_cmp);
    list.get(list.len() / 2).copied().unwrap_or(0.0)
}
