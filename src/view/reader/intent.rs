//! Everything that a reader can do, as a closed list.

use super::recalling::Memory;
use crate::ask::recall::Recall;
use crate::lesson::{LineId, NodeId, Place};
use shakmaty::{Color, Role, Square};

/// Everything that a reader can do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Intent {
    /// To this node, or to the open question before it.
    Go(NodeId),
    /// To this node, by a script: the questions before it are opened.
    Open(NodeId),
    /// To this place, which may be beside the lesson.
    Enter(Place),
    /// The same by a link in the comment of this node.
    Told(Place, NodeId),
    /// One move on: the child with that index, else the first.
    Next(Option<usize>),
    /// One move back, out of an aside too.
    Back,
    /// To the start.
    Top,
    /// Out of an aside, to where the lesson was left.
    Home,
    /// The other side below.
    Turn,
    /// This side below.
    Side(Color),
    /// A square is chosen: take the piece there, or put the piece in hand there.
    Square(Square),
    /// A piece is carried from square to square.
    Move(Square, Square),
    /// What the waiting pawn becomes.
    Promote(Role),
    /// The piece in hand is put back, the waiting pawn too, and the answer is closed.
    Release,
    /// The tab stop of the grid goes to this square.
    Cursor(Square),
    /// A move or a question is typed.
    Typed(String),
    /// A page's script plays a move. What is no move changes nothing.
    Play(String),
    /// A question is chosen from the list.
    Ask(Command),
    /// The map is opened or closed.
    Map,
    /// The field for moves and questions is opened or closed.
    Desk,
    /// Folds the board of a narrow page to its caption, or opens it.
    Shut,
    /// A variation is folded, or opened again.
    Fold(LineId),
    /// The main line is read alone, or with all lines again.
    Alone,
    /// What has two states is typed: it goes into this one, or where none is named into the other.
    Switch(Switch, Option<bool>),
    /// Comments are read after each move, or on request.
    Aloud(bool),
    /// Where the main line is read alone: the variations beside this node of it are opened, or folded away again.
    Beside(NodeId),
    /// The page says how something went that only it can do.
    Report(Report),
    /// A hint for the question, a stronger one each time.
    Hint,
    /// The answer to the question, or to that at a node of the lesson.
    Show(Option<NodeId>),
    /// The question from its start.
    Again,
    /// The answers to all questions.
    OpenAll,
    /// This recall, from its first walk on.
    Recall(Box<Recall>),
    /// Stop the recall.
    Stop,
    /// What is kept of the recall has changed.
    Memory(Memory),
}

/// What has two states, and is seen in both.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Switch {
    /// The map is open.
    Map,
    /// The main line is read alone.
    Alone,
    /// The board of a narrow page is folded.
    Shut,
}

/// How something went that only the page can do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Report {
    /// It was copied.
    Copied,
    /// The browser did not allow copying.
    NotCopied,
    /// The same, of the link to the position, which is this one.
    NotLinked(String),
    /// The page's address names no place of the lesson by this run.
    NoPlace(String),
}

/// A question about the position.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Command {
    /// Every piece and its square.
    Describe,
    /// The author's comment on the last move.
    Comment,
    /// The last move.
    LastMove,
    /// The moves that go on from here.
    Moves,
    /// Where in the lesson this is.
    Where,
    /// What is on a square.
    On(Square),
    /// A kind of piece and a square alone: a move where one is legal, else what is there.
    Named(Role, Square),
    /// Something about pieces, or about a square.
    About(Asked, Pieces),
    /// What pieces each side has.
    Material,
    /// What can be asked and typed.
    Help,
}

/// What is asked about pieces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// Where they are.
    Places,
    /// What attacks them, or a square, and what guards them.
    Attackers,
    /// What guards them, or a square.
    Guards,
    /// Which of them are pinned to their king or queen, and by what.
    Pins,
    /// Where they can legally go.
    Moves,
}

/// The pieces that a question is about: all of this side, of this kind and on this square; where
/// one is not named, of any.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Pieces {
    /// Whose.
    pub color: Option<Color>,
    /// Of which kind.
    pub role: Option<Role>,
    /// Where.
    pub square: Option<Square>,
}

impl Pieces {
    /// What is on a square.
    pub fn on(square: Square) -> Pieces {
        Pieces {
            square: Some(square),
            ..Pieces::default()
        }
    }
}
