//! What has been taken along a line, in words.

use crate::lesson::reason::phrases;
use crate::search::{Lost, worth};
use shakmaty::{Chess, Color, Move, Role};

/// What a side has lost at the end of a line, less what the other has: `a knight`, `a rook for a bishop`, `two
/// pawns`. None where it has not lost more, and where a pawn has become something, which is no man that was lost.
pub fn lost(start: &Chess, line: &[Move], side: Color) -> Option<String> {
    let words = |list: &[(Role, u32)]| {
        let words: Vec<String> = list.iter().map(|(role, it)| many(*role, *it)).collect();
        words.join(" and ")
    };
    match crate::search::lost(start, line, side) {
        Lost::Nothing | Lost::Promoted => None,
        Lost::Exchange => Some("the exchange".to_owned()),
        Lost::Men { given, taken } if taken.is_empty() => Some(words(&given)),
        Lost::Men { given, taken } => Some(format!("{} for {}", words(&given), words(&taken))),
    }
}

fn many(role: Role, count: u32) -> String {
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
