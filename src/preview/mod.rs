//! The preview of pages while they are written, without its server and its disk: what an open file holds, what is
//! done and taken back in it, what its author is told, the pages that are made of it, and which request may pass.
//!
//! `Open` is the state of a file that is open in a browser. What somebody else writes into it comes in by `seen`; what is
//! asked for is computed by `ask` against the file as it is then, and `commit` says that this was written. Nothing is
//! read or written here.

mod about;
mod access;
mod enter;
mod form;
mod history;
mod lost;
mod made;
mod open;
mod pages;
mod path;
mod placed;
mod refused;
mod shift;
mod told;

pub use about::{About, about};
pub use access::{Command, Denied, Gate, Headers, Wanted};
pub use enter::{Stop, Typed, looked, typed};
pub use form::{Block, around, blocks};
pub use made::{Ask, Made};
pub use open::{Open, Written};
pub use pages::{Counted, LOOK, address, list, markdown, notation, title, with_script};
pub use path::Path;
pub use placed::{Found, Placed};
pub use refused::Refused;
pub use shift::{Hunk, applied, difference, inverse, past};
