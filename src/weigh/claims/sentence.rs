//! The sentence around a phrase: where it begins and ends, of whom it speaks, and whether it leaves the phrase open.

use core::ops::Range;
use shakmaty::Color;

/// Words that deny or doubt their own clause; a clause that follows from it, or stands against it, may claim something.
const DENIED: &str = "not no never nothing nobody neither nor cannot can't doesn't don't isn't won't didn't seems looks";

/// What a clause begins with that says something of its own.
const OWN_CLAUSE: [&str; 3] = [", so ", ", yet ", ": "];

/// Words before a phrase, anywhere in its sentence, with which it claims nothing that holds.
const OPEN: &str = "without if \
    unless when until threatens threaten threatening threat almost nearly would could might may should but hopes hope \
    hoping wants want wishes tries try trying to idea once instead even than whether how why avoid avoids \
    avoiding avoided escape escapes escaped prevent prevents preventing prevented stop stops stopped stopping parry \
    parries parried miss misses missed missing overlook overlooks overlooked overlooking such otherwise else or lest \
    against defend defends guards covers meets rather risk risks fear fears afraid suppose assuming dreams had opponent \
    opponent's";

/// What comes after a phrase, in its sentence, and leaves it open.
const OPEN_AFTER: &[&str] = &[
    " if ",
    " unless ",
    " or not",
    " in case",
    " only if",
    " after all",
    " when ",
    " once ",
    " until ",
    " while ",
    " as long as",
    " otherwise",
    " down",
    " line",
    " variation",
    " way",
    " game",
    "?",
];

/// Whether the words before and after a phrase, in its sentence and in lower case, leave it open.
pub fn is_open(before: &str, after: &str) -> bool {
    let is_part = |it: char| it.is_alphanumeric() || it == '\'' || it == '\u{2019}';
    let has = |text: &str, listed: &str| {
        text.split(|it: char| !is_part(it)).any(|word| {
            let word = word.replace('\u{2019}', "'");
            listed.split_whitespace().any(|it| it == word)
        })
    };
    let clauses = OWN_CLAUSE.iter();
    let clause = clauses
        .filter_map(|it| before.rsplit_once(it).map(|(_, rest)| rest))
        .min_by_key(|it| it.len())
        .unwrap_or(before);
    has(before, OPEN) || has(clause, DENIED) || OPEN_AFTER.iter().any(|it| after.contains(it))
}

/// Of whom the words before a phrase speak.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Speaks {
    OfNone,
    Of(Color),
    /// Of both, and none of them is right before the phrase.
    OfBoth,
}

/// Of whom the words before a phrase speak; what belongs to a side (`Black's queen`) is not the side.
pub fn side(before: &str) -> Speaks {
    let last = |name: &str| {
        let places = before.match_indices(name).map(|(at, _)| at + name.len());
        let own = |it: &usize| {
            let after = before.get(*it..).unwrap_or_default();
            !after.starts_with(['\'', '\u{2019}'])
        };
        places.filter(own).last()
    };
    let (white, black) = (last("White"), last("Black"));
    let is_next = |it: Option<usize>| {
        it.is_some_and(|it| before.get(it..).is_some_and(|rest| rest.trim().is_empty()))
    };
    match (white, black) {
        (None, None) => Speaks::OfNone,
        (Some(_), None) => Speaks::Of(Color::White),
        (None, Some(_)) => Speaks::Of(Color::Black),
        _ if is_next(white) => Speaks::Of(Color::White),
        _ if is_next(black) => Speaks::Of(Color::Black),
        _ => Speaks::OfBoth,
    }
}

/// Where the sentence around a range begins and ends, in a text in lower case.
pub fn around(text: &str, range: &Range<usize>) -> (usize, usize) {
    let mut all = ends(text);
    let (mut from, mut to) = (0, text.len());
    if let Some(end) = all.find(|end| {
        if *end <= range.start {
            from = *end;
        }
        *end >= range.end
    }) {
        to = end;
    }
    (from, to)
}

/// Where sentences end, after their last sign: a dot, with white space after it, that is no number's, or a sign that is
/// no move's.
fn ends(text: &str) -> impl Iterator<Item = usize> {
    let signs = text
        .char_indices()
        .filter(|(_, it)| matches!(it, '.' | '!' | '?' | '\n'));
    signs.filter_map(move |(at, sign)| {
        let after = text.get(at + 1..)?;
        let before = text.get(..at)?;
        let word = before
            .rsplit(|it: char| it.is_whitespace() || it == '(')
            .next()?;
        let word = word.trim_end_matches(['.', '!', '?']);
        // `5.`, `5...`, `...`
        let is_number = word.bytes().all(|it| it.is_ascii_digit());
        // `Nxe4!`, `O-O?`, `Qh4+!`
        let is_move = word.ends_with(|it: char| it.is_ascii_digit() || matches!(it, '+' | '#'))
            || word.ends_with("o-o");
        let is_own = match sign {
            '.' => !is_number,
            '\n' => true,
            _ => !is_move || after.is_empty(),
        };
        let is_last = sign == '\n' || after.is_empty() || after.starts_with(char::is_whitespace);
        (is_last && is_own).then_some(at + 1)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sentence<'a>(text: &'a str, phrase: &str) -> &'a str {
        let from = text.find(phrase).expect("the phrase");
        let (from, to) = around(text, &(from..from + phrase.len()));
        text[from..to].trim()
    }

    #[test]
    fn dots_of_numbers_and_signs_of_moves_end_no_sentence() {
        for (text, wanted) in [
            (
                "so. 5...nxe4! wins a pawn. and on",
                "5...nxe4! wins a pawn.",
            ),
            ("so. 5... nf6 wins a pawn", "5... nf6 wins a pawn"),
            ("it comes after 5.nf3. it wins a pawn.", "it wins a pawn."),
            ("so! that wins a pawn! good", "that wins a pawn!"),
            ("not so: it wins a pawn", "not so: it wins a pawn"),
        ] {
            assert_eq!(sentence(text, "wins a pawn"), wanted);
        }
    }
}
