//! Other programs that weigh positions, by the open UCI protocol (2006, from memory).
//!
//! A process and its lines (`process`), what a line says (`said`), a talk about one position after another (`talk`),
//! and as many of these as there are cores (`crew`). plyline brings no such program.

#[cfg(test)]
mod broken;
mod crew;
mod process;
mod said;
mod talk;

pub use crew::{Ended, ask_all};
pub use talk::{About, Assessed, Limit, Patience, Setup};
