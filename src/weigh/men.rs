//! What has been taken along a line, in words.

use crate::lesson::reason::phrases;
use crate::lesson::rules::after;
use crate::search::worth;
use shakmaty::{Chess, Color, Move, Position, Role};

/// From the most to the least.
const ROLES: [Role; 5] = [
    Role::Queen,
    Role::Rook,
    Role::Bishop,
    Role::Knight,
    Role::Pawn,
];

/// What a side has lost at the end of a line, less what the other has: `a knight`, `a rook for a bishop`, `two
/// pawns`. None where it has not lost more, and where a pawn has become something, which is no man that was lost.
pub fn lost(start: &Chess, line: &[Move], side: Color) -> Option<String> {
    if line.iter().any(|it| it.is_promotion()) {
        return None;
    }
    let mut end = start.clone();
    for &played in line {
        end = after(&end, played);
    }
    let count = |position: &Chess, color: Color, role: Role| -> i32 {
        let men = position.board().by_color(color) & position.board().by_role(role);
        men.count() as i32 // at most 64
    };
    let lost = |color: Color, role: Role| count(start, color, role) - count(&end, color, role);
    let net: Vec<(Role, i32)> = ROLES
        .iter()
        .map(|&role| (role, lost(side, role) - lost(side.other(), role)))
        .collect();
    let mut given: Vec<(Role, i32)> = net.iter().copied().filter(|(_, it)| *it > 0).collect();
    let mut taken: Vec<(Role, i32)> = net
        .iter()
        .filter(|(_, it)| *it < 0)
        .map(|(role, it)| (*role, -it))
        .collect();
    even(&mut given, &mut taken);
    let words = |list: &[(Role, i32)]| {
        let words: Vec<String> = list.iter().map(|(role, it)| many(*role, *it)).collect();
        words.join(" and ")
    };
    let is_exchange = |list: &[(Role, i32)], roles: &[Role]| match list {
        [(role, 1)] => roles.contains(role),
        _ => false,
    };
    let is_minor = is_exchange(&taken, &[Role::Bishop, Role::Knight]);
    match (given.is_empty(), taken.is_empty()) {
        (true, _) => None,
        (false, true) => Some(words(&given)),
        // Common practice, no source.
        (false, false) if is_exchange(&given, &[Role::Rook]) && is_minor => {
            Some("the exchange".to_owned())
        }
        (false, false) => Some(format!("{} for {}", words(&given), words(&taken))),
    }
}

/// A bishop for a knight is nothing lost.
fn even(given: &mut Vec<(Role, i32)>, taken: &mut Vec<(Role, i32)>) {
    for (mine, theirs) in [(Role::Bishop, Role::Knight), (Role::Knight, Role::Bishop)] {
        let of = |list: &[(Role, i32)], role: Role| {
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

fn many(role: Role, count: i32) -> String {
    let name = phrases::name(role);
    match (count, role) {
        (1, Role::Queen) => "the queen".to_owned(),
        (1, _) => format!("a {name}"),
        (2, _) => format!("two {name}s"),
        (3, _) => format!("three {name}s"),
        _ => format!("{count} {name}s"),
    }
}

/// So much material, in hundredths of a pawn, where no single men say it.
pub fn pawns(hundredths: i32) -> String {
    match (hundredths, hundredths / worth(Role::Pawn)) {
        (_, 1) => "a pawn".to_owned(),
        (_, count) => format!("as much as {count} pawns"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::given::lesson;

    fn told(text: &str, from: usize) -> Option<String> {
        let lesson = lesson(text);
        let line: Vec<Move> = lesson
            .nodes
            .iter()
            .skip(from + 1)
            .filter_map(|it| it.played)
            .collect();
        lost(&lesson.nodes[from].position, &line, Color::White)
    }

    #[test]
    fn what_is_lost_is_named_without_what_was_taken_for_it() {
        let knight = told("1. e4 d5 2. Nc3 d4 3. a3 dxc3 *", 0);
        assert_eq!(knight.as_deref(), Some("a knight"));
        let pawn = told("1. e4 d5 2. Nc3 d4 3. a3 dxc3 4. dxc3 *", 0);
        assert_eq!(pawn.as_deref(), Some("a knight for a pawn"));
        assert_eq!(told("1. e4 e5 *", 0), None);
        let even = told("1. Nc3 e6 2. e3 Bb4 3. a3 Bxc3 4. dxc3 *", 0);
        assert_eq!(even, None);
    }
}
