//! What the page's script and this program say to each other: JSON in the bodies of POST requests and of their answers.
//! Every request names its page by the path of its address, percent-encoded as there, and a lesson by its number in
//! the file, from 0.

use crate::edit;
use crate::preview::{About, Found, Refused, Stop};
use serde::{Deserialize, Serialize};

#[derive(Debug, Deserialize)]
pub struct PageAsked {
    pub page: String,
}

/// Answered when the page is not at this version any more, or after 25 seconds.
#[derive(Debug, Deserialize)]
pub struct WaitAsked {
    pub page: String,
    pub version: u64,
}

#[derive(Debug, Deserialize)]
pub struct EditAsked {
    pub page: String,
    pub lesson: usize,
    pub edit: Edit,
}

/// `{ "keep": { "at": [...], "moves": [...] } }` and so on.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Edit {
    Keep {
        at: Vec<String>,
        moves: Vec<String>,
    },
    Change {
        at: Vec<String>,
        moves: Vec<String>,
    },
    Comment {
        at: Vec<String>,
        nth: usize,
        was: String,
        text: String,
    },
    Sign {
        at: Vec<String>,
        nags: Vec<u8>,
    },
    Drop {
        at: Vec<String>,
    },
    Lift {
        at: Vec<String>,
    },
    Paste {
        at: Vec<String>,
        text: String,
    },
}

impl From<Edit> for edit::Edit {
    fn from(asked: Edit) -> edit::Edit {
        match asked {
            Edit::Keep { at, moves } => edit::Edit::Keep { at, moves },
            Edit::Change { at, moves } => edit::Edit::Change { at, moves },
            Edit::Comment { at, nth, was, text } => edit::Edit::Comment { at, nth, was, text },
            Edit::Sign { at, nags } => edit::Edit::Sign { at, nags },
            Edit::Drop { at } => edit::Edit::Drop { at },
            Edit::Lift { at } => edit::Edit::Lift { at },
            Edit::Paste { at, text } => edit::Edit::Paste { at, text },
        }
    }
}

/// What was typed into the field. With `look` nothing is changed.
#[derive(Debug, Deserialize)]
pub struct EnterAsked {
    pub page: String,
    pub lesson: usize,
    pub at: Vec<String>,
    pub text: String,
    #[serde(default)]
    pub look: bool,
}

/// What stands at a position of a lesson.
#[derive(Debug, Deserialize)]
pub struct PlaceAsked {
    pub page: String,
    pub lesson: usize,
    pub at: Vec<String>,
}

/// For `undo`, `redo` and `restore`.
#[derive(Debug, Deserialize)]
pub struct LessonAsked {
    pub page: String,
    pub lesson: usize,
}

/// `finding` counts those of the page at this version, from 0.
#[derive(Debug, Deserialize)]
pub struct MendAsked {
    pub page: String,
    pub version: u64,
    pub finding: usize,
}

/// The text of a lesson on the page of a generator's server, as its element reads it.
#[derive(Debug, Deserialize)]
pub struct SourceAsked {
    pub text: String,
}

/// The page and the lesson that all other requests are to name.
#[derive(Debug, Serialize)]
pub struct Source {
    pub page: String,
    pub lesson: usize,
}

#[derive(Clone, Debug, Serialize)]
pub struct Page {
    pub version: u64,
    pub title: String,
    pub kind: &'static str,
    pub lessons: Vec<Lesson>,
    pub findings: Vec<Finding>,
    /// A name for what is in the file around the lessons: another one where anything of it has changed.
    pub around: String,
    /// Why the file cannot be read any more; the rest is then as it was before.
    pub problem: Option<String>,
}

#[derive(Clone, Debug, Serialize)]
pub struct Lesson {
    pub number: usize,
    /// As the page's element reads it; empty where it is not in this file.
    pub text: String,
    pub writable: bool,
    pub why: Option<String>,
    pub undo: Option<String>,
    pub redo: Option<String>,
    /// How many edits made here an editor has saved over.
    pub lost: usize,
}

#[derive(Clone, Debug, Serialize)]
pub struct Finding {
    pub code: &'static str,
    pub severity: &'static str,
    pub message: String,
    pub help: Option<String>,
    /// UTF-16 units of the file, from 0.
    pub from: u32,
    pub to: u32,
    /// From 1.
    pub line: u32,
    pub column: u32,
    pub lesson: Option<usize>,
    pub at: Option<Vec<String>>,
    /// Whether `mend` can be asked for.
    pub fix: bool,
}

impl From<Found> for Finding {
    fn from(found: Found) -> Finding {
        Finding {
            code: found.finding.code.id(),
            severity: found.finding.severity().word(),
            message: found.finding.message.clone(),
            help: found.finding.help.clone(),
            from: found.from,
            to: found.to,
            line: found.line,
            column: found.column,
            lesson: found.lesson,
            at: found.at,
            fix: found.finding.fix.is_some(),
        }
    }
}

#[derive(Debug, Serialize)]
pub struct Done {
    pub page: Page,
    pub lesson: usize,
    pub at: Vec<String>,
    pub unread: Vec<String>,
    pub said: String,
    pub prefers: Option<String>,
    /// The first word that was not entered, where it was typed into the field.
    pub stop: Option<Stopped>,
}

#[derive(Debug, Serialize)]
pub struct Stopped {
    /// UTF-16 units of what was typed.
    pub from: u32,
    pub to: u32,
    pub reason: String,
    pub help: String,
    pub near: Vec<String>,
}

impl From<Stop> for Stopped {
    fn from(stop: Stop) -> Stopped {
        let Stop {
            from,
            to,
            reason,
            help,
            near,
        } = stop;
        Stopped {
            from,
            to,
            reason,
            help,
            near,
        }
    }
}

#[derive(Debug, Serialize)]
pub struct Place {
    /// As they are written.
    pub comments: Vec<String>,
    /// How many of them come before the move.
    pub before: usize,
    pub nags: Vec<u8>,
    /// Whether `lift` can be asked for.
    pub lifts: bool,
    pub same: Vec<Same>,
}

/// The same position at another place of the lesson.
#[derive(Debug, Serialize)]
pub struct Same {
    pub at: Vec<String>,
    pub name: String,
    /// The comment that says so; null where one does.
    pub said: Option<String>,
}

impl From<About> for Place {
    fn from(about: About) -> Place {
        let same = about.same.into_iter();
        let same = same.map(|it| Same {
            at: it.at,
            name: it.name,
            said: it.said,
        });
        Place {
            comments: about.comments,
            before: about.before,
            nags: about.nags,
            lifts: about.lifts,
            same: same.collect(),
        }
    }
}

#[derive(Debug, Serialize)]
pub struct Looked {
    pub look: Look,
}

#[derive(Debug, Serialize)]
pub struct Look {
    pub moves: usize,
    pub fresh: usize,
    pub here: usize,
    /// Whether sentences name them, which do not enter themselves.
    pub named: bool,
    pub unread: Vec<String>,
}

/// With status 409.
#[derive(Debug, Serialize)]
pub struct NotDone {
    pub code: &'static str,
    pub reason: String,
    pub help: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<u32>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub near: Vec<String>,
}

impl From<Refused> for NotDone {
    fn from(refused: Refused) -> NotDone {
        NotDone {
            code: refused.code,
            reason: refused.reason,
            help: refused.help,
            from: refused.place.map(|it| it.0),
            to: refused.place.map(|it| it.1),
            near: refused.near,
        }
    }
}
