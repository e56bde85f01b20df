//! Turns one word of a line into a node, or into a finding that says why not.

use super::validate::{Frame, Reading, Validation};
use crate::lesson::compact::SanText;
use crate::lesson::reason::explain::{self, Bad, Beside};
use crate::lesson::rules::{self, Refusal};
use crate::lesson::tree::NodeId;
use crate::notation::word::san::{self, Kind, MoveWord};
use crate::notation::{Item, ItemKind};
use crate::text::{Code, Finding, Span, limits, quote};
use shakmaty::{Chess, Move, Position};
use std::borrow::Cow;

impl Validation<'_> {
    /// Plays the move of an item, or ends the line with a finding.
    pub(crate) fn play(&mut self, frame: &mut Frame, item: Item) {
        let number = frame.number.take();
        let word = san::read(self.source.slice(item.span), self.letters);
        let mut position = self.lesson.node(frame.at).position.clone();
        let (right, white) = (position.fullmoves().get(), position.turn().is_white());
        let played = played(&mut position, &word);
        frame.before_last = frame.at;
        match played {
            Ok((played, san)) if self.lesson.nodes.len() < limits::NODES => {
                self.check_number(frame, right, white, number);
                self.check_spelling(&word, item.span, &san);
                let nags = word.shape.map(|shape| shape.nags).unwrap_or_default();
                self.add(frame, played, position, san, nags, item.span);
                return;
            }
            Err(refusal) => self.refuse(frame, item, &word, &refusal),
            Ok(_) if self.full => {}
            Ok(_) => {
                self.full = true;
                let limit = limits::NODES;
                let message = format!("a lesson has at most {limit} moves; from here on it is cut");
                self.findings
                    .push(Finding::new(Code::TooManyNodes, item.span, message));
            }
        }
        frame.state = Reading::JustEnded;
        frame.number = number;
        self.unread(frame, item);
    }

    fn refuse(&mut self, frame: &Frame, item: Item, word: &MoveWord, refusal: &Refusal) {
        let position = &self.lesson.node(frame.at).position;
        let parent = |id| self.lesson.node(id).parent;
        let earlier = parent(frame.at)
            .and_then(parent)
            .map(|id| &self.lesson.node(id).position);
        let bad = Bad {
            position,
            word,
            span: item.span,
            letters: self.letters,
            earlier,
            later: self.later(frame, position),
            by_squares: self.is_by_squares(frame.at),
            beside: self.beside(frame),
        };
        let finding = explain::finding(&bad, refusal);
        self.findings.push(finding);
    }

    /// Whether the move of a node is written from square to square.
    fn is_by_squares(&self, id: NodeId) -> bool {
        let is_move = id > 0; // the span of node 0 is that of its game
        let word = is_move.then(|| self.source.slice(self.lesson.node(id).span));
        let shape = word.and_then(|word| san::read(word, self.letters).shape);
        let kind = shape.map(|shape| shape.kind);
        matches!(
            kind,
            Some(Kind::Piece {
                file: Some(_),
                rank: Some(_),
                ..
            })
        )
    }

    /// What the variation is beside, while it has no move of its own.
    fn beside(&self, frame: &Frame) -> Option<Beside<'_>> {
        let id = frame.beside_of_first()?;
        let node = self.lesson.node(id);
        let before = node.parent.filter(|&before| before > 0).and_then(|before| {
            let parent = self.lesson.node(before).parent?;
            Some((
                self.lesson.numbered(before),
                &self.lesson.node(parent).position,
            ))
        });
        Some(Beside {
            name: self.lesson.numbered(id),
            after: &node.position,
            before,
        })
    }

    /// The next move of the line, where it can be played in the place of the bad one, and the
    /// position after it with the same side to move.
    fn later(&self, frame: &Frame, position: &Chess) -> Option<(SanText, Chess)> {
        let items = self.game.lines[frame.ix].items.get(frame.item..)?;
        let next = items.iter().find(|item| item.kind == ItemKind::Move)?;
        let word = san::read(self.source.slice(next.span), self.letters);
        let mut after = position.clone();
        let (_, san) = played(&mut after, &word).ok()?;
        Some((san, rules::pass(&after)?))
    }

    /// Numbers are not used, only compared.
    fn check_number(&mut self, frame: &mut Frame, right: u32, white: bool, item: Option<Item>) {
        let Some(Item {
            span,
            kind: ItemKind::Number { number, dots },
        }) = item
        else {
            return;
        };
        let off = i64::from(number) - i64::from(right);
        let wanted = || match white {
            true => format!("{right}."),
            false => format!("{right}..."),
        };
        let finding = if (off != 0 && off != frame.off) || (white && dots > 1) {
            let written = self.source.slice(span);
            let message = format!(
                "the move here is number {}, not {}",
                wanted(),
                quote(written)
            );
            // A number that goes back to 1 more likely begins another game, and the result before
            // it is missing.
            let restarts = number == 1 && white && right > 2;
            let help = match restarts {
                true => "a new game begins at a tag, or after a result such as `*`",
                false => "the numbers are not used; the order of the moves counts",
            };
            let finding = Finding::new(Code::WrongNumber, span, message);
            if restarts {
                frame.off = off;
                self.findings.push(finding.with_help(help.to_owned()));
                return;
            }
            Some(finding.with_help(help.to_owned()))
        } else if off == 0 && dots != if white { 1 } else { 3 } {
            let message = format!("the standard writes {} here", wanted());
            Some(Finding::new(Code::Dots, span, message))
        } else {
            None
        };
        frame.off = off;
        if let Some(finding) = finding {
            self.findings.push(finding.with_fix(span, wanted()));
        }
    }

    /// A move written otherwise than the standard does, though nobody misreads it.
    fn check_spelling(&mut self, word: &MoveWord, span: Span, san: &SanText) {
        // In letters of another language too: its pieces have those of English then.
        if word.whole.as_bytes() == san.as_bytes() {
            return;
        }
        let standard = match self.letters.is_english() {
            true => Cow::Borrowed(san.as_str()),
            false => Cow::Owned(self.letters.write(san)),
        };
        let core = standard.trim_end_matches(['+', '#']);
        let check = &standard[core.len()..];
        if word.core == core && word.check == check {
            return;
        }
        let message = if word.core != core && san.as_str() == "--" {
            // The standard has no pass; `--` is what nearly everyone writes.
            match word.core.is_ascii() {
                true => format!("a pass is written --, not {}", quote(word.core)),
                false => format!(
                    "a pass is written --; a word processor makes {} of it",
                    word.core
                ),
            }
        } else if word.core != core {
            format!("the standard writes {core} for {}", quote(word.core))
        } else if check == "#" {
            format!("{core} is mate: the standard writes {standard}")
        } else if check == "+" {
            format!("{core} gives check: the standard writes {standard}")
        } else {
            format!("{core} gives no check")
        };
        let from = span.from as usize;
        let place = Span::new(from, from + word.core.len());
        let fix = format!("{standard}{}", word.signs);
        self.findings
            .push(Finding::new(Code::Spelling, place, message).with_fix(span, fix));
    }
}

/// Plays the move of a word in a position: the move, none for a pass, and its SAN.
fn played(position: &mut Chess, word: &MoveWord) -> Result<(Option<Move>, SanText), Refusal> {
    let shape = word.shape.as_ref().ok_or(Refusal::Impossible)?;
    if shape.kind == Kind::Pass {
        *position = rules::pass(position).ok_or(Refusal::Impossible)?;
        return Ok((None, SanText::pass()));
    }
    let (played, san) = rules::resolve(position, shape)?;
    position.play_unchecked(played);
    let san = SanText::new(san, rules::check_sign(position));
    Ok((Some(played), san))
}
