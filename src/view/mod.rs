//! What a reader sees, as plain data, and what a reader can do, as a closed list.
//! Pure: no clock, no page, no text beyond `wording`.

mod board;
mod figure;
mod lines;
mod outline;
mod page;
mod state;
pub mod wording;

pub use board::{Board, board};
pub use figure::{Figure, NextMove, figure};
pub use lines::{Block, LineView, MoveView, move_view};
pub use outline::{OutlineRow, current_row};
pub use page::{Page, page};
pub use state::{Effect, Intent, State, update};
