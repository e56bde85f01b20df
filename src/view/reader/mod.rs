//! What a reader can do and where it leads: intents, the state, and the one function from a state
//! and an intent to the next state and what follows.

pub mod asking;
mod begin;
pub mod carried;
mod closed;
pub mod command;
pub mod effect;
mod input;
pub mod intent;
pub mod question;
mod recall;
pub mod recalling;
pub mod state;
mod straight;
pub mod update;
