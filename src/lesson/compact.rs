//! What a node keeps in place instead of on the heap: its move as written, and lists
//! that nearly always have one element. A lesson holds thousands of nodes.

use arrayvec::ArrayString;
use core::fmt;
use core::ops::Deref;
use shakmaty::san::San;
use shakmaty::{CastlingSide, Role};

/// Room for the longest move in SAN with its check sign, such as `Qa6xb7#` (PGN standard,
/// 8.2.3.6).
const LONGEST: usize = 7;

/// A move as it is written; reads like a `str`.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
pub struct SanText(ArrayString<LONGEST>);

impl SanText {
    /// A pass.
    pub fn pass() -> SanText {
        let mut text = SanText::default();
        text.push('-');
        text.push('-');
        text
    }

    /// The move, and the check sign after it.
    pub fn new(san: San, check: Option<u8>) -> SanText {
        let mut text = SanText::default();
        let mut add = |sign| text.push(sign);
        match san {
            San::Normal {
                role,
                file,
                rank,
                capture,
                to,
                promotion,
            } => {
                if role != Role::Pawn {
                    add(role.upper_char());
                }
                if let Some(file) = file {
                    add(file.char());
                }
                if let Some(rank) = rank {
                    add(rank.char());
                }
                if capture {
                    add('x');
                }
                add(to.file().char());
                add(to.rank().char());
                if let Some(role) = promotion {
                    add('=');
                    add(role.upper_char());
                }
            }
            San::Castle(side) => {
                let word = match side {
                    CastlingSide::KingSide => "O-O",
                    CastlingSide::QueenSide => "O-O-O",
                };
                word.chars().for_each(add);
            }
            // Of other kinds of chess; plyline's has neither drops nor null moves.
            San::Put { .. } | San::Null => {}
        }
        if let Some(sign) = check {
            text.push(char::from(sign));
        }
        text
    }

    fn push(&mut self, sign: char) {
        let _ = self.0.try_push(sign); // there is room for the longest
    }

    /// As text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl Deref for SanText {
    type Target = str;

    fn deref(&self) -> &str {
        self.as_str()
    }
}

impl fmt::Display for SanText {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        to.write_str(self)
    }
}

impl fmt::Debug for SanText {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.as_str(), to)
    }
}

impl PartialEq<&str> for SanText {
    fn eq(&self, other: &&str) -> bool {
        self.as_str() == *other
    }
}

/// A list that keeps its element in place where it has one; reads like a slice.
#[derive(Clone, Debug, Default)]
pub enum Few<T> {
    /// None.
    #[default]
    Empty,
    /// One.
    One([T; 1]),
    /// More, or what is left of them.
    Many(Vec<T>),
}

impl<T> Few<T> {
    /// One more.
    pub fn push(&mut self, more: T) {
        let mut all = match core::mem::take(self) {
            Few::Empty => {
                *self = Few::One([more]);
                return;
            }
            Few::One([one]) => vec![one],
            Few::Many(all) => all,
        };
        all.push(more);
        *self = Few::Many(all);
    }

    /// The last, taken away.
    pub fn pop(&mut self) -> Option<T> {
        match self {
            Few::Many(all) => all.pop(),
            _ => match core::mem::take(self) {
                Few::One([one]) => Some(one),
                _ => None,
            },
        }
    }
}

impl<T> Deref for Few<T> {
    type Target = [T];

    fn deref(&self) -> &[T] {
        match self {
            Few::Empty => &[],
            Few::One(one) => one,
            Few::Many(all) => all,
        }
    }
}

impl<'a, T> IntoIterator for &'a Few<T> {
    type Item = &'a T;
    type IntoIter = core::slice::Iter<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}

impl<T: PartialEq, const COUNT: usize> PartialEq<[T; COUNT]> for Few<T> {
    fn eq(&self, other: &[T; COUNT]) -> bool {
        **self == *other
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_move_of_seven_signs_has_room() {
        let san: San = "Qa6xb7".parse().expect("SAN");
        assert_eq!(SanText::new(san, Some(b'#')), "Qa6xb7#");
        let san: San = "fxg1=Q".parse().expect("SAN");
        assert_eq!(SanText::new(san, Some(b'+')), "fxg1=Q+");
        let castles = San::Castle(CastlingSide::QueenSide);
        assert_eq!(SanText::new(castles, None), "O-O-O");
        assert_eq!(SanText::pass(), "--");
        assert_eq!(SanText::default(), "");
    }

    #[test]
    fn a_list_keeps_its_order_with_one_element_and_with_more() {
        let mut few = Few::default();
        assert!(few.is_empty() && few.pop().is_none());
        for (number, wanted) in [(1, vec![1]), (2, vec![1, 2]), (3, vec![1, 2, 3])] {
            few.push(number);
            assert_eq!(few[..], wanted);
        }
        assert_eq!(
            (few.pop(), few.pop(), few.pop()),
            (Some(3), Some(2), Some(1))
        );
        few.push(4);
        assert_eq!(few[..], [4]);
    }
}
