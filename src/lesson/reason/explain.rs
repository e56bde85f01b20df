//! A bad move as a finding: the reason, the near misses, and what it could have been.

use super::phrases::{list, side};
use super::reason;
use super::suggest;
use crate::lesson::compact::SanText;
use crate::lesson::rules::{self, Refusal};
use crate::notation::Letters;
use crate::notation::word::san::MoveWord;
use crate::text::{Code, Finding, Listed, Span, join, quote};
use shakmaty::{Chess, Position};

/// What is known about a word that is no legal move.
pub struct Bad<'a> {
    /// The position before it.
    pub position: &'a Chess,
    /// The word.
    pub word: &'a MoveWord<'a>,
    /// Where it is, signs included.
    pub span: Span,
    /// The letters it is written with.
    pub letters: &'a Letters,
    /// The position one move earlier with the same side to move, if there is one.
    pub earlier: Option<&'a Chess>,
    /// The move that follows in the text, as far as it can be played in its place, and the
    /// position after it with the same side to move.
    pub later: Option<(SanText, Chess)>,
    /// Whether the move before it is written from square to square, `e2e4`: then a word of two
    /// squares is a move from the first to the second, even if the first is empty.
    pub by_squares: bool,
    /// For a variation's first move: what the variation is beside.
    pub beside: Option<Beside<'a>>,
}

/// The move that a variation is beside, and which it therefore replaces.
pub struct Beside<'a> {
    /// It and its number.
    pub name: String,
    /// The position after it.
    pub after: &'a Chess,
    /// The move before it in the line and its number, with the position before that.
    pub before: Option<(String, &'a Chess)>,
}

/// The finding about a bad move.
pub fn finding(bad: &Bad, refusal: &Refusal) -> Finding {
    let MoveWord { shape, core, .. } = bad.word;
    let turn = bad.position.turn();
    let from = bad.span.from as usize;
    let place = Span::new(from, from + core.len());
    if !(bad.by_squares && shape.is_some())
        && let Some(finding) = together(bad, place)
    {
        return finding;
    }
    let Some(shape) = shape else {
        return no_move(bad, place);
    };
    let core = &quote(core);
    let mut reason = reason(bad.position, shape, refusal, core);
    let plays = |position: &Chess| rules::resolve(position, shape).is_ok();
    let beside = bad.beside.as_ref();
    let misplaced = beside.and_then(|beside| other_place(beside, core, plays));
    let mut help = Vec::new();
    if matches!(
        reason.code,
        Code::CannotReach | Code::NoSuchPiece | Code::NothingToTake
    ) && (misplaced.is_some() || rules::pass(bad.position).is_some_and(|other| plays(&other)))
    {
        let (mover, other) = (side(turn), side(!turn));
        reason.code = Code::WrongSide;
        reason.message = format!("{core} is a move of {other}'s, and {mover} is to move here");
    }
    // These two reasons already say what can be written.
    if !matches!(reason.code, Code::Ambiguous | Code::PromotionMissing) {
        let near = suggest::near(bad.position, bad.word, bad.letters);
        if !near.is_empty() {
            help.push(offer(&near));
        }
    }
    if misplaced.is_some() {
        help.extend(misplaced);
    } else if bad.earlier.is_some_and(plays) {
        help.push(format!("{core} could be played one move earlier"));
    }
    if let Some((san, _)) = bad.later.as_ref().filter(|(_, position)| plays(position)) {
        help.push(format!("{core} can be played after {san}"));
    }
    help.extend(reason.help);
    // No fix: a legal move of another piece, from another file or to another square may be
    // what was meant, or the slip may be in a move before, and then the fix would hide it.
    let finding = Finding::new(reason.code, place, reason.message);
    match help.is_empty() {
        true => finding,
        false => finding.with_help(join(&help, "; ")),
    }
}

/// For a variation that is after the wrong move: what it replaces there, and after which
/// move it would be legal.
fn other_place(beside: &Beside, word: &str, plays: impl Fn(&Chess) -> bool) -> Option<String> {
    let name = &beside.name;
    let rule = format!("a variation replaces the move before it, here {name}");
    if plays(beside.after) {
        return Some(format!(
            "{rule}; {word} could follow {name}: then put the variation after the next move, which it replaces"
        ));
    }
    let (before, _) = beside.before.as_ref().filter(|(_, at)| plays(at))?;
    Some(format!(
        "{rule}; {word} could replace {before}: then put the variation after that move"
    ))
}

/// Two moves that a space should separate.
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
            finding.with_help(format!("write {}", list(ways.listed(), "or")))
        }
    })
}

/// A word that does not read as a move at all.
fn no_move(bad: &Bad, place: Span) -> Finding {
    let message = format!("\u{201c}{}\u{201d} is no move", quote(bad.word.core));
    let finding = Finding::new(Code::NotAMove, place, message);
    if let Some(san) = suggest::certain(bad.position, bad.word, bad.letters) {
        let text = format!("{}{}", bad.letters.write(&san), bad.word.signs);
        return finding.with_help(offer(&[san])).with_fix(bad.span, text);
    }
    let near = suggest::near(bad.position, bad.word, bad.letters);
    if !near.is_empty() {
        return finding.with_help(offer(&near));
    }
    finding.with_help(format!(
        "{} is to move here; a move is written like Nf3, exd5 or O-O; words belong in a comment, \
         in {{braces}}",
        side(bad.position.turn())
    ))
}

fn offer(moves: &[String]) -> String {
    format!("legal here and close to it: {}", join(moves, ", "))
}
