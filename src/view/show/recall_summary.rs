//! What a reader sees of a recall beside the board: what can be done, what is kept, and at the end
//! of a walk the account of how well each line is held.

use super::map::map;
use super::page::way;
use crate::ask::recall::{Recall, Stage};
use crate::lesson::place::address::address;
use crate::lesson::{Lesson, NodeId, Place};
use crate::text::limits;
use crate::view::moves::{MoveView, move_view};
use crate::view::reader::recall::{Recalling, counted, is_last, kept, said};
use crate::view::words::{Word, Words};
use crate::view::{Map, State, Way};
use shakmaty::Position;

/// What a reader sees of a recall beside the board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecallView {
    /// Whether a move is awaited.
    pub is_asked: bool,
    /// Whether the walks are over.
    pub is_over: bool,
    /// What is said before the buttons; empty where it is said elsewhere.
    pub says: String,
    /// What can be done: a bit for each of [`DOES`], the lowest for the first.
    pub does: u32,
    /// How well each line is held; empty while a walk goes on.
    pub held: Vec<HeldView>,
    /// The same on the map.
    pub map: Option<(Map, Way)>,
    /// The address of the lesson's start, where these lead there; else empty.
    pub start: String,
    /// A sentence about what is kept, or about a try where no move is awaited; else empty.
    pub note: String,
    /// Whether it is for the ear alone, for it is seen at the board.
    pub is_note_heard: bool,
}

/// How well a line is held.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HeldView {
    /// Its label; empty for the main line.
    pub label: String,
    /// Where it begins.
    pub first: PlaceView,
    /// How many of its positions were recalled, or that none was met.
    pub count: String,
    /// Its positions that are to come again.
    pub again: Vec<PlaceView>,
}

/// A place of the lesson that is recalled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlaceView {
    /// The node.
    pub node: NodeId,
    /// The move that leads there; none for the start, and where it would tell an answer.
    pub shown: Option<MoveView>,
    /// The run that names it in an address; empty for the start.
    pub address: String,
}

/// What can be done in a recall besides a move: by the reader (`data-do`) or by the page
/// (`data-take`), its name, and its word. The first [`STEPS`] stand at the board; the others too,
/// and behind the account where there is one.
pub const DOES: [(&str, &str, Word); 13] = [
    ("data-do", "show", Word::ShowMe),
    ("data-do", "next", Word::GoOn),
    ("data-do", "next", Word::NextWalk),
    ("data-do", "stop", Word::Stop),
    ("data-take", "begin", Word::Begin),
    ("data-take", "begin", Word::Again),
    ("data-take", "keep", Word::Remember),
    ("data-take", "keep", Word::Remembered),
    ("data-take", "file", Word::SaveFile),
    ("data-take", "load", Word::LoadFile),
    ("data-take", "forget", Word::Forget),
    // In its place when it was pressed; a second press at once keeps it.
    ("data-take", "spare", Word::KeepIt),
    ("data-take", "erase", Word::ForgetIt),
];

/// How many of [`DOES`] stand at the board at all times.
pub const STEPS: usize = 6;

/// The bit of one of [`DOES`].
fn bit(word: Word) -> u32 {
    let place = DOES.iter().position(|&(_, _, known)| known == word);
    place.map_or(0, |place| 1 << place)
}

/// A recall beside the board.
pub(crate) fn recall_view(words: &Words, lesson: &Lesson, state: &State) -> Option<RecallView> {
    let Recalling {
        recall,
        memory,
        start,
        tried,
        ..
    } = state.recalling.as_deref()?;
    let has_begun = recall.walks > 0;
    let is_asked = recall.stage == Stage::Asked;
    // The first leads on.
    let (leads, steps): (Word, &[Word]) = match recall.stage {
        Stage::Asked => (Word::ShowMe, &[Word::Stop]),
        Stage::Told => (Word::GoOn, &[Word::Stop]),
        Stage::Between if has_begun => (Word::NextWalk, &[Word::Stop]),
        Stage::Between => (Word::Begin, &[]),
        Stage::Over => (Word::Again, &[]),
    };
    let forgets = memory.note == "forgetAsk";
    let rests = matches!(recall.stage, Stage::Between | Stage::Over);
    let keeps: &[Word] = match memory.is_kept {
        false => &[Word::Remember],
        true if forgets => &[Word::Remembered, Word::KeepIt, Word::ForgetIt],
        true => &[Word::Remembered, Word::Forget],
    };
    let mut does = bit(leads);
    let mut add = |words: &[Word]| words.iter().for_each(|&word| does |= bit(word));
    add(steps);
    if memory.is_offered && rests {
        add(keeps);
        add(&[Word::LoadFile]);
        // An empty file would look as if it held something.
        if memory.has_any {
            add(&[Word::SaveFile]);
        }
    }
    let mut view = RecallView {
        is_asked,
        is_over: recall.stage == Stage::Over,
        says: match is_asked || state.notice.is_none() {
            true => said(words, lesson, state),
            false if is_last(recall) => words.get(Word::LastWalk).to_owned(),
            false => String::new(),
        },
        does,
        held: Vec::new(),
        map: None,
        start: start.clone(),
        note: String::new(),
        is_note_heard: false,
    };
    if rests {
        view.note = kept(words, memory);
    }
    if forgets && !has_begun {
        // Its two words stand there, and not above the note.
        view.says.clone_from(&view.note);
        view.is_note_heard = true;
    }
    if rests && has_begun {
        hold(words, lesson, state, recall, &mut view);
    }
    if *tried > 0 {
        view.says = words.fill(Word::NotAwaited, &[("word", words.get(leads))]);
        // Heard there each time, alone: what stands beside the board is not said again.
        view.note.clone_from(&view.says);
        if tried % 2 == 0 {
            view.note.push('\u{a0}');
        }
        view.is_note_heard = true;
    }
    Some(view)
}

/// How well each line is held, in words and on the map.
fn hold(words: &Words, lesson: &Lesson, state: &State, recall: &Recall, view: &mut RecallView) {
    let account = recall.account(lesson);
    if account.positions as usize > limits::RECAP_ROWS {
        view.start.clear();
    }
    let mut drawn = map(lesson, state);
    for held in account.lines.iter().filter(|held| held.positions > 0) {
        let line = lesson.line(held.line);
        let part = held.recalled.to_string() + "/" + &held.positions.to_string();
        // Behind the last mark of its line, where all but the main line have a label.
        let last = lesson.line_nodes(held.line).last().unwrap_or(0);
        let mark = drawn.marks.get(last as usize).copied();
        for (label, _) in &mut drawn.labels {
            if *label == line.label {
                label.push(' ');
                label.push_str(&part);
            }
        }
        if held.line == 0 {
            drawn.labels.push((part, mark.unwrap_or_default()));
        }
        let mut row = HeldView {
            label: line.label.clone(),
            first: view.place(lesson, line.first),
            count: match held.met {
                0 => words.get(Word::NotMet).to_owned(),
                _ => counted(words, Word::HeldSaid, [held.recalled, held.positions, 0, 0]),
            },
            again: Vec::new(),
        };
        // Where it begins with the reader's own move, that would name what is still to be met, or
        // to come again.
        let before = lesson.node(line.first).parent.unwrap_or(0);
        if held.met == 0 && lesson.node(before).position.turn() == recall.side {
            row.first.shown = None;
        }
        for &id in &account.again {
            if id == before {
                row.first.shown = None;
            }
            if lesson.node(id).line == held.line {
                row.again.push(view.place(lesson, id));
            }
        }
        view.held.push(row);
    }
    let way = Way {
        missed: account.again,
        ..way(lesson, state)
    };
    view.map = Some((drawn, way));
}

impl RecallView {
    fn place(&self, lesson: &Lesson, node: NodeId) -> PlaceView {
        let mut place = PlaceView {
            node,
            shown: None,
            address: String::new(),
        };
        if node > 0 {
            place.shown = Some(move_view(lesson, node, true));
        }
        if !self.start.is_empty() {
            place.address = address(lesson, &Place::of(node));
        }
        place
    }
}
