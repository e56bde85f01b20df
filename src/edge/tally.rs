//! The state of the positions of a recall: the content of the property `progress`.

use super::plain::leaves_as;
use crate::ask::Tally;

/// How many positions of a part are in which state, on a day.
#[derive(Debug)]
pub struct TallyData {
    /// All of them.
    pub positions: u32,
    /// Those of which nothing is known.
    pub new: u32,
    /// Those that come back.
    pub due: u32,
    /// Those at which the author has changed the choice.
    pub changed: u32,
    /// Those that come back later.
    pub waiting: u32,
    /// The first day on which one of them does, from 0 on 1 January 1970; null if none waits.
    pub next: Option<u32>,
}

leaves_as!(
    TallyData,
    "positions": positions,
    "new": new,
    "due": due,
    "changed": changed,
    "waiting": waiting,
    "next": next,
);

impl From<Tally> for TallyData {
    fn from(tally: Tally) -> TallyData {
        TallyData {
            positions: tally.positions,
            new: tally.new,
            due: tally.due,
            changed: tally.changed,
            waiting: tally.waiting,
            next: tally.next.and_then(|day| u32::try_from(day).ok()),
        }
    }
}
