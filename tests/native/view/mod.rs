//! What a reader does and sees, as data.

mod asking;
mod carried;
mod open;
mod recalling;
mod update;
