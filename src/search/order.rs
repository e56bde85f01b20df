//! The order in which moves are tried. It changes how long a search takes, not what it finds.

use super::exchange::taken;
use super::material::worth;
use shakmaty::{Move, Square};

/// So many half-moves from the start have moves of their own that did well.
const DEEPEST: usize = 64;

/// What did well elsewhere: quiet moves that refuted another at the same depth, and how often each move from
/// a square to a square did.
pub struct Habits {
    killers: [[Option<Move>; 2]; DEEPEST],
    history: Vec<u32>,
}

fn way(played: &Move) -> usize {
    let from = played.from().unwrap_or(Square::A1);
    usize::from(from) * 64 + usize::from(played.to())
}

impl Habits {
    pub fn new() -> Habits {
        Habits {
            killers: [[None; 2]; DEEPEST],
            history: vec![0; 64 * 64],
        }
    }

    /// A quiet move was enough at a half-move from the start.
    pub fn note(&mut self, played: Move, ply: usize, depth: u32) {
        if taken(&played) > 0 {
            return;
        }
        if let Some(killers) = self.killers.get_mut(ply)
            && killers[0] != Some(played)
        {
            killers[1] = killers[0];
            killers[0] = Some(played);
        }
        if let Some(count) = self.history.get_mut(way(&played)) {
            *count = count.saturating_add(depth * depth);
        }
    }

    /// Puts moves in order: the best that is known, then captures, the most for the least, then those that did
    /// well. Equal ones stay as they were.
    pub fn sort(&self, moves: &mut [Move], best: Option<Move>, ply: usize) {
        let killers = self.killers.get(ply).copied().unwrap_or_default();
        let rank = |played: &Move| -> (u8, i64) {
            let gained = taken(played);
            if Some(*played) == best {
                (0, 0)
            } else if gained > 0 {
                (1, i64::from(worth(played.role()) - 16 * gained)) // at most some 2,000 each
            } else if killers.contains(&Some(*played)) {
                (2, 0)
            } else {
                let count = self.history.get(way(played)).copied().unwrap_or(0);
                (3, -i64::from(count))
            }
        };
        moves.sort_by_cached_key(rank);
    }
}
