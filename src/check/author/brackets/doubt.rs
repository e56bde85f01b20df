//! Whether another reading explains a text as well as the change that explains it: then the change
//! is offered, and not made.

use super::edit::{Edit, Sign};
use super::trial::tokens;
use crate::notation::{Lexer, Token, TokenKind};

/// Within how many tokens of its place a parenthesis may have gone into a comment.
const NEAR: usize = 16;

/// Whether a change that leaves nothing amiss may not be what was meant.
pub(super) fn is_doubtful(text: &str, edit: &Edit) -> bool {
    match (edit.put, edit.taken) {
        (Some((at, _)), None) => {
            !is_numbered(text, at, edit.sign)
                || is_hidden(text, at, edit.sign)
                || is_swallowed(text, edit.sign)
        }
        (None, Some(at)) => match edit.sign {
            // The other half may be the one that is missing, but not of `((`.
            Sign::Open => {
                is_beside_brace(text, at) || !is_double(text, at) && is_swallowed(text, Sign::Close)
            }
            Sign::Close => is_beside_brace(text, at) || is_swallowed(text, Sign::Open),
            Sign::Begin | Sign::End => false,
        },
        _ => true,
    }
}

/// Whether a sign is put where a number, or the end of a line, says that it belongs.
fn is_numbered(text: &str, at: usize, sign: Sign) -> bool {
    let next = text[at..].trim_start().chars().next();
    match sign {
        Sign::Open => next.is_some_and(|it| it.is_ascii_digit()),
        Sign::Close => next.is_none_or(|it| it.is_ascii_digit() || matches!(it, ')' | '(' | '*')),
        Sign::Begin => {
            // What is before it may be its first words, or hide them.
            let all = Lexer::new(&text[..at]).filter(|it| it.kind != TokenKind::Space);
            if all
                .last()
                .is_some_and(|it| it.kind == TokenKind::LineComment)
            {
                return false;
            }
            let before = &text[text[..at].rfind('\n').unwrap_or(0)..at];
            is_movish(before.trim_end_matches(['(', ')']))
        }
        // A move without a number may be the last word of a sentence.
        Sign::End => {
            let next = Lexer::new(&text[at..]).find(|it| it.kind != TokenKind::Space);
            next.is_none_or(|it| it.kind != TokenKind::Word)
        }
    }
}

/// Whether no word is between the sign and the brace of a comment, which may have lost it or one
/// like it.
fn is_beside_brace(text: &str, at: usize) -> bool {
    let is_gap = |it: char| !it.is_alphanumeric() && !matches!(it, '{' | '}');
    text[..at].trim_end_matches(is_gap).ends_with('}')
        || text[at + 1..].trim_start_matches(is_gap).starts_with('{')
}

/// Whether a `(` is beside another.
fn is_double(text: &str, at: usize) -> bool {
    text[..at].trim_end().ends_with('(') || text[at + 1..].trim_start().starts_with('(')
}

/// Whether a comment near a place holds such a parenthesis without its other half, or with nothing
/// but that: it may be the one that the moves lack there.
fn is_hidden(text: &str, at: usize, sign: Sign) -> bool {
    let tokens = tokens(text);
    let here = tokens.partition_point(|it| (it.span.from as usize) < at);
    let near = tokens.iter().skip(here.saturating_sub(NEAR)).take(2 * NEAR);
    let is_comment = |it: &&Token| matches!(it.kind, TokenKind::Comment | TokenKind::LineComment);
    near.filter(is_comment).any(|it| {
        let found = lone(&text[it.span.range()]);
        match sign {
            Sign::Open => found.0,
            Sign::Close => found.1,
            Sign::Begin | Sign::End => false,
        }
    })
}

/// Whether a comment holds such a parenthesis, and between it and one of its braces is nothing but
/// what can be among moves: it may have swallowed that.
fn is_swallowed(text: &str, sign: Sign) -> bool {
    let comments = Lexer::new(text).filter(|it| it.kind == TokenKind::Comment);
    let mut words = comments.map(|it| text[it.span.range()].trim_matches(['{', '}']));
    words.any(|words| {
        let found = lone(words);
        let holds = match sign {
            Sign::Open => found.0,
            Sign::Close => found.1,
            Sign::Begin | Sign::End => false,
        };
        let mut places = words.match_indices(sign.letter());
        holds && places.any(|(at, _)| is_movish(&words[..at]) || is_movish(&words[at + 1..]))
    })
}

/// Whether all of some words can be among moves.
fn is_movish(words: &str) -> bool {
    Lexer::new(words).all(|it| match it.kind {
        TokenKind::Word => {
            let mut pairs = words[it.span.range()].as_bytes().windows(2);
            pairs.any(|pair| matches!(pair, [b'a'..=b'h', b'1'..=b'8'] | [b'-', b'O' | b'-']))
        }
        TokenKind::Stray | TokenKind::TagOpen | TokenKind::TagClose => false,
        _ => true,
    })
}

/// Whether some words have a `(`, and a `)`, that encloses no words with another.
fn lone(words: &str) -> (bool, bool) {
    let mut open: Vec<usize> = Vec::new();
    let mut found = (false, false);
    for (at, byte) in words.bytes().enumerate() {
        match byte {
            b'(' => open.push(at),
            b')' => match open.pop() {
                // Both are whole letters, so that the words between them are too.
                Some(from) if !words[from + 1..at].trim().is_empty() => {}
                Some(_) => found = (true, true),
                None => found.1 = true,
            },
            _ => {}
        }
    }
    (found.0 || !open.is_empty(), found.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_parenthesis_that_a_comment_may_hide_is_in_doubt() {
        for (words, wanted) in [
            ("{a (b) c}", (false, false)),
            ("{a ( b}", (true, false)),
            ("{a ) b}", (false, true)),
            ("{a ( ) b}", (true, true)),
        ] {
            assert_eq!(lone(words), wanted, "{words}");
        }
    }

    #[test]
    fn a_comment_may_have_swallowed_a_parenthesis_at_its_edge() {
        for (text, wanted) in [
            ("1. e4 {fine (1. d4} 1... e5) 2. Nf3", true),
            ("1. e4 {fine ( and so on} 1... e5) 2. Nf3", false),
        ] {
            assert_eq!(is_swallowed(text, Sign::Open), wanted, "{text}");
        }
    }

    #[test]
    fn a_parenthesis_beside_a_brace_may_belong_to_the_comment() {
        let taken = |text: &str| {
            let at = text.rfind(')').unwrap_or(0);
            is_doubtful(text, &Edit::taken(Sign::Close, at))
        };
        assert!(taken("1. e4 (1. d4 {x}) ) 1... e5"));
        assert!(!taken("1. e4 (1. d4 d5) ) 1... e5"));
    }

    #[test]
    fn a_comment_ends_for_certain_only_before_a_number_or_a_sign() {
        let put = |text: &str, at| is_doubtful(text, &Edit::put(Sign::End, at));
        assert!(put("1. e4 {fine e5 2. Nf3", 11));
        assert!(!put("1. e4 {fine 1... e5 2. Nf3", 11));
    }
}
