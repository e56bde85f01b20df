//! Captures: "takes", and what the words after it say of what takes, what is taken, and where.

use super::language::Sound;
use super::named::{Named, Reader};
use super::token::End;
use crate::talk::shape::Shape;
use shakmaty::Role;

impl Reader<'_> {
    /// "takes", "takes on d5", "takes the pawn", "takes back with the knight"; `by` is what was said before.
    pub(super) fn taking(&self, at: usize, by: Shape) -> Option<Named> {
        let acts = self.takes(at)?;
        let mut shape = Shape { takes: true, ..by };
        let mut end = at + 1;
        let mut sound = 0.0;
        let mut next = end;
        if self.tokens.get(at).is_some_and(|it| it.end != End::None) {
            // "takes, d5": two moves
            return Some(Named {
                acts,
                ..Self::made(shape, end)
            });
        }
        if self.word(next) == self.language.back {
            (next, end) = (next + 1, next + 1);
            if self
                .tokens
                .get(end - 1)
                .is_some_and(|it| it.end != End::None)
            {
                // "takes back, e4": two moves
                return Some(Named {
                    acts,
                    ..Self::made(shape, end)
                });
            }
        }
        if self.word(next) == self.language.on {
            next += 1;
        }
        if let Some((to, after, cost)) = self.square(next, true).filter(|it| it.2 > -1.0) {
            (shape.to, end, sound) = (Some(to), after, cost);
        } else if let Some((file, Sound::Clear)) = self.file(next)
            && by.file.is_some_and(|from| from.distance(file) == 1)
        {
            (shape.to_file, end) = (Some(file), next + 1);
        } else {
            let piece = next + usize::from(self.is_article(next));
            match self
                .piece(piece)
                .filter(|_| !self.word(piece).is_empty() && !self.is_plural(piece))
            {
                // "takes knight f3" and "takes queen takes" go on with another move
                Some(role)
                    if self.square(piece + 1, true).is_none()
                        && self.takes(piece + 1).is_none() =>
                {
                    (shape.taken, end) = (Some(role), piece + 1);
                    if self.word(end) == self.language.on
                        && let Some((to, after, _)) = self.square(end + 1, true)
                    {
                        (shape.to, end) = (Some(to), after);
                    }
                }
                _ if self.language.takes_nothing.contains(&self.word(end)) => return None,
                _ => {}
            }
        }
        // "with the knight", "with the e pawn"
        if by.role.is_none() && by.file.is_none() && self.word(end) == self.language.with {
            let piece = end + 1 + usize::from(self.is_article(end + 1));
            let file = self
                .file(piece)
                .filter(|_| self.piece(piece + 1) == Some(Role::Pawn));
            let piece = piece + usize::from(file.is_some());
            if let Some(role) = self.piece(piece).filter(|_| !self.word(piece).is_empty()) {
                (shape.role, shape.file, end) = (Some(role), file.map(|it| it.0), piece + 1);
            }
        }
        Some(Named {
            sound,
            acts,
            ..Self::made(shape, end)
        })
    }

    /// The capture that the next words name after "takes" alone: "White takes, bishop takes c6".
    pub(super) fn takes_again(&self, named: &Named) -> Option<Shape> {
        let vague = named.shape.is_vague().then_some(named.to)?;
        let next = self.named(vague)?.shape;
        (next.takes && (!next.is_vague() || next.role.is_some())).then_some(next)
    }
}
