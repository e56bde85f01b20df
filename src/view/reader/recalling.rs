//! The recall that a reader is at, and what is kept of it.

use crate::ask::recall::Recall;
use crate::ask::schedule::Outcome;
use crate::lesson::NodeId;

/// The recall that a reader is at, and what is kept of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recalling {
    /// How far the reader is.
    pub recall: Recall,
    /// The first answers to positions, until they are kept.
    pub answered: Vec<(NodeId, Outcome)>,
    /// What is kept of it.
    pub memory: Memory,
    /// Where the walk that has just begun goes on, if it is a later one.
    pub line: Option<NodeId>,
    /// How often a move was tried when none was expected.
    pub tried: u32,
    /// The address of the lesson's start, where it is elsewhere on the page; else empty.
    pub start: String,
}

impl Recalling {
    /// A recall before its first walk, of which nothing is known yet.
    pub fn new(recall: Recall, start: String) -> Recalling {
        Recalling {
            recall,
            answered: Vec::new(),
            memory: Memory::default(),
            line: None,
            tried: 0,
            start,
        }
    }
}

/// Whether two states of one recall look the same.
pub(super) fn looks_same(one: &Recalling, other: &Recalling) -> bool {
    let shown = |it: &Recalling| {
        let recall = &it.recall;
        (recall.stage, recall.walks, recall.node, recall.is_back)
    };
    shown(one) == shown(other) && one.tried == other.tried && one.memory == other.memory
}

/// The kept progress, and what comes back.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Memory {
    /// Whether the reader has it kept on the device.
    pub keeping: Keeping,
    /// Positions to come back to today in this part.
    pub due: u32,
    /// The same in all lessons whose positions are kept with them.
    pub due_all: u32,
    /// Positions of the part at which the author has changed the choice.
    pub changed: u32,
    /// All positions of the part.
    pub positions: u32,
    /// Those of which something is kept.
    pub known: u32,
    /// Whether anything is kept of any lesson, in the page or on the device.
    pub has_any: bool,
    /// In how many days the next of these comes back; 0 where none waits.
    pub next: u32,
    /// What has just happened to it.
    pub note: Option<Note>,
}

/// Whether a reader has progress kept on the device.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Keeping {
    /// Nothing is kept, and it is not offered.
    #[default]
    Never,
    /// It is offered.
    Offered,
    /// It is kept.
    Kept,
    /// It is kept, and the reader is asked whether to forget it.
    Forgetting,
}

impl Keeping {
    /// The one with this name; with an unknown name nothing is kept or offered.
    pub fn named(name: &str) -> Keeping {
        match name {
            "offered" => Keeping::Offered,
            "kept" => Keeping::Kept,
            "forgetting" => Keeping::Forgetting,
            _ => Keeping::Never,
        }
    }

    /// Whether it is kept.
    pub fn is_kept(self) -> bool {
        matches!(self, Keeping::Kept | Keeping::Forgetting)
    }
}

/// What has just happened to the kept progress.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Note {
    /// It is kept from now on.
    Kept,
    /// It cannot be kept.
    NotKept,
    /// A newer script keeps it, and it is not changed.
    StoreNewer,
    /// What was kept could not be read.
    StoreCorrupt,
    /// So many positions were read from a file.
    FileRead(u32),
    /// A file could not be read.
    FileUnread,
    /// Nothing is kept any more.
    Forgotten,
}

impl Note {
    /// The one with this name, about so many positions; none for an unknown name.
    pub fn named(name: &str, positions: u32) -> Option<Note> {
        Some(match name {
            "kept" => Note::Kept,
            "notKept" => Note::NotKept,
            "storeNewer" => Note::StoreNewer,
            "storeCorrupt" => Note::StoreCorrupt,
            "fileRead" => Note::FileRead(positions),
            "fileUnread" => Note::FileUnread,
            "forgotten" => Note::Forgotten,
            _ => return None,
        })
    }
}
