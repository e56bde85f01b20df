//! Finds the mentions of a text: where one may begin, and what its neighbours say of it.

use super::context::{answers, are_items, hear, is_label, look_around};
use super::word::{is_dot, read};
use super::{Mention, Surroundings};
use crate::notation::Letters;
use crate::text::{Listed, is_letter_or_digit};

/// The mentions of a text, in its order.
pub fn mentions(text: &str, letters: &Letters) -> Vec<Mention> {
    let mut list: Vec<Mention> = Vec::new();
    let mut at = 0;
    let (mut sentence, mut sided, mut is_place, mut after) = (0, false, false, false);
    while let Some(mut found) = next(text, at, letters) {
        at = found.range.end;
        // Each sign of the text is looked at once for the end of a sentence; those of the mention
        // before are its own, unless what comes after it begins like a sentence.
        let from = list.last().map_or(0, |last| last.range.end);
        let part = &text[from..found.range.start];
        let begins = part.trim_start();
        if let Some(end) = part.rfind(['.', '!', '?', '\n']) {
            (sentence, sided) = (from + end + 1, false); // these signs are one byte long
        } else if begins.starts_with(|sign: char| sign.is_ascii_uppercase())
            && !begins.starts_with("White")
            && !begins.starts_with("Black")
            && text[..from].ends_with(['!', '?'])
        {
            (sentence, sided) = (from, false);
        }
        let mut heard = hear(&text[from.max(sentence)..found.range.start]);
        // A square alone that is only a place hides nothing.
        if let Some(last) = list.last().filter(|_| is_place && from >= sentence) {
            heard.spoken = heard.spoken.or(last.around.spoken);
            heard.listed = heard.listed.or(last.around.listed);
            heard.is_main |= last.around.is_main;
        }
        let between = list
            .last()
            .map_or("", |last| &text[last.range.end..found.range.start]);
        let before = &text[sentence..found.range.start];
        let follows =
            !between.is_empty() && between.trim().is_empty() || answers(&list, &found, text);
        heard.starts = !before.bytes().any(|byte| byte.is_ascii_alphanumeric());
        let judged = text[..at].ends_with(['!', '?']);
        look_around(&mut heard, before, between, &text[at..], judged);
        let opens = list.last().is_none_or(|last| last.range.end <= sentence);
        // `After 6.Bd3 cxd4 comes Nf3`
        if !follows {
            heard.is_answer |= after && !heard.is_listed && !opens;
            after = before.ends_with("fter ");
        }
        // `on c3 and c4`: one more place.
        heard.says_move &= !(is_place && heard.is_listed);
        heard.is_listed &= !is_place;
        found.around = Surroundings {
            follows,
            opens,
            ..heard
        };
        sided |= found.around.spoken.is_some();
        found.around.is_sided = sided;
        is_place = found.written.is_bare
            && found.number.is_none()
            && found.side.is_none()
            && !(follows || found.around.says_move || found.around.is_listed);
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
    let without_dots = list.iter().any(|it| undotted(it) && !it.written.is_bare);
    for at in each {
        let leads = list.get(at + 1).is_some_and(|next| next.around.follows);
        let it = &mut list[at]; // at is below its length
        it.around.is_alone =
            undotted(it) && it.written.is_bare && !without_dots && !it.around.follows && !leads;
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
        // Words begin after what is no part of a word.
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
        // On after this word: nothing inside it is a move.
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
            .map(|it| it.around.follows)
            .collect();
        assert_eq!(runs, [false, true, true, false]);
    }
}
