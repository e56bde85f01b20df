//! What may have happened to a bracket or brace before the first place where a text reads amiss:
//! the changes that are worth a try, likely ones first. How many there are is bounded.

use super::edit::{Edit, Sign};
use super::trial::Fault;
use crate::notation::word::san;
use crate::notation::{Letters, Lexer, Token, TokenKind};

/// How many tokens before the first fault a bracket may be missing.
const BACK: usize = 150;

/// How many brackets before the first fault may be one too many.
const TAKEN: usize = 40;

/// How many brackets near the first fault may be in the wrong place.
const NEAR: usize = 16;

/// How many tokens a bracket may have been moved.
const MOVED: usize = 10;

/// How many words of a comment may be those of moves or the other way round.
const WORDS: usize = 24;

/// How many places in a comment without its end are tried, from the next brace backwards.
const ENDS: usize = 300;

/// A text without its spaces, and where it first reads amiss.
pub(super) struct Candidates<'a> {
    text: &'a str,
    letters: &'a Letters,
    tokens: Vec<Token>,
    /// The token at which it reads amiss; one past the last at the end.
    at: usize,
    fault: Fault,
    list: Vec<Edit>,
}

impl<'a> Candidates<'a> {
    pub(super) fn new(
        text: &'a str,
        letters: &'a Letters,
        all: &[Token],
        (first, fault): (usize, Fault),
    ) -> Candidates<'a> {
        let counts = |it: &&Token| !matches!(it.kind, TokenKind::Space | TokenKind::Escape);
        let tokens: Vec<Token> = all.iter().filter(counts).copied().collect();
        let at = tokens.partition_point(|it| (it.span.from as usize) < first);
        Candidates {
            text,
            letters,
            tokens,
            at,
            fault,
            list: Vec::new(),
        }
    }

    /// All of them.
    pub(super) fn all(mut self) -> Vec<Edit> {
        let braces = self.braces();
        match braces {
            1.. => self.comment_open(),
            0 => {
                self.braces_moved();
                match self.brackets() {
                    0 => self.brackets_moved(),
                    missing @ 1.. => self.bracket_open(missing as usize),
                    _ => self.bracket_closed(),
                }
            }
            _ => self.comment_closed(),
        }
        let text = self.text;
        let mut list = self.list;
        list.retain(|it| it.fits(text));
        list
    }

    fn slice(&self, token: &Token) -> &'a str {
        &self.text[token.span.range()]
    }

    /// How many more braces begin comments than end them.
    fn braces(&self) -> i64 {
        let mut sum = 0;
        for token in &self.tokens {
            if matches!(token.kind, TokenKind::Comment | TokenKind::Stray) {
                let count = |brace| self.slice(token).matches(brace).count() as i64;
                sum += count('{') - count('}');
            }
        }
        sum
    }

    /// How many more parentheses open than close.
    fn brackets(&self) -> i64 {
        let count = |kind| self.tokens.iter().filter(|it| it.kind == kind).count() as i64;
        count(TokenKind::Open) - count(TokenKind::Close)
    }

    /// Whether a token of some words can be among moves.
    fn is_movish(&self, words: &str, token: &Token) -> bool {
        match token.kind {
            TokenKind::Word => san::read(&words[token.span.range()], self.letters).shape.is_some(),
            TokenKind::Number | TokenKind::Dots | TokenKind::Nag | TokenKind::Result => true,
            TokenKind::Open | TokenKind::Close => true,
            _ => false,
        }
    }

    /// A comment that holds the beginning of another, or has no end.
    fn comment_open(&mut self) {
        let open = |token: &&Token| {
            let words = &self.text[token.span.range()];
            token.kind == TokenKind::Comment
                && (words[1..].contains('{') || !words.ends_with('}'))
        };
        let Some(&comment) = self.tokens.iter().find(open) else {
            return;
        };
        let from = comment.span.from as usize;
        let words = self.slice(&comment);
        let inner = words[1..].find('{').map(|inner| inner + 1);
        if let Some(inner) = inner {
            self.list.push(Edit::taken(Sign::Begin, from + inner));
        }
        self.list.push(Edit::taken(Sign::Begin, from));
        let words = &words[1..inner.unwrap_or(words.len())];
        let tokens = plain(words);
        let first = tokens.len().saturating_sub(ENDS);
        for (at, token) in tokens.iter().enumerate().skip(first).rev() {
            let next = tokens.get(at + 1);
            // A number goes with its move.
            let is_number = matches!(token.kind, TokenKind::Number | TokenKind::Dots)
                && next.is_some_and(|it| matches!(it.kind, TokenKind::Word | TokenKind::Dots));
            if !is_number && next.is_none_or(|next| self.is_movish(words, next)) {
                let end = from + 1 + token.span.to as usize;
                self.list.push(Edit::put(Sign::End, end));
            }
        }
        if first == 0 {
            self.list.push(Edit::put(Sign::End, from + 1));
        }
    }

    /// A brace that ends no comment.
    fn comment_closed(&mut self) {
        let is_stray = |it: &Token| {
            it.kind == TokenKind::Stray && self.text[it.span.range()].contains('}')
        };
        let Some(at) = self.tokens.iter().position(is_stray) else {
            return;
        };
        let token = self.tokens[at]; // found above
        let brace = self.slice(&token).find('}').unwrap_or(0);
        self.list
            .push(Edit::taken(Sign::End, token.span.from as usize + brace));
        self.begin_before(self.at.min(at));
    }

    /// A comment that should begin at a token or before it.
    fn begin_before(&mut self, at: usize) {
        for at in (at.saturating_sub(WORDS)..=at).rev() {
            let Some(token) = self.tokens.get(at) else {
                continue;
            };
            if token.kind == TokenKind::Comment {
                break;
            }
            self.list
                .push(Edit::put(Sign::Begin, token.span.from as usize));
        }
    }

    /// A brace between words of a comment and moves, on the wrong side of some of them.
    fn braces_moved(&mut self) {
        let at = self.at;
        if self.fault == Fault::NoMove {
            let first = self.tokens.get(at).map_or(0, |it| it.span.from as usize);
            let next = self.text[first..].find(['{', '}']).map(|it| first + it);
            match next.map(|next| (next, &self.text[next..=next])) {
                Some((next, "{")) => {
                    for before in (at.saturating_sub(WORDS)..=at).rev() {
                        let token = self.tokens[before]; // at most the one of the fault
                        if token.kind == TokenKind::Comment {
                            break;
                        }
                        let to = token.span.from as usize;
                        self.list.push(Edit::moved(Sign::Begin, next, to));
                    }
                }
                // A semicolon among the words hides the end of the comment.
                Some(_) => self.begin_before(at),
                None => {}
            }
            let is_comment = |it: &Token| it.kind == TokenKind::Comment;
            let before = self.tokens[..at].iter().rposition(is_comment);
            if let Some(before) = before.filter(|before| at - before <= WORDS) {
                let from = self.tokens[before].span.to as usize - 1;
                // Word by word, as spaces cut them: a comment may hold all signs.
                let rest = &self.text[first..];
                let rest = &rest[..rest.find(['{', '}']).unwrap_or(rest.len())];
                let mut end = 0;
                for word in rest.split_inclusive(char::is_whitespace).take(4 * WORDS) {
                    let bare = word.trim_end();
                    if !bare.is_empty() {
                        let to = first + end + bare.len();
                        self.list.push(Edit::moved(Sign::End, from, to));
                        // A bracket at a word's end may be that of a variation.
                        let inner = bare.trim_end_matches(')');
                        if inner.len() < bare.len() {
                            let to = first + end + inner.len();
                            self.list.push(Edit::moved(Sign::End, from, to));
                        }
                    }
                    end += word.len();
                }
            }
        }
        let comments: Vec<Token> = self.comments_near();
        for comment in comments {
            let from = comment.span.from as usize;
            let words = self.slice(&comment);
            let Some(words) = words[1..].strip_suffix('}') else {
                continue;
            };
            let tokens = plain(words);
            let moves = tokens.iter().take_while(|it| self.is_movish(words, it));
            let count = moves.count().min(WORDS);
            for it in tokens.iter().skip(1).take(count) {
                let to = from + 1 + it.span.from as usize;
                self.list.push(Edit::moved(Sign::Begin, from, to));
            }
            let is_moves = |it: &&Token| self.is_movish(words, it);
            let count = tokens.iter().rev().take_while(is_moves).count().min(WORDS);
            for it in tokens.iter().rev().skip(1).take(count) {
                let to = from + 1 + it.span.to as usize;
                let end = comment.span.to as usize - 1;
                self.list.push(Edit::moved(Sign::End, end, to));
            }
        }
    }

    /// The comments near the fault, those before it from it backwards first.
    fn comments_near(&self) -> Vec<Token> {
        let is_comment = |it: &&Token| it.kind == TokenKind::Comment;
        let (before, after) = self.tokens.split_at(self.at);
        let before = before.iter().rev().filter(is_comment).take(3);
        let after = after.iter().filter(is_comment).take(1);
        before.chain(after).copied().collect()
    }

    /// Where a closing parenthesis can be: after a token.
    fn after(&self, at: usize) -> Option<usize> {
        let token = self.tokens.get(at)?;
        let next = self.tokens.get(at + 1).map(|it| it.kind);
        let can = !matches!(token.kind, TokenKind::Number | TokenKind::Dots)
            && !(token.kind == TokenKind::Result && next.is_none())
            && next != Some(TokenKind::Nag);
        can.then_some(token.span.to as usize)
    }

    /// Where an opening parenthesis can be: before a token.
    fn before(&self, at: usize) -> Option<usize> {
        let token = self.tokens.get(at)?;
        let before = at.checked_sub(1).map(|at| self.tokens[at].kind);
        let is_numbered = matches!(before, Some(TokenKind::Number | TokenKind::Dots));
        let can = match token.kind {
            TokenKind::Word => !is_numbered,
            TokenKind::Number | TokenKind::Comment => true,
            TokenKind::Dots => !is_numbered,
            _ => false,
        };
        can.then_some(token.span.from as usize)
    }

    /// Parentheses that do not close.
    fn bracket_open(&mut self, missing: usize) {
        for at in (self.at.saturating_sub(BACK)..self.at).rev() {
            let Some(place) = self.after(at) else {
                continue;
            };
            self.list.push(Edit::put(Sign::Close, place));
            if missing > 1 {
                let put = Some((place, missing));
                let edit = Edit::put(Sign::Close, place);
                self.list.push(Edit { put, ..edit });
            }
        }
        self.take(TokenKind::Open, Sign::Open);
    }

    /// Parentheses that do not open.
    fn bracket_closed(&mut self) {
        self.take(TokenKind::Close, Sign::Close);
        for at in (self.at.saturating_sub(BACK)..=self.at).rev() {
            if let Some(place) = self.before(at) {
                self.list.push(Edit::put(Sign::Open, place));
            }
        }
    }

    fn take(&mut self, kind: TokenKind, sign: Sign) {
        let end = (self.at + 1).min(self.tokens.len());
        let all = self.tokens[..end].iter().rev();
        for token in all.filter(|it| it.kind == kind).take(TAKEN) {
            self.list.push(Edit::taken(sign, token.span.from as usize));
        }
    }

    /// As many parentheses open as close, but one is in the wrong place.
    fn brackets_moved(&mut self) {
        let end = (self.at + 3).min(self.tokens.len());
        let is_bracket =
            |at: &usize| matches!(self.tokens[*at].kind, TokenKind::Open | TokenKind::Close);
        let near: Vec<usize> = (0..end).rev().filter(is_bracket).take(NEAR).collect();
        for bracket in near {
            let token = self.tokens[bracket];
            let from = token.span.from as usize;
            let sign = match token.kind {
                TokenKind::Open => Sign::Open,
                _ => Sign::Close,
            };
            for step in 1..=MOVED {
                for at in [bracket.checked_sub(step), Some(bracket + step)] {
                    let place = at.and_then(|at| match sign {
                        Sign::Open => self.before(at),
                        _ => self.after(at),
                    });
                    if let Some(place) = place {
                        self.list.push(Edit::moved(sign, from, place));
                    }
                }
            }
        }
    }
}

/// The tokens of some words without spaces.
fn plain(words: &str) -> Vec<Token> {
    let counts = |it: &Token| !matches!(it.kind, TokenKind::Space | TokenKind::Escape);
    Lexer::new(words).filter(counts).collect()
}
