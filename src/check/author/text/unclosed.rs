//! Variations without an end: where they should have ended, by the numbers of the moves in them.
//! Findings that follow from it are left out.

use super::Text;
use super::line_starts::node_at;
use crate::check::author::explained::{Explained, Told};
use crate::lesson::{NodeId, rules};
use crate::notation::word::san;
use crate::notation::{Game, ItemKind, LineIx};
use crate::text::{Code, Finding, Span};
use shakmaty::{Color, Position};

/// Adds to the findings about variations that are not closed where they should have ended.
pub(super) fn unclosed(text: &Text) -> Vec<Told> {
    let game = text.game;
    let line_of = |it: &Finding| {
        let mut lines = game.lines.iter().skip(1);
        let line = lines.position(|line| line.span.from == it.span.from);
        line.filter(|_| it.code == Code::OpenVariation)
            .map(|line| line + 1)
    };
    let mut lines = text.found.iter().filter_map(|it| Some((it, line_of(it)?)));
    let Some((found, line)) = lines.next() else {
        return Vec::new();
    };
    let open = open(game, line);
    let end = end(text, &open);
    let closed = end.map_or(open.len(), |(count, _)| count);
    let mut told = Told::alone(found.clone());
    // The outer lines continue after it, so that their ends are unknown.
    for &line in &open[..closed] {
        if let Some(beside) = text.starts[line].beside {
            let last = text.lesson.node(beside).span;
            told.explains
                .push(Explained::One(Code::EndsInSilence, last));
        }
    }
    if let Some((count, end)) = end {
        let signs = ")".repeat(count);
        let what = match count {
            1 => "close it",
            _ => "close it and those around it",
        };
        let first = text.source.slice(end);
        told.finding = told
            .finding
            .with_help(format!(
                "{what} with `{signs}` before {first}, which continues the outer line"
            ))
            .with_related(end, "its end is missing before this".to_owned());
        let after = Span::new(end.from as usize, game.span.to as usize);
        told.explains.push(Explained::Reading(after));
    }
    vec![told]
}

/// The lines that are open in a line, from itself outwards, without the main line.
fn open(game: &Game, line: LineIx) -> Vec<LineIx> {
    let mut outer = vec![0; game.lines.len()];
    for (ix, line) in game.lines.iter().enumerate() {
        for item in &line.items {
            if let ItemKind::Variation(within) = item.kind {
                outer[within] = ix;
            }
        }
    }
    let mut open = vec![line];
    let mut at = line;
    while outer[at] > 0 {
        at = outer[at];
        open.push(at);
    }
    open
}

/// How many lines end in the first of some open ones, each within the next, and before which
/// move: the first whose number is not of its place, and of the next move of the line beside.
fn end(text: &Text, open: &[LineIx]) -> Option<(usize, Span)> {
    let starts = &text.starts;
    let (&line, mut number) = (open.first()?, None);
    let mut at: Option<NodeId> = None;
    for item in &text.game.lines[line].items {
        match item.kind {
            ItemKind::Number {
                number: value,
                dots,
            } => {
                number = Some((item.span, i64::from(value), dots));
            }
            ItemKind::Move => {
                let before = at;
                at = node_at(text.lesson, item.span);
                let Some((span, value, dots)) = number.take() else {
                    continue;
                };
                let Some(before) = before else {
                    at?; // of a line with a wrong beginning nothing is known
                    continue;
                };
                let says = |id: NodeId, off: i64| {
                    let position = &text.lesson.node(id).position;
                    value - off == i64::from(position.fullmoves().get())
                        && (dots > 1) == (position.turn() == Color::Black)
                };
                let off = starts[line].off;
                if says(before, off) || dots == 0 {
                    continue;
                }
                let word = san::read(text.source.slice(item.span), text.letters);
                let shape = word.shape.as_ref()?;
                for (count, &line) in open.iter().enumerate() {
                    let Some(beside) = starts[line].beside else {
                        continue;
                    };
                    let position = &text.lesson.node(beside).position;
                    if says(beside, starts[line].off) && rules::resolve(position, shape).is_ok() {
                        return Some((count + 1, span.join(item.span)));
                    }
                }
            }
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::super::looked;
    use super::*;

    /// What is found in a text: the codes, and the help of the first of variations.
    fn told(text: &str) -> (Vec<&'static str>, String) {
        let (_, findings) = looked(text, unclosed);
        let help = findings
            .iter()
            .find(|it| it.code == Code::OpenVariation)
            .and_then(|it| it.help.clone());
        let codes = findings.iter().map(|it| it.code.id()).collect();
        (codes, help.unwrap_or_default())
    }

    #[test]
    fn a_variation_should_have_ended_before_the_move_that_goes_on_from_the_line_beside() {
        for (text, place) in [
            (
                "1. e4 e6 2. d4 d5 3. e5 (3. Nc3 Nf6 {level} 3... c5 4. c3 {x} *",
                "close it with `)` before 3... c5,",
            ),
            (
                "1. e4 e6 2. d4 d5 (2... c5 3. d5 {x} 3. e5 c5 {x} *",
                "close it with `)` before 3. e5,",
            ),
            (
                "1. e4 e6 2. d4 d5 3. e5 (3. Nc3 Nf6 (3... Bb4 {x} 4. e5 {y} 3... c5 4. c3 {x} *",
                "close it and those around it with `))` before 3... c5,",
            ),
        ] {
            let (codes, help) = told(text);
            assert_eq!(codes, ["P008"], "{text}");
            assert!(help.starts_with(place), "{help}");
        }
    }

    #[test]
    fn where_no_number_says_it_nobody_knows_where_a_variation_should_have_ended() {
        for text in [
            "1. e4 e6 2. d4 d5 3. e5 (3. Nc3 Nf6 4. e5 Nfd7 {x} *",
            "1. e4 e6 2. d4 d5 3. e5 (3. Nc3 Nf6 {x} *",
        ] {
            let (codes, help) = told(text);
            assert_eq!(codes, ["P008"], "{text}");
            assert_eq!(help, "close it with `)`");
        }
    }
}
