//! Near misses: the legal moves that a wrong word is closest to.

use crate::lesson::rules::{self, landing, san_of};
use crate::notation::Letters;
use crate::notation::word::san::{self, Kind, MoveWord, Shape};
use crate::text::Listed;
#[cfg(not(target_family = "wasm"))]
use shakmaty::Role;
use shakmaty::{CastlingSide, Chess, Move, Position, Square};

/// Most near misses that are offered.
const OFFERED: usize = 3;

/// Signs that may differ between a word and a near miss. Two wrong signs in a word of three
/// leave little of it, so nothing is offered beyond.
const FAR: usize = 2;

/// The longest word that is compared: longer than any move, and the table below is quadratic.
const LONGEST: usize = 12;

/// The near misses of a word that is no legal move here: English SAN, closest first.
pub fn near(position: &Chess, word: &MoveWord, letters: &Letters) -> Vec<String> {
    let far = match word.core.chars().count() {
        0 | 1 => return Vec::new(), // close to every pawn's move, and to what was meant by none
        2 if !is_half_a_move(word.core, letters) => return Vec::new(),
        2 => 1,
        _ => FAR,
    };
    let mut moves: Vec<String> = ranked(position, word, letters, far)
        .into_iter()
        .map(|legal| legal.san)
        .listed();
    moves.truncate(OFFERED);
    moves
}

/// The one legal move that a word which is no move can only mean: written but for capitals and
/// small letters, or one sign apart with its piece and file kept, because with another piece or
/// file anything may have been meant.
pub fn certain(position: &Chess, word: &MoveWord, letters: &Letters) -> Option<String> {
    let core = word.core;
    let read_otherwise = in_other_case(core, letters);
    if !read_otherwise.is_empty() {
        let [only] = &read_otherwise[..] else {
            return None; // a pawn of the b-file or a bishop
        };
        let (played, _) = rules::resolve(position, only).ok()?;
        return Some(san_of(position, played));
    }
    if core.chars().count() < 3 {
        return None;
    }
    match &ranked(position, word, letters, 1)[..] {
        [only] if keeps(core, &letters.write(&only.san), only.played) => Some(only.san.clone()),
        _ => None,
    }
}

/// Two legal moves that are written together in a word: every way to cut it into them.
pub fn together<'a>(position: &Chess, core: &'a str, letters: &Letters) -> Vec<(&'a str, &'a str)> {
    if core.len() > 2 * LONGEST {
        return Vec::new();
    }
    let played = |position: &Chess, word: &str| {
        let shape = san::read(word, letters).shape?;
        let (played, _) = rules::resolve(position, &shape).ok()?;
        let mut after = position.clone();
        after.play_unchecked(played);
        Some(after)
    };
    let mut cuts = Vec::new();
    for (at, _) in core.char_indices() {
        // No move has fewer than two signs.
        let (one, other) = core.split_at(at);
        if at > 1
            && let Some(after) = played(position, one)
            && played(&after, other).is_some()
        {
            cuts.push((one, other));
        }
    }
    cuts
}

/// The legal moves that are written as another one with one letter or digit changed after the
/// first, and the positions after them. Only the program asks for them.
#[cfg(not(target_family = "wasm"))]
pub fn one_sign_off(position: &Chess, san: &str) -> Vec<(String, Chess)> {
    let bare = |san: &str| san.trim_end_matches(['+', '#']).to_owned();
    let written = bare(san);
    let mut list = Vec::new();
    for &played in &position.legal_moves() {
        let san = san_of(position, played);
        let one = bare(&san);
        let differ = one.bytes().zip(written.bytes()).skip(1);
        let is_near = one.len() == written.len()
            && one.as_bytes().first() == written.as_bytes().first()
            && differ.filter(|(one, other)| one != other).count() == 1;
        if is_near {
            list.push((san, rules::after(position, played)));
        }
    }
    list
}

/// All legal moves of a kind of piece, castling left out, in English SAN. Only the program asks for
/// them.
#[cfg(not(target_family = "wasm"))]
pub fn moves_of(position: &Chess, role: Role) -> Vec<String> {
    let mut list = Vec::new();
    for &played in &position.legal_moves() {
        if played.role() == role && !played.is_castle() {
            list.push(san_of(position, played));
        }
    }
    list
}

/// Whether two signs are enough of a move to guess the rest: a piece letter or a digit.
fn is_half_a_move(word: &str, letters: &Letters) -> bool {
    let names_piece = word
        .chars()
        .next()
        .is_some_and(|it| letters.role(it).is_some());
    names_piece || word.bytes().any(|byte| byte.is_ascii_digit())
}

/// What a word says when its letters are written small, or small after a capital.
fn in_other_case(word: &str, letters: &Letters) -> Vec<Shape> {
    let small = word.to_ascii_lowercase();
    let mut capital = small.clone();
    if let Some(first) = capital.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    let mut shapes = Vec::new();
    for word in [small, capital] {
        shapes.extend(san::read(&word, letters).shape);
    }
    shapes
}

/// Whether a word and a legal move, one sign apart, agree in what piece goes to which file.
fn keeps(word: &str, legal: &str, played: Move) -> bool {
    let bare = |text| str::trim_end_matches(text, ['+', '#']);
    let (one, other) = (bare(word), bare(legal));
    let count = |text: &str, sign| text.bytes().filter(|&byte| byte == sign).count();
    let is_swapped = one.len() == other.len()
        && one
            .bytes()
            .all(|sign| count(one, sign) == count(other, sign));
    let file = landing(played).file().char();
    let castles = matches!(played, Move::Castle { .. });
    is_swapped
        || !castles
            && word.as_bytes().first() == legal.as_bytes().first()
            && word.chars().any(|sign| sign == file)
}

/// A legal move near a word.
struct Ranked {
    /// Signs that differ; how far apart the squares are; whether a check sign is only at one.
    rank: (usize, u32, bool),
    san: String,
    played: Move,
}

/// The legal moves at most so many signs away from a word, closest first. Check signs are not
/// counted, because they say nothing about the move.
fn ranked(position: &Chess, word: &MoveWord, letters: &Letters, most: usize) -> Vec<Ranked> {
    let shape = word.shape.as_ref();
    let typed = shape.map_or_else(|| word.core.to_owned(), english);
    let target = shape.and_then(target);
    let mut ranked: Vec<Ranked> = Vec::new();
    if typed.len() > LONGEST {
        return ranked;
    }
    for &played in &position.legal_moves() {
        let san = san_of(position, played);
        let bare = san.trim_end_matches(['+', '#']);
        // A shape is compared in English; a word that has none with what it could have been.
        let far = match shape {
            Some(_) => distance(typed.as_bytes(), bare.as_bytes()),
            None => distance(typed.as_bytes(), letters.write(bare).as_bytes()),
        };
        if far > most {
            continue;
        }
        // Among equals the square that is nearer on the board.
        let apart = target.map_or(0, |square| square.distance(landing(played)));
        let rank = (
            far,
            apart,
            word.check.is_empty() != (bare.len() == san.len()),
        );
        let place = ranked.partition_point(|other| other.rank <= rank);
        ranked.insert(place, Ranked { rank, san, played });
    }
    ranked
}

fn target(shape: &Shape) -> Option<Square> {
    match shape.kind {
        Kind::Piece { to, .. } => Some(to),
        _ => None,
    }
}

/// A shape in English SAN, as far as it goes.
fn english(shape: &Shape) -> String {
    let mut text = String::new();
    match shape.kind {
        Kind::Castle(CastlingSide::KingSide) => text.push_str("O-O"),
        Kind::Castle(CastlingSide::QueenSide) => text.push_str("O-O-O"),
        Kind::Pass => text.push_str("--"),
        Kind::Piece {
            role,
            file,
            rank,
            to,
            promotion,
        } => {
            let letter = role.map(|role| Letters::ENGLISH.letter(role));
            text.extend(letter.filter(|&letter| letter != 'P'));
            text.extend(file.map(|file| file.char()));
            text.extend(rank.map(|rank| rank.char()));
            if shape.capture {
                text.push('x');
            }
            crate::lesson::rules::push_square(&mut text, to);
            if let Some(role) = promotion {
                text.push('=');
                text.push(Letters::ENGLISH.letter(role));
            }
        }
    }
    text
}

/// The known word that a written one is nearest to, where it is near enough to be meant: at most
/// two signs apart, or its beginning. Capitals do not count.
pub fn nearest<'a>(written: &str, known: &[&'a str]) -> Option<&'a str> {
    let written = written.trim().to_ascii_lowercase();
    let far = |word: &str| match word.starts_with(&written) {
        true => 0,
        false => distance(written.as_bytes(), word.to_ascii_lowercase().as_bytes()),
    };
    if written.is_empty() || written.len() > LONGEST {
        return None;
    }
    let near = known.iter().copied().min_by_key(|word| far(word))?;
    (far(near) <= FAR).then_some(near)
}

/// How many signs are changed, left out, put in or swapped with their neighbour between two
/// words (optimal string alignment; Damerau 1964 names the four kinds of slip).
pub(crate) fn distance(one: &[u8], other: &[u8]) -> usize {
    let width = other.len() + 1;
    let mut before: Vec<usize> = vec![0; width];
    let mut last: Vec<usize> = (0..width).listed();
    for (row, sign) in one.iter().enumerate() {
        let mut now = vec![row + 1; width];
        for (column, wanted) in other.iter().enumerate() {
            let changed = last[column] + usize::from(sign != wanted);
            now[column + 1] = changed.min(last[column + 1] + 1).min(now[column] + 1);
            let swapped =
                row > 0 && column > 0 && *sign == other[column - 1] && one[row - 1] == *wanted;
            if swapped {
                now[column + 1] = now[column + 1].min(before[column - 1] + 1);
            }
        }
        before = core::mem::replace(&mut last, now);
    }
    last[width - 1]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notation::word::san;

    fn near_start(word: &str) -> Vec<String> {
        let read = san::read(word, Letters::ENGLISH);
        near(&Chess::default(), &read, Letters::ENGLISH)
    }

    fn certain_start(word: &str) -> Option<String> {
        let read = san::read(word, Letters::ENGLISH);
        certain(&Chess::default(), &read, Letters::ENGLISH)
    }

    #[test]
    fn four_kinds_of_slip_are_one_sign_apart() {
        for (one, other) in [
            ("Nf3", "Nf4"),
            ("Nf3", "Nbf3"),
            ("Nbd2", "Nd2"),
            ("Nf3", "N3f"),
        ] {
            assert_eq!(
                distance(one.as_bytes(), other.as_bytes()),
                1,
                "{one} {other}"
            );
        }
        assert_eq!(distance(b"e4", b"Nf3"), 3);
    }

    #[test]
    fn a_single_legal_move_one_sign_away_is_certain() {
        assert_eq!(certain_start("Nf33").as_deref(), Some("Nf3"));
        assert_eq!(certain_start("e9"), None, "e3 and e4 are as close");
        assert_eq!(certain_start("Nb"), None, "two signs are too few");
    }

    #[test]
    fn another_piece_or_file_is_never_certain() {
        assert_eq!(certain_start("Li3"), None);
        assert_eq!(certain_start("Ni3"), None);
    }

    #[test]
    fn capitals_and_small_letters_are_certain_where_one_piece_is_meant() {
        for word in ["nf3", "NF3", "nF3"] {
            assert_eq!(certain_start(word).as_deref(), Some("Nf3"), "{word}");
        }
        assert_eq!(certain_start("E4").as_deref(), Some("e4"));
        assert_eq!(certain_start("qd4"), None, "no legal move");
        assert_eq!(certain_start("BC4"), None, "a bishop's move or a pawn's");
    }

    #[test]
    fn what_is_far_from_every_move_has_no_near_miss() {
        for word in ["hello", "O-O-O", "x", "a", "as", "to"] {
            assert_eq!(near_start(word), [""; 0], "{word}");
        }
        assert_eq!(near_start("e9"), ["e3", "e4"]);
    }

    #[test]
    fn two_moves_without_a_space_are_found_by_where_they_can_be_cut() {
        let cuts = |word| together(&Chess::default(), word, Letters::ENGLISH);
        assert_eq!(cuts("e4e5"), [("e4", "e5")]);
        assert_eq!(cuts("Nf3Nc6"), [("Nf3", "Nc6")]);
        assert_eq!(cuts("e4e4"), []);
        assert_eq!(cuts("e2e5"), []);
    }
}
