//! The pieces that a step moves, for a short motion of each.

use super::State;
use crate::lesson::Lesson;
use crate::lesson::rules::{landing, origin};
use crate::text::Listed;
use shakmaty::{File, Move, Square};

/// Where the pieces that a step moved came from and stand now; empty for a jump, which has no
/// one way.
pub fn slides(lesson: &Lesson, before: &State, after: &State) -> Vec<(Square, Square)> {
    let node = |state: &State| (state.node, state.aside.len());
    let parent = |id| lesson.node(id).parent;
    let ((was, far), (is, near)) = (node(before), node(after));
    let (played, forward) = if was == is {
        let (longer, forward) = if near > far {
            (after, true)
        } else {
            (before, false)
        };
        let steps = near.abs_diff(far);
        (
            longer
                .aside
                .last()
                .filter(|_| steps == 1)
                .and_then(|tried| tried.played),
            forward,
        )
    } else if far > 0 || near > 0 {
        (None, true)
    } else if parent(is) == Some(was) {
        (lesson.node(is).played, true)
    } else if parent(was) == Some(is) {
        (lesson.node(was).played, false)
    } else {
        (None, true)
    };
    let moved = played.map(moved).unwrap_or_default().into_iter();
    moved
        .map(|(from, to)| if forward { (from, to) } else { (to, from) })
        .listed()
}

fn moved(played: Move) -> Vec<(Square, Square)> {
    let mut list = vec![(origin(played), landing(played))];
    if let Move::Castle { king, rook } = played {
        let file = if rook.file() > king.file() {
            File::F
        } else {
            File::D
        };
        list.push((rook, Square::from_coords(file, rook.rank())));
    }
    list
}
