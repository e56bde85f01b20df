//! Games that come to one position, whole.

use super::Results;
use super::apart;
use super::positions::Positions;
use super::reading::start;
use super::wanted::Header;
use crate::lesson::dots;
use crate::lesson::rules::{after, meant};
use pgn_reader::{Outcome, RawTag, Reader, SanPlus, Skip, Visitor};
use shakmaty::{Chess, Position};
use std::ops::ControlFlow;

/// A game that comes to the position.
#[derive(Clone, Debug)]
pub struct Game {
    pub header: Header,
    /// All its tags, as written.
    pub tags: Vec<(String, String)>,
    pub result: Results,
    /// Its moves in SAN, each with its number where White plays it; without comments and variations.
    pub moves: String,
    /// The move played at the position, numbered; none where the game ended.
    pub played: Option<String>,
    /// How many moves it has.
    pub count: usize,
}

/// The games of a text that come to the only one of some positions, in their order. Those with a move that
/// cannot be played are left out.
pub fn find(text: &[u8], wanted: &Positions, each: &mut dyn FnMut(Game)) {
    let mut finder = Finder { wanted };
    let mut rest = text;
    while !rest.is_empty() {
        let (one, after) = rest.split_at(apart::end(rest));
        let mut reader = Reader::new(one);
        // What the reader cannot go on from, a comment that is never closed, ends this game.
        while let Ok(Some(done)) = reader.read_game(&mut finder) {
            if let Some(game) = done.filter(|it| apart::is_read(one, it.count)) {
                each(game);
            }
        }
        rest = after;
    }
}

struct Finder<'a> {
    wanted: &'a Positions,
}

/// A game while it is followed.
struct Walk {
    game: Game,
    position: Chess,
    is_met: bool,
}

impl Visitor for Finder<'_> {
    type Tags = (Header, Vec<(String, String)>);
    type Movetext = Walk;
    type Output = Option<Game>;

    fn begin_tags(&mut self) -> ControlFlow<Option<Game>, Self::Tags> {
        ControlFlow::Continue(Default::default())
    }

    fn tag(
        &mut self,
        (header, tags): &mut Self::Tags,
        name: &[u8],
        value: RawTag<'_>,
    ) -> ControlFlow<Option<Game>> {
        let value = value.decode_utf8_lossy();
        header.take(name, &value);
        tags.push((
            String::from_utf8_lossy(name).into_owned(),
            value.into_owned(),
        ));
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, (header, tags): Self::Tags) -> ControlFlow<Option<Game>, Walk> {
        let Some(position) = start(&header).filter(|_| !header.is_variant) else {
            return ControlFlow::Break(None);
        };
        let is_met = self.wanted.find(&position).is_some();
        let unknown = Results {
            unknown: 1,
            ..Results::default()
        };
        let game = Game {
            result: header.result.unwrap_or(unknown),
            header,
            tags,
            moves: String::new(),
            played: None,
            count: 0,
        };
        ControlFlow::Continue(Walk {
            game,
            position,
            is_met,
        })
    }

    fn san(&mut self, walk: &mut Walk, san: SanPlus) -> ControlFlow<Option<Game>> {
        let Some(played) = meant(&walk.position, &san.san) else {
            return ControlFlow::Break(None);
        };
        let turn = walk.position.turn();
        let number = format!("{}{}", walk.position.fullmoves(), dots(turn));
        if walk.is_met && walk.game.played.is_none() {
            walk.game.played = Some(format!("{number}{san}"));
        }
        let is_first = walk.game.moves.is_empty();
        if !is_first {
            walk.game.moves.push(' ');
        }
        if turn.is_white() || is_first {
            walk.game.moves += &number;
            walk.game.moves.push(' ');
        }
        walk.game.moves += &san.to_string();
        walk.position = after(&walk.position, played);
        walk.game.count += 1;
        if !walk.is_met {
            if !self.wanted.may_come(&walk.position) {
                return ControlFlow::Break(None);
            }
            walk.is_met = self.wanted.find(&walk.position).is_some();
        }
        ControlFlow::Continue(())
    }

    fn begin_variation(&mut self, _: &mut Walk) -> ControlFlow<Option<Game>, Skip> {
        ControlFlow::Continue(Skip(true))
    }

    fn outcome(&mut self, walk: &mut Walk, outcome: Outcome) -> ControlFlow<Option<Game>> {
        if walk.game.header.result.is_none()
            && let Some(result) = Results::named(&outcome.to_string())
        {
            walk.game.result = result;
        }
        ControlFlow::Continue(())
    }

    fn end_game(&mut self, walk: Walk) -> Option<Game> {
        walk.is_met.then_some(walk.game)
    }
}
