//! Comments without an end, which end with the next one or the text, so that the moves between are
//! read as words: where they should have ended.

use super::Text;
use super::line_starts::node_at;
use crate::check::author::explained::Told;
use crate::lesson::{NodeId, rules};
use crate::notation::word::san::{self, MoveWord};
use crate::notation::{ItemKind, Letters, Lexer, Token, TokenKind};
use crate::text::{Code, Finding, Span};
use shakmaty::{Chess, Position};

const MISSING: &str = "its end is missing before this";
const NO_BRACES: &str = "end it with `}` before the next begins; leave out braces among its words";

/// How many tokens are played to find where a comment should have ended: each is tried as a
/// beginning, so a long text would take quadratic time.
const TRIED: usize = 100_000;

/// Adds to the findings about comments that are not closed where they should have ended, and adds
/// findings for comments that the end of another closes.
pub(super) fn swallowed(text: &Text) -> Vec<Told> {
    let mut list = Vec::new();
    for (line, start) in text.game.lines.iter().zip(&text.starts) {
        let mut last = None;
        for item in &line.items {
            match item.kind {
                ItemKind::Move => last = Some(item.span),
                ItemKind::Comment => {
                    let at = || match last {
                        Some(span) => node_at(text.lesson, span),
                        None => start.start,
                    };
                    list.extend(comment(text, item.span, at).map(Told::alone));
                }
                _ => {}
            }
        }
    }
    list
}

/// The finding about a comment; `at` is the node that it is after.
fn comment(text: &Text, comment: Span, at: impl Fn() -> Option<NodeId>) -> Option<Finding> {
    let raw = text.source.slice(comment);
    if raw.starts_with(';') {
        return None;
    }
    let inner = raw[1..].find('{').map(|inner| inner + 1);
    let is_closed = raw.ends_with('}');
    if is_closed && inner.is_none() {
        return None;
    }
    let end = at().and_then(|at| end(text, comment, at));
    match inner.filter(|_| is_closed) {
        Some(inner) => Some(brace_inside(text, comment, inner, end)),
        None => open(text, comment, end),
    }
}

/// A comment that the end of another closes; at `inner` of it that other begins.
fn brace_inside(text: &Text, comment: Span, inner: usize, end: Option<Span>) -> Finding {
    let from = comment.from as usize;
    let brace = |at| Span::new(from + at, from + at + 1);
    let message = match end {
        Some(_) => {
            "this comment does not end before the next begins, so its moves are read as words"
        }
        None => "this comment holds another `{`, and the first `}` ends both",
    };
    let finding = Finding::new(Code::BraceInside, brace(0), message.to_owned())
        .with_related(brace(inner), "the next one".to_owned());
    match end {
        Some(end) => ended(text, finding, end),
        None => finding.with_help(NO_BRACES.to_owned()),
    }
}

/// A comment that nothing closes, as it was found when the text was read, with its end.
fn open(text: &Text, comment: Span, end: Option<Span>) -> Option<Finding> {
    let is_it = |it: &&Finding| it.code == Code::OpenComment && it.span.from == comment.from;
    let found = text.found.iter().find(is_it)?;
    Some(ended(text, found.clone(), end?))
}

/// The finding about a comment, with the move before which it should have ended.
fn ended(text: &Text, finding: Finding, end: Span) -> Finding {
    let first = text.source.slice(end);
    finding
        .with_help(format!(
            "end it with `}}` before {first}, which can be played there"
        ))
        .with_related(end, MISSING.to_owned())
}

/// The first move, with its number, of those that are at the end of a comment's words, or before
/// the next brace or tag in it, and that can be played where it is.
fn end(text: &Text, comment: Span, at: NodeId) -> Option<Span> {
    let (lesson, letters) = (text.lesson, text.letters);
    let from = comment.from as usize + 1;
    let words = text.source.slice(Span::new(from, comment.to as usize));
    let ends = [words.find(['{', '}']), words.find("\n[")];
    let words = &words[..ends.into_iter().flatten().min().unwrap_or(words.len())];
    let is_move = |token: &Token| match token.kind {
        TokenKind::Word => san::read(&words[token.span.range()], letters)
            .shape
            .is_some(),
        TokenKind::Space | TokenKind::Number | TokenKind::Dots | TokenKind::Nag => true,
        TokenKind::Open | TokenKind::Close | TokenKind::Result => true,
        _ => false,
    };
    let tokens: Vec<Token> = Lexer::new(words).collect();
    let last = tokens.iter().rposition(|token| !is_move(token));
    let moves = &tokens[last.map_or(0, |last| last + 1)..];
    let node = lesson.node(at);
    let board = Board {
        at: node.position.clone(),
        before: node.parent.map(|id| lesson.node(id).position.clone()),
    };
    let begins = |token: &Token| {
        matches!(
            token.kind,
            TokenKind::Number | TokenKind::Word | TokenKind::Open
        )
    };
    let mut left = TRIED;
    let mut starts = (0..moves.len()).filter(|&start| begins(&moves[start]));
    let start = starts.find(|&start| {
        board
            .clone()
            .plays(words, &moves[start..], letters, &mut left)
    })?;
    let tail = &moves[start..];
    let word = tail.iter().find(|token| token.kind == TokenKind::Word)?;
    let span = tail[0].span.join(word.span); // the tail holds its word
    Some(Span::new(
        from + span.from as usize,
        from + span.to as usize,
    ))
}

/// A position and the one before the move that led to it, from which a variation beside that move
/// is played.
#[derive(Clone)]
struct Board {
    at: Chess,
    before: Option<Chess>,
}

impl Board {
    /// Whether words are moves that can be played one after the other with the numbers that are
    /// before them. One move without a number may be a sentence's.
    fn plays(mut self, words: &str, tokens: &[Token], letters: &Letters, left: &mut usize) -> bool {
        let mut lines = Vec::new();
        let (mut number, mut is_numbered, mut moves) = (None, false, 0);
        for token in tokens {
            if *left == 0 {
                return false;
            }
            *left -= 1;
            let written = &words[token.span.range()];
            match token.kind {
                TokenKind::Number => number = Some(written.parse().unwrap_or(0)),
                TokenKind::Word => {
                    let number = number.take();
                    is_numbered |= number.is_some();
                    moves += 1;
                    if !self.step(number, &san::read(written, letters)) {
                        return false;
                    }
                }
                TokenKind::Open => {
                    let Some(before) = self.before.clone() else {
                        return false;
                    };
                    let at = before;
                    lines.push(core::mem::replace(&mut self, Board { at, before: None }));
                }
                TokenKind::Close => match lines.pop() {
                    Some(line) => self = line,
                    None => return false,
                },
                _ => {}
            }
        }
        is_numbered || moves > 1
    }

    fn step(&mut self, number: Option<u32>, word: &MoveWord) -> bool {
        let agrees = number.is_none_or(|number| number == self.at.fullmoves().get());
        let played = word.shape.as_ref().filter(|_| agrees);
        let Some(Ok((played, _))) = played.map(|shape| rules::resolve(&self.at, shape)) else {
            return false;
        };
        let after = rules::after(&self.at, played);
        self.before = Some(core::mem::replace(&mut self.at, after));
        true
    }
}

#[cfg(test)]
mod tests {
    use super::super::looked;
    use super::*;

    /// Before which move the first comment of a text, which has no end, should have ended.
    fn first(text: &str) -> Option<(usize, String)> {
        let (source, findings) = looked(text, swallowed);
        let codes = [Code::OpenComment, Code::BraceInside];
        let found = findings.iter().find(|it| codes.contains(&it.code));
        let related = &found.expect("a finding").related;
        let end = related.iter().find(|it| it.message == MISSING)?;
        let help = found.and_then(|it| it.help.as_deref()).unwrap_or_default();
        assert!(help.contains(source.slice(end.span)), "{help}");
        Some((end.span.from as usize, source.slice(end.span).to_owned()))
    }

    #[test]
    fn a_comment_should_have_ended_before_the_moves_that_go_on_from_it() {
        for (text, wanted) in [
            ("1. e4 {the usual 1... e5 2. Nf3 {b} Nc6 *", "1... e5"),
            ("1. e4 {the usual e5 2. Nf3 {b} Nc6 *", "e5"),
            ("1. e4 {the usual 1... e5 2. Nf3 Nc6 *", "1... e5"),
            ("1. e4 {Now 1... e5 is met. 1... e5 {b} 2. Nf3 *", "1... e5"),
            ("1. e4 {x (1. d4 d5 {b}) 1... e5 *", "(1. d4"),
            (
                "1. e4 (1. d4 {x 1... d5 (1... Nf6) 2. c4 {b}) e5 *",
                "1... d5",
            ),
            ("1. e4 {x 1... e5 *\n\n[Event \"?\"]\n\n1. d4 *", "1... e5"),
            ("{x 1. e4 {b} e5 *", "1. e4"),
        ] {
            let found = first(text).map(|(_, found)| found);
            assert_eq!(found.as_deref(), Some(wanted), "{text}");
        }
    }

    #[test]
    fn where_no_move_goes_on_from_it_nobody_knows_where_a_comment_should_have_ended() {
        for text in [
            "1. e4 {one {two} e5 *",
            "1. e4 {with d5 {two} e5 *",
            "1. e4 {x 7. Nf3 {two} e5 *",
            "1. e4 {x 1... Nf3 {two} e5 *",
            "1. e4 {x (1... Nf6) {two} e5 *",
        ] {
            assert_eq!(first(text), None, "{text}");
        }
    }

    #[test]
    fn of_a_sentence_that_names_the_next_moves_only_those_at_its_end_count() {
        let text = "1. e4 {Now 1... e5 is met by 2. Nf3, as 1... c5 is. 1... e5 2. Nf3 {b} Nc6 *";
        let (at, _) = first(text).expect("a place");
        assert_eq!(Some(at), text.rfind("1... e5"));
    }
}
