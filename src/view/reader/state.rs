//! Where a reader is, what a reader can do, and what follows from it.

use super::command::Command;
use super::input::{choose, play, put, typed};
use super::question::{self, Asking, Judged};
use super::recall::{self, Memory, Recalling};
use crate::ask::open_question::{self, Hint};
use crate::ask::recall::Recall;
use crate::lesson::{Attempt, Lesson, LineId, NodeId, Place, Reason, Tried, attempt_word};
use crate::notation::{Letters, comment};
use shakmaty::{Chess, Color, Role, Square};
use std::rc::Rc;

/// Where a reader is and how the board lies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct State {
    /// The node on the board, or the one that an aside left.
    pub node: NodeId,
    /// The side that is below.
    pub side: Color,
    /// Legal moves tried that the lesson does not hold, from the node on.
    pub aside: Vec<Tried>,
    /// The square of the piece in hand.
    pub held: Option<Square>,
    /// A pawn's move that waits for what the pawn becomes.
    pub promotion: Option<(Square, Square)>,
    /// The square of the grid that has the tab stop.
    pub cursor: Square,
    /// What was asked, or why a try was refused.
    pub notice: Option<Notice>,
    /// Whether a hint or the answer has led back from beside the question.
    pub is_back: bool,
    /// Turns with each notice that is the same as the one before, which would be heard once only.
    pub again: bool,
    /// The nodes that have been on the board.
    pub read: Vec<bool>,
    /// Whether the map is open.
    pub map: bool,
    /// Whether the field for moves and questions is open.
    pub desk: bool,
    /// Whether the board of a narrow page is folded to its caption.
    pub shut: bool,
    /// The variations that are folded in the line list.
    pub folded: Vec<LineId>,
    /// The questions of the lesson that are open no more.
    pub settled: Vec<NodeId>,
    /// The question that the reader is at.
    pub asking: Option<Box<Asking>>,
    /// The recall that the reader is at.
    pub recalling: Option<Box<Recalling>>,
    /// Whether there is that question or recall and nothing else.
    pub is_quiz: bool,
    /// The address of the start of its lesson, where that stands elsewhere in the page; else empty.
    pub start: String,
}

/// Something to say that is not the last move.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Notice {
    /// A try that is not legal.
    Refused(Reason),
    /// An answer to what was asked.
    Answer(Command),
    /// Words that are neither a move nor a question.
    NotUnderstood(String),
    /// Whether something was copied.
    Copied(bool),
    /// The board was turned: for the ear, the eye sees it.
    Turned,
    /// What is said of a try at a question.
    Judged(Rc<Judged>),
    /// Help with a question.
    Hint(Hint),
    /// A move of what the lesson holds against a weaker one is on the board, or of the lesson in a
    /// settled quiz: what the author says of it is seen there only.
    Against,
    /// Where a recall stands.
    Recalled,
}

impl State {
    /// A reader who begins at a node.
    pub fn new(lesson: &Lesson, node: NodeId, side: Color) -> State {
        let node = lesson.get(node).map_or(0, |_| node);
        let node = State::empty().within(lesson, node);
        let mut state = State {
            map: lesson.nodes.len() <= crate::view::show::map::OPEN_UP_TO,
            ..State::at_question(lesson, node, side)
        };
        question::arrive(lesson, &mut state);
        state
    }

    /// A reader who is asked at a node and has not met the questions before it.
    pub fn at_question(lesson: &Lesson, node: NodeId, side: Color) -> State {
        let mut read = vec![false; lesson.nodes.len()];
        if let Some(read) = read.get_mut(node as usize) {
            *read = true;
        }
        let cursor = if side.is_white() {
            Square::E4
        } else {
            Square::E5
        };
        State {
            node,
            side,
            cursor,
            read,
            ..State::empty()
        }
    }

    /// The state of an element that has no lesson.
    pub fn empty() -> State {
        State {
            node: 0,
            side: Color::White,
            aside: Vec::new(),
            held: None,
            promotion: None,
            cursor: Square::E4,
            notice: None,
            is_back: false,
            again: false,
            read: Vec::new(),
            map: false,
            desk: false,
            shut: false,
            folded: Vec::new(),
            settled: Vec::new(),
            asking: None,
            recalling: None,
            is_quiz: false,
            start: String::new(),
        }
    }

    /// The position on the board.
    pub fn position<'a>(&'a self, lesson: &'a Lesson) -> &'a Chess {
        match self.aside.last() {
            Some(tried) => &tried.position,
            None => &lesson.node(self.node).position,
        }
    }
}

/// Everything that a reader can do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Intent {
    /// To this node, or to the open question before it.
    Go(NodeId),
    /// To this node, by a script: the questions before it are opened.
    Open(NodeId),
    /// To this place, which may be beside the lesson.
    Enter(Place),
    /// One move on: the child of that index, else the first.
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
    /// The piece in hand is put back, the waiting pawn too, and what was answered is put away.
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
    /// Something was copied, or could not be.
    Copied(bool),
    /// Help with the question, a little more each time.
    Hint,
    /// The answer to the question, or to that at a node.
    Show(Option<NodeId>),
    /// The question from its start.
    Again,
    /// The answers to all questions.
    OpenAll,
    /// This recall, from its first walk on.
    Recall(Box<Recall>),
    /// No more of the recall.
    Stop,
    /// What is kept of the recall has changed.
    Memory(Memory),
}

/// What a step changes, so that no more is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effect {
    /// Another node is on the board.
    Moved {
        /// The node before.
        from: NodeId,
        /// The node now.
        to: NodeId,
    },
    /// Another position is on the board, and the node is the same: an aside goes on or ends.
    Aside,
    /// The board lies the other way round.
    Turned,
    /// Something about the board, but not its position: a piece in hand, a notice, the tab stop.
    Board,
    /// The map was opened or closed.
    Map,
    /// A variation was folded or opened.
    Folded,
    /// A question was settled, and what lies behind it is open.
    Opened,
}

impl Effect {
    /// Whether it is more than a step on along the line or a step back: a line was chosen, or a
    /// place elsewhere.
    pub fn is_jump(self, lesson: &Lesson) -> bool {
        let Effect::Moved { from, to } = self else {
            return false;
        };
        let left = lesson.node(from);
        left.children.first() != Some(&to) && left.parent != Some(to)
    }
}

/// The state after an intent, and the effect if anything changed. An intent that cannot be
/// carried out (back at the start, a node that is not there) changes nothing.
pub fn update(
    lesson: &Lesson,
    state: &State,
    intent: Intent,
    letters: &Letters,
) -> (State, Option<Effect>) {
    let mut after = state.clone();
    let node = lesson.node(state.node);
    let speaks = matches!(
        intent,
        Intent::Typed(_) | Intent::Play(_) | Intent::Ask(_) | Intent::Copied(_) | Intent::Move(..)
    );
    let waits = state.waits();
    // Its element shows one position until it is settled.
    let stays = waits && state.is_quiz;
    if speaks {
        after.notice = None;
    }
    match intent {
        intent if recall::takes(lesson, &mut after, &intent) => {}
        Intent::Go(_) | Intent::Open(_) | Intent::Enter(_) if stays => {}
        Intent::Go(id) if lesson.get(id).is_some() => {
            let id = state.within(lesson, id);
            go(&mut after, id);
        }
        Intent::Open(id) if lesson.get(id).is_some() => {
            for &before in lesson.path(id).iter().filter(|&&before| before != id) {
                if after.is_closed(lesson, before) {
                    after.settled.push(before);
                }
            }
            go(&mut after, id);
        }
        Intent::Enter(place) if lesson.get(place.node).is_some() => {
            if (state.node, &state.aside) != (place.node, &place.aside) {
                settle(&mut after);
            }
            let node = state.within(lesson, place.node);
            let beside = node == place.node && !state.is_closed(lesson, node);
            (after.node, after.aside) = (node, if beside { place.aside } else { Vec::new() });
        }
        Intent::Go(_) | Intent::Open(_) | Intent::Enter(_) => {}
        Intent::Next(index) if state.aside.is_empty() && !waits => {
            if let Some(&child) = node.children.get(index.unwrap_or(0)) {
                go(&mut after, child);
            }
        }
        Intent::Next(_) if state.is_beside() => {
            if let Some(next) = state.onward(lesson) {
                settle(&mut after);
                question::put(lesson, &mut after, next);
            }
        }
        Intent::Next(_) | Intent::Recall(_) | Intent::Stop | Intent::Memory(..) => {}
        Intent::Back if state.is_beside() => {
            after.aside.pop();
            settle(&mut after);
        }
        Intent::Back if !stays => {
            if let Some(parent) = node.parent {
                go(&mut after, parent);
            }
        }
        Intent::Back => {}
        Intent::Top if !stays => {
            // A quiz begins where it asks.
            let asking = state.asking.as_ref().filter(|_| state.is_quiz);
            go(&mut after, asking.map_or(0, |asking| asking.question.node));
        }
        Intent::Top | Intent::Home => {
            if state.is_beside() {
                settle(&mut after);
                after.aside.truncate(state.found());
            }
        }
        Intent::Turn => (after.side, after.notice) = (!state.side, Some(Notice::Turned)),
        Intent::Side(side) => after.side = side,
        Intent::Square(square) => choose(lesson, &mut after, square),
        Intent::Move(from, to) => {
            after.held = Some(from);
            after.cursor = to;
            put(lesson, &mut after, from, to, None);
        }
        Intent::Promote(role) => {
            if let Some((from, to)) = state.promotion {
                put(lesson, &mut after, from, to, Some(role));
            }
        }
        Intent::Release => settle(&mut after),
        Intent::Cursor(square) => after.cursor = square,
        Intent::Typed(text) => typed(lesson, &mut after, text.trim(), letters),
        Intent::Play(word) => match attempt_word(state.position(lesson), &word, Letters::ENGLISH) {
            Attempt::Played(tried) => play(lesson, &mut after, tried),
            Attempt::Refused(reason) => after.notice = Some(Notice::Refused(reason)),
            Attempt::Promotes | Attempt::NoMove => {}
        },
        Intent::Ask(command) => after.notice = Some(Notice::Answer(command)),
        Intent::Map => after.map = !state.map,
        Intent::Desk => after.desk = !state.desk,
        Intent::Shut => after.shut = !state.shut,
        Intent::Fold(line) => fold(lesson, &mut after, line),
        Intent::Copied(done) => after.notice = Some(Notice::Copied(done)),
        Intent::Hint => question::act(
            lesson,
            &mut after,
            open_question::Intent::Hint,
            String::new(),
        ),
        Intent::Show(at) => {
            if let Some(at) = at.filter(|&at| lesson.get(at).is_some()) {
                let at = state.within(lesson, at);
                go(&mut after, at);
                question::arrive(lesson, &mut after);
            }
            question::act(
                lesson,
                &mut after,
                open_question::Intent::Show,
                String::new(),
            );
        }
        Intent::Again => question::act(
            lesson,
            &mut after,
            open_question::Intent::Again,
            String::new(),
        ),
        Intent::OpenAll if state.is_quiz => {
            question::act(
                lesson,
                &mut after,
                open_question::Intent::Show,
                String::new(),
            );
        }
        Intent::OpenAll => {
            for id in lesson.ids() {
                if after.is_closed(lesson, id) {
                    after.settled.push(id);
                }
            }
        }
    }
    question::arrive(lesson, &mut after);
    let is_against = state.aside != after.aside && after.against(lesson).is_some();
    if after.notice.is_none() && (is_against || is_told(lesson, state, &after)) {
        after.notice = Some(Notice::Against);
    }
    if speaks && state.notice.is_some() && (state.node, &state.aside) == (after.node, &after.aside)
    {
        match after.notice {
            None => after.notice.clone_from(&state.notice),
            Some(_) => after.again ^= after.notice == state.notice,
        }
    }
    let effect = effect(state, &after);
    if after.node != state.node {
        let to = after.node;
        after.read[to as usize] = true; // a node of this lesson
        // Where the reader goes is open.
        let mut line = lesson.node(to).line;
        while let Some(parent) = lesson.line(line).parent {
            if let Some(at) = after.folded.iter().position(|&folded| folded == line) {
                after.folded.swap_remove(at);
            }
            line = parent;
        }
    }
    (after, effect)
}

/// Whether a settled quiz, which has no text beside it, has come to a move of which the author says
/// something.
fn is_told(lesson: &Lesson, before: &State, after: &State) -> bool {
    let said = &lesson.node(after.node).comments;
    after.is_quiz
        && !after.waits()
        && (before.node, &before.aside) != (after.node, &after.aside)
        && after.aside.is_empty()
        && said.iter().any(|said| comment::ask(&said.text).is_none())
}

fn effect(before: &State, after: &State) -> Option<Effect> {
    let moved = before.node != after.node;
    if before.settled.len() != after.settled.len() {
        Some(Effect::Opened)
    } else if moved {
        let (from, to) = (before.node, after.node);
        Some(Effect::Moved { from, to })
    } else if before.aside != after.aside {
        Some(Effect::Aside)
    } else if before.side != after.side {
        Some(Effect::Turned)
    } else if before.map != after.map {
        Some(Effect::Map)
    } else if before.folded != after.folded {
        Some(Effect::Folded)
    } else {
        looks_other(before, after).then_some(Effect::Board)
    }
}

/// Whether anything else that is drawn has changed. All of two states is more to compare, and to
/// carry in the page, than what says so.
fn looks_other(before: &State, after: &State) -> bool {
    let board = |state: &State| {
        let open = (state.desk, state.shut);
        (state.held, state.promotion, state.cursor, state.again, open)
    };
    let asked = |state: &State| {
        let asking = state.asking.as_ref()?;
        let asked = &asking.asked;
        let tried = (asked.tries, asked.hints, asked.way.len());
        Some((asking.question.node, asked.settled, asked.rounds, tried))
    };
    board(before) != board(after)
        || asked(before) != asked(after)
        || before.notice != after.notice
        || before.recalling != after.recalling
}

/// Another position: nothing in hand, nothing said about the one before.
pub(crate) fn settle(state: &mut State) {
    state.held = None;
    state.promotion = None;
    state.notice = None;
}

pub(crate) fn go(state: &mut State, node: NodeId) {
    if state.node != node || !state.aside.is_empty() {
        settle(state);
    }
    state.node = node;
    state.aside.clear();
}

/// Folds a variation, or opens it.
fn fold(lesson: &Lesson, state: &mut State, line: LineId) {
    match state.folded.iter().position(|&folded| folded == line) {
        Some(at) => _ = state.folded.swap_remove(at),
        None if line > 0 && (line as usize) < lesson.lines.len() => state.folded.push(line),
        None => {}
    }
}
