//! What was recalled so far, of the whole part and of each line.

use super::recall::Recall;
use super::schedule::Outcome;
use super::scope::firsts;
use crate::lesson::{Lesson, LineId, NodeId};

/// What was recalled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Account {
    /// How many walks have begun.
    pub walks: u32,
    /// Positions of the part at which the reader is asked, each once.
    pub positions: u32,
    /// Those that were met.
    pub met: u32,
    /// Those that were recalled each time they were first asked.
    pub recalled: u32,
    /// Those that were missed at first and recalled later.
    pub later: u32,
    /// Those that were missed and not recalled since, in the order of the text: they are to come
    /// again.
    pub again: Vec<NodeId>,
    /// All lines in the order of the text.
    pub lines: Vec<Held>,
}

/// How well a line is remembered. A position belongs to the line that it is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Held {
    /// The line; its label is the lesson's.
    pub line: LineId,
    /// Its positions at which the reader is asked; none in a line that is not of the part.
    pub positions: u32,
    /// Those that were met.
    pub met: u32,
    /// Those that were recalled the first time.
    pub recalled: u32,
}

impl Recall {
    /// What was recalled so far.
    pub fn account(&self, lesson: &Lesson) -> Account {
        let mut account = Account {
            walks: self.walks,
            positions: 0,
            met: 0,
            recalled: 0,
            later: 0,
            again: Vec::new(),
            lines: Vec::new(),
        };
        for line in 0..lesson.lines.len() as LineId {
            account.lines.push(Held {
                line,
                positions: 0,
                met: 0,
                recalled: 0,
            });
        }
        // The answer at each node, and the worst answer for each position. All four lists have an
        // element for every node, and the lines one for every line. In bytes: 0 for no answer, and
        // 4 if the position has been counted.
        const RECALLED: u8 = Outcome::Recalled as u8 + 1;
        const MISSED: u8 = Outcome::Missed as u8 + 1;
        let firsts = firsts(lesson);
        let mut outcomes = vec![0; firsts.len()];
        let mut worst = vec![0; firsts.len()];
        for &(id, outcome) in &self.answered {
            let outcome = outcome as u8 + 1;
            outcomes[id as usize] = outcome;
            let worst = &mut worst[firsts[id as usize] as usize];
            *worst = outcome.max(*worst);
        }
        for id in self.scope.asked(lesson) {
            let held = &mut account.lines[lesson.node(id).line as usize];
            let outcome = outcomes[id as usize];
            held.positions += 1;
            held.met += u32::from(outcome > 0);
            held.recalled += u32::from(outcome == RECALLED);
            let worst = core::mem::replace(&mut worst[firsts[id as usize] as usize], 4);
            if worst == 4 {
                continue;
            }
            account.positions += 1;
            account.met += u32::from(worst > 0);
            account.recalled += u32::from(worst == RECALLED);
            if worst == MISSED {
                match self
                    .later
                    .iter()
                    .any(|&later| self.scope.is_same(later, id))
                {
                    true => account.later += 1,
                    false => account.again.push(id),
                }
            }
        }
        account
    }
}
