//! What has changed between two states of a lesson, as a list from which the second can be made of the first.

use crate::edit::movetext;
use crate::lesson::{Lesson, NodeId};
use crate::notation::Comment;

/// One change at a place, which is a run of moves from the start.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    pub at: Vec<String>,
    pub what: What,
}

/// What has changed there. The first of two values is the old one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    /// A line that begins with the last move of the place: as movetext with all beside it, and how many moves it has.
    /// It stands last unless an order says otherwise.
    Added(String, usize),
    Dropped(String, usize),
    /// The comments after the move, as one text; none where there are none.
    Comment(Option<String>, Option<String>),
    /// The comments before the first move of a variation.
    Before(Option<String>, Option<String>),
    /// The glyphs, in their numbers' order.
    Signs(Vec<u8>, Vec<u8>),
    /// The moves at the place, in the order of the text.
    Order(Vec<String>, Vec<String>),
    /// The moves that the author recommends at the place.
    Choices(Vec<String>, Vec<String>),
    /// A tag of this name.
    Tag(String, Option<String>, Option<String>),
    Result(String, String),
}

/// All changes, in the order of the new lesson; what has been dropped comes where it was.
pub fn compare(old: &Lesson, new: &Lesson) -> Vec<Change> {
    let mut list = Vec::new();
    tags(old, new, &mut list);
    let mut pairs = vec![(0, 0)];
    while let Some((one, two)) = pairs.pop() {
        said(old, new, (one, two), &mut list);
        moves(old, new, (one, two), &mut list, &mut pairs);
    }
    list
}

fn tags(old: &Lesson, new: &Lesson, list: &mut Vec<Change>) {
    let names = |lesson: &Lesson| -> Vec<String> {
        let tags = lesson.tags.iter();
        tags.map(|(name, _)| name.as_str().to_owned()).collect()
    };
    let mut all = names(new);
    all.extend(names(old).into_iter().filter(|it| new.tag(it).is_none()));
    let mut add = |what: What| {
        list.push(Change {
            at: Vec::new(),
            what,
        });
    };
    for name in all {
        let (was, now) = (old.tag(&name), new.tag(&name));
        if was != now {
            add(What::Tag(
                name.clone(),
                was.map(str::to_owned),
                now.map(str::to_owned),
            ));
        }
    }
    if old.result != new.result {
        add(What::Result(old.result.to_owned(), new.result.to_owned()));
    }
}

fn san(lesson: &Lesson, node: NodeId) -> String {
    lesson.node(node).san.as_str().to_owned()
}

/// What is said at a node that both have.
fn said(old: &Lesson, new: &Lesson, (one, two): (NodeId, NodeId), list: &mut Vec<Change>) {
    let (was, now) = (old.node(one), new.node(two));
    let mut add = |what: What| {
        list.push(Change {
            at: new.run(two),
            what,
        });
    };
    let (first, second) = (Comment::join(&was.before), Comment::join(&now.before));
    if first != second {
        add(What::Before(first, second));
    }
    let (first, second) = (Comment::join(&was.comments), Comment::join(&now.comments));
    if first != second {
        add(What::Comment(first, second));
    }
    let sorted = |nags: &[u8]| {
        let mut nags = nags.to_vec();
        nags.sort_unstable();
        nags
    };
    let (first, second) = (sorted(&was.nags), sorted(&now.nags));
    if first != second {
        add(What::Signs(first, second));
    }
}

/// The moves that go on from a node; those that both have are still to be compared.
fn moves(
    old: &Lesson,
    new: &Lesson,
    (one, two): (NodeId, NodeId),
    list: &mut Vec<Change>,
    pairs: &mut Vec<(NodeId, NodeId)>,
) {
    let mut left: Vec<NodeId> = old.node(one).children.to_vec();
    let (mut both, mut added) = (Vec::new(), Vec::new());
    for &child in new.node(two).children.iter() {
        let same = left
            .iter()
            .position(|&it| old.node(it).san == new.node(child).san);
        match same {
            Some(at) => both.push((left.remove(at), child)),
            None => added.push(child),
        }
    }
    for &gone in &left {
        list.push(Change {
            at: old.run(gone),
            what: What::Dropped(movetext(old, gone), size(old, gone)),
        });
    }
    for &child in &added {
        list.push(Change {
            at: new.run(child),
            what: What::Added(movetext(new, child), size(new, child)),
        });
    }
    // Where only what was added stands elsewhere than last, that is an order too.
    let stays = old
        .node(one)
        .children
        .iter()
        .filter(|it| !left.contains(it));
    let mut plain: Vec<String> = stays.map(|&it| san(old, it)).collect();
    plain.extend(added.iter().map(|&it| san(new, it)));
    let sans = |lesson: &Lesson, list: &[NodeId]| {
        list.iter().map(|&it| san(lesson, it)).collect::<Vec<_>>()
    };
    let wanted = sans(new, &new.node(two).children);
    let at = || new.run(two);
    if plain != wanted {
        let was = sans(old, &old.node(one).children);
        list.push(Change {
            at: at(),
            what: What::Order(was, wanted),
        });
    }
    // What goes on from a position that had no move before is told as a line.
    if !old.node(one).children.is_empty() && !new.node(two).children.is_empty() {
        let (was, now) = (sans(old, &old.choices(one)), sans(new, &new.choices(two)));
        let same = |list: &[String]| {
            let mut list = list.to_vec();
            list.sort();
            list
        };
        if same(&was) != same(&now) {
            list.push(Change {
                at: at(),
                what: What::Choices(was, now),
            });
        }
    }
    // The first comes first.
    pairs.extend(both.into_iter().rev());
}

/// How many moves a line has, with all variations.
fn size(lesson: &Lesson, first: NodeId) -> usize {
    let mut open = vec![first];
    let mut count = 0;
    while let Some(id) = open.pop() {
        count += 1;
        open.extend(lesson.node(id).children.iter().copied());
    }
    count
}
