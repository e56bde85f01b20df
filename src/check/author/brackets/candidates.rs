//! What may have happened to a bracket or brace before the first place where a text reads amiss:
//! the changes that are worth a try, likely ones first. How many there are is bounded.

use super::edit::{Edit, Sign};
use super::trial::{Fault, counts};
use crate::notation::word::san;
use crate::notation::{Letters, Lexer, Token, TokenKind};

/// How many words of a comment may be those of moves or the other way round.
const WORDS: usize = 24;

/// How many places in a comment without its end are tried, from the next brace backwards.
const ENDS: usize = 300;

/// A text without its spaces, and where it first reads amiss.
pub(super) struct Candidates<'a> {
    pub(super) text: &'a str,
    pub(super) letters: &'a Letters,
    pub(super) tokens: Vec<Token>,
    /// The token at which it reads amiss; one past the last at the end.
    pub(super) at: usize,
    fault: Fault,
    pub(super) list: Vec<Edit>,
}

impl<'a> Candidates<'a> {
    pub(super) fn new(
        text: &'a str,
        letters: &'a Letters,
        all: &[Token],
        (first, fault): (usize, Fault),
    ) -> Candidates<'a> {
        let tokens: Vec<Token> = all.iter().copied().filter(counts).collect();
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

    pub(super) fn slice(&self, token: &Token) -> &'a str {
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
            TokenKind::Word => san::read(&words[token.span.range()], self.letters)
                .shape
                .is_some(),
            TokenKind::Number | TokenKind::Dots | TokenKind::Nag | TokenKind::Result => true,
            TokenKind::Open | TokenKind::Close => true,
            _ => false,
        }
    }

    /// A comment that holds the beginning of another, or has no end.
    fn comment_open(&mut self) {
        let open = |token: &&Token| {
            let words = &self.text[token.span.range()];
            token.kind == TokenKind::Comment && (words[1..].contains('{') || !words.ends_with('}'))
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
        for end in self.ends(words) {
            self.list.push(Edit::put(Sign::End, from + 1 + end));
        }
    }

    /// Where a comment with some words may end, from the last place backwards: before what can be
    /// among moves. Words are as spaces cut them, because a comment may hold all signs.
    fn ends(&self, words: &str) -> Vec<usize> {
        let cut = cut(words);
        let first = cut.len().saturating_sub(ENDS);
        let mut ends = Vec::new();
        for (at, &(_, end)) in cut.iter().enumerate().skip(first).rev() {
            let is_last = at + 1 == cut.len();
            // A number goes with its move.
            let is_number = !is_last && is_number(&words[cut[at].0..end]);
            if !is_number && (is_last || self.begins_movish(&words[end..])) {
                ends.push(end);
            }
            // `memory.)`: the comment was the last of its variation.
            let bare = words[..end].trim_end_matches(')').len();
            if bare < end {
                ends.push(bare);
            }
        }
        if first == 0 {
            ends.push(0);
        }
        ends
    }

    /// Whether what a text begins with can be among moves.
    fn begins_movish(&self, words: &str) -> bool {
        let token = Lexer::new(words).find(counts);
        token.is_some_and(|token| self.is_movish(words, &token))
    }

    /// A brace that ends no comment.
    fn comment_closed(&mut self) {
        let is_stray =
            |it: &Token| it.kind == TokenKind::Stray && self.text[it.span.range()].contains('}');
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
        self.brace_in_comment();
        let at = self.at;
        if self.fault == Fault::NoMove || self.is_among_words() {
            let first = self
                .tokens
                .get(at)
                .map_or(self.text.len(), |it| it.span.from as usize);
            let next = self.text[first..].find(['{', '}']).map(|it| first + it);
            match next.map(|next| (next, &self.text[next..=next])) {
                Some((next, "{")) => self.begin_moved(next, at),
                // A semicolon among the words hides the end of the comment.
                Some(_) => self.begin_before(at),
                None => {}
            }
            let is_comment = |it: &Token| it.kind == TokenKind::Comment;
            let before = self.tokens[..at].iter().rposition(is_comment);
            if let Some(before) = before.filter(|before| at - before <= WORDS) {
                let from = self.tokens[before].span.to as usize - 1;
                let rest = &self.text[first..];
                let rest = &rest[..rest.find(['{', '}']).unwrap_or(rest.len())];
                for (_, end) in cut(rest).into_iter().take(4 * WORDS) {
                    if !self.is_prose(&rest[..end]) {
                        continue;
                    }
                    self.list.push(Edit::moved(Sign::End, from, first + end));
                    // A bracket at a word's end may be that of a variation.
                    let bare = rest[..end].trim_end_matches(')').len();
                    if bare < end {
                        self.list.push(Edit::moved(Sign::End, from, first + bare));
                    }
                }
            }
        }
        for comment in self.comments_near() {
            let from = comment.span.from as usize;
            let words = self.slice(&comment);
            let Some(words) = words[1..].strip_suffix('}') else {
                continue;
            };
            let cut = cut(words);
            let is_movish: Vec<bool> = cut
                .iter()
                .map(|(start, _)| self.begins_movish(&words[*start..]))
                .collect();
            let moves = is_movish.iter().take_while(|it| **it).count();
            let starts = cut.iter().skip(1).map(|(from, _)| *from);
            for start in starts.chain([words.len()]).take(moves.min(WORDS)) {
                self.list
                    .push(Edit::moved(Sign::Begin, from, from + 1 + start));
            }
            let last = comment.span.to as usize - 1;
            let moves = is_movish.iter().rev().take_while(|it| **it).count();
            for &(start, _) in cut.iter().rev().take(moves.min(WORDS)) {
                let before = words[..start].trim_end().len();
                self.list
                    .push(Edit::moved(Sign::End, last, from + 1 + before));
            }
        }
    }

    /// A brace that was moved into a comment: out of it again.
    fn brace_in_comment(&mut self) {
        let holds = |it: &Token| {
            it.kind == TokenKind::Comment && self.text[it.span.range()][1..].contains('{')
        };
        let Some(at) = self.tokens.iter().position(holds) else {
            return;
        };
        let comment = self.tokens[at]; // found above
        let from = comment.span.from as usize;
        let words = self.slice(&comment);
        let inner = words[1..].find('{').map_or(0, |inner| inner + 1);
        let after = self.tokens.iter().enumerate().skip(at + 1).take(WORDS);
        let tokens: Vec<Token> = after
            .map(|(_, it)| *it)
            .take_while(|it| it.kind != TokenKind::Comment)
            .collect();
        for token in &tokens {
            let to = token.span.from as usize;
            self.list.push(Edit::moved(Sign::Begin, from + inner, to));
            self.list.push(Edit::moved(Sign::Begin, from, to));
        }
        let stray = |it: &Token| it.kind == TokenKind::Stray && self.slice(it).contains('}');
        let stray = self.tokens.iter().skip(at).find(|it| stray(it));
        let stray = stray.map(|it| it.span.from as usize);
        for end in self.ends(&words[1..inner.max(1)]) {
            let to = from + 1 + end;
            self.list
                .push(Edit::moved(Sign::End, comment.span.to as usize - 1, to));
            if let Some(stray) = stray {
                self.list.push(Edit::moved(Sign::End, stray, to));
            }
        }
    }

    /// Whether words that are no moves come soon after the fault.
    fn is_among_words(&self) -> bool {
        let after = self.tokens[self.at..].iter().take(WORDS);
        let mut after = after.take_while(|it| it.kind != TokenKind::Comment);
        after.any(|it| !self.is_movish(self.text, it))
    }

    /// The next beginning of a comment should be at a token or before it.
    fn begin_moved(&mut self, next: usize, at: usize) {
        for at in (at.saturating_sub(WORDS)..=at).rev() {
            let Some(token) = self.tokens.get(at) else {
                continue;
            };
            if token.kind == TokenKind::Comment {
                break;
            }
            let to = token.span.from as usize;
            if self.is_prose(&self.text[to..next]) {
                self.list.push(Edit::moved(Sign::Begin, next, to));
            }
        }
    }

    /// Whether some words are a sentence's: one of them is long, of letters alone, and no move. What
    /// looks like a move may be one with a slip.
    fn is_prose(&self, words: &str) -> bool {
        words.split_whitespace().any(|word| {
            let word = word.trim_end_matches(['.', ',', ';', ':', '!', '?']);
            let is_long = word.chars().count() >= 3 || !word.is_ascii();
            is_long
                && word.chars().all(char::is_alphabetic)
                && san::read(word, self.letters).shape.is_none()
        })
    }

    /// The comments near the fault, those before it from it backwards first.
    pub(super) fn comments_near(&self) -> Vec<Token> {
        let is_comment = |it: &&Token| it.kind == TokenKind::Comment;
        let (before, after) = self.tokens.split_at(self.at);
        let before = before.iter().rev().filter(is_comment).take(3);
        let after = after.iter().filter(is_comment).take(1);
        before.chain(after).copied().collect()
    }
}

/// Where the words of a text begin and end, as spaces cut them.
fn cut(words: &str) -> Vec<(usize, usize)> {
    let mut list = Vec::new();
    let mut at = 0;
    for word in words.split_inclusive(char::is_whitespace) {
        let bare = word.trim_end().len();
        if bare > 0 {
            list.push((at, at + bare));
        }
        at += word.len();
    }
    list
}

/// `12.` or `12...`
fn is_number(word: &str) -> bool {
    let digits = word.trim_end_matches(['.', '\u{2026}']);
    !digits.is_empty() && digits.bytes().all(|it| it.is_ascii_digit())
}
