//! What a comment points at, drawn: thin rings and tapered strokes. Shape carries the meaning:
//! one line plain, double strong, broken weak.

use super::geometry::{SIDE, corner, push};
use crate::markup::{Element, el};
use crate::notation::comment::mark::{Mark, MarkKind};
use shakmaty::{Color, Square};

/// Radius of a ring.
const RING: i32 = 27;
/// How much further in the second line of a strong ring is.
const INNER: i32 = 6;
/// How far from the centre an arrow leaves its square, and stops before the next one's.
const CLEAR: (f64, f64) = (25.0, 15.0);
/// Length of an arrow's head, and half its width.
const HEAD: (f64, f64) = (19.0, 11.0);
/// About how long a piece of a broken stroke is, with the gap before it.
const DASH: f64 = 27.0;
/// Half the width of a stroke where it begins and where its head begins.
const TAPER: (f64, f64) = (1.6, 5.0);

/// All marks in one group.
pub(crate) fn marks(marks: &[Mark], side: Color) -> Element {
    el("g")
        .with("class", "marks")
        .children(marks.iter().map(|mark| match mark.squares[..] {
            [square] => ring(square, mark.kind, side),
            _ => strokes(mark, side),
        }))
}

fn ring(square: Square, kind: MarkKind, side: Color) -> Element {
    let mut path = String::new();
    push_circle(&mut path, square, RING, side);
    if kind == MarkKind::Strong {
        push_circle(&mut path, square, RING - INNER, side);
    }
    el("path").with("class", class(kind)).with("d", path)
}

fn class(kind: MarkKind) -> &'static str {
    match kind {
        MarkKind::Plain | MarkKind::Strong => "ring",
        MarkKind::Weak => "ring weak",
    }
}

fn push_circle(path: &mut String, square: Square, radius: i32, side: Color) {
    let (x, y) = corner(square, side);
    let (x, y) = (x + SIDE / 2, y + SIDE / 2);
    push(path, 'M', &[x - radius, y]);
    for sweep in [2 * radius, -2 * radius] {
        push(path, 'a', &[radius, radius, 0, 1, 0, sweep, 0]);
    }
    path.push('z');
}

/// An arrow, or a route: strokes from square to square, a head at the last.
fn strokes(mark: &Mark, side: Color) -> Element {
    let mut fill = String::new();
    let mut outline = String::new();
    let last = mark.squares.len().saturating_sub(2);
    for (at, pair) in mark.squares.windows(2).enumerate() {
        let [from, to] = pair else {
            continue;
        };
        let Some(stroke) = Stroke::between(*from, *to, side, at == 0, at == last) else {
            continue; // an arrow from a square to itself; the checker says so
        };
        match mark.kind {
            MarkKind::Weak => {
                // Pieces with gaps between them; the last one touches the head.
                let count = (stroke.shaft / DASH).round().max(2.0);
                let mut piece = 0.0;
                while piece < count {
                    let (from, to) = ((piece + 0.4) / count, (piece + 1.0) / count);
                    stroke.push_shaft(&mut fill, from, to, 0.0);
                    piece += 1.0;
                }
            }
            _ => stroke.push_shaft(&mut fill, 0.0, 1.0, 0.0),
        }
        stroke.push_head(&mut fill, 0.0);
        if mark.kind == MarkKind::Strong {
            stroke.push_shaft(&mut outline, 0.0, 1.0, 4.0);
            stroke.push_head(&mut outline, 4.0);
        }
    }
    let group = el("g").child(el("path").with("class", "arrow").with("d", fill));
    match outline.is_empty() {
        true => group,
        false => group.child(el("path").with("class", "around").with("d", outline)),
    }
}

/// A stroke: where it begins, its direction, how long its shaft is, and whether it has a head.
struct Stroke {
    start: (f64, f64),
    along: (f64, f64),
    shaft: f64,
    has_head: bool,
}

impl Stroke {
    fn between(
        from: Square,
        to: Square,
        side: Color,
        is_first: bool,
        is_last: bool,
    ) -> Option<Stroke> {
        let centre = |square| {
            let (x, y) = corner(square, side);
            (f64::from(x + SIDE / 2), f64::from(y + SIDE / 2))
        };
        let ((x, y), (to_x, to_y)) = (centre(from), centre(to));
        let (dx, dy) = (to_x - x, to_y - y);
        let length = (dx * dx + dy * dy).sqrt();
        if length < 1.0 {
            return None;
        }
        let along = (dx / length, dy / length);
        let leave = if is_first { CLEAR.0 } else { 0.0 };
        let stop = if is_last { CLEAR.1 + HEAD.0 } else { 0.0 };
        Some(Stroke {
            start: (x + along.0 * leave, y + along.1 * leave),
            along,
            shaft: (length - leave - stop).max(2.0),
            has_head: is_last,
        })
    }

    /// The point so far along the stroke and so far beside it, in whole units.
    fn point(&self, far: f64, beside: f64) -> [i32; 2] {
        let x = self.start.0 + self.along.0 * far - self.along.1 * beside;
        let y = self.start.1 + self.along.1 * far + self.along.0 * beside;
        [x.round() as i32, y.round() as i32]
    }

    /// A part of the shaft, from 0 to 1, `wider` than it is.
    fn push_shaft(&self, path: &mut String, from: f64, to: f64, wider: f64) {
        let width = |part: f64| TAPER.0 + (TAPER.1 - TAPER.0) * part + wider;
        let (near, far) = (from * self.shaft - wider / 2.0, to * self.shaft);
        push(path, 'M', &self.point(near, width(from)));
        push(path, 'L', &self.point(far, width(to)));
        push(path, 'L', &self.point(far, -width(to)));
        push(path, 'L', &self.point(near, -width(from)));
        path.push('z');
    }

    fn push_head(&self, path: &mut String, wider: f64) {
        if !self.has_head {
            return;
        }
        push(path, 'M', &self.point(self.shaft, HEAD.1 + wider));
        push(
            path,
            'L',
            &self.point(self.shaft + HEAD.0 + wider * 1.5, 0.0),
        );
        push(path, 'L', &self.point(self.shaft, -HEAD.1 - wider));
        path.push('z');
    }
}
