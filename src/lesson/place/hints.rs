//! A locator that names no place: what the lesson has that is near it.

use super::address::written;
use super::found::LocateError;
use super::locate::locate;
use super::number::{Number, number, unnumbered, words};
#[cfg(not(target_family = "wasm"))]
use crate::lesson::reason::suggest::distance;
use crate::lesson::tree::{Lesson, NodeId};
use crate::notation::Letters;
use crate::notation::word::san;
use crate::text::{Listed, join, quote};
use shakmaty::Position;

/// Most places, moves or lines that are listed.
const LISTED: usize = 4;

/// Most moves of a run that are written, and most before them to tell its places apart.
const MORE: usize = 6;

/// Most moves of a run that are looked for one by one.
const LOOKED_FOR: usize = 16;

/// How a place is written, for a locator that names none.
pub fn way_out(lesson: &Lesson, locator: &str) -> String {
    let run = locator.trim();
    if let Some(at) = run.bytes().rposition(|byte| byte == b'/') {
        let after = run.get(at + 1..).unwrap_or_default();
        return match places(lesson, after).is_empty() {
            true => "a place is a run of moves of this lesson, such as 4.cxd5_exd5".to_owned(),
            false => format!(
                "a place is one of this lesson: write {} alone",
                quote(after)
            ),
        };
    }
    if run.starts_with("line") {
        return lines(lesson);
    }
    let words = words(run).listed();
    if words.is_empty() {
        return "a place is a run of moves, such as 4.cxd5_exd5, or `start`".to_owned();
    }
    for word in &words {
        let bare = unnumbered(word).unwrap_or(word);
        if !bare.is_empty() && san::read(bare, Letters::ENGLISH).shape.is_none() {
            return format!(
                "\u{201c}{}\u{201d} is no move; a place is a run of moves, such as 4.cxd5_exd5, or `start`",
                quote(bare)
            );
        }
    }
    // The moves are right, and a number is wrong.
    let moves = bare(&words);
    let found = places(lesson, &join(&moves, " "));
    // Another move of that number may be meant, but not where it is only the side that is wrong.
    if let ([_], Some((Some(number), _))) = (&words[..], number(words[0])) {
        let before = |&id: &NodeId| lesson.node(id).parent.unwrap_or(id);
        let is_there = |id| lesson.node(before(id)).position.fullmoves().get() == number.value;
        let there = numbered(lesson, number, moves.first().copied().unwrap_or_default());
        let is_start = there.first().is_none_or(|first| before(first) == 0);
        if !is_start && !found.iter().any(is_there) {
            let mut says = format!(
                "at move {} the lesson has {}",
                number.value,
                named(lesson, &there, 1)
            );
            if !found.is_empty() {
                says += &format!("; it has this move as {}", named(lesson, &found, 1));
            }
            return says;
        }
    }
    if !found.is_empty() {
        let runs = named(lesson, &found, moves.len().min(MORE));
        return format!("the lesson has these moves as {runs}");
    }
    // The run leaves the lesson: the lesson's next moves at that place.
    for kept in (1..words.len().min(LOOKED_FOR)).rev() {
        let found = places(lesson, &join(&words[..kept], " "));
        if let Some(&last) = found.first() {
            return next(lesson, last, &found, bare(&words[kept..]).first());
        }
    }
    let last = moves.last().map_or(Vec::new(), |last| places(lesson, last));
    match last.is_empty() {
        true => next(lesson, 0, &[0], moves.first()),
        false => format!("the lesson has such a move as {}", named(lesson, &last, 1)),
    }
}

/// The words of a run without their numbers.
fn bare<'a>(words: &[&'a str]) -> Vec<&'a str> {
    let mut list = Vec::new();
    for word in words {
        let bare = unnumbered(word).unwrap_or(word);
        if !bare.is_empty() {
            list.push(bare);
        }
    }
    list
}

/// The moves that have a number, each once: of the side that its dots say, where they do. Those
/// that are written most like a word come first.
fn numbered(lesson: &Lesson, number: Number, word: &str) -> Vec<NodeId> {
    let mut list: Vec<NodeId> = Vec::new();
    for id in lesson.ids() {
        let agrees = |id: NodeId| number.agrees(&lesson.node(id).position);
        if lesson.node(id).parent.is_some_and(agrees) {
            add(lesson, &mut list, id, word);
        }
    }
    list
}

/// Puts a move among the few that are written most like a word, unless it is there already.
fn add(lesson: &Lesson, list: &mut Vec<NodeId>, id: NodeId, word: &str) {
    let node = lesson.node(id);
    let far = unlike(node.san.as_str(), word);
    let mut place = list.len();
    for (at, &known) in list.iter().enumerate() {
        let known = lesson.node(known);
        if known.san == node.san && known.ply == node.ply {
            return;
        }
        if place == list.len() && unlike(known.san.as_str(), word) > far {
            place = at;
        }
    }
    list.insert(place, id);
    list.truncate(LISTED + 1);
}

/// On a page the order of the text counts: authors read the program.
#[cfg(target_family = "wasm")]
fn unlike(_: &str, _: &str) -> usize {
    0
}

/// How many letters must change to make one move of another; check signs do not count.
#[cfg(not(target_family = "wasm"))]
fn unlike(one: &str, other: &str) -> usize {
    let bare = |word: &str| word.trim_end_matches(['+', '#']).len();
    distance(
        &one.as_bytes()[..bare(one)],
        &other.as_bytes()[..bare(other)],
    )
}

/// All places that a locator names.
fn places(lesson: &Lesson, run: &str) -> Vec<NodeId> {
    match locate(lesson, run) {
        Ok(node) => vec![node],
        Err(LocateError::Several(nodes)) => nodes,
        Err(LocateError::None) => Vec::new(),
    }
}

/// So many moves that lead to each of some places, and as many more as tell them apart.
fn named(lesson: &Lesson, nodes: &[NodeId], moves: usize) -> String {
    let mut runs = Vec::new();
    for count in moves..moves + MORE {
        runs.clear();
        for &node in nodes.iter().take(LISTED) {
            let path = lesson.path(node);
            let run = written(lesson, &path[path.len().saturating_sub(count + 1)..]);
            if !runs.contains(&run) {
                runs.push(run);
            }
        }
        if runs.len() == nodes.len().min(LISTED) {
            break;
        }
    }
    join(&runs, " or ")
}

/// As many moves before each of some places as tell it from the others.
pub fn apart(lesson: &Lesson, nodes: &[NodeId]) -> String {
    named(lesson, nodes, 1)
}

/// What goes on from a place, or from others that the same moves name; what is written most like a
/// word comes first.
fn next(lesson: &Lesson, node: NodeId, all: &[NodeId], word: Option<&&str>) -> String {
    let after = match node {
        0 => "at its start".to_owned(),
        _ => format!("after {}", lesson.numbered(node)),
    };
    let mut list = Vec::new();
    for &node in all {
        for &child in &lesson.node(node).children {
            add(lesson, &mut list, child, word.copied().unwrap_or_default());
        }
    }
    match list.is_empty() {
        true => format!("{after} the lesson has no move"),
        false => format!("{after} the lesson has {}", named(lesson, &list, 1)),
    }
}

/// The labels of the lesson's lines.
fn lines(lesson: &Lesson) -> String {
    let mut labels = Vec::new();
    for line in lesson.lines.iter().skip(1).take(LISTED) {
        labels.push(format!("line {}", line.label));
    }
    match labels.len() {
        0 => "the lesson has only its main line".to_owned(),
        LISTED => format!("the lesson has {} and others", join(&labels, ", ")),
        _ => format!("the lesson has {}", join(&labels, " and ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::given::lesson;

    const TEXT: &str = "1. d4 d5 2. c4 e6 (2... c6 3. Nf3 Nf6) 3. Nc3 Nf6 *";

    fn said(locator: &str) -> String {
        way_out(&lesson(TEXT), locator)
    }

    #[test]
    fn where_the_lesson_leaves_a_run_its_moves_there_are_named() {
        assert_eq!(said("1.d4_Nf6"), "after 1.d4 the lesson has 1...d5");
        assert_eq!(
            said("1.d4 d5 2.c4 dxc4 3.e3"),
            "after 2.c4 the lesson has 2...c6 or 2...e6"
        );
        assert_eq!(
            said("3.Nc3 Nf6 4.Bg5"),
            "after 3...Nf6 the lesson has no move"
        );
        assert_eq!(said("1.e4"), "at its start the lesson has 1.d4");
    }

    #[test]
    fn what_is_written_most_like_a_locator_is_named_first() {
        let text =
            "1. e4 e5 2. Nf3 (2. Nc3 Bc5) (2. Bc4 Nf6) (2. f4 d6) (2. d4 a6) (2. Nh3 Qh4) Nc6 *";
        let said = |locator| way_out(&lesson(text), locator);
        let (number, run) = (said("2...Nf5"), said("1.e4_e5_2.Nh4"));
        assert!(
            number.starts_with("at move 2 the lesson has 2...Nf6 or "),
            "{number}"
        );
        assert!(
            run.starts_with("after 1...e5 the lesson has 2.Nh3 or "),
            "{run}"
        );
    }

    #[test]
    fn moves_with_a_wrong_number_are_named_with_the_right_one() {
        assert_eq!(said("4.Nc3"), "the lesson has these moves as 3.Nc3");
        assert_eq!(said("3.c4 e6"), "the lesson has these moves as 2.c4_e6");
        assert_eq!(said("2...c4"), "the lesson has these moves as 2.c4");
        assert_eq!(
            said("4...Nf6"),
            "the lesson has these moves as 3.Nf3_Nf6 or 3.Nc3_Nf6"
        );
    }

    #[test]
    fn of_a_move_with_its_number_what_the_lesson_has_at_that_number_is_named() {
        assert_eq!(
            said("3.e4"),
            "at move 3 the lesson has 3.Nf3 or 3.Nc3",
            "the main line and the variation"
        );
        assert_eq!(
            said("3.c4"),
            "at move 3 the lesson has 3.Nc3 or 3.Nf3; it has this move as 2.c4"
        );
        assert_eq!(
            said("3...e6"),
            "at move 3 the lesson has 3...Nf6; it has this move as 2...e6"
        );
    }

    #[test]
    fn a_move_that_stands_elsewhere_is_named_where_it_stands() {
        assert_eq!(said("2.Bf4_e6"), "the lesson has such a move as 2...e6");
    }

    #[test]
    fn what_is_no_run_of_this_lesson_is_told_how_to_be_one() {
        assert!(said("exchange/3.Nc3").ends_with("write 3.Nc3 alone"));
        assert!(said("exchange/7.Nc3").contains("a run of moves of this lesson"));
        assert!(said("").contains("`start`"));
        assert!(said("the trap").starts_with("\u{201c}the\u{201d} is no move"));
        assert_eq!(said("line C"), "the lesson has line A");
        let none = way_out(&lesson("1. e4 *"), "line A");
        assert_eq!(none, "the lesson has only its main line");
    }
}
