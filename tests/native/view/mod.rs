//! What a reader does and sees, as data.

mod answered;
mod asking;
mod carried;
mod hearing;
mod languages;
mod open;
mod recalling;
mod update;
