//! The page tests: every case opens pages in every engine, as a reader does, under the strict
//! policy, and fails on any error or warning in the console that it does not expect.
//!
//! `cargo test --test pages -- WORDS` runs the cases whose names hold the words; the name of an
//! engine among them runs that engine only. Needs `www/dist/` (sh www/build.sh), chromedriver
//! and geckodriver; tests/run.sh sees to all of it.

// An empty program for wasm, where no browser can be started from.
#[cfg(target_family = "wasm")]
fn main() {}

#[cfg(not(target_family = "wasm"))]
#[path = "support"]
mod support {
    pub mod browser;
    pub mod engine;
    pub mod hands;
    pub mod server;
    pub mod site;
}

#[cfg(not(target_family = "wasm"))]
#[path = "pages"]
mod pages {
    pub mod access;
    pub mod bad_input;
    pub mod board;
    pub mod embedding;
    pub mod hand;
    pub mod harness;
    pub mod keyboard;
    pub mod life;
    pub mod loading;
    pub mod spoken;
    pub mod stepping;
    pub mod takeover;
    pub mod trap;
    pub mod walking;
    pub mod words;
}

#[cfg(not(target_family = "wasm"))]
fn main() -> std::process::ExitCode {
    use pages::*;
    let groups = [
        stepping::CASES,
        embedding::CASES,
        bad_input::CASES,
        takeover::CASES,
        trap::CASES,
        loading::CASES,
        life::CASES,
        access::CASES,
        hand::CASES,
        keyboard::CASES,
        spoken::CASES,
        words::CASES,
        walking::CASES,
    ];
    harness::run(&groups.concat())
}
