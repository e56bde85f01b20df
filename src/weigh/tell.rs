//! What there is to say of a lesson, in words.

use super::force::{Shown, What};
use super::men;
use crate::lesson::reason::phrases::side;
use crate::lesson::{Lesson, NodeId, at_move, numbered, sans};
use crate::search::{balance, changing};
use crate::text::{Code, Finding, Span};
use shakmaty::{Chess, Color, Move, Position};

/// Something that is no finding, for who asks what was confirmed and what was not found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    pub span: Span,
    /// `trap`, `given`, `offers a pawn`, `opinion`, `sign` or `claim`.
    pub kind: &'static str,
    /// A sentence.
    pub text: String,
}

/// How an author ends a finding that is told of a move.
pub const WAY_OUT: &str = "or write a paragraph `Weighed: why` into its comment";

/// Moves with their numbers: `7...Qh4+ 8.Ke2 Qf2#`.
pub fn line(start: &Chess, moves: &[Move]) -> String {
    numbered(at_move(start), "...", sans(start, moves))
}

/// The moves of a line up to the last that changes the material, after a colon. Nothing where none does.
pub fn telling(start: &Chess, moves: &[Move]) -> String {
    match changing(moves) {
        Some(moves) => format!(": {}", line(start, moves)),
        None => String::new(),
    }
}

/// What a side loses along a line: `a knight`, `as much as 3 pawns`.
fn what(start: &Chess, moves: &[Move], loser: Color, pawns: i32) -> String {
    men::lost(start, moves, loser).unwrap_or_else(|| men::pawns(pawns))
}

/// How deep it was searched.
pub fn searched(depth: u32) -> String {
    format!("searched {depth} half-moves deep")
}

/// A sentence on a move that loses something.
pub fn loses(lesson: &Lesson, node: NodeId, start: &Chess, shown: &Shown) -> String {
    let loser = start.turn();
    let replies = shown.line.get(1..).unwrap_or_default();
    let after = &lesson.node(node).position;
    let name = lesson.numbered(node);
    match shown.what {
        What::Mate(count) => {
            let moves = line(after, replies);
            format!("after {name} {} is mated in {count}: {moves}", side(loser))
        }
        What::Material(_) => {
            let moves = telling(after, replies);
            let lost = what(start, &shown.line, loser, balance(start) - shown.value);
            format!(
                "{name} loses {lost} by force{moves} ({})",
                searched(shown.depth)
            )
        }
    }
}

/// The finding on a move that loses something.
pub fn loss(code: Code, lesson: &Lesson, node: NodeId, start: &Chess, shown: &Shown) -> Finding {
    let message = loses(lesson, node, start, shown);
    let help =
        format!("show the reply, mark the move as weak, say what it is given for, {WAY_OUT}");
    Finding::new(code, lesson.node(node).span, message).with_help(help)
}

/// The finding on a move in whose place another wins something.
pub fn chance(lesson: &Lesson, node: NodeId, start: &Chess, shown: &Shown) -> Finding {
    let mover = start.turn();
    let instead = format!("in place of {}", lesson.numbered(node));
    let message = match shown.what {
        What::Mate(count) => {
            let moves = line(start, &shown.line);
            format!("{instead} {} mates in {count}: {moves}", side(mover))
        }
        What::Material(pawns) => {
            let moves = telling(start, &shown.line);
            let won = what(start, &shown.line, mover.other(), pawns);
            let searched = searched(shown.depth);
            format!(
                "{instead} {} wins {won} by force{moves} ({searched})",
                side(mover)
            )
        }
    };
    let help = format!("show that move, mark this one as weak, {WAY_OUT}");
    Finding::new(Code::ChancePassed, lesson.node(node).span, message).with_help(help)
}

/// The finding on a move that is marked as a mistake and that nothing refutes.
pub fn unrefuted(lesson: &Lesson, node: NodeId, sign: &str, depth: u32) -> Finding {
    let message = format!(
        "{} is marked {sign}, and nothing in the lesson or in a search of {depth} half-moves wins a pawn or mates",
        lesson.numbered(node)
    );
    let help = format!(
        "show what refutes it, end its line with a sign such as $18 or $19, mark it ? or ?! without a claim, {WAY_OUT}"
    );
    Finding::new(Code::NotRefuted, lesson.node(node).span, message).with_help(help)
}

/// The finding on a sign that says a side is winning where the other has so much by force.
pub fn against(lesson: &Lesson, node: NodeId, winner: Color, shown: &Shown) -> Finding {
    let start = &lesson.node(node).position;
    let other = side(winner.other());
    let has = match shown.what {
        What::Mate(0) => format!("{} is mated here", side(winner)),
        What::Mate(count) => format!("{other} mates in {count}: {}", line(start, &shown.line)),
        What::Material(pawns) => {
            let searched = searched(shown.depth);
            format!(
                "{other} is ahead by {} by force{} ({searched})",
                men::pawns(pawns),
                telling(start, &shown.line)
            )
        }
    };
    let message = format!(
        "the sign at {} says that {} is winning, and {has}",
        lesson.numbered(node),
        side(winner)
    );
    let help = format!("turn the sign round, or correct the move, {WAY_OUT}");
    Finding::new(Code::SignAgainst, lesson.node(node).span, message).with_help(help)
}
