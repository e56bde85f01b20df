//! A half-move that was left out before a move which both sides can play: the numbers from there on
//! agree with each other, and not with the moves.

use super::Text;
use super::earlier::of_either_side;
use super::line_starts::node_at;
use super::numbered::{Numbered, numbered};
use crate::check::author::explained::{Explained, Told};
use crate::lesson::reason::phrases::side;
use crate::notation::{Item, ItemKind};
use crate::text::{Code, Finding, Severity, Span, quote};
use shakmaty::Color;

/// How many findings of a game are looked at.
const LOOKED: usize = 16;

/// The moves before which such a half-move is missing. What follows in their lines is explained.
pub(super) fn missing(text: &Text) -> Vec<Told> {
    let is_meant = |finding: &&Finding| finding.code == Code::WrongNumber;
    let mut list = Vec::new();
    if !text.found.iter().any(|finding| is_meant(&finding)) {
        return list;
    }
    let numbered = numbered(text);
    for finding in text.found.iter().filter(is_meant).take(LOOKED) {
        let at = numbered.iter().find(|it| it.span == finding.span);
        list.extend(at.and_then(|here| told(text, here)));
    }
    list
}

fn told(text: &Text, here: &Numbered) -> Option<Told> {
    let (number, dots) = here.written?;
    let (missing, next) = (here.turn, i64::from(here.turn.is_black()) + here.right);
    let is_other = (dots > 1) == missing.is_white();
    if number != next || !is_other || here.is_first {
        return None;
    }
    node_at(text.lesson, here.word)?; // else the finding there says it
    let items = &text.game.lines.get(here.line)?.items;
    let at = items.iter().position(|it| it.span == here.word)?;
    let rest = &items[at + 1..]; // found above
    let agreeing = agreeing(rest, number, !missing)?;
    let end = rest.last().map_or(here.word.to, |it| it.span.to);
    let after = Span {
        from: here.word.to,
        to: end,
    };
    let breaks = text.found.iter().any(|it| {
        it.severity() == Severity::Error && (after.from..after.to).contains(&it.span.from)
    });
    if agreeing == 0 && !breaks {
        return None;
    }
    let word = text.source.slice(here.word);
    let (written, mover) = (text.source.slice(here.span), side(missing));
    let message = format!(
        "by its number {} is a move of {}'s, and {mover} is to move here",
        quote(word),
        side(!missing)
    );
    let mut help = format!(
        "{mover}'s move {} is missing before {written}{word}",
        here.right
    );
    if let Some(before) = of_either_side(text, here) {
        help = format!("{help}, or {}'s before {before}", side(!missing));
    }
    Some(Told {
        finding: Finding::new(Code::WrongSide, here.word, message).with_help(help),
        explains: vec![
            Explained::One(Code::WrongNumber, here.span),
            Explained::Within(after),
        ],
    })
}

/// How many of the numbers in the rest of a line agree with the one of the move before it; none if one
/// does not.
fn agreeing(rest: &[Item], number: i64, side: Color) -> Option<usize> {
    // Of the move before: two plies a number.
    let mut ply = 2 * number + i64::from(side.is_black());
    let mut count = 0;
    for item in rest {
        match item.kind {
            ItemKind::Move => ply += 1,
            ItemKind::Number { number, dots } => {
                let written = 2 * i64::from(number) + i64::from(dots > 1);
                if written != ply + 1 {
                    return None;
                }
                count += 1;
            }
            _ => {}
        }
    }
    Some(count)
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::checked;

    /// What is found in a text, with its help.
    fn told(text: &str) -> Vec<String> {
        let (_, findings) = checked(text);
        let told = |it: &crate::text::Finding| {
            format!("{}: {}", it.code.id(), it.help.clone().unwrap_or_default())
        };
        findings.iter().map(told).collect()
    }

    #[test]
    fn a_half_move_that_is_missing_before_a_move_of_either_side_is_told_once() {
        for (text, help) in [
            (
                "1. d4 Nf6 2. c4 3. Nc3 e6 4. e3 {x} *",
                "Black's move 2 is missing before 3.Nc3",
            ),
            (
                "1. e4 e5 2. Nc3 Nf6 3. d3 4. Nd5 Bc5 5. Bg5 {x} *",
                "Black's move 3 is missing before 4.Nd5",
            ),
            (
                "1. d4 d5 2. Nf3 Nf6 3. Ne5 4. Ng4 e6 5. e3 {x} *",
                "Black's move 3 is missing before 4.Ng4",
            ),
            (
                "1. Nc3 Nf6 2. Nd5 3. Nf4 d6 4. e4 {x} *",
                "Black's move 2 is missing before 3.Nf4, or White's before Nd5",
            ),
            (
                "1. e4 e5 2. Nf3 Nf6 3... Nxe4 4. d3 Nf6 5. Nxe5 {x} *",
                "White's move 3 is missing before 3...Nxe4",
            ),
        ] {
            assert_eq!(told(text), [format!("P044: {help}")], "{text}");
        }
    }

    #[test]
    fn a_number_for_each_ply_says_nothing_of_moves_that_are_missing() {
        for text in [
            "1. e4 2. e5 3. Nf3 4. Nc6 {x} *",
            "1. e4 e5 2. Nc3 3. Nc6 4. d3 {x} *",
        ] {
            let told = told(text);
            assert!(told.iter().all(|it| it.starts_with("P022")), "{told:?}");
        }
    }
}
