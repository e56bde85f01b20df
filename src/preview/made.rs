//! What an ask comes to in a file, before it is written.

use super::form::{Block, blocks, lesson_of};
use super::history::{History, Step, is_same, one_comment};
use super::refused::Refused;
use super::shift::{Hunk, applied, difference, inverse};
use super::told::{self, Told};
use crate::edit::{Edit, Form};
use crate::text::{Findings, Severity, Source};
use std::hash::{DefaultHasher, Hash, Hasher};

/// What can be asked of a lesson.
#[derive(Clone, Debug)]
pub enum Ask {
    Edit(Edit),
    /// The same of what was typed, with the moves from the start to which that leads.
    Enter(Edit, Vec<String>),
    Undo,
    Redo,
    /// To make again what was saved over.
    Restore,
    /// To put a text in place of some bytes of the file, as a finding wishes.
    Mend {
        hunk: Hunk,
        label: String,
    },
}

/// What an ask comes to, before it is written.
#[derive(Clone, Debug)]
pub struct Made {
    pub lesson: usize,
    /// The whole file with it.
    pub text: String,
    /// Where the author is then.
    pub at: Vec<String>,
    /// Words that cannot be read any more, or were not entered.
    pub unread: Vec<String>,
    pub told: Told,
    pub done: Done,
}

impl Made {
    /// Whether the file is as it was.
    pub fn is_nothing(&self) -> bool {
        matches!(&self.done, Done::New { hunks, .. } if hunks.is_empty())
    }
}

/// What is noted once it is written.
#[derive(Clone, Debug)]
pub enum Done {
    New {
        hunks: Vec<Hunk>,
        edits: Vec<Edit>,
        before: Vec<String>,
        left: Vec<Step>,
    },
    /// The last step, which can be made again unless it came to nothing.
    Undone {
        is_nothing: bool,
    },
    Redone,
}

/// A lesson of a file: its number, its notation, and what was done in it.
type Of<'a> = (usize, &'a Block, &'a History);

/// What an ask comes to.
///
/// # Errors
/// Where it cannot be done.
pub fn made(source: &Source, form: Form, of: Of<'_>, ask: &Ask) -> Result<Made, Refused> {
    let file = File { source, form };
    match ask {
        Ask::Edit(edit) => file.edited(of, edit, None),
        Ask::Enter(edit, to) => file.edited(of, edit, Some(to)),
        Ask::Undo => file.undone(of),
        Ask::Redo => file.redone(of),
        Ask::Restore => file.restored(of),
        Ask::Mend { hunk, label } => mended(source, of.0, hunk, label),
    }
}

/// A text in the place of some bytes of the file.
///
/// # Errors
/// Where they are not there any more.
pub fn mended(source: &Source, lesson: usize, hunk: &Hunk, label: &str) -> Result<Made, Refused> {
    let hunks = vec![hunk.clone()];
    let text = applied(source.text(), &hunks).ok_or_else(changed)?;
    Ok(Made {
        lesson,
        text,
        at: Vec::new(),
        unread: Vec::new(),
        told: Told::plain(label),
        done: Done::New {
            hunks,
            edits: Vec::new(),
            before: Vec::new(),
            left: Vec::new(),
        },
    })
}

/// The file as it was seen last.
struct File<'a> {
    source: &'a Source,
    form: Form,
}

impl File<'_> {
    fn text(&self) -> &str {
        self.source.text()
    }

    fn edited(&self, of: Of<'_>, edit: &Edit, to: Option<&[String]>) -> Result<Made, Refused> {
        let (lesson, block, history) = of;
        if let Some(nothing) = self.come_to_nothing(block, history, edit) {
            let told = Told::plain(history.undo_label().unwrap_or_default());
            return Ok(Made {
                lesson,
                text: nothing,
                at: told::place(edit).to_vec(),
                unread: Vec::new(),
                told,
                done: Done::Undone { is_nothing: true },
            });
        }
        let mut changed = self.form.edit(self.text(), lesson, edit)?;
        let hunks = changed.splices.iter().map(|splice| Hunk {
            from: splice.span.from as usize,
            was: self.source.slice(splice.span).to_owned(),
            now: splice.text.clone(),
        });
        let hunks: Vec<Hunk> = hunks.collect();
        let after = text_of(&changed.text, self.form, lesson);
        if let Some(to) = to {
            changed.at = told::reach(&after, to);
        }
        let told = told::of(edit, &block.text, &after, &changed.at, hunks.is_empty());
        Ok(Made {
            lesson,
            at: changed.at,
            unread: changed.unread,
            told,
            text: changed.text,
            done: Done::New {
                hunks,
                edits: vec![edit.clone()],
                before: told::place(edit).to_vec(),
                left: Vec::new(),
            },
        })
    }

    /// The file as it was before a visit to a comment that leaves the words with which it began.
    fn come_to_nothing(&self, block: &Block, history: &History, edit: &Edit) -> Option<String> {
        let last = history
            .undo
            .last()
            .filter(|it| it.left == name(&block.text))?;
        match one_comment(&last.edits, std::slice::from_ref(edit))? {
            Edit::Comment { was, text, .. } if is_same(&was, &text) => {
                applied(self.text(), &inverse(&last.hunks))
            }
            _ => None,
        }
    }

    fn undone(&self, (lesson, block, history): Of<'_>) -> Result<Made, Refused> {
        let Some(step) = history.undo.last() else {
            return Err(match history.gone {
                Some(_) => changed(),
                None => Refused::new("nothing", "there is nothing to take back", "go on"),
            });
        };
        let text = applied(self.text(), &inverse(&step.hunks)).ok_or_else(changed)?;
        self.fits(lesson, block, step, &text)?;
        Ok(Made {
            lesson,
            text,
            at: step.before.clone(),
            unread: Vec::new(),
            told: Told::plain(&format!("took back: {}", step.label)),
            done: Done::Undone { is_nothing: false },
        })
    }

    fn redone(&self, (lesson, block, history): Of<'_>) -> Result<Made, Refused> {
        let nothing = || Refused::new("nothing", "there is nothing to make again", "go on");
        let step = history.redo.last().ok_or_else(nothing)?;
        let text = applied(self.text(), &step.hunks).ok_or_else(changed)?;
        self.fits(lesson, block, step, &text)?;
        Ok(Made {
            lesson,
            text,
            at: step.after.clone(),
            unread: Vec::new(),
            told: Told::plain(&format!("made again: {}", step.label)),
            done: Done::Redone,
        })
    }

    /// Whether a step that is turned back or made again does what it did, where others have changed the lesson since.
    fn fits(&self, lesson: usize, block: &Block, step: &Step, text: &str) -> Result<(), Refused> {
        let after = text_of(text, self.form, lesson);
        if name(&block.text) == step.left || name(&after) == step.left {
            return Ok(());
        }
        let errors = |findings: &Findings| {
            let all = findings.iter();
            all.filter(|it| it.severity() == Severity::Error).count()
        };
        let (was, is) = (block.read().1, lesson_of(&after).1);
        match errors(&is) > errors(&was) {
            true => Err(changed()),
            false => Ok(()),
        }
    }

    /// Makes the edits again that were saved over, as one step.
    fn restored(&self, (lesson, _, history): Of<'_>) -> Result<Made, Refused> {
        let nothing = || Refused::new("nothing", "nothing was saved over", "go on");
        let last = history.lost.last().ok_or_else(nothing)?;
        let mut text = self.text().to_owned();
        let (mut edits, mut left, mut unread) = (Vec::new(), Vec::new(), Vec::new());
        let (mut at, mut before) = (last.after.clone(), None);
        let mut refused = None;
        for step in &history.lost {
            // All of a step or nothing of it.
            let mut now = text.clone();
            let made = step.edits.iter().try_for_each(|edit| {
                let changed = self.form.edit(&now, lesson, edit)?;
                at = changed.at;
                unread.extend(changed.unread);
                now = changed.text;
                Ok::<(), Refused>(())
            });
            match made {
                Ok(()) if step.edits.is_empty() => left.push(step.clone()),
                Ok(()) => {
                    before.get_or_insert(step.before.clone());
                    edits.extend(step.edits.iter().cloned());
                    text = now;
                }
                Err(reason) => {
                    refused = Some(reason);
                    left.push(step.clone());
                }
            }
        }
        if let Some(refused) = refused.filter(|_| edits.is_empty()) {
            return Err(refused);
        }
        let count = history.lost.len() - left.len();
        let told = match count {
            1 => "made again 1 edit that was saved over".to_owned(),
            _ => format!("made again {count} edits that were saved over"),
        };
        Ok(Made {
            lesson,
            at,
            unread,
            told: Told::restored(&told, &last.label),
            done: Done::New {
                hunks: difference(self.text(), &text),
                edits,
                before: before.unwrap_or_default(),
                left,
            },
            text,
        })
    }
}

fn changed() -> Refused {
    Refused::new(
        "changed",
        "the lesson was changed elsewhere since, so this cannot be taken back or made again",
        "change it by hand",
    )
}

/// The text of a lesson in a file; empty where it has none.
pub fn text_of(file: &str, form: Form, lesson: usize) -> String {
    let blocks = blocks(&Source::new("page", file), form);
    blocks
        .into_iter()
        .nth(lesson)
        .map(|it| it.text)
        .unwrap_or_default()
}

/// A name for a text.
pub fn name(text: &str) -> u64 {
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    hasher.finish()
}
