//! A talk that begins elsewhere than it is taken to: what is asked, and the few moves after which alone its first moves
//! can be played.

use super::doubts::{Candidate, Doubt, Heard};
use super::reading::{Act, Manner};
use super::words::Saying;
use crate::lesson::rules::{after, landing, moves, san_of};
use crate::lesson::{numbered, position_key};
use crate::text::{Code, Finding};
use shakmaty::{Chess, Color, Move, Position};

/// How many sayings at the start are looked at, to see whether the talk begins elsewhere.
const FIRST: usize = 6;

/// The most half-moves that are guessed.
const MOST: usize = 4;
/// How many of the first moves that are said must be played in a row for a guess to be certain, and how many are tried:
/// the more of them, the fewer beginnings let all be played.
const SAID: [usize; 4] = [12, 10, 8, 6];

/// What was guessed.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Guess {
    /// The moves to where the talk begins.
    moves: Vec<Move>,
    /// How many of the first moves that are said can be played from there, one after the other.
    said: usize,
}

impl Heard<'_> {
    /// What is asked where the talk seems to begin elsewhere: its first sayings can be played nowhere, or only with moves
    /// between them that nobody says and another beginning does without.
    pub fn start(&self) -> Option<Doubt> {
        let all = self.said.sayings.iter().enumerate();
        let sure: Vec<(usize, &Saying)> = all.filter(|it| it.1.lean > 0.0).collect();
        let first = sure.get(..FIRST).unwrap_or(&sure);
        let act = |at: usize| self.read.acts.get(at);
        let lost = first.iter().filter(|it| act(it.0) == Some(&Act::Talk));
        let lost: Vec<&Saying> = lost.map(|it| it.1).collect();
        let is_lost = lost.len() >= 3 && lost.len() * 2 >= first.len();
        let mut helped = first.iter().filter(|it| match act(it.0) {
            Some(Act::Play { manner, .. }) => matches!(manner, Manner::Supplied(_)),
            _ => false,
        });
        let saying = match is_lost {
            true => lost.first().copied(),
            false => helped.next().map(|it| it.1),
        }?;
        let start = self.places.position(0);
        let guess = match self.is_begun() {
            true => None,
            false => {
                let sayings: Vec<&Saying> = sure.iter().map(|it| it.1).collect();
                beginning(start, &sayings)
            }
        };
        let guess = guess.map(|it| (names(start, &it.moves), it.said));
        let run = guess.as_ref().map(|(moves, said)| {
            let run = numbered((Color::White, 1), "...", moves);
            (run, *said)
        });
        let words = |it: &Saying| format!("\u{201c}{}\u{201d}", self.words(it));
        let which = lost.iter().map(|it| words(it)).collect();
        let which = crate::lesson::enumerate(which, "and");
        let message = match (is_lost, &run) {
            (true, None) => format!("of the first sayings these could not be placed: {which}"),
            (true, Some((run, said))) => format!(
                "of the first sayings these could not be placed: {which}; after {run} the first {said} can be played in \
                 a row, and after nothing else as short"
            ),
            (false, Some((run, said))) => format!(
                "the talk may begin elsewhere: after {run} its first {said} sayings can be played in a row, and after \
                 nothing else as short"
            ),
            (false, None) => return None,
        };
        let from = run.map_or_else(|| "1.e4 c5".to_owned(), |it| it.0);
        let mut finding = Finding::new(Code::BeginsElsewhere, self.span(saying), message)
            .with_help(format!(
                "say where the talk begins: --from \"{from}\", or a FEN"
            ));
        for other in lost.iter().skip(1) {
            finding = finding.with_related(self.span(other), "and this one".to_owned());
        }
        let candidates = guess.map(|(moves, _)| Candidate {
            at: Vec::new(),
            moves,
        });
        Some(Doubt {
            finding,
            time: Some(saying.at),
            said: self.about(saying),
            candidates: candidates.into_iter().collect(),
            taken: None,
            behind: self.draft.nodes.len(),
        })
    }

    /// Whether it was said where the talk begins.
    fn is_begun(&self) -> bool {
        let given = self.draft.nodes.iter().filter(|it| it.given).count();
        given > 1 || *self.places.position(0) != Chess::default()
    }
}

/// Moves in SAN.
fn names(start: &Chess, way: &[Move]) -> Vec<String> {
    let mut position = start.clone();
    let names = way.iter().map(|&it| {
        let san = san_of(&position, it);
        position = after(&position, it);
        san
    });
    names.collect()
}

/// The beginning that alone lets the first of these be played in a row, by the least half-moves that do; none where
/// several positions do, or nothing does. Moves that come to one position in another order are one beginning: of those
/// the one that begins nearest to the centre is told.
fn beginning(start: &Chess, sayings: &[&Saying]) -> Option<Guess> {
    for said in SAID {
        let Some(run) = sayings.get(..said) else {
            continue;
        };
        for count in 1..=MOST {
            let mut found = Vec::new();
            search(start, &mut Vec::new(), count, run, &mut found);
            let Some((first, position)) = found.first() else {
                continue;
            };
            let is_one = found
                .iter()
                .all(|it| position_key(&it.1) == position_key(position));
            let best = found.iter().map(|it| &it.0).min_by_key(|it| far(it));
            return is_one.then(|| Guess {
                moves: best.unwrap_or(first).clone(),
                said,
            });
        }
    }
    None
}

/// All ways of so many more moves after which the run can be played. Calls itself for each.
fn search(
    position: &Chess,
    way: &mut Vec<Move>,
    count: usize,
    run: &[&Saying],
    found: &mut Vec<(Vec<Move>, Chess)>,
) {
    if count == 0 {
        if plays(position, run) {
            found.push((way.clone(), position.clone()));
        }
        return;
    }
    for played in moves(position) {
        way.push(played);
        search(&after(position, played), way, count - 1, run, found);
        way.pop();
    }
}

/// Whether each of these is one move, played after those before it, by the side and with the number that are named.
fn plays(position: &Chess, run: &[&Saying]) -> bool {
    let mut position = position.clone();
    run.iter().all(|saying| {
        let side = saying.side.is_none_or(|it| it == position.turn());
        let number = saying
            .number
            .is_none_or(|it| it == position.fullmoves().get());
        if !side || !number {
            return false;
        }
        let [only] = *saying.shape.fits(&position, &moves(&position)) else {
            return false;
        };
        position = after(&position, only);
        true
    })
}

/// How far from the centre moves come to stand, one after the other.
fn far(way: &[Move]) -> Vec<u32> {
    let from_centre = |it: &Move| {
        let square = landing(*it);
        let of = |at: u32| (2 * at).abs_diff(7);
        of(square.file() as u32) + of(square.rank() as u32)
    };
    way.iter().map(from_centre).collect()
}
