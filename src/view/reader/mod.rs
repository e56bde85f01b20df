//! What a reader can do and where it leads: intents, the state, and the one function from a state
//! and an intent to the next state.

pub mod carried;
pub mod command;
mod input;
pub mod question;
pub mod recall;
pub mod state;
