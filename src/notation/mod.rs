//! Text and shape: tokens, the syntax tree, and what a move word, a sign or a comment looks
//! like. No chess rules: `Nf9` is refused here, an illegal `Nf3` is not.

mod beside;
pub mod comment;
mod letters;
mod lexer;
pub mod mark;
pub mod mention;
mod mentioned;
pub mod nag;
mod parser;
pub mod printer;
pub mod san;
mod sentences;
mod syntax;
mod tags;
mod token;

pub use letters::Letters;
pub use lexer::{Lexer, lex};
pub use parser::parse;
pub use sentences::sentences;
pub use syntax::{Game, Item, ItemKind, Line, LineIx, Syntax, Tag};
pub use token::{Token, TokenKind};
