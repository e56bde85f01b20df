//! What can be taken back and made again in one lesson, each step as changes of the file. Steps below the last one are
//! kept as they are once those above them are taken back; changes by others are followed through all of them.

use super::shift::{Hunk, applied, inverse, past, smallest};
use crate::edit::Edit;

/// Most steps that are kept of a lesson.
const STEPS: usize = 1_000;

/// One thing that was done.
#[derive(Clone, Debug)]
pub struct Step {
    /// The changes of the file, in the file before them.
    pub hunks: Vec<Hunk>,
    /// By what it can be made again in another text.
    pub edits: Vec<Edit>,
    /// What it is called: `6.Be3`, `comment on 6.Be3`.
    pub label: String,
    /// Where the author was before it, and after it: moves from the start.
    pub before: Vec<String>,
    pub after: Vec<String>,
    /// The lesson's text after it.
    pub left: u64,
    /// Its place among all steps of the file.
    pub number: u64,
}

/// The steps of one lesson.
#[derive(Clone, Debug, Default)]
pub struct History {
    /// The last is taken back first.
    pub undo: Vec<Step>,
    /// The last is made again first.
    pub redo: Vec<Step>,
    /// The last of those that cannot be taken back any more, because somebody else has changed what they left.
    pub gone: Option<String>,
    /// What somebody has saved over, the first first.
    pub lost: Vec<Step>,
}

impl History {
    /// Whether there is nothing in it.
    pub fn is_empty(&self) -> bool {
        self.undo.is_empty() && self.redo.is_empty() && self.lost.is_empty() && self.gone.is_none()
    }

    /// What would be taken back.
    pub fn undo_label(&self) -> Option<&str> {
        let last = self.undo.last().map(|it| it.label.as_str());
        last.or(self.gone.as_deref())
    }

    /// What would be made again.
    pub fn redo_label(&self) -> Option<&str> {
        self.redo.last().map(|it| it.label.as_str())
    }

    /// Adds a step that was made just now in a text and left another, or joins it to the last where both are of one visit
    /// to a comment. `old` is the name of the lesson's text before it.
    pub fn add(&mut self, step: Step, old: Option<u64>, before: &str, text: &str) {
        self.redo.clear();
        let last = self.undo.last();
        let joined = last.and_then(|last| {
            let edit = one_comment(&last.edits, &step.edits)?;
            // Nobody else has changed the lesson between the two.
            let first =
                applied(before, &inverse(&last.hunks)).filter(|_| Some(last.left) == old)?;
            Some(Step {
                hunks: vec![smallest(0, &first, text)],
                edits: vec![edit],
                before: last.before.clone(),
                ..step.clone()
            })
        });
        let Some(joined) = joined else {
            return self.push(step);
        };
        self.undo.pop();
        let is_nothing = |hunk: &Hunk| hunk.was.is_empty() && hunk.now.is_empty();
        if !joined.hunks.iter().all(is_nothing) {
            self.push(joined);
        }
    }

    fn push(&mut self, step: Step) {
        self.undo.push(step);
        if self.undo.len() > STEPS {
            self.undo.remove(0);
        }
    }

    /// Follows a change that is none of its own steps.
    pub fn over(&mut self, change: &[Hunk]) {
        if change.is_empty() {
            return;
        }
        self.over_undo(change);
        self.over_redo(change);
    }

    fn over_undo(&mut self, change: &[Hunk]) {
        let mut change = change.to_vec();
        for at in (0..self.undo.len()).rev() {
            let step = &mut self.undo[at]; // `at` counts them
            match past(&change, &inverse(&step.hunks)) {
                Some((before, back)) => {
                    step.hunks = inverse(&back);
                    change = before;
                }
                None => {
                    self.gone = Some(step.label.clone());
                    self.undo.drain(..=at);
                    return;
                }
            }
        }
    }

    fn over_redo(&mut self, change: &[Hunk]) {
        let mut change = change.to_vec();
        for at in (0..self.redo.len()).rev() {
            let step = &mut self.redo[at]; // `at` counts them
            match past(&change, &step.hunks) {
                Some((after, again)) => {
                    step.hunks = again;
                    change = after;
                }
                None => {
                    self.redo.drain(..=at);
                    return;
                }
            }
        }
    }
}

/// Two edits as one, where they are of the same comment and the second was made of what the first left.
pub fn one_comment(first: &[Edit], second: &[Edit]) -> Option<Edit> {
    let (
        [Edit::Comment { at, nth, was, text }],
        [
            Edit::Comment {
                at: at_2,
                nth: nth_2,
                was: seen,
                text: now,
            },
        ],
    ) = (first, second)
    else {
        return None;
    };
    let is_one = at == at_2 && nth == nth_2 && is_same(text, seen);
    is_one.then(|| Edit::Comment {
        at: at.clone(),
        nth: *nth,
        was: was.clone(),
        text: now.clone(),
    })
}

/// Whether two comments have the same words.
pub fn is_same(one: &str, two: &str) -> bool {
    one.split_whitespace().eq(two.split_whitespace())
}
