//! When a position comes back: what is kept of it, and the days between.

use crate::lesson::rules::{position_name, uci};
use crate::lesson::{Lesson, NodeId};
use crate::text::limits;

/// Days until a position comes back: one step up each time it is recalled when due, back to the
/// first when it is not. Retrieval that is spaced beats retrieval that is massed (Latimier, Peyre
/// and Ramus 2021, a meta-analysis of 29 studies: g = 0.74), and between growing and equal gaps it
/// found no difference; so this is the rule that is the simplest to tell a reader, plain doubling.
pub const GAPS: [i32; 6] = [1, 2, 4, 8, 16, 32];

/// The highest step: the place of the longest gap.
pub const TOP: u8 = GAPS.len() as u8 - 1;

/// Days are counted within so many of 1970, some 27,000 years to either side.
pub const FARTHEST_DAY: i32 = 10_000_000;

/// Choices of one position that are kept. More do not count as a change.
const CHOICES: usize = 8;

/// The number of a day of the Gregorian calendar, from 0 on 1 January 1970, by the year, month and
/// day that the reader's own calendar shows: so a day begins at the reader's midnight, and has a
/// number whether the clocks change in it or not. None for a day that there is not.
pub fn day_number(year: i32, month: u32, day: u32) -> Option<i32> {
    let leaps = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let length = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 => 28 + u32::from(leaps),
        _ => return None,
    };
    if !(1..=length).contains(&day) || !(-20_000..=20_000).contains(&year) {
        return None;
    }
    // Counted from March, the leap day is the last of its year. From there on the months have
    // 31, 30, 31, 30, 31 days, again and again: 153 days in five months.
    let (year, month) = match month {
        1 | 2 => (year - 1, month as i32 + 9),
        _ => (year, month as i32 - 3),
    };
    let leap_days = year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400);
    let in_year = (153 * month + 2) / 5 + day as i32 - 1;
    // 1 March of year 0 is 719,468 days before 1 January 1970.
    Some(365 * year + leap_days + in_year - 719_468)
}

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

/// How a position stands on a day.
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
    /// The author has taken back a choice that was learned: it starts again, and the reader is told.
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
        // A choice that has joined the others takes nothing back.
        for learned in moves(&self.choice) {
            if !moves(choice).any(|one| one == learned) {
                return Standing::Changed;
            }
        }
        let gap = GAPS.get(usize::from(self.step)).copied().unwrap_or(GAPS[0]); // never empty
        let until = self.day.saturating_add(gap);
        // A day in the future was written by a clock that was wrong, and may be far off: ask, and
        // lose nothing but a wait. One day ahead is a journey to the west.
        match today >= until || today.saturating_add(1) < self.day {
            true => Standing::Due {
                missed: self.missed,
            },
            false => Standing::Waiting { until },
        }
    }

    /// What decides between two copies, the greater first: that with more outcomes, of these that
    /// of the later day, and then the more careful one. No two different copies are equal in it.
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

    /// How the position of a node stands on a day. It is one where the reader is to move.
    pub fn standing(&self, lesson: &Lesson, node: NodeId, today: i32) -> Standing {
        match self.get(&position_name(&lesson.node(node).position)) {
            Some(kept) => kept.standing(&choice(lesson, node), today),
            None => Standing::New,
        }
    }

    /// Keeps how a position was answered on a day, and says how it stood before. What is recalled
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

    /// One more position as it was kept elsewhere; of two copies of one the later stays.
    pub(crate) fn join(&mut self, kept: Kept) -> Result<(), Full> {
        match self.find(&kept.position) {
            Ok(at) if self.list[at].rank() < kept.rank() => self.list[at] = kept,
            Ok(_) => {}
            Err(_) if self.list.len() >= limits::POSITIONS => return Err(Full),
            Err(at) => self.list.insert(at, kept),
        }
        Ok(())
    }

    /// Takes up what another copy has: every position of either is kept, and of one that both
    /// have the later. The order and the number of merges make no difference.
    ///
    /// # Errors
    /// [`Full`], where both together have more positions than are kept; then nothing is taken up.
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
