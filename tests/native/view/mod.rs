//! What a reader does and sees, as data.

mod asking;
mod open;
mod recalling;
mod update;
