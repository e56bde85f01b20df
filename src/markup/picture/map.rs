//! The map, drawn: a mark for each node, the way so far in full ink.

use super::geometry::push;
use crate::lesson::NodeId;
use crate::markup::{Element, el};
use crate::view::{Map, Way, Word, Words};

/// Units from column to column, and from row to row.
const STEP: (i32, i32) = (17, 20);
/// Units from column to column before the first branch point, where nothing is chosen.
const CLOSE: i32 = 7;
/// The place of the first mark: there is room for a label to the left of a branch.
const EDGE: (i32, i32) = (12, 9);
/// Where a line that leaves another one goes down: between two marks, so that it crosses none.
const DOWN: i32 = 8;
/// Room before a count, and for each letter of it: wide ones, in bold type.
const COUNT: (i32, i32) = (8, 9);

/// The id of a node's mark.
pub fn mark_id(node: NodeId) -> String {
    format!("k{node}")
}

/// The place of the map, with the map while it is open, and a key of its marks.
pub fn map_place(words: &Words, drawn: Option<(&Map, Way)>, key: Word) -> Element {
    let place = el("div").with("class", "mapplace");
    match drawn {
        None => place,
        Some((drawn, way)) => place.child(map(words, drawn, &way)).child(
            el("p")
                .with("class", "key")
                .with("aria-hidden", "true")
                .text(words.get(key)),
        ),
    }
}

/// A map. It is a picture: everything it offers is also in the outline.
fn map(words: &Words, map: &Map, way: &Way) -> Element {
    let (columns, rows) = map.size;
    let (width, height) = place(map, (columns.saturating_sub(1), rows.saturating_sub(1)));
    let mut width = width + EDGE.1;
    for (count, last) in &map.counts {
        let letters = count.len() as i32; // some
        width = width.max(place(map, *last).0 + COUNT.0 + COUNT.1 * letters);
    }
    let height = height + EDGE.1;
    let mut lines = String::new();
    for &(from, to) in &map.joins {
        push_join(&mut lines, place(map, from), place(map, to));
    }
    let mut arcs = String::new();
    for &(one, other) in &map.transpositions {
        push_arc(&mut arcs, place_of(map, one), place_of(map, other));
    }
    let at = way.path.last().copied();
    let marks = map.marks.iter().enumerate();
    let marks = marks.filter(|(id, _)| !map.hidden.get(*id).copied().unwrap_or(false));
    let marks = marks.map(|(id, &mark)| {
        let id = id as NodeId; // the number of a node
        let (x, y) = place(map, mark);
        let read = way.read.get(id as usize).copied().unwrap_or(false);
        el("circle")
            .with("id", mark_id(id))
            .with(
                "class",
                match way.missed.contains(&id) {
                    true => "missed",
                    false => mark_class(at == Some(id), read),
                },
            )
            .with("cx", x.to_string())
            .with("cy", y.to_string())
            .with("r", if mark.0 < map.first { "2.5" } else { "4" })
            .with("data-go", id.to_string())
    });
    let labels = map.labels.iter().map(|(label, first)| {
        let (x, y) = place(map, *first);
        text(label, (x - DOWN - 5, y)).with("class", "at")
    });
    let counts = map.counts.iter().map(|(count, last)| {
        let (x, y) = place(map, *last);
        text(count, (x + COUNT.0, y))
    });
    let picture = el("svg")
        .with("class", "map")
        .with("viewBox", format!("0 0 {width} {height}"))
        .with("width", width.to_string())
        .with("height", height.to_string())
        .with("aria-hidden", "true")
        .child(el("path").with("class", "lines-of").with("d", lines))
        .child(el("path").with("class", "arcs").with("d", arcs))
        .child(
            el("path")
                .with("class", "way")
                .with("id", "way")
                .with("d", way_path(map, way)),
        )
        .children(marks)
        .child(
            el("g")
                .with("class", "labels")
                .children(labels)
                .children(counts),
        );
    el("div")
        .with("class", "mapbox")
        .with("tabindex", "0")
        .with("role", "group")
        .with("aria-label", words.get(Word::MapSays).to_owned())
        .child(picture)
}

/// How a mark is drawn: the current one large and full, read ones full, others hollow.
pub fn mark_class(is_current: bool, is_read: bool) -> &'static str {
    match (is_current, is_read) {
        (true, _) => "now",
        (false, true) => "read",
        (false, false) => "new",
    }
}

/// The way so far, as a path.
pub fn way_path(map: &Map, way: &Way) -> String {
    let mut path = String::new();
    for pair in way.path.windows(2) {
        if let [from, to] = pair {
            push_join(&mut path, place_of(map, *from), place_of(map, *to));
        }
    }
    path
}

fn text(shown: &str, (x, y): (i32, i32)) -> Element {
    el("text")
        .with("x", x.to_string())
        .with("y", (y + 4).to_string())
        .with("aria-hidden", "true")
        .text(shown)
}

fn place_of(map: &Map, id: NodeId) -> (i32, i32) {
    place(map, map.marks.get(id as usize).copied().unwrap_or_default())
}

fn place(map: &Map, (column, row): (u32, u32)) -> (i32, i32) {
    // Columns and rows are at most `limits::NODES`.
    let close = column.min(map.first) as i32 * CLOSE;
    let wide = column.saturating_sub(map.first) as i32 * STEP.0;
    (EDGE.0 + close + wide, EDGE.1 + row as i32 * STEP.1)
}

/// Along the row; or a little along it, down at a right angle and along the row below.
fn push_join(path: &mut String, (x, y): (i32, i32), (to_x, to_y): (i32, i32)) {
    push(path, 'M', &[x, y]);
    if y != to_y {
        push(path, 'H', &[to_x - DOWN]);
        push(path, 'V', &[to_y]);
    }
    push(path, 'H', &[to_x]);
}

fn push_arc(path: &mut String, (x, y): (i32, i32), (to_x, to_y): (i32, i32)) {
    push(path, 'M', &[x, y]);
    let bend = (x.max(to_x) + 14, (y + to_y) / 2);
    push(path, 'Q', &[bend.0, bend.1, to_x, to_y]);
}
