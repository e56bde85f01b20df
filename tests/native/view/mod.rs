//! What a reader does and sees, as data.

mod asking;
mod recalling;
mod update;
