//! Tokens to a syntax tree. Parsing never fails: what cannot be read becomes a finding, and
//! the rest of the text is still there.

use super::word::nag;
use super::{Game, Item, ItemKind, Lexer, Line, LineIx, Syntax, Token, TokenKind, lexer};
use crate::text::{Code, Finding, Findings, Source, Span, limits, quote};

/// Reads a text. The findings are in the order in which they were met.
pub fn parse(source: &Source) -> (Syntax, Findings) {
    let mut findings = Findings::default();
    if source.is_too_long() {
        let message = format!(
            "this text has {} bytes; more than {} are not read",
            source.text().len(),
            limits::TEXT_BYTES
        );
        findings.push(Finding::new(Code::TextTooLong, Span::default(), message));
        return (Syntax::default(), findings);
    }
    let mut parser = Parser {
        source,
        tokens: Lexer::new(source.text()),
        findings,
        games: Vec::new(),
        game: Game::default(),
        stage: Stage::Empty,
        stack: vec![(0, false)],
        number: None,
        inner_result: None,
        told_depth: false,
        told_tags: false,
    };
    parser.game = new_game();
    parser.run();
    parser.finish_game();
    if parser.games.is_empty() {
        parser.findings.push(
            Finding::new(
                Code::NoGame,
                Span::default(),
                "there is no game in this text".to_owned(),
            )
            .with_help("a lesson is written as PGN, such as `1. d4 d5 2. c4 *`".to_owned()),
        );
    }
    (
        Syntax {
            games: parser.games,
        },
        parser.findings,
    )
}

/// How much of the current game has been read.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd)]
pub(super) enum Stage {
    /// Nothing yet that makes a game.
    Empty,
    /// Tags.
    Tags,
    /// At least one move.
    Moves,
    /// Its termination marker.
    Ended,
}

/// A text that is being read. `tags` reads its tags.
pub(super) struct Parser<'a> {
    pub(super) source: &'a Source,
    pub(super) tokens: Lexer<'a>,
    pub(super) findings: Findings,
    games: Vec<Game>,
    pub(super) game: Game,
    pub(super) stage: Stage,
    /// The lines that are open, and whether each has a move; the last is the one being read.
    /// Never empty.
    stack: Vec<(LineIx, bool)>,
    /// A move number that waits for its move.
    number: Option<Item>,
    /// A marker that is in a variation, in case its parenthesis is never closed.
    inner_result: Option<(&'static str, Span)>,
    told_depth: bool,
    pub(super) told_tags: bool,
}

impl Parser<'_> {
    fn run(&mut self) {
        loop {
            self.tokens.skip_space();
            let Some(token) = self.tokens.next() else {
                break;
            };
            match token.kind {
                TokenKind::Space | TokenKind::Escape => {}
                TokenKind::TagOpen => self.tag(token),
                TokenKind::Number => self.number(token),
                TokenKind::Dots => self.dots(token),
                TokenKind::Word => self.word(token),
                TokenKind::Nag => self.nag(token),
                TokenKind::Comment | TokenKind::LineComment => self.comment(token),
                TokenKind::Open => self.open(token),
                TokenKind::Close => self.close(token),
                TokenKind::Result => self.result(token),
                TokenKind::TagClose | TokenKind::TagName | TokenKind::TagValue => self.stray(token),
                TokenKind::Stray => self.stray(token),
            }
        }
    }

    fn find(&mut self, code: Code, span: Span, message: &str) {
        self.findings
            .push(Finding::new(code, span, message.to_owned()));
    }

    fn line(&mut self) -> &mut Line {
        // The stack is never empty and holds numbers of lines that exist.
        let ix = self.stack.last().map_or(0, |(ix, _)| *ix);
        &mut self.game.lines[ix]
    }

    fn push(&mut self, span: Span, kind: ItemKind) {
        let line = self.line();
        if line.items.is_empty() && line.span.is_empty() {
            line.span = span;
        }
        line.span = line.span.join(span);
        line.items.push(Item { span, kind });
        self.grow(span);
    }

    pub(super) fn grow(&mut self, span: Span) {
        self.game.span = match self.game.span.is_empty() {
            true => span,
            false => self.game.span.join(span),
        };
    }

    fn has_move(&self) -> bool {
        self.stack.last().is_some_and(|(_, has_move)| *has_move)
    }

    /// The next token after white space, if it is of this kind. The white space is ignored in any
    /// case.
    pub(super) fn take(&mut self, kind: TokenKind) -> Option<Token> {
        self.tokens.skip_space();
        let mut ahead = self.tokens.clone();
        let mut token = ahead.next()?;
        while token.kind == TokenKind::Space {
            self.tokens = ahead.clone();
            token = ahead.next()?;
        }
        if token.kind != kind {
            return None;
        }
        self.tokens = ahead;
        Some(token)
    }

    fn number(&mut self, token: Token) {
        let digits = self.source.slice(token.span);
        let dots = self.tokens.skip_periods() as u32;
        let mut span = token.span;
        span.to += dots;
        self.number = Some(Item {
            span,
            kind: ItemKind::Number {
                number: digits.parse().unwrap_or(u32::MAX),
                dots,
            },
        });
    }

    fn dots(&mut self, token: Token) {
        let written = self.source.slice(token.span);
        let source = self.source;
        let count: u32 = written
            .chars()
            .map(|dot| if dot == '.' { 1 } else { 3 })
            .sum();
        if let Some(Item {
            span,
            kind: ItemKind::Number { dots, .. },
        }) = &mut self.number
            // Dots after a comment are not this number's.
            && source.slice(Span { from: span.to, to: token.span.from }).trim().is_empty()
        {
            *dots += count;
            *span = span.join(token.span);
        }
        // Dots without a number, as in `…Nf6`, say whose move it is and no more.
    }

    fn word(&mut self, token: Token) {
        let word = self.source.slice(token.span);
        if let Some((nag, length)) = nag::sign_at_end(word)
            && length == word.len()
        {
            return self.push(token.span, ItemKind::Nag(nag));
        }
        // `e.p.` and a check sign on their own say nothing about the move before them.
        let ends_as_moves_do = word.as_bytes().last().is_some_and(u8::is_ascii_digit);
        if !ends_as_moves_do && matches!(word, "e.p." | "ep" | "+" | "++" | "#") {
            return;
        }
        let number = self.number.take();
        if self.stage == Stage::Ended {
            self.finish_game();
        }
        self.stage = Stage::Moves;
        if let Some(number) = number {
            self.push(number.span, number.kind);
        }
        self.push(token.span, ItemKind::Move);
        self.game.words += 1;
        if let Some((_, has_move)) = self.stack.last_mut() {
            *has_move = true;
        }
    }

    fn nag(&mut self, token: Token) {
        match self.source.slice(token.span)[1..].parse::<u8>() {
            Ok(nag) => self.push(token.span, ItemKind::Nag(nag)),
            Err(_) => {
                let message = "this is no numeric annotation glyph".to_owned();
                self.findings.push(
                    Finding::new(Code::BadNag, token.span, message)
                        .with_help("a glyph is `$` and a number from 0 to 255".to_owned()),
                );
            }
        }
    }

    fn comment(&mut self, token: Token) {
        if token.kind == TokenKind::Comment && !self.source.slice(token.span).ends_with('}') {
            let brace = Span::new(token.span.from as usize, token.span.from as usize + 1);
            self.findings.push(
                Finding::new(
                    Code::OpenComment,
                    brace,
                    "this comment is not closed; the text ends inside it".to_owned(),
                )
                .with_help("close it with `}`".to_owned()),
            );
        }
        self.push(token.span, ItemKind::Comment);
    }

    fn open(&mut self, token: Token) {
        self.number = None;
        if self.stack.len() > limits::NESTING {
            if !self.told_depth {
                self.told_depth = true;
                let message = format!(
                    "variations are nested deeper than {} here; what is deeper is not read",
                    limits::NESTING
                );
                self.findings
                    .push(Finding::new(Code::TooDeep, token.span, message));
            }
            return self.skip_variation(token);
        }
        if !self.has_move() {
            self.find(
                Code::NoMoveBeside,
                token.span,
                "a variation replaces the move before it, and there is none",
            );
            return self.skip_variation(token);
        }
        let ix = self.game.lines.len();
        self.push(token.span, ItemKind::Variation(ix));
        self.game.lines.push(Line {
            span: token.span,
            items: Vec::new(),
        });
        self.stack.push((ix, false));
    }

    /// Skips a variation that has no place, down to its own closing parenthesis.
    fn skip_variation(&mut self, open: Token) {
        self.game.passed_over = true;
        let mut depth = 1usize;
        while let Some(token) = self
            .tokens
            .next_if(|token| token.kind != TokenKind::TagOpen || depth == 0)
        {
            match token.kind {
                TokenKind::Open => depth += 1,
                TokenKind::Close => depth -= 1,
                _ => {}
            }
            if depth == 0 {
                return;
            }
        }
        // Within a variation that one has the finding, and one is enough.
        if self.stack.len() == 1 {
            self.not_closed(open.span);
        }
    }

    fn not_closed(&mut self, parenthesis: Span) {
        let message = "this variation is not closed".to_owned();
        self.findings.push(
            Finding::new(Code::OpenVariation, parenthesis, message)
                .with_help("close it with `)`".to_owned()),
        );
    }

    fn close(&mut self, token: Token) {
        self.number = None;
        if self.stack.len() < 2 {
            return self.find(
                Code::StrayClose,
                token.span,
                "this parenthesis closes no variation",
            );
        }
        if !self.has_move() {
            let span = self.line().span.join(token.span);
            self.find(Code::EmptyVariation, span, "this variation has no move");
            // Words in it belong to no move; white space and numbers are no loss.
            let mut items = self.line().items.iter();
            self.game.passed_over |= items.any(|item| item.kind == ItemKind::Comment);
        }
        let line = self.line();
        line.span = line.span.join(token.span);
        self.grow(token.span);
        self.stack.pop();
        self.inner_result = None;
    }

    fn result(&mut self, token: Token) {
        self.number = None;
        let written = self.source.slice(token.span);
        let outcome = lexer::outcome(written).unwrap_or("*");
        if written != outcome {
            let message = format!("the standard writes {outcome} for {}", quote(written));
            self.findings.push(
                Finding::new(Code::Spelling, token.span, message)
                    .with_fix(token.span, outcome.to_owned()),
            );
        }
        if self.stack.len() > 1 {
            // `(20.Qh5 1-0)` quotes how some game ended; this game goes on.
            self.inner_result = Some((outcome, token.span));
            return;
        }
        if self.stage != Stage::Ended {
            self.game.result = Some((outcome, token.span));
            self.stage = Stage::Ended;
        }
        self.grow(token.span);
    }

    fn stray(&mut self, token: Token) {
        self.find(
            Code::StrayCharacter,
            token.span,
            "PGN has no use for this here; it is ignored",
        );
    }

    pub(super) fn finish_game(&mut self) {
        self.number = None;
        if self.stack.len() > 1 {
            let open = self.line().span;
            let brace = Span::new(open.from as usize, open.from as usize + 1);
            self.not_closed(brace);
            self.game.result = self.game.result.or(self.inner_result);
        }
        self.inner_result = None;
        self.told_depth = false;
        self.told_tags = false;
        self.stack = vec![(0, false)];
        let game = core::mem::replace(&mut self.game, new_game());
        if self.stage > Stage::Empty {
            self.games.push(game);
        }
        self.stage = Stage::Empty;
    }
}

/// A game without anything in it. Main lines are long: room for some twenty moves with their
/// numbers, so that they need not be copied often while they grow.
fn new_game() -> Game {
    let main = Line {
        items: Vec::with_capacity(64),
        ..Line::default()
    };
    Game {
        lines: vec![main],
        ..Game::default()
    }
}
