//! Positions that are reached by more than one path.

use super::links::locators;
use super::rules::{Key, key};
use super::tree::{Lesson, NodeId};
use crate::text::Listed;
use shakmaty::Chess;

/// Searches all of a lesson for what its field `same` holds.
pub(super) fn same_positions(lesson: &Lesson) -> Vec<(NodeId, NodeId)> {
    let mut pairs = Vec::new();
    // A lesson of one line reaches no position by another path, and without choices none
    // contradict.
    if lesson.lines.len() == 1 && lesson.nodes.iter().all(|node| node.choice().is_none()) {
        return pairs;
    }
    let key = |id| key(&lesson.node(id).position);
    // Sorted by a hash of the key: equal positions become neighbours, and the keys themselves say
    // whether neighbours are equal.
    let short = |id| mix(key(id)) >> 32 << 32 | u64::from(id);
    let mut nodes: Vec<u64> = lesson.ids().map(short).listed();
    nodes.sort_unstable();
    for alike in nodes.chunk_by(|one, other| one >> 32 == other >> 32) {
        if alike.len() == 1 {
            continue;
        }
        // The first node of each position; nearly always of one.
        let mut firsts: Vec<(Key, NodeId)> = Vec::new();
        for node in alike {
            let id = *node as NodeId; // its lower half
            let here = key(id);
            match firsts.iter().find(|(first, _)| *first == here) {
                Some(&(_, first)) => pairs.push((first, id)),
                None => firsts.push((here, id)),
            }
        }
    }
    pairs
}

/// Where a transposition should be mentioned: each node at which two paths meet, with the other,
/// both ways and in the order of the text. A node whose own comment links to the other mentions it.
pub fn unsaid_transpositions(lesson: &Lesson) -> Vec<(NodeId, NodeId)> {
    let mut pairs = Vec::new();
    for &(one, other) in &lesson.same {
        if !is_transposition(lesson, one, other) {
            continue;
        }
        for (from, to) in [(one, other), (other, one)] {
            if !links_to(lesson, from, to) {
                pairs.push(u64::from(from) << 32 | u64::from(to));
            }
        }
    }
    pairs.sort_unstable();
    let pair = |pair: &u64| ((pair >> 32) as NodeId, *pair as NodeId);
    pairs.iter().map(pair).listed()
}

/// Whether the comment of a node links to another.
fn links_to(lesson: &Lesson, from: NodeId, to: NodeId) -> bool {
    let node = lesson.node(from);
    for said in [&node.before[..], &node.comments[..]] {
        for (_, target) in locators(said) {
            if lesson.linked(target) == Some(to) {
                return true;
            }
        }
    }
    false
}

/// The first node, in the order of the text, that has a position.
pub fn find_position(lesson: &Lesson, position: &Chess) -> Option<NodeId> {
    let wanted = key(position);
    lesson
        .ids()
        .find(|&id| key(&lesson.node(id).position) == wanted)
}

/// Whether two nodes of one position, the first in the text and another, are where two paths
/// first meet: not two children of one node, nor both one move after a position that they
/// share already, nor a line that comes back to a position and so repeats it.
pub fn is_transposition(lesson: &Lesson, one: NodeId, other: NodeId) -> bool {
    let (a, b) = (lesson.node(one), lesson.node(other));
    let (Some(before_a), Some(before_b)) = (a.parent, b.parent) else {
        return false; // back at the start
    };
    let position = |id: NodeId| key(&lesson.node(id).position);
    before_a != before_b
        && (a.san != b.san || position(before_a) != position(before_b))
        && !leads_to(lesson, one, other)
}

/// Whether the path to a node leads through another. Walks up by lines and not by nodes, because a
/// game may be long, and variations are nested at most `limits::NESTING` deep.
fn leads_to(lesson: &Lesson, one: NodeId, other: NodeId) -> bool {
    let line = lesson.node(one).line;
    let mut at = other;
    while lesson.node(at).line != line {
        let first = lesson.line(lesson.node(at).line).first;
        match lesson.node(first).parent {
            Some(parent) => at = parent,
            None => return false, // node 0, of the main line
        }
    }
    // Ids grow along a line.
    one <= at
}

/// A hash of a key: different keys nearly always have different ones.
fn mix(key: Key) -> u64 {
    key.into_iter().fold(0, |mixed: u64, word| {
        (mixed.rotate_left(5) ^ word).wrapping_mul(0x9e37_79b9_7f4a_7c15)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::given::lesson;

    fn unsaid(pgn: &str) -> Vec<(NodeId, NodeId)> {
        unsaid_transpositions(&lesson(pgn))
    }

    #[test]
    fn a_transposition_is_to_be_said_where_no_comment_of_its_own_links_there() {
        let pgn = "1. d4 (1. c4 d5 2. d4 LINK) 1... d5 2. c4 *";
        assert_eq!(
            unsaid(&pgn.replace("LINK", "{A gambit.}")),
            [(4, 6), (6, 4)]
        );
        let linked = pgn.replace("LINK", "{[The same](#1.d4_d5_2.c4).}");
        assert_eq!(unsaid(&linked), [(6, 4)]);
    }
}
