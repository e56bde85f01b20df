//! What an author is told of what was done: one short sentence, and the words by which it is taken back.

use super::form::lesson_of;
use crate::edit::Edit;
use crate::lesson::{Lesson, NodeId};
use crate::text::number_of;

/// What is said of an act.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// What it is called when it is taken back: `6.Be3`, `comment on 6.Be3`.
    pub label: String,
    /// What was done: `6.Be3, line B2`.
    pub said: String,
    /// The move that the lesson prefers now and did not before.
    pub prefers: Option<String>,
    is_restore: bool,
}

impl Told {
    /// A sentence that is the label too.
    pub fn plain(said: &str) -> Told {
        Told {
            label: said.to_owned(),
            said: said.to_owned(),
            prefers: None,
            is_restore: false,
        }
    }

    /// The same of what was lost and is made again.
    pub fn restored(said: &str, label: &str) -> Told {
        Told {
            label: label.to_owned(),
            is_restore: true,
            ..Told::plain(said)
        }
    }

    /// Whether something that was lost was made again.
    pub fn is_restore(&self) -> bool {
        self.is_restore
    }
}

/// The moves from the start at which an edit is made.
pub fn place(edit: &Edit) -> &[String] {
    match edit {
        Edit::Keep { at, .. }
        | Edit::Change { at, .. }
        | Edit::Comment { at, .. }
        | Edit::Sign { at, .. }
        | Edit::Drop { at }
        | Edit::Lift { at }
        | Edit::Paste { at, .. } => at,
    }
}

/// The node that a run of English SAN leads to.
pub fn find(lesson: &Lesson, run: &[String]) -> Option<NodeId> {
    let mut at = 0;
    for word in run {
        at = child(lesson, at, word)?;
    }
    Some(at)
}

/// The move from a node that is written so, signs apart.
pub fn child(lesson: &Lesson, at: NodeId, word: &str) -> Option<NodeId> {
    let bare = |san: &str| san.trim_end_matches(['+', '#', '!', '?']).to_owned();
    let mut children = lesson.node(at).children.iter().copied();
    children.find(|&it| bare(lesson.node(it).san.as_str()) == bare(word))
}

/// As many of these moves from the start as the lesson of a text holds: of a road to a position that stands elsewhere it
/// holds only the beginning.
pub fn reach(text: &str, run: &[String]) -> Vec<String> {
    let Some(lesson) = lesson_of(text).0 else {
        return Vec::new();
    };
    let mut at = 0;
    for word in run {
        match child(&lesson, at, word) {
            Some(next) => at = next,
            None => break,
        }
    }
    lesson.run(at)
}

/// What is said of an edit, by the lesson's text before and after it, and where the author is then.
pub fn of(edit: &Edit, was: &str, is: &str, to: &[String], is_nothing: bool) -> Told {
    let (was, is) = (lesson_of(was).0, lesson_of(is).0);
    let name = |lesson: &Option<Lesson>, run: &[String]| {
        let lesson = lesson.as_ref()?;
        let node = find(lesson, run)?;
        Some((lesson.numbered(node), lesson.label(node).to_owned(), node))
    };
    let there = name(&is, to);
    let old = name(&was, place(edit));
    let words = |named: &Option<(String, String, NodeId)>| {
        named
            .as_ref()
            .map_or("this move".to_owned(), |it| it.0.clone())
    };
    let lined = match &there {
        Some((moved, line, node)) if *node > 0 => match line.is_empty() {
            true => format!("{moved}, main line"),
            false => format!("{moved}, line {line}"),
        },
        _ => "start".to_owned(),
    };
    let count = |lesson: &Option<Lesson>| lesson.as_ref().map_or(1, |it| it.nodes.len());
    let (before, after) = (count(&was), count(&is));
    let (new, less) = (after.saturating_sub(before), before.saturating_sub(after));
    let (label, said) = match edit {
        Edit::Keep { .. } | Edit::Paste { .. } if is_nothing => {
            (words(&there), format!("{lined}: here already"))
        }
        Edit::Keep { at, .. } if new > 1 => {
            let first = to.get(..(to.len() + 1).saturating_sub(new)).unwrap_or(at);
            (
                format!(
                    "{} from {}",
                    number_of(new, "move"),
                    words(&name(&is, first))
                ),
                lined,
            )
        }
        Edit::Keep { .. } => (words(&there), lined),
        Edit::Change { .. } => {
            let now = format!("{} instead of {}", words(&there), words(&old));
            (now.clone(), now)
        }
        Edit::Comment { text, .. } => {
            let label = format!("comment on {}", words(&there));
            let said = match text.trim().is_empty() {
                true => format!("{label} taken out"),
                false => label.clone(),
            };
            (label, said)
        }
        Edit::Sign { .. } => {
            let said = format!("sign of {}", words(&there));
            (said.clone(), said)
        }
        Edit::Drop { .. } => (
            format!("drop of {}", number_of(less, "move")),
            format!("dropped {} from {}", number_of(less, "move"), words(&old)),
        ),
        Edit::Lift { .. } => (
            format!("lift of {}", words(&old)),
            format!("lifted: {lined}"),
        ),
        Edit::Paste { .. } if new == 0 => ("words".to_owned(), format!("entered: {lined}")),
        Edit::Paste { .. } => (
            number_of(new, "move"),
            format!("entered {}: {lined}", number_of(new, "move")),
        ),
    };
    Told {
        label,
        said,
        prefers: preferred(edit, &was, &is),
        is_restore: false,
    }
}

/// The move that comes first at the branch point of a line that was lifted, where it was another before.
fn preferred(edit: &Edit, was: &Option<Lesson>, is: &Option<Lesson>) -> Option<String> {
    let Edit::Lift { at } = edit else {
        return None;
    };
    let (was, is) = (was.as_ref()?, is.as_ref()?);
    // The line may have begun above the place.
    for length in (0..at.len()).rev() {
        let run = at.get(..length)?;
        let (old, new) = (find(was, run)?, find(is, run)?);
        let first = |lesson: &Lesson, node: NodeId| lesson.node(node).children.first().copied();
        let (old, new) = (first(was, old)?, first(is, new)?);
        if was.node(old).san != is.node(new).san {
            return Some(is.numbered(new));
        }
    }
    None
}
