//! Everything that one lesson shows.

use super::figure::{Figure, figure};
use super::lines::{LineView, main_line};
use super::map::{Map, Way, map, way};
use super::outline::{OutlineRow, rows};
use crate::lesson::{Lesson, NodeId};
use crate::notation::word::nag;
use crate::text::{Findings, Listed, Source};
use crate::view::words::Words;
use crate::view::words::moved::sign_said;
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
    /// The signs that it uses, and what each says.
    pub signs: Signs,
    /// Whether the main line is read alone.
    pub is_alone: bool,
    /// Whether there is no room for a margin beside the text.
    pub is_narrow: bool,
    /// Whether a question is open somewhere.
    pub has_questions: bool,
    /// What the checker says, one sentence each; shown to the author only.
    pub notes: Vec<String>,
    /// The words of the reader's language.
    pub words: Words,
}

/// The page of a lesson in a state. The findings are shown as they are given: pass none to
/// show the page to readers.
pub fn page(
    words: &Words,
    lesson: &Lesson,
    state: &State,
    findings: &Findings,
    source: &Source,
    games: &[(String, bool)],
) -> Page {
    let mut figure = figure(words, lesson, state);
    if !figure.is_notice {
        // A region that is full when it is made is heard before the reader has done anything.
        figure.said.clear();
    }
    Page {
        games: games.to_vec(),
        outline: rows(words, lesson, state),
        figure,
        lines: main_line(words, lesson, state, source),
        map: (state.map && lesson.lines.len() > 1)
            .then(|| (map(lesson, state), way(lesson, state))),
        at: state.node,
        signs: signs(words, lesson, &state.hidden(lesson)),
        is_alone: state.alone.is_some(),
        is_narrow: false,
        has_questions: lesson.ids().any(|id| state.is_closed(lesson, id)),
        notes: findings
            .iter()
            .map(|finding| wording::note(source, finding))
            .listed(),
        words: words.clone(),
    }
}

/// Signs, and what each says.
pub type Signs = Vec<(&'static str, String)>;

/// The signs at the moves that are not hidden, in the order of their glyphs.
pub fn signs(words: &Words, lesson: &Lesson, hidden: &[bool]) -> Signs {
    let mut used = 0u32; // a bit for each glyph that says something
    for (node, is_hidden) in lesson.nodes.iter().zip(hidden) {
        for &glyph in &node.nags {
            used |= u32::from(glyph < 32 && !is_hidden) << (glyph & 31);
        }
    }
    let mut list = Signs::new();
    for glyph in 0..32 {
        let (sign, said) = (nag::sign(glyph), sign_said(words, glyph));
        if used >> glyph & 1 == 1 && !said.is_empty() && list.iter().all(|one| one.0 != sign) {
            list.push((sign, said.trim_start_matches([',', ' ']).to_owned()));
        }
    }
    list
}
