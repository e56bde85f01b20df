//! What a comment points at, drawn below the pieces: thin rings and even strokes. Shape carries the
//! meaning: one line plain, double strong, broken weak.

use super::geometry::{SIDE, corner, push};
use crate::markup::{Element, el};
use crate::notation::comment::mark::{Mark, MarkKind};
use shakmaty::{Color, Square};

/// Radius of a ring.
const RING: i32 = 27;
/// How much further in the second line of a strong ring is.
const INNER: i32 = 6;
/// How far from the centre of its square an arrow begins, with a dot, and how far from the centre of
/// the other its tip is: at the rim.
const CLEAR: (f64, f64) = (23.0, 26.0);
/// Length of an arrow's head, and half its width.
const HEAD: (f64, f64) = (13.0, 7.5);
/// Radius of the dot where an arrow begins.
const DOT: i32 = 5;
/// How far each line of a strong stroke is from its middle.
const BESIDE: f64 = 3.5;

/// All marks in one group.
pub(crate) fn marks(marks: &[Mark], side: Color) -> Element {
    el("g")
        .with("class", "marks")
        .children(marks.iter().map(|mark| match mark.squares[..] {
            [square] => ring(square, mark.kind, side),
            _ => strokes(mark, side),
        }))
}

/// A path in the accent, over the same one in a dark edge: the accent of a dark page is too light to
/// be told from the squares.
pub(super) fn edged(class: &'static str, path: String) -> Element {
    let edge = match class.ends_with("weak") {
        true => "edge weak",
        false => "edge",
    };
    let edge = el("path").with("class", edge).with("d", path.clone());
    let line = el("path").with("class", class).with("d", path);
    el("g").child(edge).child(line)
}

fn ring(square: Square, kind: MarkKind, side: Color) -> Element {
    let mut path = String::new();
    push_circle(&mut path, centre(square, side), RING);
    if kind == MarkKind::Strong {
        push_circle(&mut path, centre(square, side), RING - INNER);
    }
    edged(
        match kind {
            MarkKind::Plain | MarkKind::Strong => "ring",
            MarkKind::Weak => "ring weak",
        },
        path,
    )
}

fn centre(square: Square, side: Color) -> (i32, i32) {
    let (x, y) = corner(square, side);
    (x + SIDE / 2, y + SIDE / 2)
}

fn push_circle(path: &mut String, (x, y): (i32, i32), radius: i32) {
    push(path, 'M', &[x - radius, y]);
    for sweep in [2 * radius, -2 * radius] {
        push(path, 'a', &[radius, radius, 0, 1, 0, sweep, 0]);
    }
    path.push('z');
}

/// An arrow, or a route: a dot, a stroke from square to square, a head at the last.
fn strokes(mark: &Mark, side: Color) -> Element {
    let mut points: Vec<(f64, f64)> = Vec::new();
    for &square in &mark.squares {
        let (x, y) = centre(square, side);
        let point = (f64::from(x), f64::from(y));
        // An arrow from a square to itself; the checker says so.
        if points.last() != Some(&point) {
            points.push(point);
        }
    }
    let (Some(&first), Some(&last)) = (points.first(), points.last()) else {
        return el("g");
    };
    let (Some(&second), Some(&before)) = (points.get(1), points.iter().rev().nth(1)) else {
        return el("g");
    };
    let begin = along(first, second, CLEAR.0);
    let tip = along(last, before, CLEAR.1);
    let head = along(last, before, CLEAR.1 + HEAD.0);
    if let [start, .., end] = &mut points[..] {
        (*start, *end) = (begin, head);
    }
    let mut shaft = String::new();
    for beside in match mark.kind {
        MarkKind::Strong => &[BESIDE, -BESIDE][..],
        _ => &[0.0],
    } {
        for (at, &point) in points.iter().enumerate() {
            // At a corner of a route the lines beside it meet where those of both strokes do.
            let into = points
                .get(at.wrapping_sub(1))
                .map(|&from| normal(from, point));
            let out = points.get(at + 1).map(|&to| normal(point, to));
            let (one, other) = (into.or(out), out.or(into));
            let (Some(one), Some(other)) = (one, other) else {
                continue;
            };
            let far = beside / (1.0 + one.0 * other.0 + one.1 * other.1).max(0.3);
            let (x, y) = ((one.0 + other.0) * far, (one.1 + other.1) * far);
            let sign = if at == 0 { 'M' } else { 'L' };
            push(&mut shaft, sign, &whole((point.0 + x, point.1 + y)));
        }
    }
    let mut ends = String::new();
    let [x, y] = whole(begin);
    push_circle(&mut ends, (x, y), DOT);
    let (across_x, across_y) = normal(head, tip);
    let wing = |half: f64| whole((head.0 + across_x * half, head.1 + across_y * half));
    push(&mut ends, 'M', &wing(HEAD.1));
    push(&mut ends, 'L', &whole(tip));
    push(&mut ends, 'L', &wing(-HEAD.1));
    ends.push('z');
    let class = match mark.kind {
        MarkKind::Weak => "shaft weak",
        _ => "shaft",
    };
    el("g")
        .child(edged(class, shaft))
        .child(edged("arrow", ends))
}

/// The point so far from one point on the way to another.
fn along(from: (f64, f64), to: (f64, f64), far: f64) -> (f64, f64) {
    let (x, y) = normal(from, to);
    (from.0 + y * far, from.1 - x * far)
}

/// The direction across the way from one point to another, of length 1.
fn normal(from: (f64, f64), to: (f64, f64)) -> (f64, f64) {
    let (x, y) = (to.0 - from.0, to.1 - from.1);
    let length = (x * x + y * y).sqrt().max(1.0);
    (-y / length, x / length)
}

fn whole(point: (f64, f64)) -> [i32; 2] {
    [point.0.round() as i32, point.1.round() as i32]
}
