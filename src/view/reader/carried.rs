//! Where a reader is, as a text that outlives the core: after a trap in one lesson the page makes
//! the core again, and each of the others goes on from such a text. The format may change at any
//! time.

use super::question;
use super::recalling::Recalling;
use super::state::{Mode, Notice, State};
use crate::ask::open_question;
use crate::ask::recall::Stage;
use crate::ask::schedule::Outcome;
use crate::lesson::{Attempt, Lesson, NodeId, attempt_word};
use crate::notation::Letters;
use crate::text::split;
use shakmaty::Color;

/// No node, and no line.
const NONE: u32 = u32::MAX;
const BLACK: u32 = 1;
const MAP: u32 = 2;
const DESK: u32 = 4;
const SHUT: u32 = 8;
const SETTLED: u32 = 16;
const ALONE: u32 = 32;
const ALOUD: u32 = 64;

/// All that a reader would miss: the place, what was read, opened and folded, which side is below,
/// the progress of a recall; not the piece in hand, the last notice and the tries at an open
/// question. Written as the moves tried beside the lesson, and then numbers.
pub fn carry(state: &State) -> String {
    let mut text = String::new();
    for tried in &state.aside {
        text.push_str(&tried.san);
        text.push('_');
    }
    let settled = state.asking().is_some_and(|it| !it.is_open());
    let mut signs = 0;
    for (sign, is_set) in [
        (BLACK, state.side.is_black()),
        (MAP, state.map),
        (DESK, state.desk),
        (SHUT, state.shut),
        (SETTLED, settled),
        (ALONE, state.alone.is_some()),
        (ALOUD, state.aloud),
    ] {
        signs |= if is_set { sign } else { 0 };
    }
    let mut numbers = vec![signs, state.node];
    put(&mut numbers, state.settled());
    put(&mut numbers, &state.folded);
    put(&mut numbers, state.alone.as_deref().unwrap_or_default());
    for nodes in state.read.chunks(32) {
        let bits = nodes.iter().rev();
        numbers.push(bits.fold(0, |bits, &read| bits << 1 | u32::from(read)));
    }
    if let Mode::Recall(recalling) = &state.mode {
        for &(node, outcome) in &recalling.answered {
            numbers.extend([node, outcome as u32]);
        }
        numbers.push(NONE);
        recalling.recall.carry(&mut numbers);
    }
    for number in numbers {
        text.push(' ');
        text.push_str(&number.to_string());
    }
    text
}

fn put(numbers: &mut Vec<u32>, list: &[u32]) {
    numbers.push(list.len() as u32); // some nodes or lines
    numbers.extend_from_slice(list);
}

/// Puts a reader who begins where that one was. The text of another lesson has no meaning, but
/// leads only to nodes that this one holds.
///
/// With `old`, the lesson in which they were before its text was changed, they stay at the position that the same
/// moves lead to, or the last before it that is still there; moves tried that the lesson now holds are moves of it.
/// False, and nothing is done, where that was another lesson, with another start or other first moves.
pub fn resume(lesson: &Lesson, state: &mut State, carried: &str, old: Option<&Lesson>) -> bool {
    let old = old.unwrap_or(lesson);
    let to = same(old, lesson);
    // Its start, and one move at least where both have any.
    let least = old.nodes.len().min(lesson.nodes.len()).min(2);
    if to.iter().filter(|&&it| it != NONE).count() < least {
        return false;
    }
    let moved = |id: NodeId| to.get(id as usize).copied().unwrap_or(NONE);
    let mut words = split(carried, b' ');
    let aside = words.next().unwrap_or_default();
    // At the end of the text no number of a node follows, which ends every list.
    let mut next = || {
        words
            .next()
            .map_or(NONE, |word| word.parse().unwrap_or(NONE))
    };
    let (signs, mut node) = (next(), next());
    state.side = Color::from_white(signs & BLACK == 0);
    state.map = signs & MAP != 0;
    state.desk = signs & DESK != 0;
    state.shut = signs & SHUT != 0;
    state.aloud = signs & ALOUD != 0;
    let mut take = |end: usize, moved: &dyn Fn(u32) -> u32| {
        let mut list = Vec::new();
        for _ in 0..next().min(end as u32) {
            list.push(moved(next()));
        }
        list.retain(|&id| id != NONE);
        list
    };
    let opened = take(to.len(), &moved);
    state.folded = take(
        old.lines.len(),
        &|line| match old.lines.get(line as usize) {
            Some(line) => lesson
                .get(moved(line.first))
                .map_or(NONE, |first| first.line),
            None => NONE,
        },
    );
    let beside = take(to.len(), &moved);
    state.alone = (signs & ALONE != 0).then_some(beside);
    for nodes in to.chunks(32) {
        let mut bits = next();
        for &id in nodes {
            if let Some(read) = state.read.get_mut(id as usize) {
                *read |= bits & 1 != 0;
            }
            bits >>= 1;
        }
    }
    match &mut state.mode {
        Mode::Lesson { settled, .. } => *settled = opened,
        Mode::Quiz { .. } if signs & SETTLED == 0 => return true,
        Mode::Quiz { .. } => {
            let show = open_question::Intent::Show;
            question::act(lesson, state, show, &mut Vec::new());
        }
        Mode::Recall(recalling) => {
            resume_recall(lesson, recalling, &mut next);
            let recall = &recalling.recall;
            let is_between = matches!(recall.stage, Stage::Between | Stage::Over);
            state.node = recall.node;
            if is_between && recall.walks > 0 {
                state.notice = Some(Notice::Recalled);
            }
            return true;
        }
        Mode::Missing => return true,
    }
    let is_there = moved(node) != NONE;
    while let Some(gone) = old.get(node).filter(|_| moved(node) == NONE) {
        node = gone.parent.unwrap_or(NONE);
    }
    if lesson.get(moved(node)).is_some() {
        state.node = state.within(lesson, moved(node));
        state.aside.clear();
    }
    let mut tried = split(aside, b'_').filter(|_| is_there).peekable();
    while let Some(child) = tried.peek().and_then(|san| child(lesson, state.node, san)) {
        state.node = child;
        tried.next();
    }
    question::arrive(lesson, state);
    if !state.waits() {
        for san in tried {
            let tried = attempt_word(state.position(lesson), san, Letters::ENGLISH);
            let Attempt::Played(tried) = tried else {
                break;
            };
            state.aside.push(tried);
        }
    }
    true
}

/// For each position of the old lesson the one of the new one that the same moves lead to.
fn same(old: &Lesson, new: &Lesson) -> Vec<NodeId> {
    let mut to: Vec<NodeId> = Vec::new();
    for node in &old.nodes {
        let there = match node.parent {
            None if node.position == new.node(0).position => Some(0),
            // A position comes after the one before it.
            Some(parent) => to
                .get(parent as usize)
                .and_then(|&it| child(new, it, node.san.as_str())),
            None => None,
        };
        to.push(there.unwrap_or(NONE));
    }
    to
}

/// The position after a move that the lesson holds.
fn child(lesson: &Lesson, id: NodeId, san: &str) -> Option<NodeId> {
    let children = &lesson.get(id)?.children;
    children
        .iter()
        .copied()
        .find(|&it| lesson.node(it).san.as_str() == san)
}

fn resume_recall(lesson: &Lesson, recalling: &mut Recalling, next: &mut dyn FnMut() -> u32) {
    loop {
        let node = next();
        if lesson.get(node).is_none() {
            break;
        }
        if let Some(outcome) = Outcome::of(next()) {
            recalling.answered.push((node, outcome));
        }
    }
    recalling.recall.resume(lesson, next);
}
