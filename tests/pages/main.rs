//! The page tests: cases that open pages in the engines, as a reader does, under the strict
//! policy, and fail on any error or warning in the console that they do not expect.
//!
//! `cargo test --test pages -- WORDS` runs the cases whose room, file or sentence holds all the
//! words; the name of an engine among them (chromium, firefox, webkit) runs that engine only.
//! Needs `www/dist/` (sh www/build.sh), the drivers of all three and a display in memory for
//! WebKitGTK; tests/run.sh sees to all of it. What a driver cannot do is said in
//! tests/support/browser/engine.rs.

// An empty program for wasm, where no browser can be started from.
#[cfg(target_family = "wasm")]
fn main() {}

#[cfg(not(target_family = "wasm"))]
#[path = "../support"]
mod support {
    pub mod browser;
    pub mod server;
    pub mod site;
}

#[cfg(not(target_family = "wasm"))]
#[path = "."]
mod rooms {
    pub mod articles;
    pub mod asking;
    pub mod board;
    pub mod failing;
    pub mod harness;
    pub mod hearing;
    pub mod hosting;
    pub mod moving;
    pub mod recalling;
    pub mod seeing;
    pub mod talking;
    pub mod writing;
}

#[cfg(not(target_family = "wasm"))]
use rooms::*;

#[cfg(not(target_family = "wasm"))]
fn main() -> std::process::ExitCode {
    let rooms = [
        ("moving", moving::FILES),
        ("asking", asking::FILES),
        ("recalling", recalling::FILES),
        ("articles", articles::FILES),
        ("hosting", hosting::FILES),
        ("failing", failing::FILES),
        ("seeing", seeing::FILES),
        ("hearing", hearing::FILES),
        ("talking", talking::FILES),
        ("writing", writing::FILES),
    ];
    // Pictures are made when they are asked for by name.
    let wants_looks = std::env::args().any(|word| word == "looks");
    match wants_looks {
        true => harness::run(&[("seeing", &[("looks", seeing::looks::CASES)])]),
        false => harness::run(&rooms),
    }
}
