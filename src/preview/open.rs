//! A file that is open in a browser: its text as it was seen last, its lessons, and what was done in them.

use super::form::{self, Block, Form, blocks, lesson_of};
use super::history::{History, Step};
use super::lost::saved_over;
use super::refused::Refused;
use super::shift::{Hunk, applied, difference, inverse, moved, smallest};
use super::told::{self, Told};
use crate::edit::Edit;
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
    done: Done,
}

impl Made {
    /// Whether the file is as it was.
    pub fn is_nothing(&self) -> bool {
        matches!(&self.done, Done::New { hunks, .. } if hunks.is_empty())
    }
}

/// What is noted once it is written.
#[derive(Clone, Debug)]
enum Done {
    New {
        hunks: Vec<Hunk>,
        edits: Vec<Edit>,
        before: Vec<String>,
        left: Vec<Step>,
    },
    Undone,
    Redone,
}

/// What was written: the lesson and where its author is, for the answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    pub lesson: usize,
    pub at: Vec<String>,
    pub unread: Vec<String>,
    pub told: Told,
}

/// An open file.
#[derive(Clone, Debug)]
pub struct Open {
    pub form: Form,
    source: Source,
    blocks: Vec<Block>,
    /// One for each lesson.
    histories: Vec<History>,
    version: u64,
    /// How many steps there were.
    count: u64,
}

impl Open {
    /// A file that was not open before. Versions count from this one.
    pub fn new(form: Form, text: &str, version: u64) -> Open {
        let source = Source::new("page", text);
        let blocks = blocks(&source, form);
        Open {
            form,
            histories: vec![History::default(); blocks.len()],
            blocks,
            source,
            version,
            count: 0,
        }
    }

    pub fn text(&self) -> &str {
        self.source.text()
    }

    pub fn source(&self) -> &Source {
        &self.source
    }

    pub fn blocks(&self) -> &[Block] {
        &self.blocks
    }

    pub fn histories(&self) -> &[History] {
        &self.histories
    }

    pub fn version(&self) -> u64 {
        self.version
    }

    /// Says that something beside the text has changed, such as another file that it names.
    pub fn touch(&mut self) {
        self.version += 1;
    }

    /// A name for what is around the lessons.
    pub fn around(&self) -> String {
        form::around(&self.source, &self.blocks)
    }

    /// Takes over what somebody else has written; whether it is something new.
    pub fn seen(&mut self, text: &str) -> bool {
        if text == self.text() {
            return false;
        }
        let is_touched = self.histories.iter().any(|it| !it.undo.is_empty());
        let older = match is_touched {
            true => saved_over(self.source.text(), text, &mut self.histories),
            false => None,
        };
        if let Some(older) = older {
            self.replace(&older);
        }
        let change = difference(self.text(), text);
        for history in &mut self.histories {
            history.over(&change);
        }
        let places: Vec<[Option<usize>; 2]> = self
            .blocks
            .iter()
            .map(|it| [it.span.from, it.span.to].map(|byte| moved(byte as usize, &change)))
            .collect();
        let old = std::mem::take(&mut self.histories);
        self.replace(text);
        self.histories = vec![History::default(); self.blocks.len()];
        let is_same_count = old.len() == self.blocks.len();
        for (at, (history, places)) in old.into_iter().zip(places).enumerate() {
            let holds = |block: &Block, byte: usize| {
                (block.span.from as usize..=block.span.to as usize).contains(&byte)
            };
            let places = places.into_iter().flatten();
            let found = places.filter_map(|byte| self.blocks.iter().position(|it| holds(it, byte)));
            let new = found.last().or(is_same_count.then_some(at));
            if let Some(place) = new.and_then(|new| self.histories.get_mut(new))
                && place.is_empty()
            {
                *place = history;
            }
        }
        self.settle_lost();
        self.version += 1;
        true
    }

    /// Forgets what was lost and is there again.
    fn settle_lost(&mut self) {
        for lesson in 0..self.histories.len() {
            let mut lost = std::mem::take(&mut self.histories[lesson].lost);
            let is_there = |edit: &Edit| {
                let made = self.form.edit(self.text(), lesson, edit);
                made.is_ok_and(|it| it.splices.is_empty())
            };
            lost.retain(|step| !step.edits.iter().all(is_there));
            self.histories[lesson].lost = lost;
        }
    }

    fn replace(&mut self, text: &str) {
        self.source = Source::new("page", text);
        self.blocks = blocks(&self.source, self.form);
    }

    /// What an ask comes to in the file as it was seen last.
    ///
    /// # Errors
    /// Where it cannot be done.
    pub fn ask(&self, lesson: usize, ask: &Ask) -> Result<Made, Refused> {
        let block = self.blocks.get(lesson).ok_or_else(Refused::no_lesson)?;
        let history = self.histories.get(lesson).ok_or_else(Refused::no_lesson)?;
        match ask {
            Ask::Edit(edit) => self.edited(lesson, block, edit, None),
            Ask::Enter(edit, to) => self.edited(lesson, block, edit, Some(to)),
            Ask::Undo => self.undone(lesson, block, history),
            Ask::Redo => self.redone(lesson, block, history),
            Ask::Restore => self.restored(lesson, history),
            Ask::Mend { hunk, label } => {
                let hunks = vec![hunk.clone()];
                let text = applied(self.text(), &hunks).ok_or_else(changed)?;
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
        }
    }

    fn edited(
        &self,
        lesson: usize,
        block: &Block,
        edit: &Edit,
        to: Option<&[String]>,
    ) -> Result<Made, Refused> {
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

    fn undone(&self, lesson: usize, block: &Block, history: &History) -> Result<Made, Refused> {
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
            done: Done::Undone,
        })
    }

    fn redone(&self, lesson: usize, block: &Block, history: &History) -> Result<Made, Refused> {
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
    fn restored(&self, lesson: usize, history: &History) -> Result<Made, Refused> {
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

    /// Notes that what was made is in the file now. It must have been made in the text that was seen last.
    pub fn commit(&mut self, made: Made) -> Written {
        let Made {
            lesson,
            text,
            at,
            unread,
            told,
            done,
        } = made;
        let before = self.text().to_owned();
        let old = self.blocks.get(lesson).map(|it| name(&it.text));
        self.replace(&text);
        let left = self.blocks.get(lesson).map_or(0, |it| name(&it.text));
        self.count += 1;
        let number = self.count;
        let mut change = Vec::new();
        if let Some(history) = self.histories.get_mut(lesson) {
            match done {
                Done::New {
                    hunks,
                    edits,
                    before: place,
                    left: lost,
                } => {
                    if told.is_restore() {
                        history.lost = lost;
                    }
                    change = hunks.clone();
                    let step = Step {
                        hunks,
                        edits,
                        label: told.label.clone(),
                        before: place,
                        after: at.clone(),
                        left,
                        number,
                    };
                    if !step.hunks.is_empty() {
                        history.redo.clear();
                        add(history, step, old, &before, &text);
                    }
                }
                Done::Undone => {
                    if let Some(step) = history.undo.pop() {
                        change = inverse(&step.hunks);
                        history.redo.push(step);
                    }
                }
                Done::Redone => {
                    if let Some(step) = history.redo.pop() {
                        change = step.hunks.clone();
                        history.undo.push(Step { number, ..step });
                    }
                }
            }
        }
        for (other, history) in self.histories.iter_mut().enumerate() {
            if other != lesson {
                history.over(&change);
            }
        }
        if !change.is_empty() {
            self.version += 1;
        }
        Written {
            lesson,
            at,
            unread,
            told,
        }
    }
}

/// Adds a step, or joins it to the last where both are of one visit to a comment.
fn add(history: &mut History, step: Step, old: Option<u64>, before: &str, text: &str) {
    let last = history.undo.last();
    let joined = last.and_then(|last| {
        let edit = one_comment(&last.edits, &step.edits)?;
        // Nobody else has changed the lesson between the two.
        let first = applied(before, &inverse(&last.hunks)).filter(|_| Some(last.left) == old)?;
        Some(Step {
            hunks: vec![smallest(0, &first, text)],
            edits: vec![edit],
            before: last.before.clone(),
            ..step.clone()
        })
    });
    match joined {
        Some(joined) => {
            history.undo.pop();
            let is_nothing = |hunk: &Hunk| hunk.was.is_empty() && hunk.now.is_empty();
            if !joined.hunks.iter().all(is_nothing) {
                history.push(joined);
            }
        }
        None => history.push(step),
    }
}

/// Two edits as one, where they are of the same comment and the second was made of what the first left.
fn one_comment(first: &[Edit], second: &[Edit]) -> Option<Edit> {
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
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let is_one = at == at_2 && nth == nth_2 && words(text) == words(seen);
    is_one.then(|| Edit::Comment {
        at: at.clone(),
        nth: *nth,
        was: was.clone(),
        text: now.clone(),
    })
}

fn changed() -> Refused {
    Refused::new(
        "changed",
        "the lesson was changed elsewhere since, so this cannot be taken back or made again",
        "change it by hand",
    )
}

/// The text of a lesson in a file.
fn text_of(file: &str, form: Form, lesson: usize) -> String {
    let blocks = blocks(&Source::new("page", file), form);
    blocks
        .into_iter()
        .nth(lesson)
        .map(|it| it.text)
        .unwrap_or_default()
}

/// A name for a text.
fn name(text: &str) -> u64 {
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    hasher.finish()
}
