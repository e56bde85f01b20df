//! The pieces that a step moves, for a short motion of each.

use crate::lesson::rules::{landing, origin};
use crate::view::reader::effect::Effect;
use shakmaty::{File, Move, Square};

/// The old and new squares of the pieces that a step moved; empty for a jump, which has no
/// one way.
pub fn slides(effects: &[Effect]) -> Vec<(Square, Square)> {
    let mut slides = Vec::new();
    for effect in effects {
        match *effect {
            Effect::Played(played) => slides = moved(played),
            Effect::TakenBack(played) => {
                for (from, to) in moved(played) {
                    slides.push((to, from));
                }
            }
            _ => {}
        }
    }
    slides
}

fn moved(played: Move) -> Vec<(Square, Square)> {
    let mut list = vec![(origin(played), landing(played))];
    if let Move::Castle { king, rook } = played {
        let file = if rook.file() > king.file() {
            File::F
        } else {
            File::D
        };
        list.push((rook, Square::from_coords(file, rook.rank())));
    }
    list
}
