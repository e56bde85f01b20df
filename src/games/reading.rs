//! Games of a text, by crate pgn-reader: which positions of a lesson each meets, with the move that it
//! played there.

use super::Results;
use super::apart::{self, Moves};
use super::positions::Positions;
use super::wanted::{Header, Wanted};
use crate::lesson::dots;
use crate::lesson::rules::{after, meant};
use pgn_reader::{Outcome, RawTag, Reader, SanPlus, Skip, Visitor};
use shakmaty::fen::Fen;
use shakmaty::{CastlingMode, Chess, Move, Position};
use std::ops::ControlFlow;

/// What a game met.
#[derive(Clone, Debug, Default)]
pub struct Met {
    pub result: Results,
    /// The numbers of the positions, each at its first visit, with the move then played; none where the
    /// game ended.
    pub positions: Vec<(usize, Option<Move>)>,
    /// After how many moves it could not come back to the lesson; none if it could to its end.
    pub left_after: Option<usize>,
    /// A number for its players, date and moves, where that was wanted.
    pub same: Option<u128>,
}

/// A game that cannot be read or played as far as it matters.
#[derive(Clone, Debug)]
pub struct Damage {
    pub header: Header,
    pub why: Why,
    /// The byte of the text at which that is seen, or at which the game begins; none if it is not known.
    pub at: Option<usize>,
}

/// What is amiss with a game.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// Its tag with the position in which it begins.
    Start,
    /// This move, which cannot be played: `2.Ke3`.
    Move(String),
    /// This word, which is no move.
    Word(String),
    /// The text ends inside it.
    Cut,
}

/// What became of a game.
#[derive(Clone, Debug)]
pub enum Read {
    /// Left out, by its tags.
    Left,
    Damaged(Damage),
    Counted(Header, Met),
}

/// Reads the games of a text, in their order. `is_last` says that the input ends after it.
pub fn read(
    text: &[u8],
    positions: &Positions,
    wanted: &Wanted,
    is_last: bool,
    each: &mut dyn FnMut(Read),
) {
    let mut rest = text;
    while !rest.is_empty() {
        let (game, after) = rest.split_at(apart::end(rest));
        let mut walker = Walker {
            positions,
            wanted,
            is_last: is_last && after.is_empty(),
            header: Header::default(),
            is_open: false,
        };
        walker.read(game, text.len() - rest.len(), each);
        rest = after;
    }
}

/// A game as far as it was read.
enum Done {
    Left,
    /// With the moves that were played before.
    Damaged(Header, Why, usize),
    /// With whether the text says how it ended.
    Walked(Header, Met, bool),
}

impl Done {
    /// What became of it. `text` is that of the game and begins at the byte `from`, if it has no other before it;
    /// `is_end` says that nothing follows: then a game that does not say how it ended is cut off.
    fn read(self, is_end: bool, text: Option<(usize, &[u8])>) -> Read {
        let start = text.map(|(from, _)| from);
        // The reader passes over words that are no moves.
        let other = |up_to| match text.map(|(from, text)| (from, apart::moves(text, up_to))) {
            Some((from, Moves::Other(at, word))) => Err((Some(from + at), word)),
            Some((from, Moves::Until(at))) => Ok(Some(from + at)),
            _ => Ok(start),
        };
        let (header, why, at) = match self {
            Done::Left => return Read::Left,
            Done::Damaged(header, why @ Why::Move(_), moves) => match other(Some(moves + 1)) {
                Ok(_) => (header, why, other(Some(moves)).unwrap_or(start)),
                Err((at, word)) => (header, Why::word(word), at),
            },
            Done::Damaged(header, why, _) => (header, why, start),
            Done::Walked(header, _, false) if is_end => (header, Why::Cut, start),
            Done::Walked(header, met, _) => match other(met.left_after) {
                Ok(_) => return Read::Counted(header, met),
                Err((at, word)) => (header, Why::word(word), at),
            },
        };
        Read::Damaged(Damage { header, why, at })
    }
}

impl Why {
    fn word(word: &[u8]) -> Why {
        // Longer ones are no slips of a move.
        let word = word.get(..20).unwrap_or(word);
        Why::Word(String::from_utf8_lossy(word).into_owned())
    }
}

struct Walker<'a> {
    positions: &'a Positions,
    wanted: &'a Wanted,
    is_last: bool,
    /// The tags of the game that is read.
    header: Header,
    /// Whether nothing has been said of that game yet.
    is_open: bool,
}

/// A game while it is followed.
struct Walk {
    /// None once it cannot come back to the lesson.
    position: Option<Chess>,
    met: Met,
    /// How many moves were played.
    moves: usize,
    /// Whether the position that was met last waits for the move that is played there.
    is_waiting: bool,
    is_ended: bool,
}

impl Walker<'_> {
    /// Reads the text of one game, which begins at the byte `from`; what comes after an empty line among its moves is
    /// another.
    fn read(&mut self, text: &[u8], from: usize, each: &mut dyn FnMut(Read)) {
        let mut reader = Reader::new(text);
        let mut first = Some((from, text));
        loop {
            match reader.read_game(self) {
                Ok(None) => return,
                Ok(Some(done)) => {
                    self.is_open = false;
                    let is_end = self.is_last && !matches!(reader.has_more(), Ok(true));
                    each(done.read(is_end, first.take()));
                }
                // A comment that is never closed: the text ends inside this game.
                Err(_) if self.is_open => {
                    return each(Read::Damaged(Damage {
                        header: std::mem::take(&mut self.header),
                        why: Why::Cut,
                        at: first.map(|(from, _)| from),
                    }));
                }
                Err(_) => return,
            }
        }
    }

    /// Notes the position that a game has come to.
    fn arrive(&self, walk: &mut Walk) {
        let Some(position) = &walk.position else {
            return;
        };
        if let Some(number) = self.positions.find(position)
            && walk.met.positions.iter().all(|(met, _)| *met != number)
        {
            walk.met.positions.push((number, None));
            walk.is_waiting = true;
        }
    }

    /// A game that needs no more reading.
    fn finish(&mut self, walk: &mut Walk) -> Done {
        let header = std::mem::take(&mut self.header);
        let mut met = std::mem::take(&mut walk.met);
        let unknown = Results {
            unknown: 1,
            ..Results::default()
        };
        met.result = header.result.unwrap_or(unknown);
        Done::Walked(header, met, walk.is_ended)
    }
}

impl Visitor for Walker<'_> {
    type Tags = ();
    type Movetext = Walk;
    type Output = Done;

    fn begin_tags(&mut self) -> ControlFlow<Done> {
        self.header = Header::default();
        self.is_open = true;
        ControlFlow::Continue(())
    }

    fn tag(&mut self, _: &mut (), name: &[u8], value: RawTag<'_>) -> ControlFlow<Done> {
        self.header.take(name, &value.decode_utf8_lossy());
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, (): ()) -> ControlFlow<Done, Walk> {
        let header = &self.header;
        if !self.wanted.takes(header) {
            return ControlFlow::Break(Done::Left);
        }
        let Some(position) = start(header) else {
            let header = std::mem::take(&mut self.header);
            return ControlFlow::Break(Done::Damaged(header, Why::Start, 0));
        };
        let same = self.wanted.once.then(|| {
            let names = [&header.white, &header.black, &header.date];
            names
                .into_iter()
                .fold(START, |hash, name| hashed(hash, name.bytes().chain([0])))
        });
        let mut walk = Walk {
            position: Some(position),
            met: Met {
                same,
                ..Met::default()
            },
            moves: 0,
            is_waiting: false,
            is_ended: false,
        };
        self.arrive(&mut walk);
        ControlFlow::Continue(walk)
    }

    fn san(&mut self, walk: &mut Walk, san: SanPlus) -> ControlFlow<Done> {
        if let Some(same) = &mut walk.met.same {
            *same = hashed(*same, san.san.to_string().bytes().chain([0]));
        }
        let Some(position) = &mut walk.position else {
            return ControlFlow::Continue(());
        };
        let Some(played) = meant(position, &san.san) else {
            let number = format!("{}{}", position.fullmoves(), dots(position.turn()));
            let why = Why::Move(format!("{number}{san}"));
            let header = std::mem::take(&mut self.header);
            return ControlFlow::Break(Done::Damaged(header, why, walk.moves));
        };
        *position = after(position, played);
        walk.moves += 1;
        let may_come = self.positions.may_come(position);
        if std::mem::take(&mut walk.is_waiting)
            && let Some((_, next)) = walk.met.positions.last_mut()
        {
            *next = Some(played);
        }
        if may_come {
            self.arrive(walk);
            return ControlFlow::Continue(());
        }
        // Men never come back: the rest is not read, but for how the game ended where no tag says it.
        walk.position = None;
        walk.met.left_after = Some(walk.moves);
        let is_done = self.header.result.is_some() && !self.is_last && !self.wanted.once;
        match is_done {
            true => ControlFlow::Break(self.finish(walk)),
            false => ControlFlow::Continue(()),
        }
    }

    fn begin_variation(&mut self, _: &mut Walk) -> ControlFlow<Done, Skip> {
        ControlFlow::Continue(Skip(true))
    }

    fn outcome(&mut self, walk: &mut Walk, outcome: Outcome) -> ControlFlow<Done> {
        walk.is_ended = true;
        let header = &mut self.header;
        header.result = header
            .result
            .or_else(|| Results::named(&outcome.to_string()));
        ControlFlow::Continue(())
    }

    fn end_game(&mut self, mut walk: Walk) -> Done {
        self.finish(&mut walk)
    }
}

/// The position in which a game begins; none if its tag cannot be read.
pub fn start(header: &Header) -> Option<Chess> {
    let Some(fen) = &header.fen else {
        return Some(Chess::default());
    };
    let fen: Fen = fen.parse().ok()?;
    fen.into_position(CastlingMode::Standard).ok()
}

/// The hash of nothing: FNV-1a, 128 bits.
const START: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;

/// A hash with these bytes after those before.
fn hashed(hash: u128, bytes: impl Iterator<Item = u8>) -> u128 {
    bytes.fold(hash, |hash, byte| {
        (hash ^ u128::from(byte)).wrapping_mul(0x0000_0000_0100_0000_0000_0000_0000_013b)
    })
}
