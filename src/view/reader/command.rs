//! What a reader can ask about the position by an English sentence.

use super::intent::Command;
use crate::text::{Listed, join, split};
use shakmaty::Square;

/// The questions that need no square, with the English word that asks each.
pub const LIST: &[(&str, Command)] = &[
    ("describe", Command::Describe),
    ("comment", Command::Comment),
    ("last", Command::LastMove),
    ("moves", Command::Moves),
    ("where", Command::Where),
];

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
pub(crate) fn square(words: &[&str]) -> Option<Square> {
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
