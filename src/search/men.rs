//! Which men have been lost along a line.

use crate::lesson::rules::after;
use shakmaty::{Chess, Color, Move, Position, Role};

/// From the most to the least.
const ROLES: [Role; 5] = [
    Role::Queen,
    Role::Rook,
    Role::Bishop,
    Role::Knight,
    Role::Pawn,
];

/// What a side has lost at the end of a line, less what the other has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lost {
    /// No more men than the other side.
    Nothing,
    /// A rook for a bishop or a knight (common practice, no source).
    Exchange,
    /// These, how many of each, and what was taken for them; the dearest first.
    Men {
        given: Vec<(Role, u32)>,
        taken: Vec<(Role, u32)>,
    },
    /// A pawn has become something, which is no man that was lost: only the sum says it.
    Promoted,
}

/// What a side has lost at the end of a line, less what the other has: a bishop for a knight is nothing.
pub fn lost(start: &Chess, line: &[Move], side: Color) -> Lost {
    if line.iter().any(|it| it.is_promotion()) {
        return Lost::Promoted;
    }
    let mut end = start.clone();
    for &played in line {
        end = after(&end, played);
    }
    let count = |position: &Chess, color: Color, role: Role| -> u32 {
        let men = position.board().by_color(color) & position.board().by_role(role);
        men.count() as u32 // at most 64
    };
    // Without promotions a line leaves no side more men of a role than it had.
    let lost = |color: Color, role: Role| {
        count(start, color, role).saturating_sub(count(&end, color, role))
    };
    let list = |of: Color| -> Vec<(Role, u32)> {
        let net = |role: Role| lost(of, role).saturating_sub(lost(of.other(), role));
        let all = ROLES.iter().map(|&role| (role, net(role)));
        all.filter(|(_, count)| *count > 0).collect()
    };
    let (mut given, mut taken) = (list(side), list(side.other()));
    even(&mut given, &mut taken);
    match (given.as_slice(), taken.as_slice()) {
        ([], _) => Lost::Nothing,
        ([(Role::Rook, 1)], [(Role::Bishop | Role::Knight, 1)]) => Lost::Exchange,
        _ => Lost::Men { given, taken },
    }
}

/// The moves of a line up to the last that takes something or becomes something: what comes after changes no material.
/// None where nothing does.
pub fn changing(line: &[Move]) -> Option<&[Move]> {
    let changes = |it: &Move| it.is_capture() || it.is_promotion();
    line.get(..=line.iter().rposition(changes)?)
}

/// A bishop for a knight is nothing lost.
fn even(given: &mut Vec<(Role, u32)>, taken: &mut Vec<(Role, u32)>) {
    for (mine, theirs) in [(Role::Bishop, Role::Knight), (Role::Knight, Role::Bishop)] {
        let of = |list: &[(Role, u32)], role: Role| {
            let found = list.iter().find(|(it, _)| *it == role);
            found.map_or(0, |(_, count)| *count)
        };
        let both = of(given, mine).min(of(taken, theirs));
        for (list, role) in [(&mut *given, mine), (&mut *taken, theirs)] {
            for one in list.iter_mut().filter(|(it, _)| *it == role) {
                one.1 -= both;
            }
            list.retain(|(_, count)| *count > 0);
        }
    }
}
