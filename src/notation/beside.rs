//! What stands beside a mention in its sentence and says what it is: an answer, an item of a list,
//! the number of something else, a move that may come.

use super::mention::Mention;
use crate::text::is_letter_or_digit;
use shakmaty::Color;

/// Whether a square is Black's answer in the manner of old books: `1. d4, d5;`.
pub(super) fn answers(list: &[Mention], found: &Mention, text: &str) -> bool {
    list.last().is_some_and(|last| {
        last.side == Some(Color::White)
            && found.bare
            && found.number.is_none()
            && &text[last.range.end..found.range.start] == ", "
            && text[found.range.end..].starts_with([';', '.'])
    })
}

/// Whether two mentions are items of a numbered list, `1. a4 paper, 2. b5 envelopes`.
pub(super) fn are_items(one: &Mention, next: &Mention, text: &str) -> bool {
    let spaced = |it: &Mention| it.bare && text[it.range.start..it.word.start].ends_with(". ");
    let between = &text[one.range.end..next.range.start];
    let words = between
        .strip_prefix(' ')
        .and_then(|rest| rest.strip_suffix(", "));
    spaced(one)
        && spaced(next)
        && next.number == one.number.map(|number| number + 1)
        && words.is_some_and(|words| words.starts_with(char::is_lowercase))
}

/// Words before a number that is no move's: `figure 5.b3`, `seat 5 f4`; their plurals too.
const LABELS: &str = " article box chapter clause exercise exit figure flat gate item page paragraph part platform \
    question room row rule screw seat section step table version volume ";

/// Whether what stands before a mention says that it is none: the name of something numbered, or
/// an article, behind which stands a name (`a Be6 with 19 seats`).
pub(super) fn is_label(before: &str, found: &Mention) -> bool {
    let Some(before) = before.strip_suffix(' ') else {
        return false;
    };
    let word = before.rsplit(|sign: char| !sign.is_alphabetic()).next();
    let word = word.unwrap_or_default().to_ascii_lowercase();
    match found.number {
        Some(_) => {
            let one = word.strip_suffix('s').unwrap_or(&word);
            found.bare && !one.is_empty() && holds(LABELS, one)
        }
        None => word == "a" || word == "an",
    }
}

/// Words behind which a move is one that may come, not one in the place of the last.
const AHEAD: &str = " threat threats threatens threatening threatened threaten later plan plans planning \
    idea ideas followed follow prepare prepares preparing next then eventually eventual soon wants hopes aims \
    intends meets met means without by ";

/// Whether the last words of a sentence so far say that what comes may come.
pub(super) fn speaks_ahead(sentence: &str) -> bool {
    let words = sentence.split(|sign: char| !is_letter_or_digit(sign));
    let mut last = words.filter(|word| !word.is_empty()).rev().take(4);
    last.any(|word| holds(AHEAD, &word.to_ascii_lowercase()))
}

/// Whether a list has a word; spaces stand around each.
fn holds(list: &str, word: &str) -> bool {
    list.contains(&[" ", word, " "].concat())
}
