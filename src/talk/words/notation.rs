//! Moves that are named without a square of their own, and those in notation: castling, `Nf3`, `cxd5`.

use super::named::{Named, Reader};
use super::token::{End, Token, is_castling, square};
use crate::talk::shape::Shape;
use shakmaty::{CastlingSide, File, Rank, Role};

impl Reader<'_> {
    /// Castling, in words or in notation.
    pub fn castling(&self, at: usize) -> Option<Named> {
        let language = self.language;
        let raw = self.tokens.get(at)?.raw.as_str();
        if is_castling(raw) {
            let side = CastlingSide::from_king_side(raw.len() == 3);
            return Some(Self::made(castles(Some(side)), at + 1));
        }
        let verb = |at: usize| {
            let word = self.tokens.get(at).map_or("", |it| it.text.as_str());
            language
                .castles
                .iter()
                .find(|it| it.0 == word)
                .map(|it| it.1)
        };
        // "castles king side", "long castles"
        let (start, acts) = match verb(at) {
            Some(acts) => (at + 1, acts),
            None => {
                let (_, next) = self.side(at)?;
                let acts = verb(next).filter(|_| !self.word(next).is_empty())?;
                let (side, _) = self.side(at)?;
                let named = Self::made(castles(Some(side)), next + 1);
                return Some(Named { acts, ..named });
            }
        };
        let start = match self.word(start) {
            "to" | "on" if self.side(start + 1).is_some() || self.is_article(start + 1) => {
                start + 1
            }
            _ => start,
        };
        let start = start + usize::from(self.is_article(start) && self.side(start + 1).is_some());
        let found = self.side(start).filter(|_| !self.word(start).is_empty());
        let (side, end) = found.map_or((None, at + 1), |(side, end)| (Some(side), end));
        let named = Self::made(castles(side), end);
        Some(Named { acts, ..named })
    }

    /// A side of the board, in one word or two, and one past its end.
    fn side(&self, at: usize) -> Option<(CastlingSide, usize)> {
        let language = self.language;
        let word = self.tokens.get(at)?.text.as_str();
        let side = match () {
            () if language.short.contains(&word) => CastlingSide::KingSide,
            () if language.long.contains(&word) => CastlingSide::QueenSide,
            () => return None,
        };
        let is_piece = self.piece(at).is_some();
        match self.word(at + 1) == language.side {
            true => Some((side, at + 2)),
            false if is_piece => None,
            false => Some((side, at + 1)),
        }
    }

    /// A word such as `Nf3`, `cxd5`, `bd2`. A square alone is none of them.
    pub fn notation(&self, at: usize, token: &Token) -> Option<Named> {
        let raw = token.raw.trim_end_matches(['+', '#']);
        if !raw.is_ascii() || !(3..=7).contains(&raw.len()) {
            return None;
        }
        let (raw, becomes) = match raw.split_once('=') {
            Some((raw, role)) => (raw, Some(Role::from_char(role.chars().next()?)?)),
            None => (raw, None),
        };
        let to = square(raw.get(raw.len().checked_sub(2)?..)?)?;
        let head = raw.get(..raw.len() - 2)?;
        let takes = head.ends_with(['x', 'X', ':']);
        let head = head.trim_end_matches(['x', 'X', ':']);
        let mut letters = head.chars();
        let first = letters.clone().next();
        let role = match first {
            Some('N' | 'n') => Some(Role::Knight),
            Some('B') => Some(Role::Bishop),
            Some('R' | 'r') => Some(Role::Rook),
            Some('Q' | 'q') => Some(Role::Queen),
            Some('K' | 'k') => Some(Role::King),
            // `bd2`, where no pawn of the b-file can take.
            Some('b') if head.len() == 1 && to.file().distance(File::B) != 1 => Some(Role::Bishop),
            _ => None,
        };
        if role.is_some() {
            letters.next();
        }
        let mut shape = Shape {
            role: Some(role.unwrap_or(Role::Pawn)),
            to: Some(to),
            takes,
            becomes,
            ..Shape::default()
        };
        for letter in letters {
            match (
                File::from_char(letter.to_ascii_lowercase()),
                Rank::from_char(letter),
            ) {
                (Some(file), _) if shape.file.is_none() => shape.file = Some(file),
                (_, Some(rank)) if shape.rank.is_none() => shape.rank = Some(rank),
                _ => return None,
            }
        }
        shape.takes |= role.is_none() && shape.file.is_some_and(|file| file != to.file());
        (role.is_some() || shape.file.is_some() || becomes.is_some())
            .then(|| Self::made(shape, at + 1))
    }

    /// "check on b4": by whatever piece. With an article it is what was or may be.
    pub(super) fn check_on(&self, at: usize) -> Option<Named> {
        let word = self.tokens.get(at)?;
        let is_check = self.language.check.contains(&word.text.as_str()) && word.end == End::None;
        let on = is_check && self.word(at + 1) == self.language.on;
        let (to, end, sound) = on.then(|| self.square(at + 2, true)).flatten()?;
        let shape = Shape {
            to: Some(to),
            check: true,
            ..Shape::default()
        };
        let stands = at.checked_sub(1).is_some_and(|it| self.is_article(it));
        Some(Named {
            sound,
            stands,
            ..Self::made(shape, end)
        })
    }

    /// With what comes after: what a pawn becomes, check.
    pub fn ended(&self, mut named: Named) -> Named {
        let shape = &mut named.shape;
        let last = shape
            .to
            .is_some_and(|to| matches!(to.rank(), Rank::First | Rank::Eighth));
        if shape.role == Some(Role::Pawn) && last && shape.becomes.is_none() {
            let says = self.language.becomes.contains(&self.word(named.to));
            let mut at = named.to + usize::from(says);
            at += usize::from(says && self.is_to(at));
            at += usize::from(says && self.is_article(at));
            let role = self.piece(at).filter(|_| !self.word(at).is_empty());
            if let Some(role) = role.filter(|_| self.square(at + 1, true).is_none()) {
                (shape.becomes, named.to) = (Some(role), at + 1);
            }
        }
        let at = named.to + usize::from(self.word(named.to) == self.language.with);
        if self.language.check.contains(&self.word(at)) && self.check_on(at).is_none() {
            (shape.check, named.to) = (true, at + 1);
        }
        named
    }
}

fn castles(side: Option<CastlingSide>) -> Shape {
    Shape {
        castles: Some(side),
        ..Shape::default()
    }
}
