//! Where words name a move: a piece with a square, a square, castling, "takes", notation.

use super::language::{Language, Sound};
use super::token::{End, Token, square};
use crate::talk::shape::Shape;
use crate::talk::weights::{self, Kind};
use shakmaty::{File, Rank, Role, Square};

/// A move that is named, and how.
#[derive(Clone, Debug, PartialEq)]
pub struct Named {
    /// What was said of the move.
    pub shape: Shape,
    /// One past its last token.
    pub to: usize,
    /// What the sounds take from the log-odds; 0 where every word is its own.
    pub sound: f32,
    /// Whether it says where a piece is: "the knight on f3".
    pub stands: bool,
    /// Whether its word is that of a move played: "takes", and not "taking".
    pub acts: bool,
    /// Whether "to" comes between a piece and its square, and not where the piece comes from.
    pub goes: bool,
}

impl Named {
    /// The log-odds that it is a move, by its own words.
    pub fn lean(&self) -> f32 {
        let shape = &self.shape;
        let kind = match () {
            () if shape.castles.is_some() => Kind::Castles,
            () if shape.takes && shape.to.is_some() => Kind::TakesThere,
            () if shape.takes && (shape.role.is_some() || shape.file.is_some()) => Kind::TakesBy,
            () if shape.takes => Kind::Takes,
            () if shape.to.is_none() => Kind::Checks,
            () if shape.role == Some(Role::Pawn) => Kind::Pawn,
            () => Kind::Piece,
        };
        let stands = if self.stands { weights::STANDS } else { 0.0 };
        let acts = if self.acts { 0.0 } else { weights::NO_ACT };
        weights::own(kind) + self.sound + stands + acts
    }
}

/// Reads names of moves in tokens.
#[derive(Clone, Copy)]
pub struct Reader<'a> {
    /// All tokens of a talk.
    pub tokens: &'a [Token],
    /// Its language.
    pub language: &'a Language,
    /// Whether squares are mostly written as words, so that words which sound like them are none the less squares.
    pub spelled: bool,
    /// Whether "to" mostly comes between a piece and its square, so that it tells nothing.
    pub says_to: bool,
}

impl<'a> Reader<'a> {
    /// The move that is named from this token on.
    pub fn named(&self, at: usize) -> Option<Named> {
        let token = self.tokens.get(at)?;
        let found = self
            .castling(at)
            .or_else(|| self.notation(at, token))
            .or_else(|| self.of_piece(at))
            .or_else(|| self.of_square(at))
            .or_else(|| self.of_file(at))
            .or_else(|| self.taking(at, Shape::default()))
            .or_else(|| self.check_on(at))?;
        let mut named = self.ended(found);
        named.acts |= self.is_done(at);
        Some(named)
    }

    /// Whether a verb here has a subject of which it tells that it acts: "we take", and not "can we take".
    fn is_done(&self, at: usize) -> bool {
        let text = |back: usize| {
            let token = at.checked_sub(back).and_then(|it| self.tokens.get(it));
            token.map_or("", |it| it.text.as_str())
        };
        !self.word(at).is_empty()
            && self.language.plural.contains(&text(1))
            && !self.language.asks.contains(&text(2))
    }

    /// Whether a square is written as words here, and surely.
    pub fn is_spelled(&self, at: usize) -> bool {
        let found = self.square(at, false);
        found.is_some_and(|(_, to, sound)| to == at + 2 && sound == 0.0)
    }

    /// The word of a token that goes on from the one before it, in the same sentence; else nothing.
    pub(super) fn word(&self, at: usize) -> &'a str {
        let goes_on = at > 0
            && self
                .tokens
                .get(at - 1)
                .is_some_and(|it| it.end != End::Sentence);
        match self.tokens.get(at) {
            Some(token) if goes_on => &token.text,
            _ => "",
        }
    }

    pub(super) fn piece(&self, at: usize) -> Option<Role> {
        let token = self.tokens.get(at).filter(|it| !it.owns)?;
        let mut list = self.language.pieces.iter();
        list.find(|it| it.0 == token.text).map(|it| it.1)
    }

    /// Whether something is done to the piece: "asks the bishop".
    fn is_object(&self, at: usize) -> bool {
        let article = at.checked_sub(1).filter(|it| self.is_article(*it));
        let verb = article.and_then(|it| self.tokens.get(it.checked_sub(1)?));
        verb.is_some_and(|it| self.language.done_to.contains(&it.text.as_str()))
    }

    pub(super) fn is_plural(&self, at: usize) -> bool {
        self.tokens.get(at).is_some_and(|it| it.text.ends_with('s'))
    }

    pub(super) fn file(&self, at: usize) -> Option<(File, Sound)> {
        let token = self.tokens.get(at)?;
        let mut list = self.language.files.iter();
        list.find(|it| it.0 == token.text).map(|it| (it.1, it.2))
    }

    fn rank(&self, at: usize) -> Option<(Rank, Sound)> {
        let word = self.word(at);
        let raw = self.tokens.get(at).map_or("", |it| it.raw.as_str());
        let (number, sound) = match word.as_bytes() {
            [digit @ b'1'..=b'8'] if !raw.ends_with('.') => (u32::from(digit - b'0'), Sound::Clear),
            _ => {
                let mut list = self.language.ranks.iter();
                list.find(|it| it.0 == word && it.1 <= 8)
                    .map(|it| (it.1, it.2))?
            }
        };
        Some((Rank::new(number - 1), sound)) // from 1 to 8
    }

    /// A square, one past its end, and what its sounds cost. After a piece even words that are often said
    /// otherwise are one.
    pub(super) fn square(&self, at: usize, after_piece: bool) -> Option<(Square, usize, f32)> {
        if let Some(found) = square(&self.tokens.get(at)?.text) {
            return Some((found, at + 1, 0.0));
        }
        let (file, one) = self.file(at)?;
        let (rank, other) = self.rank(at + 1)?;
        if !after_piece {
            // "the four", "he to", "if five" name nothing by themselves.
            if self.is_other(at) || (one == Sound::Far && other == Sound::Far) {
                return None;
            }
        }
        if other == Sound::Far
            && (self.is_square(at + 2) || self.word(at + 1) == "to" && !after_piece)
        {
            return None; // "b to d2"
        }
        let cost = match after_piece {
            true => weights::SOUND_AFTER_PIECE,
            false => self.sounds(),
        };
        let sum = cost[one as usize] + cost[other as usize]; // three sounds, three costs
        Some((Square::from_coords(file, rank), at + 2, sum))
    }

    fn sounds(&self) -> [f32; 3] {
        match self.spelled {
            true => weights::SOUND_SPELLED,
            false => weights::SOUND,
        }
    }

    /// Whether a word that sounds like a file is mostly another word.
    fn is_other(&self, at: usize) -> bool {
        let word = self.tokens.get(at).map_or("", |it| it.text.as_str());
        self.language.rarely.contains(&word)
    }

    /// Whether it comes after a word that makes it a verb: "usually see".
    fn is_verb(&self, at: usize) -> bool {
        let before = at.checked_sub(1).map_or("", |it| self.word(it));
        self.language.does.contains(&before)
    }

    fn is_square(&self, at: usize) -> bool {
        self.square(at, false)
            .is_some_and(|it| it.2 > self.sounds()[2])
    }

    pub(super) fn takes(&self, at: usize) -> Option<bool> {
        let word = self.tokens.get(at)?;
        let mut list = self.language.takes.iter();
        list.find(|it| it.0 == word.text).map(|it| it.1)
    }

    pub(super) fn is_article(&self, at: usize) -> bool {
        self.language.articles.contains(&self.word(at))
    }

    pub(super) fn made(shape: Shape, to: usize) -> Named {
        Named {
            shape,
            to,
            sound: 0.0,
            stands: false,
            acts: true,
            goes: false,
        }
    }

    /// "knight f3", "knight b to d2", "bishop takes on c6", "pawn takes", "queen check".
    fn of_piece(&self, at: usize) -> Option<Named> {
        let role = self
            .piece(at)
            .filter(|_| !self.is_plural(at) && !self.is_object(at))?;
        let mut shape = Shape {
            role: Some(role),
            ..Shape::default()
        };
        let (mut next, mut stands, mut goes) = (at + 1, false, false);
        for _ in 0..4 {
            let word = self.word(next);
            if word.is_empty() {
                return None;
            }
            if self.takes(next).is_some() {
                return self.taking(next, shape);
            }
            // "knight ge7"
            let more = self
                .tokens
                .get(next)
                .filter(|it| it.text.len() == 3 && it.text.is_ascii());
            if let Some(more) = more
                && let Some(to) = more.text.get(1..).and_then(square)
            {
                let from = more.text.chars().next().unwrap_or_default();
                (shape.file, shape.rank) = (File::from_char(from), Rank::from_char(from));
                shape.takes = from == 'x';
                shape.to = Some(to);
                let known = shape.file.is_some() || shape.rank.is_some() || shape.takes;
                return known.then(|| Self::made(shape, next + 1));
            }
            if let Some((to, end, sound)) = self.square(next, true) {
                shape.to = Some(to);
                goes &= shape.file.is_none() && shape.rank.is_none();
                return Some(Named {
                    sound,
                    stands,
                    goes,
                    ..Self::made(shape, end)
                });
            }
            if word == self.language.moved && next == at + 1 {
                return Some(Named {
                    sound: weights::ONLY_NAMED,
                    ..Self::made(shape, next + 1)
                });
            }
            if self.language.check.contains(&word) && next == at + 1 {
                shape.check = true;
                return Some(Self::made(shape, next + 1));
            }
            if word == self.language.from {
                let (square, end, _) = self.square(next + 1, true)?;
                (shape.file, shape.rank) = (Some(square.file()), Some(square.rank()));
                next = end;
            } else if let Some((file, _)) = self.file(next)
                && (self.square(next + 1, true).is_some()
                    || self.takes(next + 1).is_some()
                    || self.is_to(next + 1))
                && shape.file.is_none()
            {
                shape.file = Some(file);
                next += 1;
            } else if let Some((rank, Sound::Clear)) = self.rank(next)
                && (self.takes(next + 1).is_some()
                    || self.is_to(next + 1)
                    || square(self.word(next + 1)).is_some())
            {
                shape.rank = Some(rank);
                next += 1;
            } else if self.is_to(next) {
                goes |= word == "to";
                next += 1;
            } else if word == self.language.on {
                stands = true;
                next += 1;
            } else {
                return None;
            }
        }
        None
    }

    pub(super) fn is_to(&self, at: usize) -> bool {
        self.language.to.contains(&self.word(at))
    }

    /// "e4", "e2 to e4", "e4 takes d5".
    fn of_square(&self, at: usize) -> Option<Named> {
        let (to, end, sound) = self.square(at, false)?;
        let joined = self.tokens.get(end).is_some_and(|it| it.joined);
        let start = match self.word(end) == "to" {
            true => Some(end + 1),
            false => joined.then_some(end),
        };
        let from = Shape {
            file: Some(to.file()),
            rank: Some(to.rank()),
            ..Shape::default()
        };
        if let Some(start) = start
            && let Some((square, end, more)) = self.square(start, false)
        {
            let shape = Shape {
                to: Some(square),
                ..from
            };
            return Some(Named {
                sound: sound + more,
                ..Self::made(shape, end)
            });
        }
        // "d4, takes d4" and "d4 takes d4" are two moves.
        let is_parted = self
            .tokens
            .get(end - 1)
            .is_some_and(|it| it.end != End::None); // a square has a token
        if self.takes(end) == Some(true)
            && !is_parted
            && !self.word(end).is_empty()
            && let Some(named) = self.taking(end, from)
            && named.shape.to.is_some_and(|it| it != to)
        {
            return Some(named);
        }
        let shape = Shape {
            role: Some(Role::Pawn),
            to: Some(to),
            ..Shape::default()
        };
        Some(Named {
            sound,
            ..Self::made(shape, end)
        })
    }

    /// "c takes d5", "the e pawn takes", "c d5".
    fn of_file(&self, at: usize) -> Option<Named> {
        let (file, sound) = self.file(at)?;
        let is_pawn = self.piece(at + 1) == Some(Role::Pawn) && !self.is_plural(at + 1);
        if is_pawn && sound == Sound::Far && (!self.spelled || self.is_verb(at)) {
            return None; // "you usually see pawn to b6"
        }
        let next = at + 1 + usize::from(is_pawn);
        let shape = Shape {
            role: Some(Role::Pawn),
            file: Some(file),
            ..Shape::default()
        };
        let cost = self.sounds()[sound as usize]; // three sounds, three costs
        if self.takes(next).is_some() && !self.word(next).is_empty() && !self.is_other(at) {
            let named = self.taking(next, shape)?;
            if sound == Sound::Far && named.shape.to.is_none() {
                return None;
            }
            let sound = named.sound + cost;
            return Some(Named { sound, ..named });
        }
        let start = next + usize::from(is_pawn && self.is_to(next));
        let (to, end, more) = self.square(start, is_pawn)?;
        let takes = to.file().distance(file) == 1;
        let is_meant = is_pawn || takes && sound == Sound::Clear && !self.word(next).is_empty();
        let shape = Shape {
            to: Some(to),
            takes,
            ..shape
        };
        (is_meant && to.file().distance(file) <= 1).then(|| Named {
            sound: cost + more,
            ..Self::made(shape, end)
        })
    }
}
