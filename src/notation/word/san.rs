//! The shape of a move word: which piece, from where, to where, as far as the word says. Every form
//! is accepted; whether the move can be played is for `lesson/` to ask.

use super::nag;
use crate::notation::Letters;
use crate::text::join;
use shakmaty::{CastlingSide, File, Rank, Role, Square};

/// A move word that was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shape {
    /// What it asks for.
    pub kind: Kind,
    /// Whether it is written as a capture.
    pub capture: bool,
    /// The glyphs of the signs after it, in the order of the text.
    pub nags: Vec<u8>,
}

/// What a move word asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Castling; `O-O`, `0-0` and the like.
    Castle(CastlingSide),
    /// A pass, `--`: shows a threat.
    Pass,
    /// A piece to a square.
    Piece {
        /// Which piece; none in `e2e4`, where the square says it.
        role: Option<Role>,
        /// The file it comes from, where the word says it.
        file: Option<File>,
        /// The rank it comes from, where the word says it.
        rank: Option<Rank>,
        /// Where it goes.
        to: Square,
        /// What a pawn becomes.
        promotion: Option<Role>,
    },
}

/// A word of the movetext, taken apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MoveWord<'a> {
    /// All of it.
    pub whole: &'a str,
    /// What it says, where it is a move.
    pub shape: Option<Shape>,
    /// The word without check, suffix and evaluation signs: the place of findings about it.
    pub core: &'a str,
    /// The check sign, as far as there is one: `+`, `#`, `++` or a dagger.
    pub check: &'a str,
    /// The suffix and evaluation signs, joined in the order of the text.
    pub signs: String,
}

/// Reads a move word with whatever signs are after it.
pub fn read<'a>(word: &'a str, letters: &Letters) -> MoveWord<'a> {
    let (core, check, signs, nags) = split_signs(word);
    let kind = if let Some(plain) = plain(core, letters) {
        Some(plain)
    } else if let Some(side) = castling(core) {
        Some((Kind::Castle(side), false))
    } else if matches!(core, "--" | "\u{2013}" | "\u{2014}" | "Z0") {
        // Word processors make one dash of two; some collections write a pass as `Z0`.
        Some((Kind::Pass, false))
    } else {
        piece(core, letters)
    };
    let shape = kind.map(|(kind, capture)| Shape {
        kind,
        capture,
        nags,
    });
    MoveWord {
        whole: word,
        shape,
        core,
        check,
        signs,
    }
}

/// The word without its signs, its check sign, its other signs, and their glyphs.
fn split_signs(word: &str) -> (&str, &str, String, Vec<u8>) {
    if word
        .as_bytes()
        .last()
        .is_some_and(u8::is_ascii_alphanumeric)
    {
        return (word, "", String::new(), Vec::new());
    }
    let mut core = word;
    let mut check = "";
    let mut signs = Vec::new();
    let mut nags = Vec::new();
    loop {
        if let Some((nag, length)) = nag::sign_at_end(core)
            && length < core.len()
        {
            let (rest, sign) = core.split_at(core.len() - length);
            core = rest;
            signs.push(sign);
            nags.push(nag);
            continue;
        }
        let bare = core.trim_end_matches(['+', '#', '\u{2020}', '\u{2021}']);
        if bare.is_empty() || bare.len() == core.len() {
            break;
        }
        check = &core[bare.len()..];
        core = bare;
    }
    nags.reverse();
    signs.reverse();
    (core, check, join(&signs, ""), nags)
}

fn castling(bare: &str) -> Option<CastlingSide> {
    let mut letters = 0;
    let without_gaps = bare
        .chars()
        .filter(|&letter| !crate::notation::lexer::is_gap(letter));
    for (at, letter) in without_gaps.enumerate() {
        let wanted = match letter {
            'O' | 'o' | '0' => at % 2 == 0,
            '-' | '\u{2010}'..='\u{2013}' | '\u{2212}' => at % 2 == 1,
            _ => false,
        };
        if !wanted {
            return None;
        }
        letters += 1;
    }
    match letters {
        3 => Some(CastlingSide::KingSide),
        5 => Some(CastlingSide::QueenSide),
        _ => None,
    }
}

/// The piece that a letter or a figurine names (Unicode, block Miscellaneous Symbols, U+2654
/// to U+265F).
fn role(letter: char, letters: &Letters) -> Option<Role> {
    Some(match letter {
        letter if letter.is_ascii() => return letters.role(letter),
        '\u{2654}' | '\u{265a}' => Role::King,
        '\u{2655}' | '\u{265b}' => Role::Queen,
        '\u{2656}' | '\u{265c}' => Role::Rook,
        '\u{2657}' | '\u{265d}' => Role::Bishop,
        '\u{2658}' | '\u{265e}' => Role::Knight,
        '\u{2659}' | '\u{265f}' => Role::Pawn,
        _ => return None,
    })
}

/// The shapes that nearly all words have, read from their end: `e4`, `exd5`, `Nf3`, `Nbxd2`.
/// [`piece`] reads them too, and all others.
fn plain(bare: &str, letters: &Letters) -> Option<(Kind, bool)> {
    let (head, to) = bare.as_bytes().split_last_chunk::<2>()?;
    let to = Square::from_ascii(to).ok()?;
    let (head, capture) = match head {
        [head @ .., b'x'] => (head, true),
        _ => (head, false),
    };
    let (role, file, rank) = match *head {
        [] => (Role::Pawn, None, None),
        [one] => match letters.role(char::from(one)) {
            Some(role) => (role, None, None),
            None => (Role::Pawn, Some(File::from_char(char::from(one))?), None),
        },
        [one, from] => {
            let from = char::from(from);
            let (file, rank) = (File::from_char(from), Rank::from_char(from));
            if file.is_none() && rank.is_none() {
                return None;
            }
            (letters.role(char::from(one))?, file, rank)
        }
        _ => return None,
    };
    let kind = Kind::Piece {
        role: Some(role),
        file,
        rank,
        to,
        promotion: None,
    };
    Some((kind, capture))
}

fn piece(bare: &str, letters_of: &Letters) -> Option<(Kind, bool)> {
    let bare = bare
        .strip_suffix("e.p.")
        .or(bare.strip_suffix("ep"))
        .unwrap_or(bare);
    let cleaned;
    let bare = match bare.is_ascii() {
        true => bare,
        false => {
            // Which of its two forms a figurine is drawn in.
            cleaned = bare.replace(['\u{fe0e}', '\u{fe0f}'], "");
            &cleaned
        }
    };
    let mut letters = bare.chars();
    let first = letters.clone().next();
    let written = first.and_then(|letter| role(letter, letters_of));
    if written.is_some() {
        letters.next();
    }
    // Up to two squares, of which the first may lack its file or rank.
    let mut files = [None; 2];
    let mut ranks = [None; 2];
    let mut square = 0;
    let mut capture = false;
    let mut open = false;
    while let Some(letter) = letters.clone().next() {
        if let Some(file) = File::from_char(letter) {
            if files[square].is_some() || ranks[square].is_some() {
                if square == 1 {
                    break; // the bishop of `a7a8b`; anything else is refused below
                }
                square += 1;
            }
            files[square] = Some(file);
        } else if let Some(rank) = Rank::from_char(letter) {
            if ranks[square].is_some() {
                return None;
            }
            ranks[square] = Some(rank);
        } else if matches!(letter, 'x' | 'X' | ':' | '\u{d7}') && !capture {
            capture = true;
            open = true;
            letters.next();
            continue;
        } else if matches!(letter, '-' | '\u{2010}'..='\u{2013}' | '\u{2212}') && square == 0 {
            open = true;
            letters.next();
            continue;
        } else {
            break;
        }
        open = false;
        letters.next();
    }
    if open {
        return None; // nothing after a capture sign or a dash
    }
    let to_index = if files[1].is_some() { 1 } else { 0 };
    let to = Square::from_coords(files[to_index]?, ranks[to_index]?);
    let (file, rank) = match to_index {
        1 => (files[0], ranks[0]),
        _ => (None, None),
    };
    let rest = letters.as_str();
    let promotion = match rest.trim_matches(['=', '(', ')', '/']) {
        "" => None,
        letter => {
            let mut only = letter.chars();
            let role = role(only.next()?.to_ascii_uppercase(), letters_of)?;
            if only.next().is_some() {
                return None;
            }
            Some(role)
        }
    };
    let both = file.is_some() && rank.is_some();
    let role = match written {
        Some(role) => Some(role),
        // Two whole squares without a letter are any piece's move: `e2e4`, `g1f3`.
        None if both => None,
        None => Some(Role::Pawn),
    };
    let kind = Kind::Piece {
        role,
        file,
        rank,
        to,
        promotion,
    };
    Some((kind, capture))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn english(word: &str) -> MoveWord<'_> {
        read(word, Letters::ENGLISH)
    }

    fn kind(word: &str) -> Option<Kind> {
        english(word).shape.map(|shape| shape.kind)
    }

    fn parts(
        word: &str,
    ) -> (
        Option<Role>,
        Option<File>,
        Option<Rank>,
        String,
        Option<Role>,
    ) {
        match kind(word) {
            Some(Kind::Piece {
                role,
                file,
                rank,
                to,
                promotion,
            }) => (role, file, rank, to.to_string(), promotion),
            other => panic!("{word} read as {other:?}"),
        }
    }

    #[test]
    fn a_rank_alone_tells_which_piece() {
        let knight = (
            Some(Role::Knight),
            None,
            Some(Rank::First),
            "f3".to_owned(),
            None,
        );
        assert_eq!(parts("N1f3"), knight);
        assert_eq!(parts("N1xf3+!?"), knight);
    }

    #[test]
    fn all_ways_to_write_a_promotion_are_one() {
        for word in ["e8=Q", "e8Q", "e8(Q)", "e8=Q+", "e8q", "e8/Q"] {
            assert_eq!(parts(word).4, Some(Role::Queen), "{word}");
        }
        assert_eq!(parts("e7e8b").4, Some(Role::Bishop), "b is a file too");
    }

    #[test]
    fn signs_are_read_off_the_end_in_the_order_of_the_text() {
        let word = english("Qh5+!?+-");
        assert_eq!(
            (word.core, word.check, word.signs.as_str()),
            ("Qh5", "+", "!?+-")
        );
        assert_eq!(word.shape.expect("a move").nags, [5, 18]);
        assert_eq!(english("Nf3=").shape.expect("a move").nags, [10]);
        assert!(english("Nf3++").shape.expect("a move").nags.is_empty());
        assert_eq!(english("Qh5!+").signs, "!");
    }

    #[test]
    fn letters_of_a_language_and_figurines_name_pieces() {
        let german = Letters::of("de").expect("German");
        let role = |word: &str| match read(word, german).shape.map(|shape| shape.kind) {
            Some(Kind::Piece { role, .. }) => role,
            _ => None,
        };
        assert_eq!(role("Sf3"), Some(Role::Knight));
        assert_eq!(role("Be4"), Some(Role::Pawn));
        assert_eq!(role("\u{265e}f6"), Some(Role::Knight));
        assert_eq!(role("Nf3"), None);
    }

    #[test]
    fn words_that_are_no_move_have_no_shape() {
        for word in [
            "hello", "Nf9", "i4", "O-O-O-O", "Nf3x", "e2e4e5", "", "N", "-", "B12", "e8=X",
        ] {
            assert_eq!(kind(word), None, "{word}");
        }
    }

    #[test]
    fn zeros_and_letters_castle() {
        for word in ["0-0-0", "O-O-O", "o-o-o+", "0\u{2013}0\u{2013}0!"] {
            assert_eq!(
                kind(word),
                Some(Kind::Castle(CastlingSide::QueenSide)),
                "{word}"
            );
        }
    }
}
