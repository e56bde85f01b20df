//! What the words about a saying tell of it: the side, the number, and that it comes in place of another.

use super::language::{Cue, Language};
use super::named::Reader;
use super::phrases::Hit;
use super::said::{Saying, begins, within};
use super::token::Token;
use crate::talk::weights;
use shakmaty::Color;

impl Reader<'_> {
    /// Whether "it goes on" comes before.
    pub(super) fn goes_on(&self, at: usize) -> bool {
        let Reader {
            tokens, language, ..
        } = *self;
        let [goes, on] = tokens.get(at.saturating_sub(2)..at).unwrap_or_default() else {
            return false;
        };
        on.text == language.on && language.goes.contains(&goes.text.as_str())
    }

    /// Whether a side is what a clause is about: not "good for Black".
    pub(super) fn is_subject(&self, at: usize) -> bool {
        let Reader {
            tokens, language, ..
        } = *self;
        let before = at.checked_sub(1).and_then(|it| tokens.get(it));
        before.is_none_or(|it| {
            let word = it.text.as_str();
            !language.whose.contains(&word) && !language.places.contains(&word)
        })
    }

    /// "d5 by Black"
    pub(super) fn side_after(&self, hits: &[Hit], at: usize) -> Option<Color> {
        let Reader {
            tokens, language, ..
        } = *self;
        let word = tokens.get(at).filter(|_| !begins(tokens, at))?;
        if !language.whose.contains(&word.text.as_str()) {
            return None;
        }
        let next = within(hits, &(at + 1..at + 2));
        next.iter().find_map(|hit| side_of(hit.cue))
    }

    /// A number of a move within the sentence before a saying: "move five", `5.`
    pub(super) fn number(&self, hits: &[Hit], from: usize, at: usize, to: usize) -> Option<u32> {
        let Reader {
            tokens, language, ..
        } = *self;
        let digits = |it: &Token| it.raw.trim_end_matches('.').parse::<u32>().ok();
        let before = at.checked_sub(1).and_then(|it| tokens.get(it));
        if let Some(number) = before.filter(|it| it.raw.ends_with('.')).and_then(digits) {
            return Some(number);
        }
        let near = from.max(at.saturating_sub(weights::NEAR));
        let after = to..to + 3;
        let after = within(hits, &after)
            .iter()
            .filter(|it| (to..=it.from).all(|at| !begins(tokens, at)));
        for hit in within(hits, &(near..at)).iter().rev().chain(after) {
            let Some(token) = tokens.get(hit.to).filter(|_| hit.cue == Cue::Number) else {
                continue;
            };
            let mut list = language.ranks.iter();
            let word =
                list.find(|it| it.0 == token.text && !matches!(token.text.as_str(), "to" | "for"));
            if let Some(number) = digits(token).or(word.map(|it| it.1)) {
                return Some(number);
            }
        }
        None
    }
}

/// Notes at the move that comes in place of another which that is: the next, or the one before it in its sentence.
pub fn replacing(sayings: &mut [Saying], tokens: &[Token], language: &Language) {
    for at in 0..sayings.len() {
        let saying = &sayings[at]; // one of them
        if !saying.replaced {
            continue;
        }
        let shape = saying.shape;
        let after = tokens.get(saying.tokens.end);
        let is_first = after.is_some_and(|it| it.text == language.is);
        let before = !saying.begins && saying.gap <= weights::NEAR && at > 0 && !is_first;
        let other = if before { at - 1 } else { at + 1 };
        if let Some(other) = sayings.get_mut(other) {
            other.in_place_of = Some(shape);
        }
    }
}

/// The side that a phrase names.
pub fn side_of(cue: Cue) -> Option<Color> {
    match cue {
        Cue::White => Some(Color::White),
        Cue::Black => Some(Color::Black),
        _ => None,
    }
}
