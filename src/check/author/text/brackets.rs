//! Variations that are after the wrong move, as the number of their first move says.

use super::Text;
use super::line_starts::{node_at, number_of};
use crate::check::author::explained::{Explained, Told};
use crate::lesson::rules;
use crate::lesson::{Lesson, NodeId};
use crate::notation::word::san::{self, Shape};
use crate::notation::{Item, ItemKind};
use crate::text::{Code, Finding, Severity, Span};
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
        let is_black = lesson.node(beside).position.turn().is_white(); // who moved is not to move
        if number == number_of(lesson, beside) && (was_read || is_black == (dots > 1)) {
            let told = text.found.iter().find(|it| it.span.from == first.span.from);
            list.extend(told.and_then(in_place).map(Told::alone));
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
        let finding = tell(lesson, beside, meant, word.core, told);
        let mut explains = Vec::new();
        if was_read && plays(text, &line.items, meant) {
            let last = line.items.last().map_or(first.span, |it| it.span);
            explains.push(Explained::Within(Span {
                from: first.span.to,
                to: last.to,
            }));
        }
        list.push(Told { finding, explains });
    }
    list
}

/// The finding at the first move of a variation whose number says that it is in its place: without
/// the advice to move it.
fn in_place(found: &Finding) -> Option<Finding> {
    let help = found.help.as_ref()?;
    let moves_it = |it: &&str| {
        it.starts_with("a variation replaces")
            || it.ends_with("put the variation after that move")
            || it.ends_with("put the variation after the next move, which it replaces")
    };
    let kept: Vec<&str> = help.split("; ").filter(|it| !moves_it(it)).collect();
    let mut finding = found.clone();
    finding.help = (!kept.is_empty()).then(|| kept.join("; "));
    Some(finding)
}

/// Whether all moves of a line can be played in place of a node's.
fn plays(text: &Text, items: &[Item], node: NodeId) -> bool {
    let Some(before) = text.lesson.node(node).parent else {
        return false;
    };
    let mut position = text.lesson.node(before).position.clone();
    for item in items.iter().filter(|item| item.kind == ItemKind::Move) {
        let word = san::read(text.source.slice(item.span), text.letters);
        let Some(Ok((played, _))) = word.shape.map(|shape| rules::resolve(&position, &shape))
        else {
            return false;
        };
        position = rules::after(&position, played);
    }
    true
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
    fn a_variation_belongs_after_the_move_of_its_number() {
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
    fn what_cannot_be_played_in_a_variation_at_the_wrong_move_is_its_place_s_fault() {
        let text = "1. e4 e5 2. Nf3 Nc6 3. Bc4 Bc5 4. d3 d6 (5. Be3 Bxe3 6. fxe3 {x}) 5. h3 {x} *";
        let (_, findings) = looked(text, by_number);
        let codes: Vec<&str> = findings.iter().map(|it| it.code.id()).collect();
        assert_eq!(codes, ["P022"]);
    }

    #[test]
    fn a_variation_that_has_the_number_of_the_move_before_it_is_in_its_place() {
        let text = "1. e4 e5 2. Nf3 Nc6 3. O-O (3. Bc4 {x}) (3. O-O {x}) *";
        assert!(!help(text).contains("by its number"));
        let text = "1. e4 e5 2. Nf3 Bc5 3. Na3 (3. O-O {x}) 3... Nc6 {x} *";
        assert!(!help(text).contains("variation"));
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
