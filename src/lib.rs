//! plyline reads chess opening lines written as PGN, checks them like a compiler and
//! shows them as a lesson that readers click through on a web page.
//!
//! One way for data, one folder a step, and no step reaches back:
//!
//! ```
//! use plyline::{check, lesson, markup, notation, text::Source, view};
//!
//! let source = Source::new("example.pgn", "1. d4 d5 2. c4 e6 (2... dxc4 {takes}) 3. Nc3 {solid} *");
//! let (syntax, mut findings) = notation::parse(&source); //           text -> tokens -> syntax
//! let (mut lessons, more) = lesson::validate(&source, &syntax); //    -> lessons, legal chess only
//! findings.extend(more);
//! let lesson = lessons.remove(0).expect("this text holds one game");
//! let findings = check::page::game(&source, &syntax.games[0], Some(&lesson), findings); // -> what is amiss
//! let words = view::Words::default();
//! let start = view::State::new(&lesson, 0, shakmaty::Color::White);
//! let (state, _) = view::update(&lesson, &start, view::Intent::Next(None), words.letters());
//! let page = view::page(&words, &lesson, &state, &findings, &source, &[]); // -> what a reader sees
//! let html = markup::html(&markup::lesson(&page)); //                 -> markup -> text
//! assert!(html.contains("after") && findings.is_empty());
//! ```
#![forbid(unsafe_code)]
#![deny(rustdoc::broken_intra_doc_links)]

pub mod text;

pub mod notation;

pub mod lesson;

pub mod ask;

pub mod check;

pub mod view;

pub mod markup;

#[cfg(any(not(target_family = "wasm"), feature = "counts"))]
pub mod counts;

#[cfg(any(not(target_family = "wasm"), feature = "counts"))]
pub mod assessments;

pub mod edge;

#[cfg(not(target_family = "wasm"))]
pub mod post;

#[cfg(not(target_family = "wasm"))]
pub mod bake;

#[cfg(not(target_family = "wasm"))]
pub mod games;

#[cfg(any(not(target_family = "wasm"), feature = "answers"))]
pub mod search;

#[cfg(any(not(target_family = "wasm"), feature = "answers"))]
pub mod aside;

#[cfg(not(target_family = "wasm"))]
pub mod weigh;

#[cfg(not(target_family = "wasm"))]
pub mod talk;

#[cfg(not(target_family = "wasm"))]
pub mod edit;

#[cfg(not(target_family = "wasm"))]
pub mod compare;

#[cfg(not(target_family = "wasm"))]
pub mod merge;

#[cfg(not(target_family = "wasm"))]
pub mod preview;

#[cfg(target_family = "wasm")]
pub mod nodes;

#[cfg(all(
    target_family = "wasm",
    not(any(feature = "counts", feature = "answers"))
))]
pub mod web;

#[cfg(all(target_family = "wasm", feature = "counts"))]
pub mod web_counts;

#[cfg(all(target_family = "wasm", feature = "answers"))]
pub mod web_answers;

#[cfg(not(target_family = "wasm"))]
pub mod cli;
