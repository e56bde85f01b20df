//! Moves named in prose: finds the words of a sentence that look like moves, with what stands
//! before them. Whether they can be played, and where, is for `lesson/prose.rs` to say.

mod context;
mod word;

use self::context::{answers, are_items, hear, is_label};
use self::word::{is_dot, read};
use super::Letters;
use super::word::san::Shape;
use crate::text::{Listed, find, is_letter_or_digit};
use core::ops::Range;
use shakmaty::Color;

/// A word of a text that looks like a move.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mention {
    /// Where it stands, number and signs included; a byte range of the text.
    pub range: Range<usize>,
    /// Where its word stands, without number and dots.
    pub word: Range<usize>,
    /// The move number before it.
    pub number: Option<u32>,
    /// The side that dots say: one for White, more for Black. A number without dots says none.
    pub side: Option<Color>,
    /// What it says.
    pub shape: Shape,
    /// Whether it is one of a run of moves: between it and the mention before is nothing but
    /// white space.
    pub follows: bool,
    /// Whether it is a square and nothing else, such as `e5`, or two without a number.
    pub bare: bool,
    /// Whether it is a square behind a number without a dot, alone: `seat 5 f4`. A move only
    /// where the author leaves the dots out elsewhere.
    pub alone: bool,
    /// Whether it castles with zeros, as scores of other games are written too.
    pub zeros: bool,
    /// Whether it is written with the sign of a check or a mate.
    pub checks: bool,
    /// Whether it is the first of its sentence; a paragraph's first is.
    pub opens: bool,
    /// Whether the words before it speak of the future or the possible (`a later Nb5`,
    /// `threatens Nb5`): then it is no other choice for the move before it.
    pub ahead: bool,
    /// Whether it is offered beside the move before it: joined to it by `/`, `or`, `and`, or said
    /// to come instead.
    pub beside: bool,
    /// Whether its sentence has spoken of White or Black before it: then it speaks of moves.
    pub sided: bool,
    /// Whether `this` stands right before it (`in this line 6.a3`): then it belongs to what was
    /// spoken of last.
    pub here: bool,
    /// Whether `the first` or `the former` stands before it: then it goes with the first of the
    /// moves that were listed last.
    pub former: bool,
}

/// The mentions of a text, in its order.
pub fn mentions(text: &str, letters: &Letters) -> Vec<Mention> {
    let mut list: Vec<Mention> = Vec::new();
    let mut at = 0;
    let (mut seen, mut sentence, mut sided) = (0, 0, false);
    while let Some(mut found) = next(text, at, letters) {
        at = found.range.end;
        // Each sign of the text is looked at once for the end of a sentence.
        if let Some(end) = text[seen..found.range.start].rfind(['.', '!', '?', '\n']) {
            sentence = seen + end + 1; // these signs are one byte long
            (seen, sided) = (sentence, false);
        }
        let part = &text[seen..found.range.start];
        let has = |word| find(part, word).is_some();
        sided |= has("White") || has("Black");
        seen = found.range.start;
        let between = list
            .last()
            .map_or("", |last| &text[last.range.end..found.range.start]);
        let before = &text[sentence..found.range.start];
        let follows =
            !between.is_empty() && between.trim().is_empty() || answers(&list, &found, text);
        hear(&mut found, before, between, &text[at..]);
        found.follows = follows;
        found.opens = list.last().is_none_or(|last| last.range.end <= sentence);
        found.sided = sided;
        found.former = has("he first") || has("he former");
        list.push(found);
    }
    let listed = |at: usize| {
        let pair = |at: usize| match (list.get(at), list.get(at + 1)) {
            (Some(one), Some(next)) => are_items(one, next, text),
            _ => false,
        };
        pair(at) || at > 0 && pair(at - 1)
    };
    let each = 0..list.len();
    let dropped: Vec<bool> = each.clone().map(listed).listed();
    let undotted = |it: &Mention| it.number.is_some() && it.side.is_none();
    // `6 Bd3` in the same text says that its author leaves the dots out.
    let without_dots = list.iter().any(|it| undotted(it) && !it.bare);
    for at in each {
        let leads = list.get(at + 1).is_some_and(|next| next.follows);
        let it = &mut list[at]; // at is below its length
        it.alone = undotted(it) && it.bare && !without_dots && !it.follows && !leads;
    }
    let mut kept = Vec::new();
    for (mention, is_dropped) in list.into_iter().zip(dropped) {
        if !is_dropped {
            kept.push(mention);
        }
    }
    kept
}

/// The first mention at or after a place.
fn next(text: &str, from: usize, letters: &Letters) -> Option<Mention> {
    let mut rest = from;
    loop {
        // Words begin behind what is no part of a word.
        let start = rest + text.get(rest..)?.find(begins_mention)?;
        let before = text[..start].chars().next_back();
        let clean = before.is_none_or(|sign| !is_letter_or_digit(sign) && !JOINTS.contains(&sign));
        // `3.e5/3.Nd2`: both are moves.
        let other = from > 0 && before == Some('/') && start == from + 1;
        if (clean || other)
            && let Some(found) = read(text, start, letters)
            && !is_label(&text[..start], &found)
        {
            return Some(found);
        }
        // On behind this word: nothing inside it is a move.
        let word = &text[start..];
        let length = word
            .find(|sign: char| {
                !is_letter_or_digit(sign) && !JOINTS.contains(&sign) && !is_dot(sign)
            })
            .unwrap_or(word.len());
        let first = word.chars().next().map_or(1, char::len_utf8);
        rest = start + length.max(first);
    }
}

/// What joins two halves to one word that is no move: `a4-paper`, `1/e4`, `@e4`.
const JOINTS: &[char] = &[
    '-', '\u{2010}', '\u{2011}', '\u{2013}', '/', '\\', '@', '#', '_', '$', '%', '&', '=', '+',
    '\'', '\u{2019}', ':',
];

fn begins_mention(sign: char) -> bool {
    is_letter_or_digit(sign) || is_dot(sign) || matches!(sign, '\u{2654}'..='\u{265f}')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str) -> Vec<&str> {
        mentions(text, Letters::ENGLISH)
            .into_iter()
            .map(|it| &text[it.range])
            .collect()
    }

    #[test]
    fn moves_are_found_with_their_numbers_dots_and_signs() {
        let text =
            "After 6.Bd3 the natural 6\u{2026}Nc6? runs into 7. b4, or 6 Bd3 (O-O! or e8=Q+).";
        assert_eq!(
            found(text),
            ["6.Bd3", "6\u{2026}Nc6?", "7. b4", "6 Bd3", "O-O!", "e8=Q+"]
        );
    }

    #[test]
    fn what_only_looks_like_a_move_is_none() {
        for text in [
            "vitamin B6",
            "an A4 sheet",
            "the B-29",
            "in 1987 e",
            "v2.0",
            "Nd2-f1-g3",
            "me@e4",
            "1-0",
        ] {
            assert_eq!(found(text), Vec::<&str>::new(), "{text}");
        }
    }

    #[test]
    fn a_run_is_known_by_nothing_but_space_between() {
        let runs: Vec<bool> = mentions("4.cxd5 exd5 5.Bg5, Be7", Letters::ENGLISH)
            .into_iter()
            .map(|it| it.follows)
            .collect();
        assert_eq!(runs, [false, true, true, false]);
    }
}
