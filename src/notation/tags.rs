//! Tags: `[Name "value"]`, and what is made of one that is written otherwise.

use super::parser::{Parser, Stage};
use super::{Tag, Token, TokenKind};
use crate::text::{Code, Finding, KeptText, Source, Span, has, limits};

impl Parser<'_> {
    pub(super) fn tag(&mut self, open: Token) {
        let source = self.source;
        #[cfg(not(target_family = "wasm"))] // for collections: no page has many tags
        if let Some((name, value)) = self.tokens.skip_plain_tag() {
            let end = value.to as usize + 1; // its bracket
            return self.whole_tag(Span::new(open.span.from as usize, end), name, value);
        }
        let mut end = open.span;
        let mut take = |parser: &mut Self, kind| {
            let token = parser.take(kind)?;
            end = token.span;
            Some(token.span)
        };
        let name = take(self, TokenKind::TagName);
        let value = name.and_then(|_| take(self, TokenKind::TagValue));
        let close = value.and_then(|_| take(self, TokenKind::TagClose));
        let mut span = open.span.join(end);
        let (Some(name), Some(value_span), Some(_)) = (name, value, close) else {
            if self.stage == Stage::Empty {
                self.stage = Stage::Tags;
            }
            // The rest of it, up to its bracket or the end of its line, is part of the same
            // mistake.
            while let Some(rest) = self.tokens.next_if(|token| is_tag_rest(source, token)) {
                span = span.join(rest.span);
                if rest.kind == TokenKind::TagClose {
                    break;
                }
            }
            self.grow(span);
            self.game.passed_over = true;
            self.findings.push(
                Finding::new(Code::BadTag, span, "this tag cannot be read".to_owned())
                    .with_help("a tag is written `[Name \"value\"]`, on one line".to_owned()),
            );
            return;
        };
        self.whole_tag(span, name, value_span);
    }

    /// A tag that has all that belongs to it.
    fn whole_tag(&mut self, span: Span, name: Span, value_span: Span) {
        if self.stage > Stage::Tags {
            self.finish_game();
        }
        self.stage = Stage::Tags;
        if self.game.tags.len() >= limits::TAGS {
            self.game.passed_over = true;
            if !self.told_tags {
                self.told_tags = true;
                let message = format!(
                    "a game has at most {} tags; the rest is ignored",
                    limits::TAGS
                );
                self.findings
                    .push(Finding::new(Code::TooManyTags, span, message));
            }
            return self.grow(span);
        }
        let value = self.value(value_span);
        self.game.tags.push(Tag {
            span,
            name,
            value,
            value_span,
        });
        self.grow(span);
    }

    /// The value of a string token. One in single quotes is read, so that it causes no other
    /// finding, but other programs would lose it.
    fn value(&mut self, span: Span) -> KeptText {
        let raw = self.source.slice(span);
        let Some(inner) = in_single_quotes(raw) else {
            return unquote(raw);
        };
        let message = "the value of this tag is in single quotes".to_owned();
        let mut fix = "\"".to_owned();
        for letter in inner.chars() {
            if matches!(letter, '\\' | '"') {
                fix.push('\\');
            }
            fix.push(letter);
        }
        fix.push('"');
        self.findings.push(
            Finding::new(Code::BadTag, span, message)
                .with_help("a tag is written `[Name \"value\"]`, in double quotes".to_owned())
                .with_fix(span, fix),
        );
        KeptText::new(inner)
    }
}

/// What is between single quotes, straight or a word processor's.
fn in_single_quotes(raw: &str) -> Option<&str> {
    let quotes = super::lexer::SINGLE_QUOTES;
    raw.strip_prefix(quotes)?.strip_suffix(quotes)
}

/// Whether a token can be the rest of a tag that went wrong.
fn is_tag_rest(source: &Source, token: &Token) -> bool {
    match token.kind {
        TokenKind::TagName | TokenKind::TagValue | TokenKind::TagClose => true,
        TokenKind::Space => !has(source.slice(token.span), b'\n'),
        _ => false,
    }
}

/// The value of a string token: quotes taken off, `\"` and `\\` resolved (section 7).
fn unquote(raw: &str) -> KeptText {
    let quotes = ['"', '\u{201c}', '\u{201d}', '\u{201e}'];
    let inner = raw.strip_prefix(quotes).unwrap_or(raw);
    let inner = inner.strip_suffix(quotes).unwrap_or(inner);
    if !has(inner, b'\\') {
        return KeptText::new(inner);
    }
    let mut value = String::with_capacity(inner.len());
    let mut letters = inner.chars();
    while let Some(letter) = letters.next() {
        match letter {
            '\\' => value.extend(letters.next()),
            other => value.push(other),
        }
    }
    KeptText::new(&value)
}
