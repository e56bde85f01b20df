//! What is said of a move: as much of it as was heard.

use crate::lesson::rules::{after, landing, origin};
use shakmaty::{CastlingSide, Chess, File, Move, Position, Rank, Role, Square};

/// A move as it was said. What is none was not said.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Shape {
    /// The piece.
    pub role: Option<Role>,
    /// The file that it comes from.
    pub file: Option<File>,
    /// The rank that it comes from.
    pub rank: Option<Rank>,
    /// The square that it goes to.
    pub to: Option<Square>,
    /// The file that it goes to, where no square was said: "c takes d".
    pub to_file: Option<File>,
    /// Whether it was said to take.
    pub takes: bool,
    /// What it takes: "takes the pawn".
    pub taken: Option<Role>,
    /// Castling, and to which side.
    pub castles: Option<Option<CastlingSide>>,
    /// What a pawn becomes.
    pub becomes: Option<Role>,
    /// Whether check was said to be given.
    pub check: bool,
}

impl Shape {
    /// Whether the shape leaves much open: no square and no castling.
    pub fn is_vague(&self) -> bool {
        self.to.is_none() && self.castles.is_none()
    }

    /// A square without a piece, which a pawn's move is said as.
    pub fn is_square(&self) -> bool {
        self.to.is_some() && self.role == Some(Role::Pawn) && !self.takes && self.file.is_none()
    }

    /// The legal moves of a position that have this shape, from a list of all its legal moves.
    pub fn fits(&self, position: &Chess, all: &[Move]) -> Vec<Move> {
        let mut list: Vec<Move> = all.iter().copied().filter(|it| self.is_of(*it)).collect();
        if list.len() > 1 && self.takes && self.is_vague() {
            // Who says "takes" and no more takes back.
            return list;
        }
        if list.is_empty() && self.is_square() {
            // "d5" where only a pawn takes there.
            let taking = Shape {
                takes: true,
                ..*self
            };
            list = all.iter().copied().filter(|it| taking.is_of(*it)).collect();
            if list.len() > 1 {
                list.clear();
            }
        }
        if self.check && list.len() > 1 {
            let gives = |it: &Move| after(position, *it).is_check();
            if list.iter().any(gives) {
                list.retain(gives);
            }
        }
        list
    }

    fn is_of(&self, played: Move) -> bool {
        if let Some(side) = self.castles {
            let wanted = played.castling_side();
            return wanted.is_some() && side.is_none_or(|side| wanted == Some(side));
        }
        if played.is_castle() {
            return false;
        }
        let (from, to) = (origin(played), landing(played));
        let pushes = self.is_square();
        self.role.is_none_or(|role| role == played.role())
            && self.file.is_none_or(|file| file == from.file())
            && self.rank.is_none_or(|rank| rank == from.rank())
            && self.to.is_none_or(|square| square == to)
            && self.to_file.is_none_or(|file| file == to.file())
            && (!self.takes || played.is_capture())
            && (!pushes || !played.is_capture())
            && self.taken.is_none_or(|role| played.capture() == Some(role))
            // A pawn becomes a queen where nothing else is said.
            && match played.promotion() {
                Some(role) => role == self.becomes.unwrap_or(Role::Queen),
                None => self.becomes.is_none(),
            }
    }

    /// The shapes that may have been said where this was heard: another file of those whose names rhyme, and other
    /// files, ranks or pieces, which are less likely.
    pub fn alike(&self) -> [Vec<Shape>; 2] {
        const RHYMES: [&[File]; 3] = [
            &[File::B, File::C, File::D, File::E, File::G],
            &[File::A, File::H],
            &[File::F],
        ];
        let (mut near, mut far) = (Vec::new(), Vec::new());
        let Some(to) = self.to else {
            return [near, far];
        };
        let rhymes = |file: &File| {
            let mut all = RHYMES.iter();
            all.any(|group| group.contains(file) && group.contains(&to.file()))
        };
        for file in File::ALL.into_iter().filter(|file| *file != to.file()) {
            let list = if rhymes(&file) { &mut near } else { &mut far };
            list.push(Shape {
                to: Some(Square::from_coords(file, to.rank())),
                ..*self
            });
        }
        if self.is_square() {
            far.clear();
            far.push(Shape {
                role: None,
                ..*self
            });
        }
        [near, far]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::rules::{moves, san_of};

    fn said(position: &Chess, shape: Shape) -> Vec<String> {
        let all = moves(position);
        let fits = shape.fits(position, &all);
        fits.into_iter().map(|it| san_of(position, it)).collect()
    }

    fn after_moves(words: &str) -> Chess {
        let lesson = crate::lesson::given::lesson(words);
        let last = lesson.nodes.last().expect("the start at least");
        last.position.clone()
    }

    #[test]
    fn a_shape_fits_as_far_as_it_was_said() {
        let start = Chess::default();
        let knight = Shape {
            role: Some(Role::Knight),
            to: Some(Square::F3),
            ..Shape::default()
        };
        assert_eq!(said(&start, knight), ["Nf3"]);
        let position = after_moves("1. e4 d5 2. Nf3 *");
        let takes = Shape {
            takes: true,
            ..Shape::default()
        };
        assert_eq!(said(&position, takes), ["dxe4"]);
        let square = Shape {
            role: Some(Role::Pawn),
            to: Some(Square::E4),
            ..Shape::default()
        };
        assert_eq!(
            said(&position, square),
            ["dxe4"],
            "no pawn can go there but by taking"
        );
    }

    #[test]
    fn files_whose_names_rhyme_are_alike() {
        let square = |to| Shape {
            to: Some(to),
            ..Shape::default()
        };
        let [alike, _] = square(Square::D4).alike();
        assert_eq!(
            alike,
            [Square::B4, Square::C4, Square::E4, Square::G4].map(square)
        );
    }
}
