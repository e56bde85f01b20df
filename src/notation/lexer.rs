//! Cuts a PGN text into tokens. Total: any text gives tokens, and their spans cover it.

use super::{Token, TokenKind};
use crate::text::{Span, is_letter_or_digit, run};

/// The tokens of a text, one by one. Needs no memory of its own, so that the time for a text of a
/// million numbers grows only with its length.
#[derive(Clone)]
pub struct Lexer<'a> {
    /// What is not cut yet.
    rest: &'a str,
    /// Where it begins.
    at: usize,
    /// Whether a line begins there.
    at_line_start: bool,
    in_tag: bool,
}

/// What is put around a tag's value by mistake.
pub(super) const SINGLE_QUOTES: [char; 4] = ['\'', '\u{2018}', '\u{2019}', '\u{201a}'];

/// What results and castling begin with.
const ENDS: [char; 5] = ['0', '1', 'O', 'o', '\u{bd}'];

/// All tokens of a text in a list.
pub fn lex(text: &str) -> Vec<Token> {
    Lexer::new(text).collect()
}

impl<'a> Lexer<'a> {
    /// A lexer at the start of this text.
    pub fn new(text: &'a str) -> Lexer<'a> {
        Lexer {
            rest: text,
            at: 0,
            at_line_start: true,
            in_tag: false,
        }
    }

    /// Passes over white space of ASCII, which is no token then.
    pub(super) fn skip_space(&mut self) {
        let is_space = |byte| matches!(byte, b' ' | b'\n' | b'\r' | b'\t');
        self.advance(run(self.rest, is_space));
    }

    /// Passes over the periods here; how many they are.
    pub(super) fn skip_periods(&mut self) -> usize {
        let length = run(self.rest, |byte| byte == b'.');
        self.advance(length);
        length
    }

    /// Passes over the rest of a tag after its bracket where it is written as nearly all are,
    /// `Name "value"]` with no backslash: where its name is, and its value with the quotes.
    #[cfg(not(target_family = "wasm"))]
    pub(super) fn skip_plain_tag(&mut self) -> Option<(Span, Span)> {
        let is_name = |byte: u8| byte.is_ascii_alphanumeric() || byte == b'_';
        let name = run(self.rest, is_name);
        let value = self.rest[name..].strip_prefix(" \"")?;
        let length = run(value, |byte| !matches!(byte, b'"' | b'\\' | b'\n'));
        if name == 0 || !value[length..].starts_with("\"]") {
            return None;
        }
        let from = self.at;
        let (quote, end) = (from + name + 1, from + name + length + 3);
        self.advance(end + 1 - from);
        self.in_tag = false;
        Some((Span::new(from, from + name), Span::new(quote, end)))
    }

    /// Passes over some bytes, which end on a whole character.
    fn advance(&mut self, length: usize) {
        let all = (self.rest, "");
        let (passed, rest) = self.rest.split_at_checked(length).unwrap_or(all);
        if let Some(&last) = passed.as_bytes().last() {
            self.at_line_start = last == b'\n';
        }
        self.at += passed.len();
        self.rest = rest;
    }

    /// The next token, if it fulfils the condition.
    pub fn next_if(&mut self, wanted: impl FnOnce(&Token) -> bool) -> Option<Token> {
        // A lexer is small: looking ahead with a second one is cheaper than
        // carrying every token past a place where it could be put back.
        let mut ahead = self.clone();
        let token = ahead.next().filter(wanted)?;
        *self = ahead;
        Some(token)
    }

    /// How many bytes from here fulfil the condition.
    fn run(&self, wanted: impl Fn(char) -> bool) -> usize {
        let rest = self.rest;
        rest.find(|letter| !wanted(letter)).unwrap_or(rest.len())
    }

    fn to_line_end(&self) -> usize {
        let rest = self.rest;
        let line = &rest[..run(rest, |byte| byte != b'\n')];
        line.strip_suffix('\r').unwrap_or(line).len()
    }

    fn tag_token(&mut self, first: char) -> Option<(TokenKind, usize)> {
        match first {
            ']' => {
                self.in_tag = false;
                Some((TokenKind::TagClose, 1))
            }
            '"' | '\u{201c}' | '\u{201d}' | '\u{201e}' => {
                let length = self.string(first);
                // A string that ends with its line ends its tag too.
                self.in_tag = !self.rest[length..].starts_with('\n');
                Some((TokenKind::TagValue, length))
            }
            letter if SINGLE_QUOTES.contains(&letter) => {
                let closed = self.in_single_quotes();
                self.in_tag = closed.is_some();
                let length = closed.unwrap_or_else(|| self.to_line_end());
                Some((TokenKind::TagValue, length))
            }
            letter if is_letter_or_digit(letter) || letter == '_' => Some((
                TokenKind::TagName,
                self.run(|letter| is_letter_or_digit(letter) || letter == '_'),
            )),
            // Whatever cannot be in a tag ends it, so that a forgotten `]` costs one tag.
            _ => {
                self.in_tag = false;
                None
            }
        }
    }

    /// A string to its closing quote or the end of its line (section 7: strings hold no line
    /// end; a backslash protects a quote or a backslash). Quotes of a word processor close
    /// each other.
    fn string(&self, open: char) -> usize {
        if open == '"' {
            // Nearly every string: nothing in it needs a second look.
            let rest = &self.rest[1..];
            let end = run(rest, |byte| !matches!(byte, b'"' | b'\\' | b'\n'));
            if rest.as_bytes().get(end) == Some(&b'"') {
                return end + 2;
            }
        }
        let mut protected = true; // the opening quote
        for (at, letter) in self.rest.char_indices() {
            match letter {
                '\n' => return at,
                _ if protected => protected = false,
                '\\' => protected = true,
                '"' => return at + 1,
                '\u{201c}' | '\u{201d}' if open != '"' => return at + letter.len_utf8(),
                _ => {}
            }
        }
        self.rest.len()
    }

    /// The length of a string in single quotes up to the one that its tag's bracket follows,
    /// because the others may be apostrophes.
    fn in_single_quotes(&self) -> Option<usize> {
        let line = &self.rest[..self.to_line_end()];
        let ends = line.match_indices(SINGLE_QUOTES).skip(1);
        let mut ends = ends.map(|(at, quote)| at + quote.len());
        let closes = |end: &usize| line[*end..].trim_start().starts_with(']');
        ends.find(closes)
    }

    fn word_or_number(&self) -> (TokenKind, usize) {
        let rest = self.rest;
        let digits = run(rest, |byte| byte.is_ascii_digit());
        if digits > 0 && rest.as_bytes().get(digits) == Some(&b'.') {
            return (TokenKind::Number, digits);
        }
        // Nearly every word: no result and no castling with spaces begins so.
        if digits == 0 && !rest.starts_with(ENDS) {
            return (TokenKind::Word, word_length(rest).max(1));
        }
        if let Some(spaced) = spaced(rest) {
            return spaced;
        }
        let after = rest[digits..].chars().next();
        // `0-0` castles, `1-0` and `1/2` are results; `3-2` is nothing, as one word.
        let goes_on = after.is_some_and(|letter| letter == '/' || is_dash(letter));
        if digits > 0 && !goes_on {
            return (TokenKind::Number, digits);
        }
        let length = word_length(rest);
        match outcome(&rest[..length]) {
            Some(_) => (TokenKind::Result, length),
            None => (TokenKind::Word, length.max(1)),
        }
    }
}

/// The end of a word of the movetext. A period ends it, except in `e.p.`, and a suffix or
/// evaluation sign is part of it.
fn word_length(rest: &str) -> usize {
    // Most words are only these; the rules do not concern them.
    let plain = run(rest, |byte| {
        byte.is_ascii_alphanumeric() || matches!(byte, b'+' | b'#' | b'=' | b'-')
    });
    match rest.as_bytes().get(plain) {
        None | Some(b' ' | b'\n' | b'\r' | b')') => plain,
        _ => unusual_length(rest, plain),
    }
}

/// The end of a word that is more than letters, digits and a few signs; `plain` bytes of it are
/// those.
fn unusual_length(rest: &str, plain: usize) -> usize {
    let mut last = ' ';
    for (at, letter) in rest[plain..].char_indices() {
        let at = plain + at;
        // Section 7: `!` and `?` end a symbol, so `e4!e5` is two moves.
        if matches!(last, '!' | '?') && is_letter_or_digit(letter) {
            return at;
        }
        last = letter;
        if letter == '.' && at > 0 {
            let e_p = rest[..at].ends_with('e') && rest[at..].starts_with(".p.");
            return if e_p { at + 3 } else { at };
        }
        if !is_word(letter) {
            // `a8(Q)`: a promotion in parentheses is part of its move.
            let mut inside = rest[at + letter.len_utf8()..].chars();
            let promotes = letter == '('
                && rest[..at].ends_with(['1', '8'])
                && inside
                    .next()
                    .is_some_and(|piece| piece.is_ascii_uppercase())
                && inside.next() == Some(')');
            return if promotes {
                at + 3 + signs_length(&rest[at + 3..])
            } else {
                at
            };
        }
    }
    rest.len()
}

/// The check, suffix and evaluation signs at the start of a text.
fn signs_length(rest: &str) -> usize {
    rest.find(|sign| !matches!(sign, '+' | '#' | '!' | '?' | '='))
        .unwrap_or(rest.len())
}

fn is_word(letter: char) -> bool {
    is_letter_or_digit(letter)
        || matches!(letter, '+' | '#' | '=' | ':' | '-' | '_' | '/' | '!' | '?' | '@' | '\'' | ',')
        // Signs, figurines, dashes and the like: the parser says what it cannot use.
        || matches!(letter, '\u{a1}'..='\u{ff}' | '\u{2010}'..='\u{2025}' | '\u{2027}'..='\u{2bff}')
            && letter != '\u{2028}' && letter != '\u{2029}'
        || letter == '\u{fe0e}' || letter == '\u{fe0f}'
}

/// A hyphen, or what a word processor makes of it.
fn is_dash(letter: char) -> bool {
    matches!(letter, '-' | '\u{2010}'..='\u{2013}' | '\u{2212}')
}

/// Space that some people type round the dashes of a result or of castling.
pub(super) fn is_gap(letter: char) -> bool {
    matches!(letter, ' ' | '\t' | '\u{a0}')
}

/// A result or castling with spaces round its dashes: `1 - 0`, `0 - 0`.
fn spaced(rest: &str) -> Option<(TokenKind, usize)> {
    let part = |at: usize| {
        let parts = ["1/2", "\u{bd}", "0", "1", "O", "o"];
        let from = rest.get(at..)?;
        let part = parts.into_iter().find(|part| from.starts_with(part))?;
        Some(at + part.len())
    };
    let dash = |at: usize| {
        let from = rest.get(at..)?;
        let after = from.trim_start_matches(is_gap).strip_prefix(is_dash)?;
        Some(rest.len() - after.trim_start_matches(is_gap).len())
    };
    let mut end = part(0)?;
    while let Some(next) = dash(end).and_then(part) {
        end = next;
    }
    let word = rest.get(..end)?;
    if !word.contains(is_gap) {
        return None;
    }
    let kind = match outcome(word) {
        Some(_) => TokenKind::Result,
        None if is_castling(word) => {
            end += signs_length(rest.get(end..)?);
            TokenKind::Word
        }
        None => return None,
    };
    // `0 - 0-1` is neither.
    let goes_on = rest.get(end..)?.starts_with(is_word);
    (!goes_on).then_some((kind, end))
}

/// Whether a word castles: two or three zeros or letters O with dashes between them.
fn is_castling(word: &str) -> bool {
    let letters = || word.chars().filter(|&letter| !is_gap(letter));
    let count = letters().count();
    let fits = |(at, letter): (usize, char)| match at % 2 {
        0 => matches!(letter, 'O' | 'o' | '0'),
        _ => is_dash(letter),
    };
    matches!(count, 3 | 5) && letters().enumerate().all(fits)
}

/// The game termination marker that a word is, as PGN writes it (section 8.2.6). Read
/// generously: `½-½`, the letter O for a zero, dashes from word processors, spaces round them.
pub(super) fn outcome(word: &str) -> Option<&'static str> {
    if word.len() < 3 || !word.starts_with(ENDS) {
        return None;
    }
    let plain = |with: &str| {
        let letters = word.chars().filter(|&letter| !is_gap(letter));
        let mut left = letters.map(|letter| match letter {
            'O' | 'o' => '0',
            letter if is_dash(letter) => '-',
            other => other,
        });
        let mut right = with.chars();
        loop {
            match (left.next(), right.next()) {
                (None, None) => return true,
                (one, other) if one == other => {}
                _ => return false,
            }
        }
    };
    if plain("1-0") {
        Some("1-0")
    } else if plain("0-1") {
        Some("0-1")
    } else if plain("1/2-1/2") || plain("1/2") || plain("\u{bd}-\u{bd}") {
        Some("1/2-1/2")
    } else {
        None
    }
}

impl Iterator for Lexer<'_> {
    type Item = Token;

    fn next(&mut self) -> Option<Token> {
        let first = self.rest.chars().next()?;
        let from = self.at;
        let (kind, length) = match first {
            _ if !first.is_ascii_graphic() && is_space(first) => {
                (TokenKind::Space, self.run(is_space))
            }
            '%' if self.at_line_start => (TokenKind::Escape, self.to_line_end()),
            _ => match self.in_tag.then(|| self.tag_token(first)).flatten() {
                Some(token) => token,
                None => self.movetext_token(first),
            },
        };
        // Every branch consumes at least one character, and whole ones; this makes sure of it.
        let length = length.max(first.len_utf8());
        self.advance(length);
        Some(Token {
            kind,
            span: Span::new(from, self.at),
        })
    }
}

impl Lexer<'_> {
    fn movetext_token(&mut self, first: char) -> (TokenKind, usize) {
        match first {
            '[' => {
                self.in_tag = true;
                (TokenKind::TagOpen, 1)
            }
            ']' => (TokenKind::TagClose, 1),
            '{' => {
                let rest = self.rest;
                (
                    TokenKind::Comment,
                    rest.len().min(run(rest, |byte| byte != b'}') + 1),
                )
            }
            ';' => (TokenKind::LineComment, self.to_line_end()),
            '(' => (TokenKind::Open, 1),
            ')' => (TokenKind::Close, 1),
            '*' => (TokenKind::Result, 1),
            '$' => {
                let digits = run(&self.rest[1..], |byte| byte.is_ascii_digit());
                (TokenKind::Nag, 1 + digits)
            }
            '.' | '\u{2026}' => (
                TokenKind::Dots,
                self.run(|letter| letter == '.' || letter == '\u{2026}'),
            ),
            _ if is_word(first) => self.word_or_number(),
            _ => (TokenKind::Stray, self.run(is_stray)),
        }
    }
}

fn is_space(letter: char) -> bool {
    letter.is_whitespace() || letter == '\u{feff}' || letter == '\u{200b}'
}

fn is_stray(letter: char) -> bool {
    !is_space(letter)
        && !is_word(letter)
        && !matches!(
            letter,
            '[' | ']' | '{' | ';' | '(' | ')' | '*' | '$' | '.' | '\u{2026}' | '%'
        )
}
