//! Text and shape: tokens, the syntax tree, and what a move word, a sign or a comment looks
//! like. No chess rules: `Nf9` is refused here, an illegal `Nf3` is not.
//!
//! ```
//! use plyline::{notation, text::Source};
//!
//! let source = Source::new("example.pgn", "1. e4 {a comment without its end");
//! let (syntax, findings) = notation::parse(&source);
//! assert_eq!(syntax.games.len(), 1);
//! let finding = findings.iter().next().expect("the comment is not closed");
//! assert_eq!(source.text().get(finding.span.range()), Some("{"));
//! ```

pub mod comment;
mod lexer;
pub(crate) mod mention;
mod parser;
pub(crate) mod printer;
mod syntax;
mod tags;
mod token;
pub mod word;

pub use comment::Comment;
pub use lexer::{Lexer, lex};
pub use parser::parse;
pub use syntax::{Game, Item, ItemKind, Line, LineIx, Syntax, Tag};
pub use token::{Token, TokenKind};
pub use word::letters::Letters;
