//! Where squares lie in the picture, and paths put together from numbers.

use shakmaty::{Color, Square};

/// Units of a square's side.
pub(crate) const SIDE: i32 = 64;

/// Top left corner of a square, in units of the picture, with that side below.
pub fn corner(square: Square, side: Color) -> (i32, i32) {
    let (file, rank) = (square.file() as i32, square.rank() as i32);
    match side {
        Color::White => (file * SIDE, (7 - rank) * SIDE),
        Color::Black => ((7 - file) * SIDE, rank * SIDE),
    }
}

pub(crate) fn push(path: &mut String, command: char, numbers: &[i32]) {
    path.push(command);
    for (index, number) in numbers.iter().enumerate() {
        if index > 0 {
            path.push(' ');
        }
        path.push_str(&number.to_string());
    }
}
