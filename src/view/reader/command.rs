//! What a reader can ask about the position, by word or from a list.

use super::state::{Intent, State, update};
use crate::lesson::Lesson;
use crate::notation::Letters;
use crate::text::{Listed, cut, join, split};
use crate::view::words::{TEXTS, Word, Words};
use shakmaty::Square;

/// A question about the position.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Command {
    /// Every piece and its square.
    Describe,
    /// The author's comment on the last move.
    Comment,
    /// The last move.
    LastMove,
    /// The moves that go on from here.
    Moves,
    /// Where in the lesson this is.
    Where,
    /// What stands on a square.
    On(Square),
    /// What attacks a square, and what guards the piece there.
    Attacks(Square),
    /// What guards the piece on a square.
    Guards(Square),
}

/// The questions that need no square, with the English word that asks each.
pub const LIST: &[(&str, Command)] = &[
    ("describe", Command::Describe),
    ("comment", Command::Comment),
    ("last", Command::LastMove),
    ("moves", Command::Moves),
    ("where", Command::Where),
];

/// How many of the buttons stand at a question alone.
const ASKED: usize = 4;

/// What stands on a button, and what it does: typed, it does the same. First those of a question.
const BUTTONS: &[(Word, Intent)] = &[
    (Word::ToQuestion, Intent::Home),
    (Word::GiveHint, Intent::Hint),
    (Word::ShowMe, Intent::Show(None)),
    (Word::Again, Intent::Again),
    (Word::Back, Intent::Back),
    (Word::Next, Intent::Next(None)),
    (Word::Top, Intent::Top),
    (Word::Home, Intent::Home),
    (Word::Turn, Intent::Turn),
    (Word::Map, Intent::Map),
    (Word::Ask, Intent::Desk),
    (Word::Fold, Intent::Shut),
    (Word::Unfold, Intent::Shut),
    (Word::Describe, Intent::Ask(Command::Describe)),
    (Word::Comment, Intent::Ask(Command::Comment)),
    (Word::LastMove, Intent::Ask(Command::LastMove)),
    (Word::MovesHere, Intent::Ask(Command::Moves)),
    (Word::Where, Intent::Ask(Command::Where)),
];

/// What a reader means who types this: a step or a question, in the page's language or in
/// English; else it is a move to try.
pub fn meant(words: &Words, text: &str) -> Intent {
    let plain = text.trim().trim_end_matches(['?', '.', '!']).trim_end();
    let button = BUTTONS.iter().find(|(word, _)| {
        let english = TEXTS.get(*word as usize).map_or("", |(_, english)| english);
        words.get(*word).eq_ignore_ascii_case(plain) || english.eq_ignore_ascii_case(plain)
    });
    if let Some((_, intent)) = button {
        return intent.clone();
    }
    let squares = [
        (Word::AskAttacks, Command::Attacks as fn(Square) -> Command),
        (Word::AskGuards, Command::Guards),
        (Word::AskOn, Command::On),
    ];
    for (word, command) in squares {
        let pattern = words.get(word);
        if let Some(square) = about(pattern, plain) {
            return Intent::Ask(command(square));
        }
    }
    match read(plain) {
        Some(command) => Intent::Ask(command),
        None => Intent::Typed(text.to_owned()),
    }
}

/// The same, where it can be done: else nothing would answer.
pub fn meant_at(words: &Words, lesson: &Lesson, state: &State, text: &str) -> Intent {
    match meant(words, text) {
        intent if works(lesson, state, &intent) => intent,
        _ => Intent::Typed(text.to_owned()),
    }
}

/// Whether what a button does can be done. In a lesson all can, some time; a quiz and a recall have
/// no map, keep their board, and may have no way on or back.
fn works(lesson: &Lesson, state: &State, intent: &Intent) -> bool {
    !state.is_quiz
        || !matches!(intent, Intent::Map | Intent::Shut)
            && update(lesson, state, intent.clone(), Letters::ENGLISH)
                .1
                .is_some()
}

/// All that can be typed here besides moves, in the page's language; at a question what is its own
/// too.
pub fn names(words: &Words, lesson: &Lesson, state: &State) -> String {
    let from = match state.is_quiz || state.asking.is_some() {
        true => 0,
        false => ASKED,
    };
    // Of two names of one way only that which stands on its button.
    let other = match state.waits() {
        true => Word::Home,
        false => Word::ToQuestion,
    };
    let mut list: Vec<String> = BUTTONS
        .iter()
        .skip(from)
        .filter(|(word, intent)| *word != other && works(lesson, state, intent))
        .map(|(word, _)| words.get(*word).to_owned())
        .listed();
    let squares = [
        (Word::AskOn, "e4"),
        (Word::AskAttacks, "f5"),
        (Word::AskGuards, "d4"),
    ];
    for (word, square) in squares {
        list.push(words.fill(word, &[("square", square)]));
    }
    join(&list, ", ")
}

/// The square that a question asks about which is put like the pattern, `what is on {square}`.
fn about(pattern: &str, text: &str) -> Option<Square> {
    let (before, after) = cut(pattern, "{square}")?;
    let starts = text.get(..before.len())?.eq_ignore_ascii_case(before);
    let end = text.len().checked_sub(after.len())?;
    let ends = text.get(end..)?.eq_ignore_ascii_case(after);
    let name = text.get(before.len()..end).filter(|_| starts && ends)?;
    let name = name.to_ascii_lowercase();
    square(&name.split_whitespace().listed())
}

/// Reads a question in English: one of the words of [`LIST`], `what is on e4`, `what attacks
/// f5`, `what guards f5`; the words between do not count. A square may be given by the names of
/// the FIDE Laws, appendix D: `what is on Eva four`.
pub fn read(text: &str) -> Option<Command> {
    let text = join(&split(text, b'?').listed(), " ").to_ascii_lowercase();
    let words: Vec<&str> = text.split_whitespace().listed();
    let asks = |names: &[&str]| words.iter().any(|word| names.contains(word));
    if let Some(square) = square(&words) {
        return if asks(&["attacks", "attack", "attackers", "threatens"]) {
            Some(Command::Attacks(square))
        } else if asks(&["guards", "guard", "defends", "defend", "protects"]) {
            Some(Command::Guards(square))
        } else if asks(&["on"]) {
            Some(Command::On(square))
        } else {
            None
        };
    }
    let known = |(name, command): &(&str, Command)| asks(&[name]).then_some(*command);
    LIST.iter().find_map(known)
}

/// The square that the words end with: `e4`, `e 4`, `eva 4`, `eva four`.
fn square(words: &[&str]) -> Option<Square> {
    let last = words.last()?;
    if let Ok(square) = Square::from_ascii(last.as_bytes()) {
        return Some(square);
    }
    let file = FILES.iter().position(|name| {
        let said = words.len().checked_sub(2).and_then(|at| words.get(at));
        said.is_some_and(|said| said == name || *said == &name[..1])
    })?;
    let rank = RANKS.iter().position(|name| name == last).or_else(|| {
        let digit = last.parse::<usize>().ok()?;
        (1..=8).contains(&digit).then(|| digit - 1)
    })?;
    Square::try_from(rank * 8 + file).ok()
}

/// Names of the files: FIDE Laws of Chess, appendix D.2.1.
pub const FILES: [&str; 8] = [
    "anna", "bella", "cesar", "david", "eva", "felix", "gustav", "hector",
];

const RANKS: [&str; 8] = [
    "one", "two", "three", "four", "five", "six", "seven", "eight",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_stands_on_a_button_can_be_typed_in_the_language_of_the_page_or_in_english() {
        let german = |(key, text): (&str, &str)| (key.to_owned(), text.to_owned());
        let words = Words::with(
            [
                ("back", "zur\u{fc}ck"),
                ("describe", "die Stellung beschreiben"),
                ("askOn", "was steht auf {square}"),
                ("askAttacks", "was greift {square} an"),
            ]
            .map(german),
        );
        let cases = [
            ("Zur\u{fc}ck", Intent::Back),
            ("back", Intent::Back),
            ("die Stellung beschreiben.", Intent::Ask(Command::Describe)),
            ("describe", Intent::Ask(Command::Describe)),
            ("Was steht auf e4?", Intent::Ask(Command::On(Square::E4))),
            (
                "was greift Felix 5 an?",
                Intent::Ask(Command::Attacks(Square::F5)),
            ),
            ("what attacks f5", Intent::Ask(Command::Attacks(Square::F5))),
            ("Nf3", Intent::Typed("Nf3".to_owned())),
            ("", Intent::Typed(String::new())),
        ];
        for (text, intent) in cases {
            assert_eq!(meant(&words, text), intent, "{text}");
        }
    }

    #[test]
    fn questions_are_read_by_their_words() {
        let cases = [
            ("describe", Some(Command::Describe)),
            ("What is on e4?", Some(Command::On(Square::E4))),
            ("what attacks f5", Some(Command::Attacks(Square::F5))),
            (
                "what attacks Felix five",
                Some(Command::Attacks(Square::F5)),
            ),
            ("what is on eva 4", Some(Command::On(Square::E4))),
            ("what defends d5?", Some(Command::Guards(Square::D5))),
            ("what wins d5", None),
            ("read the comment", Some(Command::Comment)),
            ("e4", None),
            ("nonsense", None),
        ];
        for (text, command) in cases {
            assert_eq!(read(text), command, "{text}");
        }
    }
}
