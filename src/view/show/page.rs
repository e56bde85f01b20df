//! Everything that one lesson shows.

use super::figure::{Figure, figure};
use super::lines::{LineView, main_line};
use super::map::{Map, map};
use super::outline::{OutlineRow, rows};
use crate::lesson::{Lesson, NodeId};
use crate::notation::Letters;
use crate::text::{Findings, Listed, Source};
use crate::view::words::Words;
use crate::view::{State, wording};

/// One lesson on a page.
#[derive(Clone, Debug)]
pub struct Page {
    /// The names of the lessons to choose from, and which one this is; empty for a single one.
    pub games: Vec<(String, bool)>,
    /// The lettered list of variations.
    pub outline: Vec<OutlineRow>,
    /// The board and what belongs to it.
    pub figure: Figure,
    /// The line list.
    pub lines: LineView,
    /// The map, where it is open.
    pub map: Option<(Map, Way)>,
    /// The node on the board, marked in the line list.
    pub at: NodeId,
    /// Whether there is no room for a margin beside the text.
    pub is_narrow: bool,
    /// Whether a question stands open somewhere.
    pub has_questions: bool,
    /// Whether there is a question and nothing else.
    pub is_quiz: bool,
    /// What the checker says, one sentence each; shown to the author only.
    pub notes: Vec<String>,
    /// The words of the reader's language.
    pub words: Words,
}

/// What of the map a reader has seen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// The nodes from the start to the one on the board.
    pub path: Vec<NodeId>,
    /// Which nodes have been on the board.
    pub read: Vec<bool>,
    /// The nodes whose positions were missed in a recall.
    pub missed: Vec<NodeId>,
}

/// The page of a lesson in a state. The findings are shown as they are given: pass none to
/// show the page to readers.
pub fn page(
    words: &Words,
    lesson: &Lesson,
    state: &State,
    letters: &Letters,
    findings: &Findings,
    source: &Source,
    games: &[(String, bool)],
) -> Page {
    Page {
        games: games.to_vec(),
        outline: rows(lesson, state),
        figure: figure(words, lesson, state),
        lines: main_line(lesson, state, source, letters),
        map: state.map.then(|| (map(lesson, state), way(lesson, state))),
        at: state.node,
        is_narrow: false,
        has_questions: lesson.ids().any(|id| state.is_closed(lesson, id)),
        is_quiz: state.is_quiz,
        notes: findings
            .iter()
            .map(|finding| wording::note(source, finding))
            .listed(),
        words: words.clone(),
    }
}

/// What of the map a reader has seen.
pub fn way(lesson: &Lesson, state: &State) -> Way {
    Way {
        path: lesson.path(state.node),
        read: state.read.clone(),
        missed: Vec::new(),
    }
}
