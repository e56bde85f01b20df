//! The page tests: every case opens pages in every engine, as a reader does, under the strict
//! policy, and fails on any error or warning in the console that it does not expect.
//!
//! `cargo test --test pages -- WORDS` runs the cases whose file or sentence holds all the words;
//! the name of an engine among them (chromium, firefox, webkit) runs that engine only. Needs
//! `www/dist/` (sh www/build.sh), the drivers of all three and a display in memory for WebKitGTK;
//! tests/run.sh sees to all of it. What a driver cannot do is said in tests/support/engine.rs.

// An empty program for wasm, where no browser can be started from.
#[cfg(target_family = "wasm")]
fn main() {}

#[cfg(not(target_family = "wasm"))]
#[path = "../support"]
mod support {
    pub mod browser;
    pub mod console;
    pub mod desk;
    pub mod engine;
    pub mod hands;
    pub mod keys;
    pub mod media;
    pub mod server;
    pub mod site;
}

#[cfg(not(target_family = "wasm"))]
#[path = "."]
mod pages {
    pub mod access;
    pub mod account;
    pub mod address;
    pub mod amiss;
    pub mod ask;
    pub mod ask_looks;
    pub mod at_board;
    pub mod attacks;
    pub mod bad_input;
    pub mod board;
    pub mod contrast;
    pub mod diagram;
    pub mod embedding;
    pub mod failures;
    pub mod generators;
    pub mod hand;
    pub mod harness;
    pub mod hosts;
    pub mod in_text;
    pub mod keyboard;
    pub mod life;
    pub mod loading;
    pub mod looks;
    pub mod modules;
    pub mod printed;
    pub mod prose;
    pub mod quiz;
    pub mod quiz_looks;
    pub mod quiz_script;
    pub mod quiz_weaker;
    pub mod recall;
    pub mod recap;
    pub mod reference;
    pub mod remember;
    pub mod rooms;
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
        ("stepping", stepping::CASES),
        ("embedding", embedding::CASES),
        ("generators", generators::CASES),
        ("bad_input", bad_input::CASES),
        ("takeover", takeover::CASES),
        ("trap", trap::CASES),
        ("loading", loading::CASES),
        ("modules", modules::CASES),
        ("life", life::CASES),
        ("access", access::CASES),
        ("hand", hand::CASES),
        ("keyboard", keyboard::CASES),
        ("spoken", spoken::CASES),
        ("words", words::CASES),
        ("walking", walking::CASES),
        ("in_text", in_text::CASES),
        ("hosts", hosts::CASES),
        ("rooms", rooms::CASES),
        ("at_board", at_board::CASES),
        ("printed", printed::CASES),
        ("failures", failures::CASES),
        ("attacks", attacks::CASES),
        ("contrast", contrast::CASES),
        ("diagram", diagram::CASES),
        ("recap", recap::CASES),
        ("recall", recall::CASES),
        ("account", account::CASES),
        ("remember", remember::CASES),
        ("address", address::CASES),
        ("reference", reference::CASES),
        ("prose", prose::CASES),
        ("quiz", quiz::CASES),
        ("quiz_looks", quiz_looks::CASES),
        ("quiz_script", quiz_script::CASES),
        ("quiz_weaker", quiz_weaker::CASES),
        ("amiss", amiss::CASES),
        ("ask", ask::CASES),
        ("ask_looks", ask_looks::CASES),
    ];
    // Pictures are made when they are asked for by name.
    let wants_looks = std::env::args().any(|word| word == "looks");
    match wants_looks {
        true => harness::run(&[("looks", looks::CASES)]),
        false => harness::run(&groups),
    }
}
