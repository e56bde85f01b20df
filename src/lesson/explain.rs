//! A bad move as a finding: the reason, the near misses, and what it could have been.

use super::naming::{list, side};
use super::reason::reason;
use super::rules::{self, Refusal};
use super::small::SanText;
use super::suggest;
use crate::notation::Letters;
use crate::notation::san::MoveWord;
use crate::text::{Code, Finding, Span, quote};
use shakmaty::{Chess, Position};

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
    let MoveWord { shape, core, .. } = bad.word;
    let turn = bad.position.turn();
    let from = bad.span.from as usize;
    let place = Span::new(from, from + core.len());
    if let Some(finding) = together(bad, place) {
        return finding;
    }
    let near = || suggest::near(bad.position, bad.word, bad.letters);
    let Some(shape) = shape else {
        let message = format!("\u{201c}{}\u{201d} is no move", quote(core));
        let certain = suggest::certain(bad.position, bad.word, bad.letters);
        let near = match &certain {
            Some(san) => vec![san.clone()],
            None => near(),
        };
        let help = match near.is_empty() {
            true => format!(
                "{} is to move here; a move is written like Nf3, exd5 or O-O; words belong in a \
                 comment, in {{braces}}",
                side(turn)
            ),
            false => offer(&near),
        };
        let finding = Finding::new(Code::NotAMove, place, message).with_help(help);
        return match certain {
            Some(san) => {
                let text = format!("{}{}", bad.letters.write(&san), bad.word.signs);
                finding.with_fix(bad.span, text)
            }
            None => finding,
        };
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
    // Those two say themselves what can be written.
    if !matches!(reason.code, Code::Ambiguous | Code::PromotionMissing) {
        let near = near();
        if !near.is_empty() {
            help.push(offer(&near));
        }
    }
    if bad.earlier.is_some_and(plays) {
        help.push(format!("{core} could be played one move earlier"));
    }
    if let Some((san, _)) = bad.later.as_ref().filter(|(_, position)| plays(position)) {
        help.push(format!("{core} can be played after {san}"));
    }
    help.extend(reason.help);
    // No mend: a legal move of another piece, from another file or to another square may be
    // what was meant, or the slip may be in a move before, and then the mend would hide it.
    let finding = Finding::new(reason.code, place, reason.message);
    match help.is_empty() {
        true => finding,
        false => finding.with_help(help.join("; ")),
    }
}

/// Two moves that a space should part.
fn together(bad: &Bad, place: Span) -> Option<Finding> {
    let core = bad.word.core;
    let cuts = suggest::together(bad.position, core, bad.letters);
    let (one, other) = cuts.first()?;
    let message = format!("\u{201c}{core}\u{201d} is two moves without a space between them");
    let finding = Finding::new(Code::NotAMove, place, message);
    Some(match cuts.len() {
        1 => finding
            .with_help(format!("write {one} {other}"))
            .with_fix(place, format!("{one} {other}")),
        _ => {
            let ways = cuts.iter().map(|(one, other)| format!("{one} {other}"));
            finding.with_help(format!("write {}", list(ways.collect(), "or")))
        }
    })
}

fn offer(moves: &[String]) -> String {
    format!("legal here and close to it: {}", moves.join(", "))
}
