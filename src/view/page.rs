//! Everything that one lesson shows.

use super::figure::{Figure, figure};
use super::lines::{LineView, main_line};
use super::outline::{OutlineRow, rows};
use super::{State, wording};
use crate::lesson::Lesson;
use crate::text::{Findings, Source};

/// One lesson on a page.
#[derive(Clone, Debug)]
pub struct Page {
    /// The lettered list of variations.
    pub outline: Vec<OutlineRow>,
    /// The board and what belongs to it.
    pub figure: Figure,
    /// The line list.
    pub lines: LineView,
    /// The node on the board, marked in the line list.
    pub at: u32,
    /// What the checker says, one sentence each; shown to the author only.
    pub notes: Vec<String>,
}

/// The page of a lesson in a state. The findings are shown as they are given: pass none to
/// show the page to readers.
pub fn page(lesson: &Lesson, state: &State, findings: &Findings, source: &Source) -> Page {
    Page {
        outline: rows(lesson, state.node),
        figure: figure(lesson, state),
        lines: main_line(lesson, source),
        at: state.node,
        notes: findings
            .iter()
            .map(|finding| wording::note(source, finding))
            .collect(),
    }
}
