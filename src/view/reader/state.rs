//! Where a reader is, in what kind of element, and what is in hand.

use super::asking::{Asking, Judged};
use super::intent::{Command, Report, Switch};
use super::recalling::Recalling;
use crate::ask::open_question::Hint;
use crate::lesson::{Lesson, LineId, NodeId, Reason, Tried};
use shakmaty::{Chess, Color, Move, Square};
use std::rc::Rc;

/// Where a reader is and how the board lies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct State {
    /// What the element is for, and how far the reader is with it.
    pub mode: Mode,
    /// The node on the board, or the one that an aside left.
    pub node: NodeId,
    /// Legal moves tried that the lesson does not hold, from the node on.
    pub aside: Vec<Tried>,
    /// The node whose comment names the aside, if a link there has led to it.
    pub told: Option<NodeId>,
    /// The side that is below.
    pub side: Color,
    /// What the reader's hand does.
    pub hand: Hand,
    /// The square of the grid that has the tab stop.
    pub cursor: Square,
    /// What was asked, or why a try was refused.
    pub notice: Option<Notice>,
    /// Whether a hint or the answer has brought the reader back to the question.
    pub is_back: bool,
    /// Flips when a notice repeats, so that it is announced again.
    pub again: bool,
    /// The nodes that have been on the board.
    pub read: Vec<bool>,
    /// Whether the map is open.
    pub map: bool,
    /// Whether the field for moves and questions is open.
    pub desk: bool,
    /// Whether the board of a narrow page is folded to its caption.
    pub shut: bool,
    /// Whether comments are read after each move.
    pub aloud: bool,
    /// The variations that are folded in the line list.
    pub folded: Vec<LineId>,
    /// While the main line is read alone: the nodes of it beside which the variations are open all the same.
    pub alone: Option<Vec<NodeId>>,
}

/// What an element is for, and how far the reader is with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Mode {
    /// A lesson is walked.
    Lesson {
        /// The open question that the reader is at.
        asking: Option<Box<Asking>>,
        /// The questions of the lesson that are no longer open.
        settled: Vec<NodeId>,
    },
    /// One question, in an element of its own.
    Quiz {
        /// The question.
        asking: Box<Asking>,
        /// The address of the start of its lesson, where that is elsewhere in the page; else
        /// empty.
        start: String,
    },
    /// A recall, in an element of its own.
    Recall(Box<Recalling>),
    /// A question or a recall that cannot be shown: nothing is done with it.
    Missing,
}

/// What the reader's hand does at the board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hand {
    /// Nothing.
    Empty,
    /// It holds the piece of this square.
    Holds(Square),
    /// It has moved a pawn to the last rank and is to say what the pawn becomes.
    Promotes {
        /// Where the pawn stands.
        from: Square,
        /// Where it goes.
        to: Square,
    },
}

/// Something to say that is not the last move.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Notice {
    /// A try that is not legal; and the square, where it was typed as that alone: then it is perhaps
    /// a question about it.
    Refused(Reason, Option<Square>),
    /// An answer to what was asked.
    Answer(Command),
    /// Words that are neither a move nor a question.
    NotUnderstood(String),
    /// How something went that only the page can do.
    Report(Report),
    /// The board was turned: spoken only, for it can be seen.
    Turned,
    /// When comments are read has changed: spoken only too.
    Aloud,
    /// A piece was chosen of the side that is not to move: spoken only, for the caption says whose move it is.
    OtherSide,
    /// A word has been typed that means one of two states: which it is now.
    Switched(Switch),
    /// The answer to a try at a question.
    Judged(Rc<Judged>),
    /// Help with a question.
    Hint(Hint),
    /// A move against a weaker one is on the board, or a move of the lesson in a settled quiz: the
    /// author's words about it are shown only there.
    Against,
    /// The state of a recall.
    Recalled,
}

/// The last move on the board: the one of the node, or of the aside.
pub struct Last<'a> {
    /// The position before it.
    pub before: &'a Chess,
    /// The move; none for a pass.
    pub played: Option<Move>,
    /// Its English SAN.
    pub san: &'a str,
    /// What the author's signs say of it.
    pub nags: &'a [u8],
}

impl Notice {
    /// Whether it is about a try at a question, or helps with the next.
    pub(crate) fn is_about_try(&self) -> bool {
        matches!(self, Notice::Judged(_) | Notice::Hint(_))
    }
}

impl Hand {
    /// The square of the piece in hand; a pawn that waits for what it becomes is in hand too.
    pub fn held(self) -> Option<Square> {
        match self {
            Hand::Empty => None,
            Hand::Holds(from) | Hand::Promotes { from, .. } => Some(from),
        }
    }
}

impl State {
    /// The state of an element that has no lesson.
    pub fn empty() -> State {
        State {
            mode: Mode::Lesson {
                asking: None,
                settled: Vec::new(),
            },
            node: 0,
            aside: Vec::new(),
            told: None,
            side: Color::White,
            hand: Hand::Empty,
            cursor: Square::E4,
            notice: None,
            is_back: false,
            again: false,
            read: Vec::new(),
            map: false,
            desk: false,
            shut: false,
            aloud: false,
            folded: Vec::new(),
            alone: None,
        }
    }

    /// A reader who is put at a node and has not met the questions before it.
    pub fn at_node(lesson: &Lesson, node: NodeId, side: Color) -> State {
        let mut read = vec![false; lesson.nodes.len()];
        if let Some(read) = read.get_mut(node as usize) {
            *read = true;
        }
        let cursor = side.fold_wb(Square::E4, Square::E5);
        State {
            node,
            side,
            cursor,
            read,
            ..State::empty()
        }
    }

    /// The question that the reader is at, in a lesson or in an element of its own.
    pub fn asking(&self) -> Option<&Asking> {
        match &self.mode {
            Mode::Lesson { asking, .. } => asking.as_deref(),
            Mode::Quiz { asking, .. } => Some(asking),
            Mode::Recall(_) | Mode::Missing => None,
        }
    }

    pub(crate) fn asking_mut(&mut self) -> Option<&mut Asking> {
        match &mut self.mode {
            Mode::Lesson { asking, .. } => asking.as_deref_mut(),
            Mode::Quiz { asking, .. } => Some(asking),
            Mode::Recall(_) | Mode::Missing => None,
        }
    }

    /// The recall that the reader is at.
    pub fn recalling(&self) -> Option<&Recalling> {
        match &self.mode {
            Mode::Recall(recalling) => Some(recalling),
            _ => None,
        }
    }

    /// The questions of the lesson that are no longer open.
    pub fn settled(&self) -> &[NodeId] {
        match &self.mode {
            Mode::Lesson { settled, .. } => settled,
            _ => &[],
        }
    }

    /// Whether it is a question or a recall in an element of its own, with no text of the lesson
    /// beside it.
    pub fn is_apart(&self) -> bool {
        !matches!(self.mode, Mode::Lesson { .. })
    }

    /// The position on the board.
    pub fn position<'a>(&'a self, lesson: &'a Lesson) -> &'a Chess {
        match self.aside.last() {
            Some(tried) => &tried.position,
            None => &lesson.node(self.node).position,
        }
    }

    /// The last move on the board, if there is one.
    pub fn last<'a>(&'a self, lesson: &'a Lesson) -> Option<Last<'a>> {
        let node = lesson.node(self.node);
        let Some((tried, earlier)) = self.aside.split_last() else {
            return Some(Last {
                before: &lesson.node(node.parent?).position,
                played: node.played,
                san: &node.san,
                nags: &node.nags,
            });
        };
        Some(Last {
            before: earlier.last().map_or(&node.position, |it| &it.position),
            played: tried.played,
            san: &tried.san,
            nags: &[],
        })
    }

    /// Another position: nothing in hand, nothing said about the one before.
    pub(crate) fn clear(&mut self) {
        self.hand = Hand::Empty;
        self.notice = None;
    }

    /// To a node, out of an aside.
    pub(crate) fn go(&mut self, node: NodeId) {
        if self.node != node || !self.aside.is_empty() {
            self.clear();
        }
        self.node = node;
        self.told = None;
        self.aside.clear();
    }
}
