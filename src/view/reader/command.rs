//! What a reader can ask about the position, in words. A question is answered where each of its words is known and
//! together they have one meaning; else it is not understood, for another question's answer would be taken for it.

use super::intent::{Asked, Command, Pieces};
use super::straight::straight;
use crate::text::{run, split};
use shakmaty::{Color, Role, Square};

/// The words that questions are made of, in groups with `;` between them. The sign that opens a
/// group says what its words mean, and is one that [`Words::take`] knows: kinds of pieces have
/// their letters, `w` and `s` the sides, `x` any piece, `-` what means nothing of its own. A
/// language's file has a list of its own.
const ENGLISH: &str = "- a an the is are was of from there on at stands position board square now please show list me;\
p pawn pawns;n knight knights;b bishop bishops;r rook rooks;q queen queens;k king kings;\
w white white's;s black black's;x piece pieces anything;\
A attacks attack attacking threatens;a attacked attackers attacker;G guards guard guarding defends defend protects;\
g guarded defended protected;F pinned;f pins pin pinning;M material;m count balance;V moves move;Y go reach;D describe;C comment;\
W where where's;T what what's which;U who;L last;H here am i we this it in lesson;\
c can do does have has;l legal possible;v read;t to";

/// What the words of a question say together.
#[derive(Default)]
struct Words {
    /// The pieces that it is about.
    pieces: Pieces,
    /// What it asks of them; `V` for moves, and so on.
    asks: Option<u8>,
    /// The other signs, as a set of the letters of ASCII.
    beside: u64,
    /// Whether pieces are named before what is asked of them, and after.
    around: [bool; 2],
}

impl Words {
    /// Takes up a word by its sign. False if it contradicts those before it.
    fn take(&mut self, sign: u8) -> bool {
        let pieces = &mut self.pieces;
        match sign {
            b'-' => {
                self.beside |= bit(b'd'); // a place of its own: that of `-` is that of `m`
                return true;
            }
            b'w' | b's' => {
                let color = Color::from_white(sign == b'w');
                if pieces.color.replace(color).is_some() {
                    return false;
                }
            }
            b'A' | b'a' | b'G' | b'g' | b'F' | b'f' | b'M' | b'V' | b'Y' | b'D' | b'C' => {
                return self.asks.replace(sign).is_none();
            }
            _ => match Role::from_char(char::from(sign)) {
                Some(role) if pieces.role.replace(role).is_some() => return false,
                Some(_) => {}
                None => {
                    self.beside |= bit(sign);
                    return true;
                }
            },
        }
        self.name()
    }

    /// Takes up a square.
    fn at(&mut self, square: Square) -> bool {
        self.pieces.square.replace(square).is_none() && self.name()
    }

    /// Pieces are named in one place: "the knight on f3", not "can the knight go on f3".
    fn name(&mut self) -> bool {
        self.around[usize::from(self.asks.is_some())] = true;
        self.around != [true; 2]
    }

    /// Whether none of the other words is there but these, which change nothing.
    fn only(&self, signs: &[u8]) -> bool {
        let mut rest = self.beside & !bit(b'd');
        for &sign in signs {
            rest &= !bit(sign);
        }
        rest == 0
    }

    fn has(&self, sign: u8) -> bool {
        self.beside & bit(sign) != 0
    }

    /// The question, if the words are one.
    fn command(&self) -> Option<Command> {
        let pieces = self.pieces;
        let is_kind = pieces.role.is_some();
        let is_named = is_kind || pieces.square.is_some();
        let is_bare = self.around == [false; 2] && !self.has(b'x');
        let [before, _] = self.around;
        Some(match self.asks {
            None if is_bare && self.has(b'W') && self.only(b"WTHj") => Command::Where,
            None if is_bare && self.has(b'L') && self.only(b"LTHj") => Command::LastMove,
            None if is_bare => return None,
            None if self.beside & !bit(b't') == 0 && pieces.color.is_none() && is_kind => {
                match pieces.square {
                    Some(square) => Command::Named(pieces.role?, square),
                    None if self.beside == 0 => Command::About(Asked::Places, pieces),
                    None => return None,
                }
            }
            None if pieces.square.is_some() && self.only(b"Txj") => Command::On(pieces.square?),
            None if (is_kind || pieces.square.is_none()) && self.only(b"Wxj") => {
                Command::About(Asked::Places, pieces)
            }
            // "What attacks the knight", not "what the knight attacks".
            Some(b'A') if is_named && !before && self.attacks() => {
                Command::About(Asked::Attackers, pieces)
            }
            Some(b'G') if is_named && !before && self.attacks() => {
                Command::About(Asked::Guards, pieces)
            }
            Some(b'a') if is_named && self.only(b"TUxj") => {
                Command::About(Asked::Attackers, pieces)
            }
            Some(b'g') if is_named && self.only(b"TUxj") => Command::About(Asked::Guards, pieces),
            Some(b'F') if self.only(b"TUxj") => Command::About(Asked::Pins, pieces),
            Some(b'f') if !before && self.only(b"TUxj") => Command::About(Asked::Pins, pieces),
            Some(b'M') if !is_named && self.only(b"Tjm") => Command::Material,
            Some(b'V') if is_bare && self.has(b'L') && self.only(b"LTHj") => Command::LastMove,
            Some(b'V') if is_bare && self.only(b"THj") => Command::Moves,
            Some(b'V') if is_bare && !self.has(b'l') => return None,
            // "Moves from e4", not "what can move, e4".
            Some(b'V')
                if (is_kind || pieces.square.is_none() || !self.has(b'c')) && self.goes() =>
            {
                Command::About(Asked::Moves, pieces)
            }
            // "Where can the knight go", not "what can reach the knight".
            Some(b'Y') if !is_bare && (before || self.has(b'W')) && self.goes() => {
                match pieces.square {
                    Some(_) if !is_kind && !self.has(b'x') => return None,
                    _ => Command::About(Asked::Moves, pieces),
                }
            }
            Some(b'D') if is_bare && self.only(b"Hj") => Command::Describe,
            Some(b'C') if is_bare && self.only(b"THjv") => Command::Comment,
            _ => return None,
        })
    }

    /// Whether the other words fit a question about what attacks. In German "was greift die Dame an"
    /// asks what attacks the queen, or what she attacks.
    fn attacks(&self) -> bool {
        self.only(if self.pieces.role.is_some() {
            b"TUx"
        } else {
            b"TUxj"
        })
    }

    /// Whether they fit a question about legal moves.
    fn goes(&self) -> bool {
        self.only(b"TWcljxH")
    }
}

/// The place of a sign among the letters of ASCII.
fn bit(sign: u8) -> u64 {
    1 << (sign % 64)
}

/// Reads a question in a language, whose list of words this is, or in English. A square may be
/// given by the names of the FIDE Laws, appendix D: `what is on Eva four`. A square alone asks
/// nothing: it is a pawn's move.
pub fn read(text: &str, list: &str) -> Option<Command> {
    let text = straight(text);
    let mut words = Vec::new();
    let mut rest = &text[..];
    while !rest.is_empty() {
        let length = run(rest, |byte| !b" ?.,!".contains(&byte));
        if length > 0 {
            words.push(&rest[..length]); // the sign that ends it is of ASCII
        }
        rest = rest.get(length + 1..).unwrap_or_default();
    }
    let mut asked = Words::default();
    let mut at = 0;
    while let Some(rest) = words.get(at..).filter(|rest| !rest.is_empty()) {
        let is_taken = match square(rest) {
            Some((square, length)) => {
                at += length;
                words.len() > 1 && asked.at(square)
            }
            None => {
                at += 1;
                let sign = meaning(list, rest[0]).or_else(|| meaning(ENGLISH, rest[0]))?;
                asked.take(sign)
            }
        };
        if !is_taken {
            return None;
        }
    }
    asked.command()
}

/// What a word means in a list.
fn meaning(list: &str, word: &str) -> Option<u8> {
    for group in split(list, b';') {
        let mut words = split(group, b' ');
        let sign = *words.next()?.as_bytes().first()?;
        if words.any(|known| known == word) {
            return Some(sign);
        }
    }
    None
}

/// The square that the words begin with, `e4`, `e 4`, `eva 4` or `eva four`, and how many of them
/// name it.
fn square(words: &[&str]) -> Option<(Square, usize)> {
    let first = words.first()?;
    if let Ok(square) = Square::from_ascii(first.as_bytes()) {
        return Some((square, 1));
    }
    let file = FILES
        .iter()
        .position(|name| first == name || *first == &name[..1])?;
    let then = words.get(1)?;
    let is_rank = |rank: usize| *then == RANKS[rank] || then.as_bytes() == [b'1' + rank as u8];
    let rank = (0..8).find(|&rank| is_rank(rank))?; // there are eight
    Some((Square::try_from(rank * 8 + file).ok()?, 2))
}

/// Names of the files: FIDE Laws of Chess, appendix D.2.1.
pub const FILES: [&str; 8] = [
    "anna", "bella", "cesar", "david", "eva", "felix", "gustav", "hector",
];

const RANKS: [&str; 8] = [
    "one", "two", "three", "four", "five", "six", "seven", "eight",
];

#[cfg(test)]
mod tests {
    use super::*;

    fn kind(role: Role) -> Pieces {
        Pieces {
            role: Some(role),
            ..Pieces::default()
        }
    }

    #[track_caller]
    fn assert_read(texts: &[&str], command: Option<Command>) {
        for text in texts {
            assert_eq!(read(text, ""), command, "{text}");
        }
    }

    #[test]
    fn a_question_about_a_square_names_it_by_letter_or_by_the_names_of_the_laws() {
        let f5 = Pieces::on(Square::F5);
        assert_read(
            &[
                "What is on e4?",
                "what is on eva 4",
                "what's on E four",
                "is a pawn on e4",
            ],
            Some(Command::On(Square::E4)),
        );
        let attacks = [
            "what attacks f5",
            "which pieces attack Felix five",
            "is f5 attacked?",
            "attackers of f5",
        ];
        assert_read(&attacks, Some(Command::About(Asked::Attackers, f5)));
        let guards = ["what guards f5", "what defends f5?", "is f5 guarded"];
        assert_read(&guards, Some(Command::About(Asked::Guards, f5)));
    }

    #[test]
    fn a_question_about_pieces_names_their_kind_their_side_or_their_square() {
        let queen = Pieces {
            color: Some(Color::White),
            ..kind(Role::Queen)
        };
        let f3 = Pieces {
            square: Some(Square::F3),
            ..kind(Role::Knight)
        };
        let (knights, all) = (kind(Role::Knight), Pieces::default());
        assert_read(
            &["where is the white queen", "the white queen?"],
            Some(Command::About(Asked::Places, queen)),
        );
        assert_read(
            &["where are the knights"],
            Some(Command::About(Asked::Places, knights)),
        );
        assert_read(
            &["what is pinned", "which pieces are pinned"],
            Some(Command::About(Asked::Pins, all)),
        );
        assert_read(
            &["is the knight pinned", "what is pinning the knight"],
            Some(Command::About(Asked::Pins, knights)),
        );
        let moves = [
            "moves of the knight on f3",
            "where can the knight on f3 go",
            "legal moves of the knight f3",
        ];
        assert_read(&moves, Some(Command::About(Asked::Moves, f3)));
        assert_read(
            &["where can the knight go"],
            Some(Command::About(Asked::Moves, knights)),
        );
        assert_read(
            &["legal moves", "show the legal moves here"],
            Some(Command::About(Asked::Moves, all)),
        );
        assert_read(
            &["moves from f3"],
            Some(Command::About(Asked::Moves, Pieces::on(Square::F3))),
        );
        assert_read(
            &[
                "what attacks the white queen",
                "what is attacking the white queen",
            ],
            Some(Command::About(Asked::Attackers, queen)),
        );
    }

    #[test]
    fn a_question_about_the_lesson_may_have_words_that_add_nothing() {
        assert_read(
            &[
                "where",
                "where am I",
                "where is this",
                "where am I in the lesson?",
            ],
            Some(Command::Where),
        );
        assert_read(
            &["comment", "read the comment", "is there a comment here"],
            Some(Command::Comment),
        );
        assert_read(&["last", "what was the last move"], Some(Command::LastMove));
        assert_read(&["moves", "the moves from here"], Some(Command::Moves));
        assert_read(
            &["describe", "describe the position"],
            Some(Command::Describe),
        );
        assert_read(
            &["material", "what is the material", "count the material"],
            Some(Command::Material),
        );
    }

    #[test]
    fn what_asks_something_else_is_not_understood() {
        assert_read(
            &[
                "",
                "nonsense",
                "e4",
                "e4?",
                "what wins d5",
                "where is e4",
                "why is the queen on d1",
                "what does the knight attack",
                "the knight attacks",
                "what can attack d5",
                "can the knight go on e4",
                "what can reach e4",
                "which piece can reach e4",
                "what can reach the knight",
                "where can I go",
                "who moves",
                "what is d5 attacked by",
                "which white pieces attack d5",
                "how many pawns",
                "where is my queen",
                "comment on e4",
                "the last comment",
                "what is the knight attacking",
                "what is the knight pinning",
                "count the pawns",
                "where can I go here",
                "the last move of the knight",
                "where are the pinned knights",
                "what attacks d5 and e4",
                "is the white black knight pinned",
                "read",
                "the",
                "go",
                "what",
            ],
            None,
        );
    }

    #[test]
    fn a_language_has_words_of_its_own_and_english_is_read_too() {
        let list = "W wo;- steht die;q dame;w wei\u{df}e";
        for text in [
            "Wo steht die wei\u{df}e Dame?",
            "where steht die white queen",
        ] {
            let Some(Command::About(Asked::Places, pieces)) = read(text, list) else {
                panic!("{text}");
            };
            assert_eq!(
                (pieces.color, pieces.role),
                (Some(Color::White), Some(Role::Queen))
            );
        }
    }
}
