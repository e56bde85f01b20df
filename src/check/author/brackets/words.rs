//! Slips of single words that the rest of the game shows: moves written twice, two moves in the
//! wrong order, a letter for a digit in a number, a result in a form of its own.

use super::quotes::Splice;
use super::trial::{Fault, Score, Trial, tokens};
use crate::notation::{Letters, Token, TokenKind};
use crate::text::{Code, Finding, Span, quote};
use shakmaty::Chess;

/// How many moves may be written twice.
const TWICE: usize = 4;

/// The slip at the first place where a text reads amiss, and the text without it; none where no
/// such slip explains it, or more than one does.
pub(super) fn words(
    text: &str,
    start: &Chess,
    letters: &Letters,
    left: &mut usize,
) -> Option<(Finding, Splice)> {
    let read =
        |text: &str, limit, left: &mut usize| Trial::new(start, letters).read(text, 0, limit, left);
    let base = read(text, Score::WORST, left)?;
    let (first, fault) = base.first?;
    let limit = Score {
        faults: base.score.faults / 2,
        bare: u32::MAX,
    };
    let mut found: Option<(Score, Finding, Splice)> = None;
    for (finding, splice) in candidates(text, first, fault) {
        let new = [&text[..splice.from], &splice.text, &text[splice.to..]].concat();
        let Some(read) = read(&new, limit, left) else {
            continue;
        };
        // In the right order a move that is said to capture does.
        if finding.code == Code::WrongOrder && read.odd > base.odd {
            continue;
        }
        if found
            .as_ref()
            .is_none_or(|(score, ..)| read.score.faults < score.faults)
        {
            found = Some((read.score, finding, splice));
        }
    }
    let (score, mut finding, splice) = found?;
    // Of two moves in the wrong order the numbers may be right, and a bracket be missing.
    if score.faults == 0 && finding.code != Code::WrongOrder {
        let span = Span::new(splice.from, splice.to);
        finding = finding.with_fix(span, splice.text.clone());
    }
    Some((finding, splice))
}

fn candidates(text: &str, first: usize, fault: Fault) -> Vec<(Finding, Splice)> {
    let tokens = tokens(text);
    let at = tokens.partition_point(|it| (it.span.from as usize) < first);
    let mut list = Vec::new();
    misread(text, &tokens, at, &mut list);
    twice(text, &tokens, at, &mut list);
    // A move of several pieces can be played: it lacks the letter of one.
    if fault != Fault::Several {
        swapped(text, &tokens, at, &mut list);
    }
    list
}

/// A letter for a digit, and results that the standard writes otherwise.
fn misread(text: &str, tokens: &[Token], at: usize, list: &mut Vec<(Finding, Splice)>) {
    // A number such as `1O.` is cut in two, so the word may begin before.
    for token in &tokens[at.saturating_sub(2)..(at + 2).min(tokens.len())] {
        let from = token.span.from as usize;
        let before = text[..from].trim_end_matches(|it: char| !it.is_whitespace() && it != ')');
        let from = before.len();
        let length = text[from..].find(char::is_whitespace);
        let word = &text[from..length.map_or(text.len(), |length| from + length)];
        let digits = word.find('.').map_or(word, |dot| &word[..dot]);
        let number: String = digits
            .chars()
            .map(|it| match it {
                'l' | 'I' | '|' => '1',
                'O' | 'o' => '0',
                other => other,
            })
            .collect();
        let is_number = !number.is_empty() && number.bytes().all(|it| it.is_ascii_digit());
        if is_number && number != digits && word.contains('.') {
            let span = Span::new(from, from + digits.len());
            let message = format!("the number {} is written with a letter", quote(digits));
            let finding = Finding::new(Code::NotAMove, span, message)
                .with_help(format!("write {number} in digits"));
            let to = from + digits.len();
            list.push((
                finding,
                Splice {
                    from,
                    to,
                    text: number,
                },
            ));
        }
        if matches!(
            word,
            "0.5-0.5" | "0,5-0,5" | ".5-.5" | "1/2:1/2" | "draw" | "Draw"
        ) {
            let span = Span::new(from, from + word.len());
            let message = format!("{} is no result", quote(word));
            let finding = Finding::new(Code::NotAMove, span, message)
                .with_help("a draw is written 1/2-1/2".to_owned());
            let text = "1/2-1/2".to_owned();
            list.push((
                finding,
                Splice {
                    from,
                    to: from + word.len(),
                    text,
                },
            ));
        }
    }
}

/// The moves before the fault once more: it is at their first number or at a move.
fn twice(text: &str, tokens: &[Token], at: usize, list: &mut Vec<(Finding, Splice)>) {
    let word = |token: &Token| &text[token.span.range()];
    for begin in at.saturating_sub(4)..=at {
        for length in 1..=3 * TWICE {
            let (Some(before), Some(again)) = (
                begin
                    .checked_sub(length)
                    .and_then(|from| tokens.get(from..begin)),
                tokens.get(begin..begin + length),
            ) else {
                continue;
            };
            let is_moves = |it: &Token| {
                matches!(
                    it.kind,
                    TokenKind::Number | TokenKind::Dots | TokenKind::Word
                )
            };
            let is_same = before
                .iter()
                .zip(again)
                .all(|(one, other)| word(one) == word(other));
            let ends = again.last().is_some_and(|it| it.kind == TokenKind::Word);
            if !is_same || !ends || !again.iter().all(is_moves) || begin + length <= at {
                continue;
            }
            let (from, to) = (
                again[0].span.from as usize,
                again[length - 1].span.to as usize,
            );
            let span = Span::new(from, to);
            let written = quote(&text[span.range()]).to_string();
            let finding = Finding::new(
                Code::WrittenTwice,
                span,
                format!("{written} is written twice"),
            )
            .with_help("leave out the second".to_owned())
            .with_related(
                Span::new(
                    before[0].span.from as usize,
                    before[length - 1].span.to as usize,
                ),
                "the first".to_owned(),
            );
            let end = text[to..].len() - text[to..].trim_start().len();
            list.push((
                finding,
                Splice {
                    from,
                    to: to + end,
                    text: String::new(),
                },
            ));
        }
    }
}

/// Two moves of one line in each other's place.
fn swapped(text: &str, tokens: &[Token], at: usize, list: &mut Vec<(Finding, Splice)>) {
    // The first of them cannot be played. Those of variations between are of other lines.
    let (mut near, mut depth) = (Vec::new(), 0);
    for token in &tokens[at..] {
        match token.kind {
            TokenKind::Open => depth += 1,
            TokenKind::Close if depth == 0 => break,
            TokenKind::Close => depth -= 1,
            TokenKind::Word if depth == 0 => near.push(*token),
            _ => {}
        }
        if near.len() == 3 {
            break;
        }
    }
    if let Some((one, others)) = near.split_first() {
        for other in others {
            let (from, to) = (one.span.from as usize, other.span.to as usize);
            let (first, last) = (&text[one.span.range()], &text[other.span.range()]);
            let between = &text[one.span.to as usize..other.span.from as usize];
            if first == last {
                continue;
            }
            let message = format!(
                "{} and {} are in the wrong order",
                quote(first),
                quote(last)
            );
            let finding = Finding::new(Code::WrongOrder, one.span, message)
                .with_help(match between.contains(['(', '{']) {
                    true => "put each in the other's place".to_owned(),
                    false => format!("write {}", quote(&format!("{last}{between}{first}"))),
                })
                .with_related(other.span, "the other".to_owned());
            let text = format!("{last}{between}{first}");
            list.push((finding, Splice { from, to, text }));
        }
    }
}
