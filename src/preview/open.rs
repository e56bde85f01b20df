//! A file that is open in a browser: its text as it was seen last, its lessons, and what was done in them.

use super::form::{self, Block, blocks};
use super::history::{History, Step};
use super::lost::saved_over;
use super::made::{Ask, Done, Made, made, mended, name};
use super::refused::Refused;
use super::shift::{Hunk, difference, inverse, moved};
use super::told::Told;
use crate::edit::{Edit, Form, Why};
use crate::text::Source;

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
        self.follow(text, &change);
        self.settle_lost();
        self.version += 1;
        true
    }

    /// Takes over a text that a change has made; each history goes with its lesson.
    fn follow(&mut self, text: &str, change: &[Hunk]) {
        let places: Vec<[Option<usize>; 2]> = self
            .blocks
            .iter()
            .map(|it| [it.span.from, it.span.to].map(|byte| moved(byte as usize, change)))
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
            let mut found =
                places.filter_map(|byte| self.blocks.iter().position(|it| holds(it, byte)));
            let new = found.next_back().or(is_same_count.then_some(at));
            if let Some(place) = new.and_then(|new| self.histories.get_mut(new))
                && place.is_empty()
            {
                *place = history;
            }
        }
    }

    /// Forgets what was lost and is there again.
    fn settle_lost(&mut self) {
        for lesson in 0..self.histories.len() {
            let mut lost = std::mem::take(&mut self.histories[lesson].lost);
            let is_there = |edit: &Edit| {
                let edit = match edit.clone() {
                    Edit::Comment { at, nth, text, .. } => Edit::Comment {
                        at,
                        nth,
                        was: text.clone(),
                        text,
                    },
                    other => other,
                };
                match (self.form.edit(self.text(), lesson, &edit), &edit) {
                    (Ok(changed), _) => changed.splices.is_empty(),
                    (Err(refused), Edit::Drop { .. }) => refused.why == Why::PlaceGone,
                    (Err(_), _) => false,
                }
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
        if let Ask::Mend { hunk, label } = ask {
            return mended(&self.source, lesson, hunk, label);
        }
        let block = self.blocks.get(lesson).ok_or_else(Refused::no_lesson)?;
        let history = self.histories.get(lesson).ok_or_else(Refused::no_lesson)?;
        made(&self.source, self.form, (lesson, block, history), ask)
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
        let history = self.histories.get(lesson);
        let change = match &done {
            Done::New { hunks, .. } => hunks.clone(),
            Done::Undone { .. } => history
                .and_then(|it| it.undo.last())
                .map_or(Vec::new(), |it| inverse(&it.hunks)),
            Done::Redone => history
                .and_then(|it| it.redo.last())
                .map_or(Vec::new(), |it| it.hunks.clone()),
        };
        self.follow(&text, &change);
        let left = self.blocks.get(lesson).map_or(0, |it| name(&it.text));
        self.count += 1;
        let number = self.count;
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
                        history.add(step, old, &before, &text);
                    }
                }
                Done::Undone { is_nothing } => {
                    let step = history.undo.pop();
                    match is_nothing {
                        true => history.redo.clear(),
                        false => history.redo.extend(step),
                    }
                }
                Done::Redone => {
                    let step = history.redo.pop();
                    history
                        .undo
                        .extend(step.map(|step| Step { number, ..step }));
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
