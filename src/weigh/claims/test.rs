//! A claim against a search, or against the board.

use super::phrase::{Claim, PinnedTo};
use super::subject::Asked;
use crate::lesson::reason::phrases::side;
use crate::lesson::rules::{after, landing, moves};
use crate::lesson::shields;
use crate::search::{
    Deepest, Leaf, MATE, MATES, Search, balance, balance_of, captures_on, deepest, value, worth,
};
use crate::weigh::force::{DEEP, HALF, PAWN, PIECE, What, is_ahead, lost};
use crate::weigh::tell::{line, searched, telling};
use shakmaty::{Bitboard, Chess, Color, Move, Position, Role, Square};

/// What became of a claim.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// What is shown instead, in words.
    Contradicted(String),
    /// It may be so, and nothing shows it: how far it was searched.
    NotFound(String),
    /// It is so, or nobody can say.
    Open,
}

/// What becomes of a claim; only for a report it is searched whether something shows it.
pub fn tested(asked: &Asked, budget: u64, is_report: bool) -> Outcome {
    let mover = asked.before.turn();
    let who = asked.side.unwrap_or(mover);
    let moved_to = landing(asked.played);
    let role_of_moved = asked.after.board().role_at(moved_to);
    match asked.claim {
        Claim::Wins(amount) => material(asked, who, amount, budget, is_report),
        Claim::Loses(amount) => material(asked, who.other(), amount, budget, is_report),
        Claim::Mate(moves) => mate(asked, moves, budget),
        Claim::OnlyMove => only_move(asked, budget),
        Claim::OnlyLegalMove => only_legal_move(asked),
        Claim::NotTaken(square) => not_taken(asked, square.unwrap_or(moved_to), budget),
        Claim::NotTakenOf(role) if role_of_moved == Some(role) => {
            not_taken(asked, moved_to, budget)
        }
        Claim::NotTakenOf(_) => Outcome::Open,
        Claim::Pinned(role, square, to) => pinned(asked, role, square, to),
    }
}

/// A side is said to win so much by a move: contradicted where the other side does. What it had before is the material
/// then, or in the middle of a trade what it had in the end.
fn material(asked: &Asked, winner: Color, amount: i32, budget: u64, is_report: bool) -> Outcome {
    let mut before = balance_of(&asked.before, winner);
    if asked.in_trade {
        let traded = value(&asked.before, 0, Leaf::Quiet);
        before = before.min(match asked.before.turn() == winner {
            true => traded,
            false => -traded,
        });
    }
    let other = winner.other();
    if let Some(shown) = is_ahead(&asked.after, other, PAWN - before, budget) {
        let start = &asked.after;
        return Outcome::Contradicted(match shown.what {
            What::Mate(count) => {
                let moves = line(start, &shown.line);
                format!("{} mates in {count}: {moves}", side(other))
            }
            What::Material(_) => {
                let moves = telling(start, &shown.line);
                format!(
                    "{} wins material by force{moves} ({})",
                    side(other),
                    searched(shown.depth)
                )
            }
        });
    }
    if !is_report {
        return Outcome::Open;
    }
    let Deepest { value, depth, .. } = deepest(&asked.after, budget);
    let value = if asked.after.turn() == winner {
        value
    } else {
        -value
    };
    match value >= before + amount - HALF {
        true => Outcome::Open,
        false => Outcome::NotFound(format!("not found to {depth} half-moves")),
    }
}

/// Contradicted where a full search finds no mate in so many moves, of either side.
fn mate(asked: &Asked, moves: u32, budget: u64) -> Outcome {
    let depth = 2 * moves;
    let mut search = Search::new(budget, Leaf::Quiet);
    let mut value = 0;
    for depth in 1..=depth {
        let mut line = Vec::new();
        match search.whole(&asked.after, depth, 0, (-MATE, MATE), &mut line) {
            Ok(found) => value = found,
            Err(_) => return Outcome::NotFound(format!("not found to {} half-moves", depth - 1)),
        }
    }
    let plies = u32::try_from(MATE - value.abs()).unwrap_or(u32::MAX);
    match value.abs() >= MATES && plies <= depth {
        true => Outcome::Open,
        false => Outcome::Contradicted(format!(
            "there is no mate in {moves}: every move was tried {depth} half-moves deep"
        )),
    }
}

/// Contradicted only by one other move that loses nothing, where every third move loses a piece.
fn only_move(asked: &Asked, budget: u64) -> Outcome {
    let position = &asked.before;
    let mut second: Option<Move> = None;
    for played in moves(position) {
        if played == asked.played || lost(position, played, PIECE, budget / 4).is_some() {
            continue;
        }
        if second.is_some() {
            return Outcome::Open;
        }
        second = Some(played);
    }
    let Some(other) = second else {
        return Outcome::Open;
    };
    match is_sure(position, other, balance(position), budget) {
        true => Outcome::Contradicted(format!(
            "{} loses nothing by force either ({})",
            line(position, &[other]),
            searched(DEEP)
        )),
        false => Outcome::Open,
    }
}

/// Whether a move comes to so much, in hundredths of a pawn, at every depth to [`DEEP`]; false where that was not searched.
fn is_sure(position: &Chess, played: Move, least: i32, budget: u64) -> bool {
    let mut search = Search::new(budget, Leaf::Quiet);
    (1..=DEEP).all(|depth| {
        let found = search.of_move(position, played, depth, (least - 1, least));
        found.is_ok_and(|(value, _)| value >= least)
    })
}

/// Contradicted by any other legal move.
fn only_legal_move(asked: &Asked) -> Outcome {
    let mut all = moves(&asked.before).into_iter();
    match all.find(|it| *it != asked.played) {
        Some(other) => {
            Outcome::Contradicted(format!("{} is legal too", line(&asked.before, &[other])))
        }
        None => Outcome::Open,
    }
}

/// Contradicted where a capture on a square keeps what it takes.
fn not_taken(asked: &Asked, square: Square, budget: u64) -> Outcome {
    let position = &asked.after;
    let taken = position.board().piece_at(square);
    let Some(role) = taken
        .filter(|it| it.color != position.turn())
        .map(|it| it.role)
    else {
        return Outcome::Open;
    };
    let side = position.turn();
    let wanted = balance(position) + worth(role) - HALF;
    for capture in captures_on(position, square) {
        let next = after(position, capture);
        if let Some(shown) = is_ahead(&next, side, wanted, budget) {
            return Outcome::Contradicted(format!(
                "{} keeps what it takes ({})",
                line(position, &[capture]),
                searched(shown.depth)
            ));
        }
    }
    Outcome::Open
}

/// Contradicted where no piece of that kind stands alone before the king, or, unless it is said to be pinned to the king,
/// before a man of its side that is worth as much.
fn pinned(asked: &Asked, role: Role, square: Option<Square>, to: PinnedTo) -> Outcome {
    let all = [&asked.before, &asked.after];
    let stands = |it: &Chess| {
        let men = it.board().by_role(role);
        square.map_or(men.any(), |square| men.contains(square))
    };
    if !stands(&asked.after) || all.into_iter().any(|it| is_pinned(it, role, square, to)) {
        return Outcome::Open;
    }
    Outcome::Contradicted(
        match to {
            PinnedTo::King => "nothing attacks its king through it",
            PinnedTo::Any => "nothing attacks its king, or a man that is worth as much, through it",
        }
        .to_owned(),
    )
}

fn is_pinned(position: &Chess, role: Role, square: Option<Square>, to: PinnedTo) -> bool {
    let board = position.board();
    let men = board.by_role(role) & square.map_or(Bitboard::FULL, Bitboard::from);
    let is_more = |it: Square| {
        let other = board.role_at(it);
        other
            .is_some_and(|it| it == Role::King || (to == PinnedTo::Any && worth(it) >= worth(role)))
    };
    Color::ALL.into_iter().any(|own| {
        let (own_men, by) = (men & board.by_color(own), board.by_color(own.other()));
        let mut behind = board.by_color(own).into_iter().filter(|it| is_more(*it));
        behind.any(|it| !shields(board, own_men, it, by).is_empty())
    })
}
