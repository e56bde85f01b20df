//! Squares: their names, and those that a move leads from and to.

use shakmaty::{File, Move, Square};

/// The square that the moving piece, when castling the king, comes to.
pub fn landing(played: Move) -> Square {
    match played {
        Move::Castle { king, rook } => {
            let file = if rook.file() > king.file() {
                File::G
            } else {
                File::C
            };
            Square::from_coords(file, king.rank())
        }
        other => other.to(),
    }
}

/// The square that the moving piece comes from. plyline's chess has no drops, so there always
/// is one.
pub fn origin(played: Move) -> Square {
    played.from().unwrap_or(played.to())
}

/// Appends a square's name.
pub fn push_square(text: &mut String, square: Square) {
    text.push(square.file().char());
    text.push(square.rank().char());
}

/// A square's name.
pub fn square_name(square: Square) -> String {
    let mut text = String::new();
    push_square(&mut text, square);
    text
}
