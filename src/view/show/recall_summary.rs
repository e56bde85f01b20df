//! What a reader sees of a recall beside the board: what can be done, what is kept, and at the end
//! of a walk the summary of how well each line is remembered.

use super::map::{Map, Way, map, way};
use super::moves::{MoveView, move_view};
use crate::ask::recall::{Recall, Stage};
use crate::lesson::place::address::address;
use crate::lesson::{Lesson, NodeId, Place};
use crate::text::limits;
use crate::view::State;
use crate::view::reader::recalling::{Keeping, Recalling};
use crate::view::words::actions::Action;
use crate::view::words::recalled::{is_last, kept, last_words, said};
use crate::view::words::wording::counted;
use crate::view::words::{Word, Words};
use shakmaty::Position;

/// What a reader sees of a recall beside the board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecallView {
    /// Whether a move is expected.
    pub is_asked: bool,
    /// Whether the walks are over.
    pub is_over: bool,
    /// What is said before the buttons; empty if it is said elsewhere.
    pub says: String,
    /// What can be done in it at any time besides a move.
    pub steps: &'static [Action],
    /// What can be done with what is kept; it comes after the account where there is one.
    pub keeps: Vec<Action>,
    /// How well each line is remembered; empty during a walk.
    pub held: Vec<HeldView>,
    /// The same on the map.
    pub map: Option<(Map, Way)>,
    /// The address of the lesson's start, where these lead there; else empty.
    pub start: String,
    /// A sentence about what is kept, or about a try when no move was expected; else empty.
    pub note: String,
    /// Whether it is only spoken, because it is seen at the board.
    pub is_note_heard: bool,
}

/// How well a line is remembered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HeldView {
    /// Its label; empty for the main line.
    pub label: String,
    /// Where it begins.
    pub first: PlaceView,
    /// Whether that is before its first move, which would tell an answer.
    pub is_before: bool,
    /// How many of its positions were recalled, or that none was met.
    pub count: String,
    /// Its positions that will come again.
    pub again: Vec<PlaceView>,
}

/// A place of the lesson that is recalled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlaceView {
    /// The node.
    pub node: NodeId,
    /// The move that leads there; none for the start.
    pub shown: Option<MoveView>,
    /// The run that names it in an address; empty for the start.
    pub address: String,
}

/// A recall beside the board.
pub(crate) fn recall_view(words: &Words, lesson: &Lesson, state: &State) -> Option<RecallView> {
    let Recalling {
        recall,
        memory,
        start,
        tried,
        ..
    } = state.recalling()?;
    let has_begun = recall.walks > 0;
    let is_asked = recall.stage == Stage::Asked;
    // The first button goes on.
    let steps: &[Action] = match recall.stage {
        Stage::Asked => &[Action::Show, Action::Stop],
        Stage::Told | Stage::Ends => &[Action::GoOn, Action::Stop],
        Stage::Between if has_begun => &[Action::NextWalk, Action::Stop],
        Stage::Between => &[Action::Begin],
        Stage::Over => &[Action::BeginAgain],
    };
    let forgets = memory.keeping == Keeping::Forgetting;
    let rests = matches!(recall.stage, Stage::Between | Stage::Over);
    let mut keeps = Vec::new();
    if memory.keeping != Keeping::Never && rests {
        keeps.push(match memory.keeping.is_kept() {
            true => Action::Remembered,
            false => Action::Remember,
        });
        // An empty file would look as if it held progress.
        if memory.has_any {
            keeps.push(Action::SaveFile);
        }
        keeps.push(Action::LoadFile);
        match memory.keeping {
            Keeping::Kept => keeps.push(Action::Forget),
            Keeping::Forgetting => keeps.extend([Action::KeepIt, Action::ForgetIt]),
            Keeping::Never | Keeping::Offered => {}
        }
    }
    let mut view = RecallView {
        is_asked,
        is_over: recall.stage == Stage::Over,
        says: match (recall.stage, is_asked || state.notice.is_none()) {
            (_, true) | (Stage::Ends, _) => said(words, lesson, state),
            (Stage::Between | Stage::Over, false) => {
                let mut says = last_words(lesson, recall);
                if is_last(recall) {
                    says += words.get(Word::LastWalk);
                }
                says
            }
            (Stage::Asked | Stage::Told, false) => String::new(),
        },
        steps,
        keeps,
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
        // Its two words are there, and not above the note.
        view.says.clone_from(&view.note);
        view.is_note_heard = true;
    }
    if rests && has_begun {
        hold(words, lesson, state, recall, &mut view);
    }
    if *tried > 0 {
        let leads = steps
            .first()
            .map_or("", |leads| words.get(leads.row().word));
        view.says = words.fill(Word::NotAwaited, &[("word", leads)]);
        // Spoken there each time, alone: the text beside the board is not repeated.
        view.note.clone_from(&view.says);
        if tried % 2 == 0 {
            view.note.push('\u{a0}');
        }
        view.is_note_heard = true;
    }
    Some(view)
}

/// How well each line is remembered, in words and on the map.
fn hold(words: &Words, lesson: &Lesson, state: &State, recall: &Recall, view: &mut RecallView) {
    let account = recall.account(lesson);
    if account.positions as usize > limits::RECAP_ROWS {
        view.start.clear();
    }
    let mut drawn = map(lesson, state);
    for held in account.lines.iter().filter(|held| held.positions > 0) {
        let line = lesson.line(held.line);
        let part = held.recalled.to_string() + "/" + &held.positions.to_string();
        let last = lesson.line_nodes(held.line).last().unwrap_or(0);
        let mark = drawn.marks.get(last as usize).copied();
        drawn.counts.push((part, mark.unwrap_or_default()));
        let mut row = HeldView {
            label: line.label.clone(),
            first: view.place(words, lesson, line.first),
            is_before: false,
            count: match (held.met, held.positions - held.met) {
                (0, _) => words.get(Word::NotMet).to_owned(),
                (met, 0) => counted(words, Word::HeldSaid, [held.recalled, met, 0, 0]),
                (met, left) => {
                    let said = counted(words, Word::HeldSaid, [held.recalled, met, 0, 0]);
                    said + ", " + &left.to_string() + " " + words.get(Word::NotMet)
                }
            },
            again: Vec::new(),
        };
        // If it begins with the reader's own move, it would name an answer that is still to be
        // asked.
        let before = lesson.node(line.first).parent.unwrap_or(0);
        row.is_before = held.met == 0 && lesson.node(before).position.turn() == recall.side;
        for &id in &account.again {
            row.is_before |= id == before;
            if lesson.node(id).line == held.line {
                row.again.push(view.place(words, lesson, id));
            }
        }
        if row.is_before {
            row.first = view.place(words, lesson, before);
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
    fn place(&self, words: &Words, lesson: &Lesson, node: NodeId) -> PlaceView {
        let mut place = PlaceView {
            node,
            shown: None,
            address: String::new(),
        };
        if node > 0 {
            place.shown = Some(move_view(words, lesson, node, true));
        }
        if !self.start.is_empty() {
            place.address = address(lesson, &Place::of(node));
        }
        place
    }
}
