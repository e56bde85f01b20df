//! What a reader sees, as plain data, and what a reader can do, as a closed list.
//! Pure: no clock, no page, no text beyond `words`.
//! In order, none of which knows a later one: `numbers`, `reader`, `words`, `show`; `open`, which is how a reader comes to each element; and `still`.
//!
//! ```
//! use plyline::{lesson, notation, text::Source, view};
//!
//! let source = Source::new("example.pgn", "1. e4 e5 *");
//! let (syntax, _) = notation::parse(&source);
//! let lesson = lesson::validate(&source, &syntax).0.remove(0).expect("the text holds a game");
//! let start = view::State::new(&lesson, 0, shakmaty::Color::White);
//! let letters = view::Words::default().letters();
//! let (after, _) = view::update(&lesson, &start, view::Intent::Next(None), letters);
//! assert_eq!((start.node, after.node), (0, 1)); // the start, and the node of 1.e4
//! ```

mod numbers;
mod open;
mod reader;
mod show;
mod still;
pub mod words;

pub use open::{DiagramOf, Element, below, open};
pub use reader::asking::{Asking, Judged};
pub use reader::carried::{carry, resume};
pub use reader::command;
pub use reader::effect::Effect;
pub use reader::intent::{Asked, Command, Intent, Pieces, Report, Switch};
pub use reader::recalling::{Keeping, Memory, Note, Recalling};
pub use reader::state::{Hand, Last, Mode, Notice, State};
pub use reader::update::update;
pub use show::animation::slides;
pub use show::board::{Board, board};
pub use show::diagram::{Caption, Diagram, diagram, placed_diagram};
pub use show::figure::{AskingView, Figure, NextMove, figure};
#[cfg(not(target_family = "wasm"))]
pub use show::lines::listed_line;
pub use show::lines::{Block, Gist, LineView, QuestionBlock, printed_line};
pub use show::map::{Map, Way, map, way};
pub use show::moves::{MoveView, move_view};
pub use show::outline::{OutlineRow, current_row};
pub use show::page::{Page, Signs, page, signs};
pub use show::recall_summary::{HeldView, PlaceView, RecallView};
pub use show::recap::{Choice, Recap, Row, Says, recap};
pub use show::text::{Does, Kind, Named, Paragraph, Piece, prompt};
pub use still::still;
pub use words::actions::{self, Action};
pub use words::{Word, Words, spoken, wording};
