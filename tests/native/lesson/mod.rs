//! From a text to a lesson, and back to text.

mod outside;
mod prose;
mod reading;
mod writing;
