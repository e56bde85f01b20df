//! Words cut into what a saying is made of: small letters only, glued words apart.

use super::language::Language;
use crate::talk::captions::Word;
use shakmaty::{File, Rank, Square};

/// A piece of a word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Token {
    /// The number of its word.
    pub word: usize,
    /// Small letters and digits.
    pub text: String,
    /// As it was written, where that is notation: `Nf3`, `O-O`, `5...`.
    pub raw: String,
    /// What ends after it.
    pub end: End,
    /// Whether nobody speaks before it for a while.
    pub after_pause: bool,
    /// Whether it is joined to the one before it by a dash: the second half of `e2-e4`.
    pub joined: bool,
    /// Whether it has an apostrophe: "queen's".
    pub owns: bool,
}

/// What ends after a word, by its sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum End {
    /// Nothing.
    None,
    /// A clause: `,` `;` `:`
    Clause,
    /// A sentence: `.` `?` `!`
    Sentence,
}

/// The tokens of words.
pub fn tokens(words: &[Word], language: &Language) -> Vec<Token> {
    let mut all = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let from = all.len();
        one(at, &word.text, language, &mut all);
        if let Some(first) = all.get_mut(from) {
            first.after_pause = word.after_pause;
        }
    }
    all
}

fn one(word: usize, text: &str, language: &Language, all: &mut Vec<Token>) {
    let end = end(text);
    let from = all.len();
    let bare = text.trim_matches(|it: char| !it.is_alphanumeric() && !matches!(it, '+' | '#'));
    let mut push = |raw: &str, joined: bool| {
        let small = raw.chars().filter(|it| it.is_alphanumeric());
        let small: String = small.flat_map(char::to_lowercase).collect();
        if !small.is_empty() {
            all.push(Token {
                word,
                text: small,
                raw: raw.to_owned(),
                end: End::None,
                after_pause: false,
                joined,
                owns: raw.contains(['\'', '\u{2019}']),
            });
        }
    };
    let letters = bare.trim_end_matches(['+', '#']);
    if is_castling(letters) {
        push(letters, false);
    } else if let Some((number, rest)) = numbered(text) {
        // `5.Nf3`, `5...c5`
        push(number, false);
        push(rest, false);
    } else {
        let pieces = bare.split(|it: char| {
            !it.is_alphanumeric() && !matches!(it, '\'' | '\u{2019}' | '+' | '#' | '=')
        });
        for (at, piece) in pieces.filter(|it| !it.is_empty()).enumerate() {
            match unglued(piece, language) {
                Some((first, second)) => {
                    push(first, at > 0);
                    push(second, false);
                }
                None => push(piece, at > 0),
            }
        }
    }
    if let Some(last) = all.get_mut(from..).and_then(|new| new.last_mut()) {
        last.end = end;
    } else if let Some(last) = all.last_mut() {
        last.end = last.end.max(end); // a dash that stands alone
    }
}

/// Castling in notation, with letters or noughts.
pub fn is_castling(text: &str) -> bool {
    matches!(text, "O-O" | "0-0" | "O-O-O" | "0-0-0" | "o-o" | "o-o-o")
}

/// A number with dots, and what is glued to it.
fn numbered(text: &str) -> Option<(&str, &str)> {
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    let rest = text.get(digits..).filter(|_| (1..=3).contains(&digits))?;
    let dots = rest.bytes().take_while(|it| *it == b'.').count();
    let after = rest.get(dots..)?;
    let is_word = after.starts_with(|it: char| it.is_alphabetic());
    (dots > 0 && is_word).then(|| (&text[..digits + dots], after))
}

/// What ends after a word.
fn end(text: &str) -> End {
    let text = text.trim_end_matches(['"', '\'', ')', ']', '\u{201d}', '\u{2019}']);
    let is_number = text
        .trim_end_matches('.')
        .bytes()
        .all(|it| it.is_ascii_digit());
    match text.chars().next_back() {
        Some('.') if is_number || text.ends_with("...") => End::None,
        Some('.' | '?' | '!' | '\u{2026}') => End::Sentence,
        Some(',' | ';' | ':' | '\u{2013}' | '\u{2014}' | '-') => End::Clause,
        _ => End::None,
    }
}

/// A word and a square that captions glued together.
fn unglued<'a>(text: &'a str, language: &Language) -> Option<(&'a str, &'a str)> {
    if !text.is_ascii() || text.len() < 3 {
        return None;
    }
    let small = text.to_ascii_lowercase();
    let is_glued = |word: &str| language.glued.contains(&word);
    let (first, last) = (text.get(..2)?, text.get(text.len() - 2..)?);
    if square(last).is_some() {
        let before = small.get(..small.len() - 2)?;
        // `nf3` is notation, `Nf3` too.
        if before.len() > 1 && is_glued(before) {
            return text.split_at_checked(text.len() - 2);
        }
        // Two squares.
        if before.len() == 2 && square(before).is_some() {
            return text.split_at_checked(2);
        }
    }
    if square(first).is_some() && is_glued(small.get(2..)?) && small.len() > 3 {
        return text.split_at_checked(2);
    }
    None
}

/// Whether a sentence begins at a token: after the sign of an end, or after a pause.
pub fn begins(tokens: &[Token], at: usize) -> bool {
    let before = at.checked_sub(1).and_then(|at| tokens.get(at));
    before.is_none_or(|it| it.end == End::Sentence)
        || tokens.get(at).is_none_or(|it| it.after_pause)
}

/// A square's name, in any letters.
pub fn square(text: &str) -> Option<Square> {
    let [file, rank] = *text.as_bytes() else {
        return None;
    };
    let file = File::from_char(char::from(file.to_ascii_lowercase()))?;
    Some(Square::from_coords(
        file,
        Rank::from_char(char::from(rank))?,
    ))
}

/// The tokens of an English text that is heard at once.
#[cfg(test)]
pub fn heard(text: &str) -> Vec<Token> {
    let words = text.split(' ').map(|text| Word {
        text: text.to_owned(),
        at: 0,
        span: Default::default(),
        after_pause: false,
    });
    tokens(&words.collect::<Vec<_>>(), &super::english::ENGLISH)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(text: &str) -> Vec<String> {
        heard(text).into_iter().map(|it| it.text).collect()
    }

    #[test]
    fn words_that_are_glued_come_apart_and_notation_stays() {
        assert_eq!(
            texts("playe4, knightf3 and e4e5!"),
            ["play", "e4", "knight", "f3", "and", "e4", "e5"]
        );
        assert_eq!(
            texts("Nf3 5.Nbd2 6...c5 f-3"),
            ["nf3", "5", "nbd2", "6", "c5", "f", "3"]
        );
        assert_eq!(texts("O-O-O cxd5+"), ["ooo", "cxd5"]);
    }

    #[test]
    fn a_sentence_ends_at_its_sign_and_not_at_the_dot_of_a_number() {
        assert_eq!(end("e4."), End::Sentence);
        assert_eq!(end("4."), End::None);
        assert_eq!(end("4..."), End::None);
        assert_eq!(end("e4,"), End::Clause);
    }
}
