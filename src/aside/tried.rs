//! The move that is asked about, and the captures that it may be an answer to.

use crate::lesson::rules::{self, after, moves};
use crate::text::split;
use shakmaty::san::San;
use shakmaty::{Chess, Move};

/// A legal move that the lesson does not hold.
#[derive(Clone, Debug)]
pub struct Aside {
    /// The position from which material is compared: before the move, or before the captures on one square to which it
    /// may be an answer. Who takes back wins nothing, and who does not loses what was taken.
    pub since: Chess,
    /// The position right before the move.
    pub before: Chess,
    /// The moves from `since` to the one that is asked about, which is the last.
    pub moves: Vec<Move>,
    /// The position after it.
    pub position: Chess,
}

impl Aside {
    /// Whether there is something to search: the other side has a reply.
    pub fn goes_on(&self) -> bool {
        !moves(&self.position).is_empty()
    }
}

/// Reads what the page knows of an aside: the FEN of the position before the first of some moves, and the moves in English
/// SAN, with a NUL between. The last is the one that is asked about.
///
/// None where one of them cannot be read or is not legal: a position that cannot arise, or a pass.
pub fn aside(written: &str) -> Option<Aside> {
    let mut words = split(written, 0);
    let mut way = vec![(rules::fen::position(words.next()?)?, None)];
    for word in words.filter(|it| !it.is_empty()) {
        let (position, _) = way.last()?;
        let word = word.trim_end_matches(['+', '#']);
        let san = San::from_ascii(word.as_bytes()).ok()?;
        let meant = rules::meant(position, &san)?;
        let next = after(position, meant);
        way.push((next, Some(meant)));
    }
    let (position, asked) = way.pop()?;
    let mut played = vec![asked?];
    let before = way.last()?.0.clone();
    // Back through the captures on one square that led here.
    let mut square = None;
    while let Some((_, Some(earlier))) = way.last() {
        let is_one = earlier.is_capture() && square.is_none_or(|it| it == earlier.to());
        if !is_one {
            break;
        }
        square = Some(earlier.to());
        played.insert(0, *earlier);
        way.pop();
    }
    let (since, _) = way.pop()?;
    Some(Aside {
        since,
        before,
        moves: played,
        position,
    })
}
