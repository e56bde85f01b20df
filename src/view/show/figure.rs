//! The figure beside the text: board, caption, the next moves, and what is said.

use super::board::{Board, board, cells};
use super::moves::{MoveView, move_view};
use super::recall_summary::{RecallView, recall_view};
use crate::ask::Verdict;
use crate::lesson::place::address::address;
use crate::lesson::{Lesson, NodeId, Place};
use crate::text::{Listed, join};
use crate::view::numbers::number;
use crate::view::reader::state::{Hand, Mode, Notice};
use crate::view::words::{Word, Words};
use crate::view::{State, spoken, wording};
use shakmaty::Square;

/// The board with what belongs to it. All of it changes with a step; besides it only marks in the
/// text and on the map change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    /// The board.
    pub board: Board,
    /// What it shows, for a page that holds it as a picture.
    pub description: String,
    /// The cells of the grid over it: square and name.
    pub cells: Vec<(Square, String)>,
    /// The cell that has the tab stop.
    pub cursor: Square,
    /// The last move, for the caption, or all moves of an aside; none at the start.
    pub last: Vec<MoveView>,
    /// Whether the reader has left the lesson, or its question.
    pub is_aside: bool,
    /// The move whose comment has led to an aside, or what the start is called.
    pub told: Option<String>,
    /// Whether that is for a weaker move, or what the lesson holds against it.
    pub is_against: bool,
    /// Whose turn it is, or how it ended.
    pub turn: String,
    /// Whether a pawn waits for what it becomes.
    pub promotes: bool,
    /// The moves at hand where there are several; empty elsewhere.
    pub next: Vec<NextMove>,
    /// At the end of a variation, where it left its line; at the end of the main line, the start.
    pub rejoin: Option<NextMove>,
    /// The question that waits for a move, or in a quiz has been settled.
    pub asking: Option<AskingView>,
    /// The recall.
    pub recall: Option<RecallView>,
    /// Whether it is that of a question or a recall in an element of its own.
    pub is_apart: bool,
    /// Whether a step back is possible.
    pub can_back: bool,
    /// Whether a step on is possible.
    pub can_next: bool,
    /// Whether the map is open; none where there is only one line, which it would not show better.
    pub has_map: Option<bool>,
    /// Whether the field for moves and questions is open.
    pub has_desk: bool,
    /// Whether comments are read after each move.
    pub is_aloud: bool,
    /// Whether the board of a narrow page is folded to its caption.
    pub is_shut: bool,
    /// What the polite region says.
    pub said: String,
    /// Whether that is shown too: an answer, or why a try was refused.
    pub is_notice: bool,
    /// What is shown in its place while a piece is in hand; else empty.
    pub remark: String,
    /// What the lesson, the question or the recall is called.
    pub name: String,
}

/// What a reader can do with a question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AskingView {
    /// Whether it waits for a move.
    pub is_open: bool,
    /// Whether it can be begun again.
    pub can_repeat: bool,
    /// Where a move tried leads in the lesson, if it is there by another order of moves; the
    /// address of the lesson's start, empty if that is on the board, and the run from there.
    pub stands: Option<(NextMove, String, String)>,
}

/// One of the moves at a branch point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NextMove {
    /// The node it leads to.
    pub node: NodeId,
    /// The label of its line; none for the main line.
    pub label: Option<String>,
    /// The move; none for the start.
    pub shown: Option<MoveView>,
    /// The first words that the author says of it.
    pub words: String,
}

/// The figure of a state.
pub fn figure(words: &Words, lesson: &Lesson, state: &State) -> Figure {
    let node = lesson.node(state.node);
    let position = state.position(lesson);
    let board = board(lesson, state);
    let is_aside = state.is_beside();
    let waits = state.waits();
    let next = match lesson.is_branch_point(state.node) && !is_aside && !waits {
        true => node
            .children
            .iter()
            .map(|&child| next_move(words, lesson, child))
            .listed(),
        false => Vec::new(),
    };
    Figure {
        description: wording::describe(words, position),
        cells: cells(words, position, &board),
        cursor: state.cursor,
        last: last_moves(words, lesson, state),
        is_aside,
        told: state.told.filter(|_| is_aside).map(|by| match by {
            0 => words.get(Word::Start).to_owned(),
            by => words.numbered(lesson, by),
        }),
        is_against: state.against(lesson).is_some(),
        rejoin: rejoin(words, lesson, state),
        turn: wording::turn(words, position).to_owned(),
        promotes: matches!(state.hand, Hand::Promotes { .. }),
        next,
        asking: asking(words, lesson, state),
        recall: recall_view(words, lesson, state),
        is_apart: state.is_apart(),
        can_back: is_aside || (node.parent.is_some() && !state.stays()),
        can_next: match is_aside {
            true => state.onward(lesson).is_some(),
            false => !node.children.is_empty() && !waits,
        },
        has_map: (lesson.lines.len() > 1).then_some(state.map),
        has_desk: state.desk,
        is_aloud: state.aloud,
        is_shut: state.shut,
        said: spoken::said(words, lesson, state),
        is_notice: !matches!(
            state.notice,
            None | Some(Notice::Turned | Notice::Aloud | Notice::OtherSide)
        ),
        remark: spoken::remark(words, lesson, state),
        name: name(words, lesson, state),
        board,
    }
}

/// What tells its board from others of the page: what the lesson is called, after which move it is
/// asked, or what is recalled.
fn name(words: &Words, lesson: &Lesson, state: &State) -> String {
    match &state.mode {
        Mode::Quiz { asking, .. } => {
            let at = words.numbered(lesson, asking.question.node);
            let after = words.get(Word::RecapAfter);
            join(&[words.get(Word::Question), after, &at], " ")
        }
        Mode::Recall(it) => {
            let word = it.recall.side.fold_wb(Word::RecallWhite, Word::RecallBlack);
            words.get(word).to_owned()
        }
        _ => {
            let event = lesson.tag("Event").filter(|&event| event != "?");
            event.unwrap_or_default().to_owned()
        }
    }
}

fn asking(words: &Words, lesson: &Lesson, state: &State) -> Option<AskingView> {
    let is_open = state.asking()?.is_open();
    let stands = match &state.notice {
        Some(Notice::Judged(judged)) => match judged.verdict {
            Some(Verdict::Other { stands }) => stands,
            _ => None,
        },
        _ => None,
    };
    // Where the lesson is: here, elsewhere on the page, or nowhere, because a quiz stays where it
    // is.
    let start = match &state.mode {
        Mode::Quiz { start, .. } => Some(start.clone()).filter(|start| !start.is_empty()),
        _ => Some(String::new()),
    };
    Some(AskingView {
        is_open,
        can_repeat: state.is_apart() && !is_open,
        stands: stands.zip(start).map(|(there, start)| {
            let run = address(lesson, &Place::of(there));
            (next_move(words, lesson, there), start, run)
        }),
    })
}

/// The last move for the caption, none at the start. Of an aside all its moves, because they are
/// nowhere else; of a refutation the weaker move and the last, so that the buttons to step through
/// it keep their place.
fn last_moves(words: &Words, lesson: &Lesson, state: &State) -> Vec<MoveView> {
    let node = lesson.node(state.node);
    if state.aside.is_empty() {
        let last = node
            .parent
            .map(|_| move_view(words, lesson, state.node, true));
        return last.into_iter().listed();
    }
    let mut moves = Vec::new();
    let mut before = &node.position;
    let is_against = state.against(lesson).is_some();
    for (at, tried) in state.aside.iter().enumerate() {
        let is_far = is_against && at > 1;
        let mut number = number(before, is_far || at == 0);
        if is_far {
            moves.truncate(1);
            number = number.map(|number| "\u{2026} ".to_owned() + &number);
        }
        moves.push(MoveView {
            node: state.node,
            number,
            san: words.san(&tried.san),
            signs: String::new(),
        });
        before = &tried.position;
    }
    moves
}

fn next_move(words: &Words, lesson: &Lesson, id: NodeId) -> NextMove {
    let label = lesson.label(id);
    NextMove {
        node: id,
        label: (!label.is_empty()).then(|| label.to_owned()),
        shown: Some(move_view(words, lesson, id, true)),
        words: wording::first_words(lesson, id),
    }
}

/// The way back from the end of a line: to where a variation left its line, to the start from the
/// end of the main line.
fn rejoin(words: &Words, lesson: &Lesson, state: &State) -> Option<NextMove> {
    let node = lesson.node(state.node);
    if !node.children.is_empty() || !state.aside.is_empty() || state.recalling().is_some() {
        return None;
    }
    node.parent?; // a lesson without moves ends nowhere
    let line = lesson.line(node.line);
    let (left, said) = match line.label.as_str() {
        "" => (0, words.get(Word::MainEnds).to_owned()),
        label => {
            let left = lesson.node(line.first).parent?;
            (left, words.fill(Word::Rejoin, &[("label", label)]))
        }
    };
    Some(NextMove {
        node: left,
        label: None,
        shown: (left != 0).then(|| move_view(words, lesson, left, true)),
        words: said,
    })
}
