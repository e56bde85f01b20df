//! Near misses: the legal moves that a wrong word is closest to.

use super::rules::{landing, san_of};
use crate::notation::Letters;
use crate::notation::san::{Kind, Shape};
use shakmaty::{CastlingSide, Chess, Position, Square};

/// Most near misses that are offered.
const OFFERED: usize = 3;

/// Signs that may differ between a word and a near miss. Two wrong signs in a word of three
/// leave little of it, so nothing is offered beyond.
const FAR: usize = 2;

/// The legal moves close to a word.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Near {
    /// Their English SAN, closest first, at most three.
    pub moves: Vec<String>,
    /// The one legal move that differs from the word by one sign, where there is exactly one.
    pub certain: Option<String>,
}

/// The near misses of a word that is no legal move here; `shape` is what it says, as far as it
/// is a move at all.
pub fn near(position: &Chess, word: &str, shape: Option<&Shape>, check: &str) -> Near {
    let (typed, target) = match shape {
        Some(shape) => (english(shape, check), target(shape)),
        None => (word.to_owned(), None),
    };
    if typed.len() > 12 {
        return Near::default(); // longer than any move; the table below is quadratic
    }
    let mut ranked: Vec<(usize, u32, String)> = Vec::new();
    for &legal in &position.legal_moves() {
        let san = san_of(position, legal);
        let far = distance(typed.as_bytes(), san.as_bytes());
        if far > FAR {
            continue;
        }
        // Among equals the square that is nearer on the board.
        let apart = target.map_or(0, |square| square.distance(landing(legal)));
        let place = ranked.partition_point(|(one, other, _)| (*one, *other) <= (far, apart));
        ranked.insert(place, (far, apart, san));
    }
    let mut closest = ranked.iter().take_while(|(far, ..)| *far <= 1);
    let certain = match (closest.next(), closest.next()) {
        (Some((.., san)), None) => Some(san.clone()),
        _ => None,
    };
    ranked.truncate(OFFERED);
    Near {
        moves: ranked.into_iter().map(|(.., san)| san).collect(),
        certain,
    }
}

fn target(shape: &Shape) -> Option<Square> {
    match shape.kind {
        Kind::Piece { to, .. } => Some(to),
        _ => None,
    }
}

/// A shape in English SAN, as far as it goes.
fn english(shape: &Shape, check: &str) -> String {
    let mut text = String::new();
    match shape.kind {
        Kind::Castle(CastlingSide::KingSide) => text.push_str("O-O"),
        Kind::Castle(CastlingSide::QueenSide) => text.push_str("O-O-O"),
        Kind::Pass => text.push_str("--"),
        Kind::Piece {
            role,
            file,
            rank,
            to,
            promotion,
        } => {
            let letter = role.map(|role| Letters::ENGLISH.letter(role));
            text.extend(letter.filter(|&letter| letter != 'P'));
            text.extend(file.map(|file| file.char()));
            text.extend(rank.map(|rank| rank.char()));
            if shape.capture {
                text.push('x');
            }
            super::rules::push_square(&mut text, to);
            if let Some(role) = promotion {
                text.push('=');
                text.push(Letters::ENGLISH.letter(role));
            }
        }
    }
    text.push_str(check);
    text
}

/// How many signs are changed, left out, put in or swapped with their neighbour between two
/// words (optimal string alignment; Damerau 1964 names the four kinds of slip).
fn distance(one: &[u8], other: &[u8]) -> usize {
    let width = other.len() + 1;
    let mut before: Vec<usize> = vec![0; width];
    let mut last: Vec<usize> = (0..width).collect();
    for (row, sign) in one.iter().enumerate() {
        let mut now = vec![row + 1; width];
        for (column, wanted) in other.iter().enumerate() {
            let changed = last[column] + usize::from(sign != wanted);
            now[column + 1] = changed.min(last[column + 1] + 1).min(now[column] + 1);
            let swapped =
                row > 0 && column > 0 && *sign == other[column - 1] && one[row - 1] == *wanted;
            if swapped {
                now[column + 1] = now[column + 1].min(before[column - 1] + 1);
            }
        }
        before = core::mem::replace(&mut last, now);
    }
    last[width - 1]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notation::san;

    fn near_start(word: &str) -> Near {
        let read = san::read(word, Letters::ENGLISH);
        near(
            &Chess::default(),
            read.core,
            read.shape.as_ref(),
            read.check,
        )
    }

    #[test]
    fn four_kinds_of_slip_are_one_sign_apart() {
        for (one, other) in [
            ("Nf3", "Nf4"),
            ("Nf3", "Nbf3"),
            ("Nbd2", "Nd2"),
            ("Nf3", "N3f"),
        ] {
            assert_eq!(
                distance(one.as_bytes(), other.as_bytes()),
                1,
                "{one} {other}"
            );
        }
        assert_eq!(distance(b"e4", b"Nf3"), 3);
    }

    #[test]
    fn a_single_legal_move_one_sign_away_is_certain() {
        assert_eq!(near_start("Nff3").certain.as_deref(), Some("Nf3"));
        assert_eq!(near_start("Nf4").certain, None, "f4 is as close as Nf3");
        assert_eq!(near_start("Nd2").certain, None, "two signs away from all");
        assert_eq!(near_start("e9").certain, None, "e3 and e4 are as close");
    }

    #[test]
    fn what_is_far_from_every_move_has_no_near_miss() {
        assert_eq!(near_start("hello"), Near::default());
        assert_eq!(near_start("O-O-O"), Near::default());
    }
}
