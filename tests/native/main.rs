//! All tests that need no browser, in one program: rooms named as those of `src/`, and a few
//! that look at the whole. `cargo test --test native` runs them, with a word after it those
//! whose path holds the word, such as `findings` or `lesson::reading`.
#![cfg(not(target_family = "wasm"))]

#[path = "../support/mod.rs"]
mod support;

mod aside;
mod ask;
mod bake;
mod boundaries;
mod cli;
mod counts;
mod edit;
mod findings;
mod guide;
mod lesson;
mod markup;
mod post;
mod preview;
mod regressions;
mod roundtrip;
mod search;
mod spec;
mod talk;
mod view;
mod weigh;
