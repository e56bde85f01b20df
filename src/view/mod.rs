//! What a reader sees, as plain data, and what a reader can do, as a closed list.
//! Pure: no clock, no page, no text beyond `words`.

mod account;
mod answering;
mod asking;
mod board;
mod carried;
pub mod command;
mod diagram;
mod figure;
mod hand;
mod lines;
mod linked;
mod map;
mod outline;
mod page;
mod recalling;
mod recap;
mod sentence;
mod slides;
pub mod spoken;
mod state;
pub mod wording;
pub mod words;

pub use account::{DOES, HeldView, PlaceView, RecallView, STEPS};
pub use asking::{Asking, Judged};
pub use board::{Board, board};
pub use carried::{carry, resume};
pub use diagram::{Caption, Diagram, diagram, placed_diagram};
pub use figure::{AskingView, Figure, NextMove, figure};
pub use lines::{Asked, Block, LineView, MoveView, move_view, printed_line};
pub use map::{Map, OPEN_UP_TO, map};
pub use outline::{OutlineRow, current_row};
pub use page::{Page, Way, page, way};
pub use recalling::{Memory, Recalling};
pub use recap::{Choice, Recap, Row, Says, recap};
pub use slides::slides;
pub use state::{Effect, Intent, Notice, State, update};
pub use words::{Word, Words};
