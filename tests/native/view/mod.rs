//! What a reader does and sees, as data.

mod answered;
mod asking;
mod carried;
mod hearing;
mod languages;
mod lettered;
mod open;
mod recalling;
mod renewed;
mod times;
mod update;
