//! The board as one SVG picture. Colours come from the style sheet alone.

use super::pieces;
use super::{Element, el};
use crate::view::Board;
use shakmaty::{Color, Square};

/// Units of a square's side.
const SIDE: i32 = 64;
/// Units of the board's side.
const BOARD: i32 = 8 * SIDE;
/// Length of a corner tick.
const TICK: i32 = 15;
/// How far a tick stands inside its square.
const INSET: i32 = 3;

/// The picture of a board; `description` says what it shows.
pub(super) fn board(board: &Board, description: &str) -> Element {
    let mut shapes = vec![
        pieces::definitions(),
        square_shape("light", 0, BOARD),
        el("path").with("class", "dark").with("d", dark_squares()),
        square_shape("frame", 0, BOARD),
        coordinates(board.side, true),
        coordinates(board.side, false),
    ];
    let at = |square: Square| corner(square, board.side);
    // Always there, so that a step changes attributes and makes no nodes.
    let mut ticks = String::new();
    for square in board.last.into_iter().flat_map(|(from, to)| [from, to]) {
        push_ticks(&mut ticks, at(square));
    }
    shapes.push(el("path").with("class", "last").with("d", ticks));
    let mut frames = String::new();
    if let Some(king) = board.check {
        for inset in [3, 9] {
            push_frame(&mut frames, at(king), inset);
        }
    }
    shapes.push(el("path").with("class", "check").with("d", frames));
    shapes.push(
        el("g").children(board.pieces.iter().map(|&(square, piece)| {
            let (x, y) = at(square);
            let class = if piece.color.is_white() { "w" } else { "s" };
            el("use")
                .with("href", pieces::reference(piece.role))
                .with("class", class)
                .with("x", x.to_string())
                .with("y", y.to_string())
        })),
    );
    el("svg")
        .with("class", "board")
        .with("viewBox", "-28 -3 543 546")
        .with("role", "img")
        .with("aria-label", description.to_owned())
        .children(shapes)
}

fn square_shape(class: &'static str, at: i32, side: i32) -> Element {
    el("rect")
        .with("class", class)
        .with("x", at.to_string())
        .with("y", at.to_string())
        .with("width", side.to_string())
        .with("height", side.to_string())
}

/// Top left corner of a square.
fn corner(square: Square, side: Color) -> (i32, i32) {
    let (file, rank) = (square.file() as i32, square.rank() as i32);
    match side {
        Color::White => (file * SIDE, (7 - rank) * SIDE),
        Color::Black => ((7 - file) * SIDE, rank * SIDE),
    }
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

fn push(path: &mut String, command: char, numbers: &[i32]) {
    path.push(command);
    for (index, number) in numbers.iter().enumerate() {
        if index > 0 {
            path.push(' ');
        }
        path.push_str(&number.to_string());
    }
}
