//! What a move loses by force, and what was to be had instead.

use crate::search::{DEEPEST, Leaf, MATE, MATES, Search, Spent, balance, mate};
use shakmaty::{Chess, Color, Move, Position};

/// What is lost or to be had, and the moves that show it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    pub what: What,
    /// The value for the side that plays the line: material in hundredths of a pawn, or mate.
    pub value: i32,
    pub line: Vec<Move>,
    /// How many half-moves deep every move was tried; after that captures, promotions and answers to check.
    pub depth: u32,
}

/// Material, or mate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// In hundredths of a pawn; of what a move loses at most a piece is told apart.
    Material(i32),
    /// In so many moves of the side that mates.
    Mate(i32),
}

impl What {
    /// What a value of a search means: mate, else so much material.
    fn of(value: i32, material: i32) -> What {
        match mate(value) {
            Some(moves) => What::Mate(moves.abs()),
            None => What::Material(material),
        }
    }
}

/// A piece, in hundredths of a pawn.
pub const PIECE: i32 = 300;
/// What is said of a move that loses less than a piece is a hint, from here on.
pub const TWO_PAWNS: i32 = 200;
/// Less is not even reported.
pub const PAWN: i32 = 100;
/// So much less comes to the same.
pub const HALF: i32 = 50;

/// A move is looked at to this depth, and searched on if it is suspected.
const SCAN: u32 = 5;
/// A suspicion must hold at these depths, for sacrifices for a while are common (rules of weighing).
const HELD: [u32; 2] = [4, 5];
/// And at the deepest, which must be at least this.
pub const DEEP: u32 = 7;
/// A look is this part of the budget.
const LOOK: u64 = 100;
/// But so many positions at least.
const LEAST_LOOK: u64 = 2_000;

/// A search to depth after depth: what holds at each is asked by `holds`. None where it does not hold at the
/// depths that count, or the budget was spent before.
fn held(
    budget: u64,
    mut holds: impl FnMut(&mut Search, u32) -> Result<Option<Shown>, Spent>,
) -> Option<Shown> {
    if !is_suspected((budget / LOOK).max(LEAST_LOOK), &mut holds) {
        return None;
    }
    let mut search = Search::new(budget, Leaf::Quiet);
    let mut last = None;
    // What is lost is what holds at all of these.
    let mut least = i32::MAX;
    for depth in 1..=DEEPEST {
        let shown = holds(&mut search, depth);
        if let Ok(Some(Shown {
            what: What::Material(it),
            ..
        })) = &shown
            && HELD.contains(&depth)
        {
            least = least.min(*it);
        }
        match shown {
            Err(Spent) => break,
            // What is mate is mate, however deep one looks.
            Ok(Some(shown)) if matches!(shown.what, What::Mate(_)) => return Some(shown),
            Ok(None) if HELD.contains(&depth) => return None,
            Ok(shown) => last = shown.map(|it| (depth, it)),
        }
    }
    let (_, mut shown) = last.filter(|(depth, _)| *depth >= DEEP)?;
    if let What::Material(it) = &mut shown.what {
        *it = (*it).min(least);
    }
    Some(shown)
}

/// Whether a short search to depth after depth ends with something.
fn is_suspected(
    budget: u64,
    holds: &mut impl FnMut(&mut Search, u32) -> Result<Option<Shown>, Spent>,
) -> bool {
    let mut look = Search::new(budget, Leaf::Quiet);
    let mut suspected = false;
    for depth in 2..=SCAN {
        match holds(&mut look, depth) {
            Ok(shown) => suspected = shown.is_some(),
            Err(Spent) => break,
        }
    }
    suspected
}

/// What a move loses by force that another does not, from `least` hundredths of a pawn on.
///
/// The move leaves its side with at least that much less material than there is on the board, and at least that
/// much less than the best move does; both are searched to the same depth.
pub fn lost(position: &Chess, played: Move, least: i32, budget: u64) -> Option<Shown> {
    let now = balance(position);
    held(budget, |search, depth| {
        let (value, line) = search.of_move(position, played, depth, (-MATE, now - least + 1))?;
        if value > now - least {
            return Ok(None);
        }
        let mut other = Vec::new();
        if value <= -MATES {
            let best = search.whole(position, depth, 0, (-MATES, 1 - MATES), &mut other)?;
            let shown = Shown {
                what: What::of(value, 0),
                value,
                line,
                depth,
            };
            return Ok((best > -MATES).then_some(shown));
        }
        let wanted = (value + least - 1, value + PIECE);
        let best = search.whole(position, depth, 0, wanted, &mut other)?;
        let lost = (best - value).min(now - value);
        Ok((lost >= least).then_some(Shown {
            what: What::Material(lost),
            value,
            line,
            depth,
        }))
    })
}

/// What the side to move has by force here, from `least` hundredths of a pawn on.
pub fn to_be_had(position: &Chess, least: i32, budget: u64) -> Option<Shown> {
    let now = balance(position);
    held(budget, |search, depth| {
        let mut line = Vec::new();
        let value = search.whole(position, depth, 0, (now + least - 1, MATE), &mut line)?;
        Ok((value >= now + least).then_some(Shown {
            what: What::of(value, value - now),
            value,
            line,
            depth,
        }))
    })
}

/// Whether a side has so much more than the other by force, in hundredths of a pawn, or mates.
pub fn is_ahead(position: &Chess, side: Color, least: i32, budget: u64) -> Option<Shown> {
    let is_own = position.turn() == side;
    let window = match is_own {
        true => (least - 1, MATE),
        false => (-MATE, 1 - least),
    };
    held(budget, |search, depth| {
        let mut line = Vec::new();
        let value = search.whole(position, depth, 0, window, &mut line)?;
        let ahead = if is_own { value } else { -value };
        Ok((ahead >= least).then_some(Shown {
            what: What::of(value, ahead),
            value,
            line,
            depth,
        }))
    })
}

/// Whether a move comes to a value at least, searched to a depth. True where the budget does not tell.
pub fn comes_to(position: &Chess, played: Move, least: i32, depth: u32, budget: u64) -> bool {
    let mut search = Search::new(budget, Leaf::Quiet);
    let mut is_enough = true;
    for depth in 1..=depth.max(1) {
        match search.of_move(position, played, depth, (least - 1, least)) {
            Ok((value, _)) => is_enough = value >= least,
            Err(Spent) => return true,
        }
    }
    is_enough
}
