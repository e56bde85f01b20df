//! What a reader sees, as plain data, and what a reader can do, as a closed list.
//! Pure: no clock, no page, no text beyond `words`.

mod moves;
mod reader;
mod show;
pub mod words;

pub use moves::{MoveView, move_view};
pub use reader::carried::{carry, resume};
pub use reader::command;
pub use reader::question::{Asking, Judged};
pub use reader::recall::{Memory, Recalling};
pub use reader::state::{Effect, Intent, Notice, State, update};
pub use show::animation::slides;
pub use show::board::{Board, board};
pub use show::diagram::{Caption, Diagram, diagram, placed_diagram};
pub use show::figure::{AskingView, Figure, NextMove, figure};
pub use show::lines::{Block, LineView, QuestionBlock, printed_line};
pub use show::map::{Map, OPEN_UP_TO, map};
pub use show::outline::{OutlineRow, current_row};
pub use show::page::{Page, Way, page, way};
pub use show::recall_summary::{DOES, HeldView, PlaceView, RecallView, STEPS};
pub use show::recap::{Choice, Recap, Row, Says, recap};
pub use words::{Word, Words, spoken, wording};
