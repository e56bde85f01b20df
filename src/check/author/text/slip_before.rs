//! A slip in an earlier move that shows only where a later one cannot be played: with another file
//! or rank in one of the moves before it, it and the rest of its line can be.

use super::Text;
use super::numbered::{Numbered, numbered};
use crate::check::author::explained::{Explained, Told};
use crate::lesson::reason::suggest::one_sign_off;
use crate::lesson::rules;
use crate::lesson::{Lesson, NodeId};
use crate::notation::word::san::{self, Shape};
use crate::notation::{Item, ItemKind, Letters};
use crate::text::{Code, Finding, Severity};
use shakmaty::Chess;

/// How many moves before it the slip may be.
const BACK: usize = 12;

/// How many findings of a game are looked at.
const LOOKED: usize = 4;

/// Adds to the findings at moves that cannot be played which move before them has the slip, if one
/// only explains them.
pub(super) fn slips(text: &Text) -> Vec<Told> {
    let mut list: Vec<Told> = Vec::new();
    let is_meant = |finding: &&Finding| {
        matches!(
            finding.code,
            Code::CannotReach | Code::NothingToTake | Code::Blocked | Code::OwnPiece
        ) && finding.severity() == Severity::Error
    };
    if !text.found.iter().any(|finding| is_meant(&finding)) {
        return list;
    }
    let numbered = numbered(text);
    let mut first: Option<(NodeId, String)> = None;
    for finding in text.found.iter().filter(is_meant).take(LOOKED) {
        let Some(here) = numbered.iter().find(|it| it.word.from == finding.span.from) else {
            continue;
        };
        let Some((node, meant)) = slip(text, here) else {
            continue;
        };
        if first.as_ref() == Some(&(node, meant.clone())) {
            if let Some(told) = list.last_mut() {
                told.explains
                    .push(Explained::One(finding.code, finding.span));
            }
            continue;
        }
        let written = text.lesson.numbered(node);
        let more = format!("perhaps {written} has the slip: with {meant} the rest can be played");
        let help = match &finding.help {
            Some(help) => format!("{help}; {more}"),
            None => more,
        };
        let span = text.lesson.node(node).span;
        let better = finding.clone().with_help(help);
        list.push(Told::alone(
            better.with_related(span, "perhaps here".to_owned()),
        ));
        first = Some((node, meant));
    }
    list
}

/// The one move before another, and what it should be, with which the rest of the line plays.
fn slip(text: &Text, here: &Numbered) -> Option<(NodeId, String)> {
    let lesson = text.lesson;
    let items = &text.game.lines.get(here.line)?.items;
    let after = items.iter().skip_while(|it| it.span.from < here.word.from);
    let rest = shapes(text, after)?;
    // One move that plays by chance proves nothing.
    if rest.len() < 2 {
        return None;
    }
    let path = lesson.path(here.at);
    let mut found = None;
    for at in (0..path.len()).rev().take(BACK) {
        let Some(before) = lesson.node(path[at]).parent else {
            continue;
        };
        let node = lesson.node(path[at]);
        let position = &lesson.node(before).position;
        for (meant, position) in one_sign_off(position, node.san.as_str()) {
            if !goes_on(lesson, position, &path[at + 1..], &rest) {
                continue;
            }
            if found.is_some() {
                return None;
            }
            found = Some((path[at], meant));
        }
    }
    found
}

/// What the moves of a line are; none if one of them is no move in any position.
fn shapes<'a>(text: &Text, items: impl Iterator<Item = &'a Item>) -> Option<Vec<Shape>> {
    let moves = items.filter(|it| it.kind == ItemKind::Move);
    let read = |it: &Item| san::read(text.source.slice(it.span), text.letters).shape;
    moves.map(read).collect()
}

fn goes_on(lesson: &Lesson, mut position: Chess, path: &[NodeId], rest: &[Shape]) -> bool {
    for &node in path {
        let san = lesson.node(node).san.as_str();
        let Some(shape) = san::read(san, Letters::ENGLISH).shape else {
            return false;
        };
        match rules::resolve(&position, &shape) {
            Ok((played, _)) => position = rules::after(&position, played),
            Err(_) => return false,
        }
    }
    for shape in rest {
        match rules::resolve(&position, shape) {
            Ok((played, _)) => position = rules::after(&position, played),
            Err(_) => return false,
        }
    }
    true
}

#[cfg(test)]
mod tests {
    use super::super::looked;
    use super::*;

    #[test]
    fn a_slip_in_a_move_before_is_named_where_the_rest_needs_another_move() {
        let text = "1. e4 e5 2. Nf3 Nc6 3. d3 (3. Bb5 a6 {x}) exd4 4. Nxd4 Nf6 {x} *";
        let (_, findings) = looked(text, slips);
        let first = findings.iter().next().expect("a finding");
        let help = first.help.clone().unwrap_or_default();
        assert_eq!(first.span.from, 42);
        assert!(
            help.ends_with("perhaps 3.d3 has the slip: with d4 the rest can be played"),
            "{help}"
        );
    }

    #[test]
    fn a_slip_that_the_rest_does_not_need_is_not_named() {
        let (_, findings) = looked("1. e4 e5 2. Nf3 Nc6 3. Bb6 a6 4. Ba4 Nf6 {x} *", slips);
        let first = findings.iter().next().expect("a finding");
        assert!(!first.help.clone().unwrap_or_default().contains("slip"));
    }
}
