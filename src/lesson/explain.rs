//! A bad move as a finding: the reason, the near misses, and what it could have been.

use super::naming::side;
use super::reason::reason;
use super::rules::{self, Refusal};
use super::small::SanText;
use super::suggest;
use crate::notation::Letters;
use crate::notation::san::{self, Kind, MoveWord, Shape};
use crate::text::{Code, Finding, Span, quote};
use shakmaty::{Chess, Position, Role};

/// What is known about a word that is no legal move.
pub struct Bad<'a> {
    /// The position in which it stands.
    pub position: &'a Chess,
    /// The word.
    pub word: &'a MoveWord<'a>,
    /// Where it stands, signs included.
    pub span: Span,
    /// The letters it is written with.
    pub letters: &'a Letters,
    /// The position one move earlier with the same side to move, if there is one.
    pub earlier: Option<&'a Chess>,
    /// The move that follows in the text, as far as it can be played in its place, and the
    /// position after it with the same side to move.
    pub later: Option<(SanText, Chess)>,
}

/// The finding about a bad move.
pub fn finding(bad: &Bad, refusal: &Refusal) -> Finding {
    let MoveWord {
        shape, core, check, ..
    } = bad.word;
    let near = suggest::near(bad.position, core, shape.as_ref(), check);
    let turn = bad.position.turn();
    let from = bad.span.from as usize;
    let place = Span::new(from, from + core.len());
    let Some(shape) = shape else {
        let message = format!("\u{201c}{}\u{201d} is no move", quote(core));
        let help = match near.moves.is_empty() {
            true => format!(
                "{} is to move here; a move is written like Nf3, exd5 or O-O; words belong in a \
                 comment, in {{braces}}",
                side(turn)
            ),
            false => offer(&near.moves),
        };
        return fixed(
            bad,
            Finding::new(Code::NotAMove, place, message).with_help(help),
            near.certain.filter(|_| core.chars().count() > 2),
        );
    };
    let core = &quote(core);
    let mut reason = reason(bad.position, shape, refusal, core);
    let plays = |position: &Chess| rules::resolve(position, shape).is_ok();
    let mut help = Vec::new();
    if matches!(
        reason.code,
        Code::CannotReach | Code::NoSuchPiece | Code::NothingToTake
    ) && rules::pass(bad.position).is_some_and(|other| plays(&other))
    {
        let (mover, other) = (side(turn), side(!turn));
        reason.code = Code::WrongSide;
        reason.message = format!("{core} is a move of {other}'s, and {mover} is to move here");
    }
    if reason.code != Code::Ambiguous && !near.moves.is_empty() {
        help.push(offer(&near.moves));
    }
    if bad.earlier.is_some_and(plays) {
        help.push(format!("{core} could be played one move earlier"));
    }
    if let Some((san, _)) = bad.later.as_ref().filter(|(_, position)| plays(position)) {
        help.push(format!("{core} can be played after {san}"));
    }
    help.extend(reason.help);
    let finding = Finding::new(reason.code, place, reason.message);
    let finding = match help.is_empty() {
        true => finding,
        false => finding.with_help(help.join("; ")),
    };
    // Certain is only what changes neither piece nor square: a file or rank too much. Anything
    // else may have been meant otherwise, and then the mend would hide the slip.
    let elsewhere = bad.earlier.is_some_and(plays)
        || bad
            .later
            .as_ref()
            .is_some_and(|(_, position)| plays(position))
        || reason.code == Code::WrongSide;
    let certain = near
        .certain
        .filter(|san| !elsewhere && same_move(shape, san));
    fixed(bad, finding, certain)
}

fn offer(moves: &[String]) -> String {
    format!("legal here and close to it: {}", moves.join(", "))
}

/// Whether a legal move is the one that a shape says, but for where the piece comes from.
fn same_move(shape: &Shape, san: &str) -> bool {
    let legal = san::read(san, Letters::ENGLISH)
        .shape
        .map(|shape| shape.kind);
    match (shape.kind, legal) {
        (
            Kind::Piece {
                role,
                to,
                promotion,
                file,
                rank,
            },
            Some(Kind::Piece {
                role: other,
                to: there,
                promotion: becomes,
                ..
            }),
        ) => {
            // Which pawn was meant, its file alone says.
            role != Some(Role::Pawn)
                && (role, to, promotion) == (other, there, becomes)
                && (file.is_some() || rank.is_some())
        }
        _ => false,
    }
}

/// With the one legal move that fits as its mend.
fn fixed(bad: &Bad, finding: Finding, certain: Option<String>) -> Finding {
    match certain {
        Some(san) => {
            let text = format!("{}{}", bad.letters.write(&san), bad.word.signs);
            finding.with_fix(bad.span, text)
        }
        None => finding,
    }
}
