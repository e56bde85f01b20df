//! The map, drawn: a mark for each node, the way so far in full ink.

use super::geometry::push;
use crate::lesson::NodeId;
use crate::markup::{Element, el};
use crate::view::{Map, Way, Word, Words};

/// Units from column to column, and from row to row.
const STEP: (i32, i32) = (17, 20);
/// The place of the first mark.
const EDGE: i32 = 9;
/// Room before a label, and for each letter of it: wide ones, in the label's bold type.
const LABEL: (i32, i32) = (8, 9);

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
    let (width, height) = place((columns.saturating_sub(1), rows.saturating_sub(1)));
    let ends = map.labels.iter().map(|(label, last)| {
        place(*last).0 + LABEL.0 + LABEL.1 * label.len() as i32 // some letters
    });
    let width = ends.fold(width + EDGE, i32::max);
    let height = height + EDGE;
    let mut lines = String::new();
    for &(from, to) in &map.joins {
        push_join(&mut lines, from, to);
    }
    let mut arcs = String::new();
    for &(one, other) in &map.transpositions {
        push_arc(&mut arcs, place(mark(map, one)), place(mark(map, other)));
    }
    let at = way.path.last().copied();
    let marks = map.marks.iter().enumerate();
    let marks = marks.filter(|(id, _)| !map.hidden.get(*id).copied().unwrap_or(false));
    let marks = marks.map(|(id, &column)| {
        let id = id as NodeId; // the number of a node
        let (x, y) = place(column);
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
            .with("r", "4")
            .with("data-go", id.to_string())
    });
    let labels = map.labels.iter().map(|(label, last)| {
        let (x, y) = place(*last);
        el("text")
            .with("x", (x + LABEL.0).to_string())
            .with("y", (y + 4).to_string())
            .with("aria-hidden", "true")
            .text(label)
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
        .child(el("g").with("class", "labels").children(labels));
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
            push_join(&mut path, mark(map, *from), mark(map, *to));
        }
    }
    path
}

fn mark(map: &Map, id: NodeId) -> (u32, u32) {
    map.marks.get(id as usize).copied().unwrap_or_default()
}

fn place((column, row): (u32, u32)) -> (i32, i32) {
    // Columns and rows are at most `limits::NODES`.
    (EDGE + column as i32 * STEP.0, EDGE + row as i32 * STEP.1)
}

/// Along the row, or down at a right angle and along the row below.
fn push_join(path: &mut String, from: (u32, u32), to: (u32, u32)) {
    let ((x, y), (to_x, to_y)) = (place(from), place(to));
    push(path, 'M', &[x, y]);
    if y != to_y {
        push(path, 'V', &[to_y]);
    }
    push(path, 'H', &[to_x]);
}

fn push_arc(path: &mut String, (x, y): (i32, i32), (to_x, to_y): (i32, i32)) {
    push(path, 'M', &[x, y]);
    let bend = (x.max(to_x) + 14, (y + to_y) / 2);
    push(path, 'Q', &[bend.0, bend.1, to_x, to_y]);
}
