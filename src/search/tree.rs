//! The search itself: every move to a depth, and then what is forced by captures, promotions and checks.

use super::exchange::taken;
use super::material::balance;
use super::order::Habits;
use super::table::{Bound, Found, Table, hash};
use crate::lesson::rules::after;
use shakmaty::{Chess, Move, MoveList, Position};

/// The value of a mate, less the half-moves to it. No material comes near.
pub const MATE: i32 = 1_000_000;
/// Values beyond it are mates.
pub const MATES: i32 = MATE - 1_000;

/// So many half-moves after the depth that was asked for nothing more is followed: captures end by themselves,
/// checks that are answered may not.
const QUIET: usize = 24;

/// What is counted where the depth ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leaf {
    /// The material as it stands there.
    Standing,
    /// That of a position in which nothing is left to take: captures, promotions and answers to check are
    /// followed to their end, and the side to move may leave any capture.
    Quiet,
}

/// The value of a position for the side to move, searched in whole to a depth in half-moves: material in
/// hundredths of a pawn, mates as [`MATE`] less the half-moves to them, 0 for a draw by stalemate.
pub fn value(position: &Chess, depth: u32, leaf: Leaf) -> i32 {
    let mut search = Search::new(u64::MAX, leaf);
    let mut line = Vec::new();
    // Without a budget nothing ends it.
    search
        .whole(position, depth, 0, (-MATE, MATE), &mut line)
        .unwrap_or(0)
}

/// A search that goes on until its budget is spent.
pub struct Search {
    /// How many positions may still be looked at.
    left: u64,
    leaf: Leaf,
    table: Table,
    habits: Habits,
    halt: Halt,
}

/// What becomes of a search whose budget is spent.
enum Halt {
    /// It is over.
    Over,
    /// It waits for more: where it was in each position on its way, the first position last.
    Waits(Vec<Trying>),
}

/// How far the moves of one position have been tried.
struct Trying {
    moves: MoveList,
    /// The one that is being tried.
    at: usize,
    /// Whether it is better than those before it, and is asked now by how much.
    is_better: bool,
    least: i32,
    best: i32,
    best_move: Option<Move>,
    /// The moves that show the best.
    line: Vec<Move>,
}

impl Trying {
    fn new(moves: MoveList, least: i32) -> Trying {
        Trying {
            moves,
            at: 0,
            is_better: false,
            least,
            best: -MATE,
            best_move: None,
            line: Vec::new(),
        }
    }

    /// The move that is being tried came to a value.
    fn take(&mut self, played: Move, value: i32, below: &mut Vec<Move>) {
        if value > self.best || self.best_move.is_none() {
            self.best = value;
            self.best_move = Some(played);
            if value > self.least {
                self.least = value;
                lead(&mut self.line, played, below);
            }
        }
        self.is_better = false;
        self.at += 1;
    }
}

/// The budget is spent.
#[derive(Debug)]
pub struct Spent;

impl Search {
    pub fn new(budget: u64, leaf: Leaf) -> Search {
        Search {
            left: budget,
            leaf,
            table: Table::new(budget),
            habits: Habits::new(),
            halt: Halt::Over,
        }
    }

    /// One that begins without a budget and goes on when it is given more ([`Search::more`]): what was asked when
    /// its budget was spent must then be asked again, and continues where it was.
    pub fn in_turns(leaf: Leaf) -> Search {
        Search {
            left: 0,
            table: Table::new(u64::MAX),
            halt: Halt::Waits(Vec::new()),
            ..Search::new(0, leaf)
        }
    }

    /// So many positions more may be looked at.
    pub fn more(&mut self, positions: u64) {
        self.left += positions;
    }

    fn look(&mut self) -> Result<(), Spent> {
        self.left = self.left.checked_sub(1).ok_or(Spent)?;
        Ok(())
    }

    /// The value of a position between two bounds, with every move to a depth; `line` becomes the moves that
    /// show it. Calls itself as deep as the depth and [`QUIET`] are.
    ///
    /// # Errors
    /// Where the budget is spent.
    pub fn whole(
        &mut self,
        position: &Chess,
        depth: u32,
        ply: usize,
        (least, most): (i32, i32),
        line: &mut Vec<Move>,
    ) -> Result<i32, Spent> {
        line.clear();
        if depth == 0 {
            return match self.leaf {
                Leaf::Standing => {
                    self.look()?;
                    Ok(match position.legal_moves().is_empty() {
                        true => nothing_to_play(position, ply),
                        false => balance(position),
                    })
                }
                Leaf::Quiet => self.quiet(position, ply, QUIET, (least, most), line),
            };
        }
        let mut trying = match self.waiting() {
            Some(trying) => trying,
            None => {
                self.look()?;
                let mut moves = position.legal_moves();
                if moves.is_empty() {
                    return Ok(nothing_to_play(position, ply));
                }
                let known = self.table.get(hash(position)).copied();
                // At the start a line is wanted too. Mates count from the start, so they are not taken from elsewhere.
                if let Some(it) =
                    known.filter(|it| ply > 0 && it.depth == depth && it.value.abs() < MATES)
                {
                    // Where the value itself is wanted, its line is too.
                    let is_enough = match it.bound {
                        Bound::Exact => true,
                        Bound::AtLeast => it.value >= most,
                        Bound::AtMost => it.value <= least,
                    };
                    if is_enough && least + 1 == most {
                        return Ok(it.value);
                    }
                }
                self.habits
                    .sort(&mut moves, known.and_then(|it| it.best), ply);
                Trying::new(moves, least)
            }
        };
        if let Err(spent) = self.try_all(position, depth, ply, most, &mut trying) {
            return Err(self.halted(trying, spent));
        }
        let best = trying.best;
        let bound = match best {
            _ if best >= most => Bound::AtLeast,
            _ if best <= least => Bound::AtMost,
            _ => Bound::Exact,
        };
        let found = Found {
            value: best,
            bound,
            depth,
            best: trying.best_move,
        };
        self.table.put(hash(position), found);
        line.append(&mut trying.line);
        Ok(best)
    }

    /// Tries the moves of a position until one is enough.
    fn try_all(
        &mut self,
        position: &Chess,
        depth: u32,
        ply: usize,
        most: i32,
        trying: &mut Trying,
    ) -> Result<(), Spent> {
        let mut below = Vec::new();
        while let Some(&played) = trying.moves.get(trying.at) {
            let next = after(position, played);
            let least = trying.least;
            // After the first move it is asked only whether one is better; if so, by how much.
            let is_first = trying.best_move.is_none();
            let mut value = trying.best;
            if !is_first && !trying.is_better {
                value = -self.whole(&next, depth - 1, ply + 1, (-least - 1, -least), &mut below)?;
                trying.is_better = value > least && value < most;
            }
            if is_first || trying.is_better {
                value = -self.whole(&next, depth - 1, ply + 1, (-most, -least), &mut below)?;
            }
            trying.take(played, value, &mut below);
            if trying.best >= most {
                self.habits.note(played, ply, depth);
                break;
            }
        }
        Ok(())
    }

    /// Where it was in the next position on its way, if it waited.
    fn waiting(&mut self) -> Option<Trying> {
        match &mut self.halt {
            Halt::Waits(way) => way.pop(),
            Halt::Over => None,
        }
    }

    fn halted(&mut self, trying: Trying, spent: Spent) -> Spent {
        if let Halt::Waits(way) = &mut self.halt {
            way.push(trying);
        }
        spent
    }

    /// The value of a move for the side that plays it, searched to a depth that counts the move itself, between
    /// two bounds, and the moves that show it, this one first.
    ///
    /// # Errors
    /// Where the budget is spent.
    pub fn of_move(
        &mut self,
        position: &Chess,
        played: Move,
        depth: u32,
        (least, most): (i32, i32),
    ) -> Result<(i32, Vec<Move>), Spent> {
        let (mut line, mut below) = (Vec::new(), Vec::new());
        let next = after(position, played);
        let value = self.whole(
            &next,
            depth.saturating_sub(1),
            1,
            (-most, -least),
            &mut below,
        )?;
        lead(&mut line, played, &mut below);
        Ok((-value, line))
    }

    /// The value where nothing is left to take.
    fn quiet(
        &mut self,
        position: &Chess,
        ply: usize,
        depth: usize,
        (mut least, most): (i32, i32),
        line: &mut Vec<Move>,
    ) -> Result<i32, Spent> {
        line.clear();
        let mut trying = match self.waiting() {
            Some(trying) => trying,
            None => {
                self.look()?;
                let mut moves = position.legal_moves();
                if moves.is_empty() {
                    return Ok(nothing_to_play(position, ply));
                }
                let stands = balance(position);
                if depth == 0 {
                    return Ok(stands);
                }
                let mut best = -MATE;
                if !position.is_check() {
                    best = stands;
                    if best >= most {
                        return Ok(best);
                    }
                    least = least.max(best);
                    moves.retain(|it| taken(it) > 0);
                }
                self.habits.sort(&mut moves, None, usize::MAX);
                Trying {
                    best,
                    ..Trying::new(moves, least)
                }
            }
        };
        let mut below = Vec::new();
        while let Some(&played) = trying.moves.get(trying.at) {
            let next = after(position, played);
            let bounds = (-most, -trying.least);
            let value = match self.quiet(&next, ply + 1, depth - 1, bounds, &mut below) {
                Ok(value) => -value,
                Err(spent) => return Err(self.halted(trying, spent)),
            };
            if value > trying.best {
                trying.best = value;
                if value > trying.least {
                    trying.least = value;
                    lead(&mut trying.line, played, &mut below);
                }
            }
            trying.at += 1;
            if trying.best >= most {
                break;
            }
        }
        line.append(&mut trying.line);
        Ok(trying.best)
    }
}

/// Makes a line of a move and the line after it.
fn lead(line: &mut Vec<Move>, played: Move, after: &mut Vec<Move>) {
    line.clear();
    line.push(played);
    line.append(after);
}

/// The value where the side to move has no move.
fn nothing_to_play(position: &Chess, ply: usize) -> i32 {
    match position.is_check() {
        true => ply as i32 - MATE, // far fewer half-moves
        false => 0,
    }
}
