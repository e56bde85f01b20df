//! Edits of a lesson: what the text is afterwards, byte for byte, and what is refused.

mod comments;
mod given;
mod hostile;
mod moves;
mod order;
mod pages;
mod refused;
mod signs;
mod style;
