//! `plyline preview`: the program as a browser meets it, over a real socket, and what is pure beside it.

mod access;
mod bad_input;
mod entered;
mod pages;
mod saved_over;
mod served;
mod shift;
mod through;
mod two_writers;
mod undo;
