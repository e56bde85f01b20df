//! The checks of a lesson that has been read: for a page, and for an author.
//!
//! A pass is one file: it looks at a lesson and returns findings, and changes none. What only
//! authors see is in `author`, which no page carries; there one function at the end decides which
//! finding explains which.
//!
//! ```
//! use plyline::{check, lesson, notation, text::Source};
//!
//! let source = Source::new("example.pgn", "[Side \"grey\"]\n\n1. e4 e5 *");
//! let (syntax, mut findings) = notation::parse(&source);
//! let (lessons, more) = lesson::validate(&source, &syntax);
//! findings.extend(more);
//! let found = check::page::game(&source, &syntax.games[0], lessons[0].as_ref(), findings);
//! assert!(found.iter().any(|it| it.message.contains("grey")));
//! ```

pub mod attributes;
#[cfg(not(target_family = "wasm"))]
pub mod author;
mod lesson;
pub mod page;
pub mod values;
