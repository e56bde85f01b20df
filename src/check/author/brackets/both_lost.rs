//! A variation that has lost both its brackets: its first number steps back to that of the move
//! before it, and a later one says where the line goes on.

use super::quotes::Splice;
use super::trial::{Score, Trial, tokens};
use crate::lesson::reason::phrases::list;
use crate::notation::{Letters, Token, TokenKind};
use crate::text::{Code, Finding, Span, quote};
use shakmaty::{Chess, Position};

/// At how many numbers after it the line may go on.
const ENDS: usize = 24;

/// How many of them are offered.
const OFFERED: usize = 3;

/// Such a variation at the first place where a text reads amiss, and its brackets; none if the text
/// does not play with them.
pub(super) fn both_lost(
    text: &str,
    start: &Chess,
    letters: &Letters,
    left: &mut usize,
) -> Option<(Finding, Vec<Splice>)> {
    let base = Trial::new(start, letters).read(text, 0, Score::WORST, left)?;
    let (first, _) = base.first?;
    let tokens = tokens(text);
    let at = tokens.partition_point(|it| (it.span.from as usize) < first);
    let number = number_before(text, &tokens, at)?;
    // The same move once more is written twice.
    let is_word = |it: &Token| it.kind == TokenKind::Word;
    let last = tokens[..number.at].iter().rposition(is_word)?;
    if text[tokens[last].span.range()] == text[tokens.get(at)?.span.range()] {
        return None;
    }
    // White's move has its own number, or a move before it is one too many.
    let before = number_before(text, &tokens, last);
    if !number.is_black && before.is_none_or(|it| it.value != number.value) {
        return None;
    }
    let mut trial = Trial::new(start, letters);
    for token in &tokens[..number.at] {
        trial.token(text, token, 0);
    }
    if trial.moves == 0 || !number.steps_back(trial.position()) {
        return None;
    }
    let from = tokens[number.at].span.from as usize;
    let mut found = Vec::new();
    for end in ends(&tokens, at) {
        let new = ["(", &text[from..end], ")", &text[end..]].concat();
        if trial.clone().read(&new, from, Score::SOUND, left).is_some() {
            found.push(end);
        }
    }
    // The last one: moves that are played in either line more likely belong to the one before them.
    let end = *found.last()?;
    let first = Span::new(from, tokens[at].span.to as usize); // the fault is at a token
    let places = found.iter().rev().take(OFFERED);
    let places = places.map(|&end| match next_move(text, &tokens, end) {
        Some(next) => format!("before {}", quote(next)),
        None => "where its line ends".to_owned(),
    });
    let message = "a variation begins here without its `(`, and ends without its `)`";
    let help = format!(
        "put `(` before {}, and `)` {}",
        quote(&text[first.range()]),
        list(places.collect(), "or")
    );
    let mut finding = Finding::new(Code::NotOpened, first, message.to_owned())
        .with_help(help)
        .with_related(Span::new(end, end), "its end".to_owned());
    // Where nothing goes on after it, one bracket may be in the wrong place instead.
    if found.len() == 1 && next_move(text, &tokens, end).is_some() {
        let new = ["(", &text[from..end], ")"].concat();
        finding = finding.with_fix(Span::new(from, end), new);
    }
    let put = |at, sign: &str| Splice {
        from: at,
        to: at,
        text: sign.to_owned(),
    };
    Some((finding, vec![put(from, "("), put(end, ")")]))
}

/// The number of a move.
struct Number {
    /// Which token it is.
    at: usize,
    value: u32,
    is_black: bool,
}

impl Number {
    /// Whether it is that of the move that led to a position.
    fn steps_back(&self, after: &Chess) -> bool {
        let was_black = after.turn().is_white();
        let value = after.fullmoves().get() - u32::from(was_black);
        self.value == value && self.is_black == was_black
    }
}

/// The number of the move at a token.
fn number_before(text: &str, tokens: &[Token], at: usize) -> Option<Number> {
    let mut dots = 0;
    for (at, token) in tokens.get(..at)?.iter().enumerate().rev() {
        let word = &text[token.span.range()];
        match token.kind {
            TokenKind::Dots => {
                dots += word
                    .chars()
                    .map(|it| if it == '.' { 1 } else { 3 })
                    .sum::<u32>()
            }
            TokenKind::Number => {
                return Some(Number {
                    at,
                    value: word.parse().ok()?,
                    is_black: dots > 1,
                });
            }
            _ => return None,
        }
    }
    None
}

/// Where a variation that begins before a token may end: before a number of its own level, or where
/// the level ends.
fn ends(tokens: &[Token], at: usize) -> Vec<usize> {
    let (mut list, mut depth) = (Vec::new(), 0);
    let count = |kind| tokens[..at].iter().filter(|it| it.kind == kind).count();
    let is_inside = count(TokenKind::Open) > count(TokenKind::Close);
    for (ix, token) in tokens.iter().enumerate().skip(at + 1) {
        let end = tokens[ix - 1].span.to as usize; // there is a token before
        match token.kind {
            TokenKind::Number if depth == 0 => list.push(end),
            TokenKind::Open => depth += 1,
            // A result is no variation's.
            TokenKind::Result if is_inside => return list,
            TokenKind::Close | TokenKind::Result if depth == 0 => {
                list.push(end);
                return list;
            }
            TokenKind::Close => depth -= 1,
            _ => {}
        }
        if list.len() == ENDS {
            return list;
        }
    }
    list.extend(tokens.last().map(|it| it.span.to as usize));
    list
}

/// The next move with its number after a place.
fn next_move<'a>(text: &'a str, tokens: &[Token], from: usize) -> Option<&'a str> {
    let at = tokens.partition_point(|it| (it.span.from as usize) < from);
    let number = tokens.get(at).filter(|it| it.kind == TokenKind::Number)?;
    let mut rest = tokens[at..].iter();
    let word = rest.find(|it| it.kind == TokenKind::Word)?;
    text.get(number.span.join(word.span).range())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::author::given::{checked, codes};

    /// What the finding offers to write.
    fn fix(text: &str) -> Option<String> {
        let (_, findings) = checked(text);
        let first = findings.iter().find(|it| it.code == Code::NotOpened)?;
        first.fix.clone().map(|fix| fix.text)
    }

    #[test]
    fn a_variation_without_both_brackets_is_told_by_its_numbers() {
        for (text, wanted) in [
            (
                "1. e4 e5 2. Nf3 Nc6 2... d6 3. d4 3. Bb5 a6 {x} *",
                "(2... d6 3. d4)",
            ),
            (
                "1. e4 e5 1... c5 2. Nf3 d6 {x} 2. Nf3 Nc6 {x} *",
                "(1... c5 2. Nf3 d6 {x})",
            ),
        ] {
            assert_eq!(fix(text).as_deref(), Some(wanted), "{text}");
            assert!(
                codes(text).iter().all(|it| matches!(*it, "P080" | "P060")),
                "{text}"
            );
        }
    }

    #[test]
    fn moves_that_either_line_can_play_leave_the_end_open() {
        let (_, findings) = checked("1. e4 e5 2. Nf3 Nc6 2... d6 3. d4 {x} *");
        let told = findings.iter().find(|it| it.code == Code::NotOpened);
        let help = told.and_then(|it| it.help.clone());
        assert_eq!(
            help.as_deref(),
            Some("put `(` before 2... d6, and `)` where its line ends or before 3. d4")
        );
    }

    #[test]
    fn a_number_that_does_not_step_back_begins_no_variation() {
        for text in [
            "1. c4 (1. h4 d5 1... d6 *)",
            "1. e4 d5 2. exd5 Qxd5 Nc3 3. d4 e5 4. dxe5 {x} *",
            "1. e4 e5 2. Nf3 Nc6 3... d6 3. d4 {x} *",
            "1. e4 e5 2. Nf3 Nc6 d6 3. d4 {x} *",
        ] {
            assert!(!codes(text).contains(&"P080"), "{text}");
        }
    }
}
