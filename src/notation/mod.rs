//! Text and shape: tokens, the syntax tree, and what a move word, a sign or a comment looks
//! like. No chess rules: `Nf9` is refused here, an illegal `Nf3` is not.

pub mod comment;
mod lexer;
pub mod mention;
mod parser;
pub mod printer;
mod syntax;
mod tags;
mod token;
pub mod word;

pub use comment::sentences::sentences;
pub use lexer::{Lexer, lex};
pub use parser::parse;
pub use syntax::{Game, Item, ItemKind, Line, LineIx, Syntax, Tag};
pub use token::{Token, TokenKind};
pub use word::letters::Letters;
