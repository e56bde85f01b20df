//! Addresses: the run of moves that names a place in a page's address, written and read.

use super::Place;
use super::found::LocateError;
use super::locate::{ends_at, locate, read_run};
use super::number::{number, words};
use crate::lesson::attempt::Tried;
use crate::lesson::reason::phrases::dots;
use crate::lesson::rules::{self, landing};
use crate::lesson::tree::{Lesson, NodeId};
use crate::notation::Letters;
use crate::notation::word::san;
use crate::text::{Listed, join};
use shakmaty::{Chess, Position};

/// The shortest run of moves that begins with a number and names this place alone, `_` between its
/// moves, in English SAN without signs; empty for node 0. Moves that the lesson does not hold are
/// at its end.
pub fn address(lesson: &Lesson, place: &Place) -> String {
    let mut run = String::new();
    let mut way = vec![place.node];
    while let Some(before) = way.first().and_then(|&first| lesson.node(first).parent) {
        way.insert(0, before);
        run = written(lesson, &way);
        if is_alone(lesson, &run, place.node) {
            break;
        }
    }
    let mut before = &lesson.node(place.node).position;
    for tried in &place.aside {
        push(&mut run, before, &tried.san);
        before = &tried.position;
    }
    run
}

/// Whether a run that begins with a number names this node, to which it leads, and no other: only
/// nodes at the same ply can be meant.
fn is_alone(lesson: &Lesson, run: &str, node: NodeId) -> bool {
    let Some(played) = lesson.node(node).played else {
        return locate(lesson, run) == Ok(node);
    };
    let Some(run) = read_run(run) else {
        return false;
    };
    let ply = lesson.node(node).ply;
    let mut others = lesson
        .orders()
        .at_square(lesson, ply, landing(played))
        .iter();
    others.all(|&other| other == node || !ends_at(lesson, &run, other, &mut { usize::MAX }))
}

/// The moves that lead along these nodes, the first of which is where they begin.
pub(crate) fn written(lesson: &Lesson, nodes: &[NodeId]) -> String {
    let mut run = String::new();
    for pair in nodes.windows(2) {
        let [before, after] = [pair[0], pair[1]].map(|id| lesson.node(id));
        push(&mut run, &before.position, &after.san);
    }
    run
}

/// One more move of a run: with its number where White moves, or where it is the first.
fn push(run: &mut String, before: &Chess, san: &str) {
    let white = before.turn().is_white();
    if !run.is_empty() {
        run.push('_');
    }
    if white || run.is_empty() {
        run.push_str(&before.fullmoves().to_string());
        run.push_str(dots(before.turn()));
    }
    run.push_str(san.trim_end_matches(['+', '#']));
}

/// The place that a run names: a node, and after it legal moves that the lesson does not hold.
/// Where it names several nodes, the first of them in the text's order. None if it names
/// nothing, or goes on with a move that is not legal.
pub fn follow(lesson: &Lesson, run: &str) -> Option<Place> {
    let words: Vec<&str> = words(run).listed();
    let found = |run: &str| match locate(lesson, run) {
        Ok(node) => Some(node),
        Err(LocateError::Several(nodes)) => nodes.first().copied(),
        Err(LocateError::None) => None,
    };
    for kept in (0..=words.len()).rev() {
        let node = match kept {
            // All of it may be tried from the start, where its number says so.
            0 if !words.is_empty() => 0,
            0 => {
                return found(run)
                    .or(run.trim().is_empty().then_some(0))
                    .map(Place::of);
            }
            _ => match found(&join(&words[..kept], " ")) {
                Some(node) => node,
                None => continue,
            },
        };
        return tried(lesson, node, &words[kept..]);
    }
    None
}

/// Plays moves after a node; a number before one must agree.
fn tried(lesson: &Lesson, node: NodeId, words: &[&str]) -> Option<Place> {
    let mut place = Place::of(node);
    for word in words {
        let position = place.position(lesson);
        let (number, word) = number(word)?;
        if word.is_empty() || number.is_some_and(|number| !number.agrees(position)) {
            return None;
        }
        let shape = san::read(word, Letters::ENGLISH).shape?;
        let (played, _) = rules::resolve(position, &shape).ok()?;
        let tried = Tried::of(position, played);
        place.aside.push(tried);
    }
    Some(place)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::given;

    fn lesson() -> Lesson {
        let text = "1. d4 d5 2. c4 e6 (2... c6 3. Nf3 Nf6 4. Nc3) 3. Nc3 Nf6 4. Nf3 *";
        given::lesson(text)
    }

    #[test]
    fn the_shortest_run_that_is_unique_is_written() {
        let lesson = lesson();
        let run = |id| address(&lesson, &Place::of(id));
        assert_eq!(run(0), "");
        assert_eq!(run(4), "2...e6");
        assert_eq!(run(6), "3.Nf3");
        for id in lesson.ids() {
            assert_eq!(
                follow(&lesson, &run(id)),
                Some(Place::of(id)),
                "{}",
                run(id)
            );
        }
    }

    #[test]
    fn a_run_may_go_on_with_legal_moves_that_the_lesson_does_not_hold() {
        let lesson = lesson();
        for run in ["2...e6_3.e3", "2...e6_3.e3_Nf6", "1.e4", "1.e4_e5_2.Nf3"] {
            let place = follow(&lesson, run).expect(run);
            assert!(!place.aside.is_empty(), "{run}");
            assert_eq!(address(&lesson, &place), run);
        }
        for run in ["2...e6_3.e5", "1.e5", "5.Bg5", "3.e4_", "nonsense", "2."] {
            let place = follow(&lesson, run);
            assert_eq!(
                place.filter(|place| run != "3.e4_" || !place.aside.is_empty()),
                None,
                "{run}"
            );
        }
    }

    #[test]
    fn a_run_that_has_become_ambiguous_names_the_first() {
        let lesson = lesson();
        assert_eq!(
            follow(&lesson, "Nc3"),
            Some(Place::of(8)),
            "of the sideline, which stands first"
        );
    }
}
