//! What the words about a saying tell of it: the side, the number, and that it comes in place of another.

use super::language::{Cue, Language};
use super::named::{Named, Reader};
use super::phrases::Hit;
use super::said::{Saying, within};
use super::token::{End, Token, begins};
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

    /// Whether "to" mostly comes between pieces and their squares.
    pub(super) fn says_to(&self) -> bool {
        let (mut with, mut all) = (0usize, 0usize);
        for at in 0..self.tokens.len() {
            let named = self.piece(at).and_then(|_| self.named(at));
            if let Some(named) = named.filter(|it| it.shape.to.is_some() && !it.shape.takes) {
                all += 1;
                with += usize::from(named.goes);
            }
        }
        with as f32 > weights::SAYS_TO * all as f32
    }

    /// Whether what is named is taken back right after: "no,", "hm, no", "sorry", or "uh" and the same piece again.
    pub(super) fn is_taken_back(&self, hits: &[Hit], named: &Named) -> bool {
        let Reader {
            tokens, language, ..
        } = *self;
        let to = named.to;
        let text = |at: usize| tokens.get(at).map_or("", |it| it.text.as_str());
        let mut at = to;
        while at < to + 3 && language.fillers.contains(&text(at)) {
            at += 1;
        }
        if within(hits, &(at..at + 1))
            .iter()
            .any(|it| it.cue == Cue::Sorry)
        {
            return true;
        }
        if at > to && language.hesitates.contains(&text(at - 1)) {
            let next = self.named(at);
            return next
                .is_some_and(|it| it.shape.to.is_some() && it.shape.role == named.shape.role);
        }
        let Some(no) = tokens.get(at).filter(|it| it.text == language.no) else {
            return false;
        };
        let next = within(hits, &(at + 1..at + 2));
        no.end != End::None
            || text(at + 1) == language.no
            || next.iter().any(|it| it.cue == Cue::Sorry)
            || self.named(at + 1).is_some()
    }

    /// Whether what is named is told about: "d5 is the old move", "d5, that's solid".
    pub(super) fn is_described(&self, hits: &[Hit], to: usize) -> bool {
        let Reader {
            tokens, language, ..
        } = *self;
        let Some(word) = tokens.get(to).filter(|_| !begins(tokens, to)) else {
            return false;
        };
        let ends = tokens.get(to - 1).is_none_or(|it| it.end != End::None);
        let is_it = word.text == language.is && !ends || word.text == language.thats;
        let near = within(hits, &(to..to + 4));
        is_it
            && !near
                .iter()
                .any(|it| matches!(it.cue, Cue::Plays | Cue::Also))
    }

    /// How much of a plan, a wish or a "not" is left for what is named at a token: little where it was part of a
    /// condition, and that is over ("if you want more, e4"); less after a comma.
    pub(super) fn reaches(&self, near: &[Hit], hit: &Hit, at: usize) -> f32 {
        let mut between = self
            .tokens
            .get(hit.to.saturating_sub(1)..at)
            .into_iter()
            .flatten();
        if !between.any(|it| it.end == End::Clause) {
            return 1.0;
        }
        let is_if = |it: &Hit| matches!(it.cue, Cue::If | Cue::IfYou) && it.from <= hit.from;
        match near.iter().any(is_if) {
            true => weights::AFTER_CONDITION,
            false => weights::AFTER_COMMA,
        }
    }

    /// How many moves a phrase announces: "three answers"; 0 where it says no number.
    pub(super) fn count_in(&self, hit: &Hit) -> usize {
        let mut words = self.tokens.get(hit.from..hit.to).into_iter().flatten();
        let mut ranks = self.language.ranks.iter();
        words
            .find_map(|it| {
                ranks
                    .find(|rank| rank.0 == it.text)
                    .map(|rank| rank.1 as usize)
            })
            .filter(|it| *it <= weights::MOST_LISTED)
            .unwrap_or(0)
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
