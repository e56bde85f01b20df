//! Variations that are after the wrong move, as the number of their first move says.

use super::Text;
use super::line_starts::{node_at, number_of};
use crate::check::author::explained::Told;
use crate::lesson::rules;
use crate::lesson::{Lesson, NodeId};
use crate::notation::word::san::{self, Shape};
use crate::notation::{Item, ItemKind};
use crate::text::{Code, Finding, Severity};
use shakmaty::Position;

/// Adds to the findings at first moves of variations after which move the variation belongs by its
/// number, if that is another one and the move can be played there.
pub(super) fn by_number(text: &Text) -> Vec<Told> {
    let lesson = text.lesson;
    let mut list = Vec::new();
    for (line, start) in text.game.lines.iter().zip(&text.starts) {
        let Some(beside) = start.beside else {
            continue;
        };
        let Some((number, dots, [at, first])) = beginning(&line.items) else {
            continue;
        };
        let number = number - start.off;
        let was_read = node_at(lesson, first.span).is_some();
        if was_read && number == number_of(lesson, beside) {
            continue;
        }
        // The finding is looked up first: of many such variations only so many have one.
        let is_told = |told: &&Finding| match told.severity() {
            Severity::Error => told.span.from == first.span.from,
            _ => told.code == Code::WrongNumber && told.span == at.span,
        };
        let Some(told) = text.found.iter().find(is_told) else {
            continue;
        };
        let word = san::read(text.source.slice(first.span), text.letters);
        let meant = word
            .shape
            .and_then(|shape| numbered(lesson, beside, number, dots, &shape));
        let Some(meant) = meant.filter(|&meant| meant != beside) else {
            continue;
        };
        list.push(Told::alone(tell(lesson, beside, meant, word.core, told)));
    }
    list
}

/// The number of a variation's first move, its dots, and both as they are in the text.
fn beginning(items: &[Item]) -> Option<(i64, u32, [Item; 2])> {
    let mut written = None;
    for &item in items {
        match item.kind {
            ItemKind::Number { number, dots } => written = Some((i64::from(number), dots, item)),
            ItemKind::Move => {
                let (number, dots, at) = written?;
                return Some((number, dots, [at, item]));
            }
            _ => {}
        }
    }
    None
}

/// The node of the move with that number, on the way to a node or on from it, in whose place such
/// a move can be played; the one of the side that the dots say, if both sides can play it.
fn numbered(
    lesson: &Lesson,
    beside: NodeId,
    number: i64,
    dots: u32,
    shape: &Shape,
) -> Option<NodeId> {
    let mut line = lesson.path(beside);
    let next = |&id: &NodeId| lesson.next_on_line(id);
    line.extend(core::iter::successors(next(&beside), next));
    let mut found = None;
    for id in line {
        let Some(before) = lesson.node(id).parent.map(|id| &lesson.node(id).position) else {
            continue;
        };
        if number_of(lesson, id) != number || rules::resolve(before, shape).is_err() {
            continue;
        }
        if before.turn().is_black() == (dots > 1) {
            return Some(id);
        }
        found = found.or(Some(id));
    }
    found
}

fn tell(lesson: &Lesson, beside: NodeId, meant: NodeId, word: &str, found: &Finding) -> Finding {
    let mut finding = found.clone();
    let (here, there) = (lesson.numbered(beside), lesson.numbered(meant));
    let mut help =
        format!("its brackets come after {here}, and a variation replaces the move before it; ");
    let repeats = lesson.node(meant).san.trim_end_matches(['+', '#']) == word;
    help += &match repeats {
        true => format!(
            "by its number it begins with {there} once more: leave out the moves that the line \
             has already, and put the brackets after the first move that it replaces"
        ),
        false => format!("by its number it replaces {there}: put the brackets after that move"),
    };
    // Perhaps the number is right and the place is wrong: then the fix would hide it.
    if let Some(fix) = finding.fix.take() {
        help += &format!("; or write {} if it replaces {here}", fix.text);
    }
    finding.with_help(help).with_related(
        lesson.node(meant).span,
        "the move of that number".to_owned(),
    )
}

#[cfg(test)]
mod tests {
    use super::super::looked;
    use super::*;

    /// The help of the first finding of a text.
    fn help(text: &str) -> String {
        let (_, findings) = looked(text, by_number);
        let first = findings.iter().next().and_then(|it| it.help.clone());
        first.unwrap_or_default()
    }

    #[test]
    fn a_variation_belongs_behind_the_move_of_its_number() {
        for (text, there) in [
            ("1. e4 e5 2. Nf3 (1... c5 {x}) Nc6 {x} *", "1...e5"),
            ("1. e4 e5 2. Nf3 (1. c5 {x}) Nc6 {x} *", "1...e5"),
            ("1. e4 e5 2. Nf3 Nc6 (1. d4 {x}) 3. Bb5 {x} *", "1.e4"),
            ("1. e4 (2. f4 {x}) e5 2. Nf3 Nc6 {x} *", "2.Nf3"),
            (
                "1. e4 e5 (1... c5 2. Nf3 (1... e6 {x}) d6 {x}) {x} *",
                "1...c5",
            ),
            (
                "1. e4 e5 2. Nf3 Nc6 3. Bb5 Nf6 4. O-O Nxe4 (3... a6 {x}) {x} *",
                "3...Nf6",
            ),
        ] {
            let help = help(text);
            let wanted = format!("by its number it replaces {there}: put the brackets after");
            assert!(help.contains(&wanted), "{text}: {help}");
        }
    }

    #[test]
    fn a_variation_that_begins_anew_from_an_earlier_move_is_to_begin_where_it_differs() {
        let help = help("1. e4 e5 2. Nf3 Nc6 (1. e4 c5 {x}) {x} *");
        assert!(help.contains("begins with 1.e4 once more"), "{help}");
    }

    #[test]
    fn a_number_that_is_off_as_those_around_it_are_says_nothing_of_the_place() {
        let text = "1. e4 e5 3. Nf3 Nc6 4. Bc4 (4. Bb5 {x}) Bc5 5. O-O {x} *";
        assert!(!help(text).contains("by its number"));
    }

    #[test]
    fn a_number_without_a_place_for_the_move_leaves_the_advice_as_it_was() {
        for text in [
            "1. e4 e5 2. Nf3 (9... d6 {x}) Nc6 {x} *",
            "1. e4 e5 2. Nf3 (1... Qxd4 {x}) Nc6 {x} *",
        ] {
            assert!(!help(text).contains("by its number"), "{text}");
        }
    }
}
