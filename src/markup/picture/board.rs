//! The board as one SVG picture. Colours come from the style sheet alone.

use super::geometry::{SIDE, corner, push};
use super::marks::{edged, marks};
use super::pieces;
use crate::markup::{Element, el};
use crate::view::Board;
use shakmaty::{Color, Square};

/// Units of the board's side.
const BOARD: i32 = 8 * SIDE;
/// Length of a corner tick.
const TICK: i32 = 15;
/// How far a tick is inside its square.
const INSET: i32 = 3;

/// The picture of a board. With a description it is complete by itself; without it is the ground of
/// a grid that names every square itself.
pub(crate) fn board(board: &Board, description: Option<&str>) -> Element {
    let at = |square: Square| corner(square, board.side);
    let mut ticks = String::new();
    if let Some((from, to)) = board.last {
        push_ticks(&mut ticks, at(from));
        push_ticks(&mut ticks, at(to));
    }
    let mut frames = String::new();
    if let Some(king) = board.check {
        push_frame(&mut frames, at(king), 3);
        push_frame(&mut frames, at(king), 9);
    }
    let mut diamonds = String::new();
    for &square in &board.reach {
        push_diamond(&mut diamonds, at(square));
    }
    let mut held = String::new();
    if let Some(square) = board.held {
        let (x, y) = at(square);
        push(&mut held, 'M', &[x + 4, y + SIDE / 2]);
        for sweep in [SIDE - 8, 8 - SIDE] {
            push(
                &mut held,
                'a',
                &[SIDE / 2 - 4, SIDE / 2 - 4, 0, 1, 0, sweep, 0],
            );
        }
    }
    let sign = |class: &'static str, path: String| el("path").with("class", class).with("d", path);
    let pieces = board.pieces.iter().map(|&(square, piece)| {
        let (x, y) = at(square);
        el("use")
            .with("href", pieces::reference(piece.role))
            .with("class", if piece.color.is_white() { "w" } else { "s" })
            .with("x", x.to_string())
            .with("y", y.to_string())
    });
    // Everything is always there, so that a step changes attributes and makes few nodes.
    let picture = el("svg")
        .with("class", "board")
        .with("viewBox", "-28 -3 543 546")
        .children([
            pieces::definitions(),
            square_shape("light", 0, BOARD),
            sign("dark", dark_squares()),
            sign("hatched", dark_squares()).with("fill", "url(#hatch)"),
            square_shape("frame", 0, BOARD),
            coordinates(board.side, true),
            coordinates(board.side, false),
            sign("last", ticks),
            edged("check", frames),
            edged("held", held),
            marks(&board.marks, board.side),
            el("g").with("class", "pieces").children(pieces),
            edged("reach", diamonds),
        ]);
    match description {
        Some(words) => picture
            .with("role", "img")
            .with("aria-label", words.to_owned()),
        None => picture.with("aria-hidden", "true"),
    }
}

fn square_shape(class: &'static str, at: i32, side: i32) -> Element {
    el("rect")
        .with("class", class)
        .with("x", at.to_string())
        .with("y", at.to_string())
        .with("width", side.to_string())
        .with("height", side.to_string())
}

/// All dark squares in one path. They are the same ones from either side.
fn dark_squares() -> String {
    let mut path = String::new();
    for square in Square::ALL.into_iter().filter(|square| square.is_dark()) {
        let (x, y) = corner(square, Color::White);
        push(&mut path, 'M', &[x, y]);
        push(&mut path, 'h', &[SIDE]);
        push(&mut path, 'v', &[SIDE]);
        push(&mut path, 'h', &[-SIDE]);
        path.push('z');
    }
    path
}

/// Letters below, numbers to the left, outside the frame: one text with a place for each sign.
fn coordinates(side: Color, files: bool) -> Element {
    let (mut xs, mut ys, mut signs) = (String::new(), String::new(), String::new());
    for index in 0..8u8 {
        let middle = i32::from(index) * SIDE + SIDE / 2;
        let (x, y) = if files {
            (middle, BOARD + 25)
        } else {
            (-15, middle + 6)
        };
        push(&mut xs, ' ', &[x]);
        push(&mut ys, ' ', &[y]);
        let from_white = if files { index } else { 7 - index };
        let counted = if side.is_white() {
            from_white
        } else {
            7 - from_white
        };
        signs.push(char::from(if files { b'a' } else { b'1' } + counted));
    }
    el("text")
        .with("class", "names")
        .with("x", xs.trim_start().to_owned())
        .with("y", ys.trim_start().to_owned())
        .with("aria-hidden", "true")
        .text(&signs)
}

/// Four corner ticks inside a square.
fn push_ticks(path: &mut String, (x, y): (i32, i32)) {
    let (near, far) = (INSET, SIDE - INSET);
    for (dx, dy, h, v) in [
        (near, near, 1, 1),
        (far, near, -1, 1),
        (far, far, -1, -1),
        (near, far, 1, -1),
    ] {
        push(path, 'M', &[x + dx + h * TICK, y + dy]);
        push(path, 'h', &[-h * TICK]);
        push(path, 'v', &[v * TICK]);
    }
}

fn push_frame(path: &mut String, (x, y): (i32, i32), inset: i32) {
    push(path, 'M', &[x + inset, y + inset]);
    let side = SIDE - 2 * inset;
    push(path, 'h', &[side]);
    push(path, 'v', &[side]);
    push(path, 'h', &[-side]);
    path.push('z');
}

/// A small hollow diamond in the middle of a square.
fn push_diamond(path: &mut String, (x, y): (i32, i32)) {
    let (middle, arm) = (SIDE / 2, 8);
    push(path, 'M', &[x + middle, y + middle - arm]);
    for (dx, dy) in [(arm, arm), (-arm, arm), (-arm, -arm)] {
        push(path, 'l', &[dx, dy]);
    }
    path.push('z');
}
