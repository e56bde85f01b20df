//! Signs that say a side is winning, against the material and against each other.

use super::force::is_ahead;
use super::spots::Spots;
use super::tell::{self, Told, WAY_OUT};
use super::words;
use crate::lesson::reason::phrases::side as side_name;
use crate::lesson::{Lesson, NodeId};
use crate::text::{Code, Finding};
use rayon::prelude::*;
use shakmaty::{Chess, Color};
use std::collections::HashMap;

/// A rook, in hundredths of a pawn.
const ROOK: i32 = 500;

/// What a sign says of who is better (PGN standard, section 10).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Says {
    Even,
    Better(Color),
    Winning(Color),
}

/// The first sign of a node that says who is better.
fn says(lesson: &Lesson, node: NodeId) -> Option<Says> {
    lesson.node(node).nags.iter().find_map(|nag| match nag {
        10..=12 => Some(Says::Even),
        14 | 16 => Some(Says::Better(Color::White)),
        15 | 17 => Some(Says::Better(Color::Black)),
        18 | 20 => Some(Says::Winning(Color::White)),
        19 | 21 => Some(Says::Winning(Color::Black)),
        _ => None,
    })
}

/// Whether a sign at the node says that a side is better.
pub fn favours(lesson: &Lesson, node: NodeId, side: Color) -> bool {
    let said = says(lesson, node);
    said == Some(Says::Better(side)) || said == Some(Says::Winning(side))
}

/// The signs of a lesson that the material contradicts, and those that contradict each other; with those that it
/// does not contradict.
pub fn signs(lesson: &Lesson, spots: &Spots, budget: u64) -> (Vec<Finding>, Vec<Told>) {
    let winning: Vec<(NodeId, Color, &Chess)> = lesson
        .ids()
        .filter(|&id| spots.number(id).is_some() && !words::is_weighed(lesson, id))
        .filter_map(|id| match says(lesson, id) {
            Some(Says::Winning(side)) => Some((id, side, &lesson.node(id).position)),
            _ => None,
        })
        .collect();
    let weighed: Vec<_> = winning
        .into_par_iter()
        .map(|(id, side, position)| (id, side, is_ahead(position, side.other(), ROOK, budget)))
        .collect();
    let (mut findings, mut told) = (Vec::new(), Vec::new());
    for (id, side, shown) in weighed {
        match shown {
            Some(shown) => findings.push(tell::against(lesson, id, side, &shown)),
            None => told.push(Told {
                span: lesson.node(id).span,
                kind: "sign",
                text: format!(
                    "{}: nothing found by force against the sign that {} is winning",
                    lesson.numbered(id),
                    side_name(side)
                ),
            }),
        }
    }
    findings.extend(apart(lesson, spots));
    (findings, told)
}

/// Signs of one position, reached by two orders of moves, that cannot both be meant.
fn apart(lesson: &Lesson, spots: &Spots) -> Vec<Finding> {
    let mut findings = Vec::new();
    // The first sign of each position, with its node.
    let mut first_of: HashMap<usize, (NodeId, Says)> = HashMap::new();
    for other in lesson.ids() {
        let (Some(spot), Some(second)) = (spots.number(other), says(lesson, other)) else {
            continue;
        };
        if words::is_weighed(lesson, other) {
            continue;
        }
        let &mut (one, first) = first_of.entry(spot).or_insert((other, second));
        if one == other {
            continue;
        }
        let contradict = match (first, second) {
            (Says::Even, Says::Winning(_)) | (Says::Winning(_), Says::Even) => true,
            (Says::Better(a) | Says::Winning(a), Says::Better(b) | Says::Winning(b)) => a != b,
            _ => false,
        };
        if contradict {
            let words = |says: Says| match says {
                Says::Even => "even".to_owned(),
                Says::Better(side) => format!("better for {}", side_name(side)),
                Says::Winning(side) => format!("won for {}", side_name(side)),
            };
            let message = format!(
                "{} is said to be {}, and {}, which leads to the same position, {}",
                lesson.numbered(other),
                words(second),
                lesson.numbered(one),
                words(first)
            );
            let finding = Finding::new(Code::SignsApart, lesson.node(other).span, message)
                .with_help(format!("keep the sign that is meant, {WAY_OUT}"))
                .with_related(lesson.node(one).span, "the same position".to_owned());
            findings.push(finding);
        }
    }
    findings
}
