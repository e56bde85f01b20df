//! When a position comes back: what is kept of it, and the days between.

use crate::lesson::rules::{position_name, uci};
use crate::lesson::{Lesson, NodeId};
use crate::text::limits;

/// Days until a position comes back: one step up each time it is recalled when due, back to the
/// first when it is not. Retrieval that is spaced beats retrieval that is massed (Latimier, Peyre
/// and Ramus 2021, a meta-analysis of 29 studies: g = 0.74), and between growing and equal gaps it
/// found no difference; so this is the rule that is simplest to explain to a reader: doubling.
pub const GAPS: [i32; 6] = [1, 2, 4, 8, 16, 32];

/// The highest step: the place of the longest gap.
pub const TOP: u8 = GAPS.len() as u8 - 1;

/// Days are counted within so many of 1970, some 27,000 years to either side.
pub const FARTHEST_DAY: i32 = 10_000_000;

/// Choices of one position that are kept. More do not count as a change.
const CHOICES: usize = 8;

/// What is kept of a position.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// The first four fields of its FEN. The side to move is among them, and is the reader's.
    pub position: String,
    /// The author's choices as UCI writes them, with spaces between; at most eight.
    pub choice: String,
    /// Which of [`GAPS`] it waits; at most [`TOP`].
    pub step: u8,
    /// The day of the last outcome that counted.
    pub day: i32,
    /// How many outcomes have counted. Of two copies that with more is the later one, whatever
    /// the clock said.
    pub asked: u32,
    /// Whether it was not recalled when it last counted.
    pub missed: bool,
}

/// How a position was answered when it was first met, the better before the worse.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// With a choice.
    Recalled,
    /// With a move of the lesson that is sound and not the choice. It comes back after the same gap.
    Fair,
    /// Otherwise, or shown.
    Missed,
}

impl Outcome {
    /// The one of this number, in the order above.
    pub fn of(number: u32) -> Option<Outcome> {
        [Outcome::Recalled, Outcome::Fair, Outcome::Missed]
            .get(number as usize)
            .copied()
    }
}

/// The state of a position on a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It was never asked.
    New,
    /// It is asked again.
    Due {
        /// Whether it was not recalled the last time.
        missed: bool,
    },
    /// It waits until that day.
    Waiting {
        /// The first day on which it is due.
        until: i32,
    },
    /// The author has removed a choice that was learned: it starts again, and the reader is told.
    Changed,
}

/// There are more positions than [`limits::POSITIONS`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Full;

/// What is kept of all positions, of any lesson: a position is what it is, whatever led to it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// Sorted by position, each once.
    list: Vec<Kept>,
}

/// The choices of a node, as they are kept.
fn choice(lesson: &Lesson, node: NodeId) -> String {
    let mut text = String::new();
    for id in lesson.choices(node).into_iter().take(CHOICES) {
        if !text.is_empty() {
            text.push(' ');
        }
        text += &uci(lesson.node(id).played);
    }
    text
}

fn moves(choice: &str) -> impl Iterator<Item = &[u8]> {
    choice.as_bytes().split(|&byte| byte == b' ')
}

impl Kept {
    fn standing(&self, choice: &str, today: i32) -> Standing {
        // A choice that was added removes none.
        for learned in moves(&self.choice) {
            if !moves(choice).any(|one| one == learned) {
                return Standing::Changed;
            }
        }
        let gap = GAPS.get(usize::from(self.step)).copied().unwrap_or(GAPS[0]); // never empty
        let until = self.day.saturating_add(gap);
        // A day in the future was written by a wrong clock, and may be far off: ask, which only
        // shortens a wait. One day ahead may come from a journey to the west.
        match today >= until || today.saturating_add(1) < self.day {
            true => Standing::Due {
                missed: self.missed,
            },
            false => Standing::Waiting { until },
        }
    }

    /// What decides between two copies, the greater wins: more outcomes, then the later day, then
    /// missed, then the smaller step. No two different copies are equal in it.
    fn rank(&self) -> (u32, i32, bool, u8, &str) {
        (
            self.asked,
            self.day,
            self.missed,
            TOP.saturating_sub(self.step),
            &self.choice,
        )
    }
}

impl Progress {
    /// Everything that is kept, sorted by position.
    pub fn all(&self) -> &[Kept] {
        &self.list
    }

    /// What is kept of a position, by the first four fields of its FEN.
    pub fn get(&self, position: &str) -> Option<&Kept> {
        self.list.get(self.find(position).ok()?)
    }

    /// How many positions are to come back on a day, of whatever lesson.
    pub fn due(&self, today: i32) -> u32 {
        let mut count = 0;
        for kept in &self.list {
            let is_due = matches!(kept.standing(&kept.choice, today), Standing::Due { .. });
            count += u32::from(is_due);
        }
        count
    }

    fn find(&self, position: &str) -> Result<usize, usize> {
        let by = |kept: &Kept| kept.position.as_str().cmp(position);
        self.list.binary_search_by(by)
    }

    /// The state of a node's position on a day. It is one where the reader is to move.
    pub fn standing(&self, lesson: &Lesson, node: NodeId, today: i32) -> Standing {
        match self.get(&position_name(&lesson.node(node).position)) {
            Some(kept) => kept.standing(&choice(lesson, node), today),
            None => Standing::New,
        }
    }

    /// Keeps how a position was answered on a day, and returns its state before. What is recalled
    /// before it is due changes nothing; what is not recalled always counts.
    ///
    /// # Errors
    /// [`Full`], for a new position; nothing is kept then.
    pub fn record(
        &mut self,
        lesson: &Lesson,
        node: NodeId,
        outcome: Outcome,
        today: i32,
    ) -> Result<Standing, Full> {
        let position = position_name(&lesson.node(node).position);
        let choice = choice(lesson, node);
        let today = today.clamp(-FARTHEST_DAY, FARTHEST_DAY);
        let missed = outcome == Outcome::Missed;
        let at = match self.find(&position) {
            Ok(at) => at,
            Err(_) if self.list.len() >= limits::POSITIONS => return Err(Full),
            Err(at) => {
                let kept = Kept {
                    position,
                    choice,
                    step: 0,
                    day: today,
                    asked: 1,
                    missed,
                };
                self.list.insert(at, kept);
                return Ok(Standing::New);
            }
        };
        let kept = &mut self.list[at]; // found there
        let before = kept.standing(&choice, today);
        let step = match (before, outcome) {
            (Standing::Waiting { .. }, Outcome::Recalled | Outcome::Fair) => {
                kept.choice = choice;
                return Ok(before);
            }
            (Standing::Changed, _) | (_, Outcome::Missed) => 0,
            (_, Outcome::Fair) => kept.step,
            (_, Outcome::Recalled) => kept.step.saturating_add(1).min(TOP),
        };
        let asked = kept.asked.saturating_add(1);
        (kept.choice, kept.step, kept.day) = (choice, step, today);
        (kept.asked, kept.missed) = (asked, missed);
        Ok(before)
    }

    /// Adds a position that was kept elsewhere; of two copies the later stays.
    pub(crate) fn join(&mut self, kept: Kept) -> Result<(), Full> {
        match self.find(&kept.position) {
            Ok(at) if self.list[at].rank() < kept.rank() => self.list[at] = kept,
            Ok(_) => {}
            Err(_) if self.list.len() >= limits::POSITIONS => return Err(Full),
            Err(at) => self.list.insert(at, kept),
        }
        Ok(())
    }

    /// Merges another copy: every position of either is kept, and of two copies the later. The
    /// order and the number of merges make no difference.
    ///
    /// # Errors
    /// [`Full`], where both together have more positions than are kept; then nothing is merged.
    pub fn merge(&mut self, other: Progress) -> Result<(), Full> {
        let mut count = self.list.len();
        for kept in &other.list {
            count += usize::from(self.find(&kept.position).is_err());
        }
        if count > limits::POSITIONS {
            return Err(Full);
        }
        for kept in other.list {
            self.join(kept)?;
        }
        Ok(())
    }
}
