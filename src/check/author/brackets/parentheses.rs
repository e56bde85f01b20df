//! What may have happened to a parenthesis: where one may be missing, one too many, or moved.

use super::candidates::Candidates;
use super::edit::{Edit, Sign};
use crate::notation::TokenKind;

/// How many tokens before the first fault a bracket may be missing.
const BACK: usize = 150;

/// How many brackets before the first fault may be one too many.
const TAKEN: usize = 40;

/// How many brackets near the first fault may be in the wrong place.
const NEAR: usize = 16;

/// How many tokens before the first fault one may be missing that was moved into a comment, and how
/// many of a comment's are tried.
const HIDDEN: usize = 10;

const SLIPPED: usize = 4;

/// How many tokens after the first fault a bracket may be that was moved there.
const AHEAD: usize = 8;

/// How many tokens a bracket may have been moved.
const MOVED: usize = 12;

impl Candidates<'_> {
    /// Where a closing parenthesis can be: after a token.
    fn after(&self, at: usize) -> Option<usize> {
        let token = self.tokens.get(at)?;
        let next = self.tokens.get(at + 1).map(|it| it.kind);
        let can = match token.kind {
            TokenKind::Number | TokenKind::Dots => false,
            TokenKind::Result if next.is_none() => false,
            _ => next != Some(TokenKind::Nag),
        };
        can.then_some(token.span.to as usize)
    }

    /// Where an opening parenthesis can be: before a token.
    fn before(&self, at: usize) -> Option<usize> {
        let token = self.tokens.get(at)?;
        let before = at.checked_sub(1).map(|at| self.tokens[at].kind);
        let is_numbered = matches!(before, Some(TokenKind::Number | TokenKind::Dots));
        let can = match token.kind {
            TokenKind::Word => !is_numbered,
            TokenKind::Number | TokenKind::Comment => true,
            TokenKind::Dots => !is_numbered,
            _ => false,
        };
        can.then_some(token.span.from as usize)
    }

    /// Parentheses that do not close.
    pub(super) fn bracket_open(&mut self, missing: usize) {
        for at in (self.at.saturating_sub(BACK)..self.at).rev() {
            let Some(place) = self.after(at) else {
                continue;
            };
            self.list.push(Edit::put(Sign::Close, place));
            if missing > 1 {
                let put = Some((place, missing));
                let edit = Edit::put(Sign::Close, place);
                self.list.push(Edit { put, ..edit });
            }
        }
        self.take(TokenKind::Open, Sign::Open);
        let places: Vec<usize> = (self.at.saturating_sub(HIDDEN)..self.at)
            .rev()
            .filter_map(|at| self.after(at))
            .collect();
        self.hidden(Sign::Close, places);
    }

    /// A parenthesis that was moved into a comment beside, where it has no other half.
    fn hidden(&mut self, sign: Sign, places: Vec<usize>) {
        let letter = sign.letter();
        for comment in self.comments_near() {
            let words = self.slice(&comment);
            if is_paired(words) {
                continue;
            }
            for (at, _) in words.match_indices(letter).take(SLIPPED) {
                let from = comment.span.from as usize + at;
                for &place in &places {
                    self.list.push(Edit::moved(sign, from, place));
                }
            }
        }
    }

    /// Parentheses that do not open.
    pub(super) fn bracket_closed(&mut self) {
        self.take(TokenKind::Close, Sign::Close);
        for at in (self.at.saturating_sub(BACK)..=self.at).rev() {
            if let Some(place) = self.before(at) {
                self.list.push(Edit::put(Sign::Open, place));
            }
        }
        let places: Vec<usize> = (self.at.saturating_sub(HIDDEN)..=self.at)
            .rev()
            .filter_map(|at| self.before(at))
            .collect();
        self.hidden(Sign::Open, places);
    }

    fn take(&mut self, kind: TokenKind, sign: Sign) {
        let end = (self.at + 1).min(self.tokens.len());
        let all = self.tokens[..end].iter().rev();
        for token in all.filter(|it| it.kind == kind).take(TAKEN) {
            self.list.push(Edit::taken(sign, token.span.from as usize));
        }
    }

    /// As many parentheses open as close, but one is in the wrong place.
    pub(super) fn brackets_moved(&mut self) {
        let end = (self.at + AHEAD).min(self.tokens.len());
        let is_bracket =
            |at: &usize| matches!(self.tokens[*at].kind, TokenKind::Open | TokenKind::Close);
        let near: Vec<usize> = (0..end).rev().filter(is_bracket).take(NEAR).collect();
        for bracket in near {
            let token = self.tokens[bracket];
            let from = token.span.from as usize;
            let sign = match token.kind {
                TokenKind::Open => Sign::Open,
                _ => Sign::Close,
            };
            for step in 1..=MOVED {
                for at in [bracket.checked_sub(step), Some(bracket + step)] {
                    let place = at.and_then(|at| match sign {
                        Sign::Open => self.before(at),
                        _ => self.after(at),
                    });
                    if let Some(place) = place {
                        self.list.push(Edit::moved(sign, from, place));
                    }
                }
            }
        }
    }
}

/// Whether each parenthesis of some words has its other half.
fn is_paired(words: &str) -> bool {
    let mut open = 0;
    for byte in words.bytes() {
        match byte {
            b'(' => open += 1,
            b')' if open == 0 => return false,
            b')' => open -= 1,
            _ => {}
        }
    }
    open == 0
}
