//! A text read as a game only to count what goes wrong in it: words that cannot be played, numbers
//! that disagree, brackets and braces without their other half. Reads as the parser and the
//! validation do, but stops as soon as more goes wrong than is wanted.

use crate::lesson::rules::{self, Refusal};
use crate::notation::word::{nag, san};
use crate::notation::{Letters, Lexer, Token, TokenKind};
use shakmaty::{Chess, Position};

/// How well a text reads; less is better.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Score {
    /// Words that cannot be played, numbers that disagree, signs without their other half.
    pub(super) faults: u32,
    /// Black's moves after a comment or a variation that have no number, or one in another form.
    pub(super) bare: u32,
}

impl Score {
    /// Anything is better.
    pub(super) const WORST: Score = Score {
        faults: u32::MAX,
        bare: u32::MAX,
    };
    /// No fault, however numbers are written.
    pub(super) const SOUND: Score = Score {
        faults: 0,
        bare: u32::MAX,
    };
}

/// The tokens of a text that a game is read from.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    Lexer::new(text).filter(counts).collect()
}

/// Whether a token is one of them: not the space between two others.
pub(super) fn counts(token: &Token) -> bool {
    !matches!(token.kind, TokenKind::Space | TokenKind::Escape)
}

/// A line that is being read.
#[derive(Clone)]
struct Level {
    at: Chess,
    /// The position before the last move; none while there is no move.
    before: Option<Chess>,
    /// How far its numbers are off, so that a slip counts once.
    off: i64,
    state: State,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    Fine,
    /// The last word could not be played.
    JustEnded,
    /// After such a word.
    Ended,
}

/// What kind of fault was met.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fault {
    /// A word that is no move in any position.
    NoMove,
    /// A word that is the move of several pieces.
    Several,
    /// Any other.
    Other,
}

/// Takes so many bytes from those that may still be read; none once they are used up.
pub(super) fn spend(left: &mut usize, bytes: usize) -> Option<()> {
    *left = left.saturating_sub(bytes);
    (*left > 0).then_some(())
}

/// A reading on its way.
#[derive(Clone)]
pub(super) struct Trial<'a> {
    letters: &'a Letters,
    start: &'a Chess,
    /// The lines that are open; the last is the one being read. Never empty.
    levels: Vec<Level>,
    /// A number that waits for its move, with its dots, and where it ends.
    number: Option<(u32, u32, usize)>,
    /// The token before, spaces left out.
    last: Option<TokenKind>,
    /// Whether something was between the moves, so that Black's number is due.
    interrupted: bool,
    ended: bool,
    in_tag: bool,
    /// How well it reads so far.
    pub(super) score: Score,
    /// How many of Black's moves have their number after a comment or a variation.
    pub(super) full: u32,
    /// How many words say that they capture, and do not.
    pub(super) odd: u32,
    /// How many moves were played.
    pub(super) moves: u32,
    /// How many lines end at a word that cannot be played.
    pub(super) broken: u32,
    /// The first fault and where its token begins.
    pub(super) first: Option<(usize, Fault)>,
}

impl<'a> Trial<'a> {
    /// A reading from a position.
    pub(super) fn new(start: &'a Chess, letters: &'a Letters) -> Trial<'a> {
        Trial {
            letters,
            start,
            levels: vec![level(start)],
            number: None,
            last: None,
            interrupted: false,
            ended: false,
            in_tag: false,
            score: Score::default(),
            full: 0,
            odd: 0,
            moves: 0,
            broken: 0,
            first: None,
        }
    }

    /// Reads a text to its end; none where it reads worse than `limit`. `left` is how many bytes
    /// may still be read.
    pub(super) fn read(
        mut self,
        text: &str,
        offset: usize,
        limit: Score,
        left: &mut usize,
    ) -> Option<Trial<'a>> {
        for token in Lexer::new(text) {
            spend(left, token.span.range().len() + 1)?;
            self.token(text, &token, offset);
            if self.score > limit {
                return None;
            }
        }
        self.end(offset + text.len());
        (self.score <= limit).then_some(self)
    }

    /// The position in which the next move of the line is played.
    pub(super) fn position(&self) -> &Chess {
        self.levels.last().map_or(self.start, |top| &top.at)
    }

    /// What is left open at the end of the text counts.
    pub(super) fn end(&mut self, at: usize) {
        for _ in 1..self.levels.len() {
            self.fault(at, Fault::Other);
        }
        if self.number.take().is_some() {
            self.fault(at, Fault::Other);
        }
    }

    fn fault(&mut self, at: usize, fault: Fault) {
        self.score.faults += 1;
        self.first.get_or_insert((at, fault));
    }

    /// Reads one token of a text that begins at `offset`.
    pub(super) fn token(&mut self, text: &str, token: &Token, offset: usize) {
        let at = offset + token.span.from as usize;
        let words = &text[token.span.range()];
        if self.in_tag {
            // The rest of words in square brackets, up to their end or that of the line.
            let ends = token.kind == TokenKind::TagClose;
            self.in_tag = !ends && !words.contains('\n');
            if self.in_tag || ends {
                return;
            }
        }
        match token.kind {
            TokenKind::Space | TokenKind::Escape => return,
            TokenKind::TagOpen => {
                self.in_tag = true;
                self.fault(at, Fault::NoMove);
            }
            TokenKind::TagClose | TokenKind::TagName | TokenKind::TagValue | TokenKind::Stray => {
                self.fault(at, Fault::NoMove);
            }
            TokenKind::Number => {
                self.dangling(at);
                let end = offset + token.span.to as usize;
                self.number = Some((words.parse().unwrap_or(u32::MAX), 0, end));
            }
            TokenKind::Dots => {
                if let Some((_, dots, _)) = &mut self.number {
                    *dots += words
                        .chars()
                        .map(|it| if it == '.' { 1 } else { 3 })
                        .sum::<u32>();
                }
            }
            TokenKind::Word => self.word(words, at),
            TokenKind::Nag => {
                let misses = self.levels.last().is_some_and(|it| it.before.is_none());
                if misses || self.last == Some(TokenKind::Close) {
                    self.fault(at, Fault::Other);
                }
            }
            TokenKind::Comment | TokenKind::LineComment => {
                self.dangling(at);
                let is_brace = token.kind == TokenKind::Comment;
                if is_brace && (words[1..].contains('{') || !words.ends_with('}')) {
                    self.fault(at, Fault::Other);
                }
                self.interrupted = true;
            }
            TokenKind::Open => self.open(at),
            TokenKind::Close => self.close(at),
            TokenKind::Result => {
                self.dangling(at);
                if self.levels.len() == 1 {
                    if self.ended {
                        self.fault(at, Fault::NoMove);
                    }
                    self.ended = true;
                }
            }
        }
        self.last = Some(token.kind);
    }

    /// A number without its move.
    fn dangling(&mut self, at: usize) {
        if self.number.take().is_some() {
            self.fault(at, Fault::Other);
        }
    }

    fn open(&mut self, at: usize) {
        self.dangling(at);
        let top = self.levels.last().filter(|top| top.state != State::Ended);
        let before = top.and_then(|top| top.before.clone());
        let mut inner = level(self.start);
        match before {
            Some(before) => inner.at = before,
            None => {
                // Beside nothing: all of it is not read.
                inner.state = State::Ended;
                if self
                    .levels
                    .last()
                    .is_some_and(|top| top.state != State::Ended)
                {
                    self.fault(at, Fault::Other);
                }
            }
        }
        self.levels.push(inner);
        self.interrupted = true;
    }

    fn close(&mut self, at: usize) {
        self.dangling(at);
        if self.levels.len() < 2 {
            return self.fault(at, Fault::Other);
        }
        let closed = self.levels.pop();
        if closed.is_some_and(|it| it.before.is_none() && it.state == State::Fine) {
            self.fault(at, Fault::Other);
        }
        self.interrupted = true;
    }

    fn word(&mut self, word: &str, at: usize) {
        let is_sign = nag::sign_at_end(word).is_some_and(|(_, length)| length == word.len());
        if is_sign || matches!(word, "e.p." | "ep" | "+" | "++" | "#") {
            return;
        }
        let number = self.number.take();
        let interrupted = core::mem::take(&mut self.interrupted);
        if core::mem::take(&mut self.ended) {
            // Another game begins, with its first move.
            self.levels = vec![level(self.start)];
            if number.is_none_or(|(number, ..)| number != 1) {
                self.fault(at, Fault::Other);
            }
        }
        let word = san::read(word, self.letters);
        let Some(top) = self.levels.last_mut() else {
            return; // never empty
        };
        if top.state != State::Fine {
            top.state = State::Ended;
            return self.fault(at, Fault::Other);
        }
        let after = match &word.shape {
            None => Err(Fault::NoMove),
            Some(shape) if shape.kind == san::Kind::Pass => {
                rules::pass(&top.at).ok_or(Fault::Other)
            }
            Some(shape) => match rules::resolve(&top.at, shape) {
                Ok((played, _)) => {
                    self.odd += u32::from(shape.capture && !played.is_capture());
                    Ok(rules::after(&top.at, played))
                }
                Err(Refusal::Ambiguous(_)) => Err(Fault::Several),
                Err(_) => Err(Fault::Other),
            },
        };
        let after = match after {
            Ok(after) => after,
            Err(fault) => {
                top.state = State::JustEnded;
                top.before = Some(top.at.clone());
                self.broken += 1;
                return self.fault(at, fault);
            }
        };
        let is_white = top.at.turn().is_white();
        let right = i64::from(top.at.fullmoves().get());
        top.before = Some(core::mem::replace(&mut top.at, after));
        self.moves += 1;
        let Some((number, dots, _)) = number else {
            self.score.bare += u32::from(interrupted && !is_white);
            return;
        };
        let off = i64::from(number) - right;
        let is_amiss = off != 0 && off != top.off || is_white && dots > 1;
        top.off = off;
        if is_amiss {
            self.fault(at, Fault::Other);
        } else if !is_white && dots < 2 {
            self.score.bare += 1;
        } else if !is_white {
            self.full += 1;
        }
    }
}

fn level(at: &Chess) -> Level {
    Level {
        at: at.clone(),
        before: None,
        off: 0,
        state: State::Fine,
    }
}
