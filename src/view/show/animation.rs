//! The pieces that a step moves, for a short motion of each.

use crate::lesson::Lesson;
use crate::lesson::rules::{landing, origin};
use crate::text::Listed;
use crate::view::words::wording::last;
use crate::view::{Notice, State};
use shakmaty::{File, Move, Square};

/// Where the pieces that a step moved came from and stand now; empty for a jump, which has no
/// one way. Where the page replies, its move.
pub fn slides(lesson: &Lesson, before: &State, after: &State) -> Vec<(Square, Square)> {
    let parent = |state: &State| lesson.node(state.node).parent;
    let is_reply = match &after.notice {
        Some(Notice::Judged(judged)) => judged.reply.is_some(),
        _ => false,
    };
    // One move behind the other.
    let follows = |one: &State, other: &State| {
        let (first, then) = (one.aside.len(), other.aside.len());
        match one.node == other.node {
            true => then == first + 1,
            false => first + then == 0 && parent(other) == Some(one.node),
        }
    };
    let forward = is_reply || follows(before, after);
    let longer = if forward { after } else { before };
    let played = match forward || follows(after, before) {
        true => last(lesson, longer).and_then(|last| last.played),
        false => None,
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
