//! Answers to questions about the pieces on the board.

use super::moved::capital;
use super::wording::{cell, describe_board, piece, role};
use super::{Word, Words, add};
use crate::lesson::rules::square_name;
use crate::lesson::{attackers, enumerate, pins, queen_pins, reach, worth};
use crate::text::{Listed, join, split};
use crate::view::reader::intent::{Asked, Pieces};
use shakmaty::{Bitboard, Chess, Color, Piece, Position, Role, Square};

/// The pieces that a question is about.
fn meant(position: &Chess, pieces: Pieces) -> Bitboard {
    let board = position.board();
    let mut all = board.occupied();
    if let Some(color) = pieces.color {
        all &= board.by_color(color);
    }
    if let Some(role) = pieces.role {
        all &= board.by_role(role);
    }
    if let Some(square) = pieces.square {
        all &= Bitboard::from(square);
    }
    all
}

/// What is said where no such piece is: that, and what is on the square.
fn none_there(words: &Words, position: &Chess, pieces: Pieces) -> String {
    let mut text = String::new();
    if let Some(kind) = pieces.role {
        let name = match pieces.color {
            Some(color) => piece(words, Piece { color, role: kind }),
            None => role(words, kind),
        };
        let at = pieces.square.map(square_name).unwrap_or_default();
        let name = join(&[name, &at], " ");
        text = words.fill(Word::NotThere, &[("piece", name.trim_end())]);
    }
    if let Some(square) = pieces.square {
        text.push_str(if text.is_empty() { "" } else { " " });
        text.push_str(&cell(words, position, square));
        text.push('.');
    }
    text
}

/// The answer to a question about pieces.
pub(super) fn answer(words: &Words, position: &Chess, asked: Asked, pieces: Pieces) -> String {
    let say = match asked {
        Asked::Places => return found(words, position, pieces),
        Asked::Pins => return pinned(words, position, pieces),
        Asked::Moves => return reached(words, position, pieces),
        Asked::Attackers => attacked,
        Asked::Guards => guarded,
    };
    match pieces.square {
        Some(square) if pieces.role.is_none() => say(words, position, square),
        _ => each(words, position, pieces, &|at| say(words, position, at)),
    }
}

/// Where pieces are: `White: knight b1, knight g1.`
fn found(words: &Words, position: &Chess, pieces: Pieces) -> String {
    let all = meant(position, pieces);
    if all.is_empty() {
        return none_there(words, position, pieces);
    }
    let mut board = position.board().clone();
    for square in !all {
        board.discard_piece_at(square);
    }
    describe_board(words, &board) + "."
}

/// What is said of each of the pieces, as sentences in a row; empty where nothing is said of them.
fn each(words: &Words, position: &Chess, pieces: Pieces, say: &dyn Fn(Square) -> String) -> String {
    let all = meant(position, pieces);
    if all.is_empty() {
        return none_there(words, position, pieces);
    }
    let mut text = String::new();
    for square in all {
        add(&mut text, &say(square));
    }
    text
}

/// A text, or another where it is empty.
fn or(text: String, words: &Words, other: Word) -> String {
    match text.is_empty() {
        true => words.get(other).to_owned(),
        false => text,
    }
}

/// What attacks a square. Where a piece is there, its own side does not attack it but guards
/// it, which is said too.
fn attacked(words: &Words, position: &Chess, square: Square) -> String {
    let (none, some) = (Word::NothingAttacks, Word::Attacks);
    let Some(on) = position.board().piece_at(square) else {
        return bearing(words, position, square, &Color::ALL, (none, some));
    };
    let mut text = bearing(words, position, square, &[!on.color], (none, some));
    text.push(' ');
    text.push_str(&guarded(words, position, square));
    text
}

/// What guards a square: pieces of the side that has one there.
fn guarded(words: &Words, position: &Chess, square: Square) -> String {
    let sides = (Word::NothingGuards, Word::Guards);
    match position.board().piece_at(square) {
        Some(on) => bearing(words, position, square, &[on.color], sides),
        None => bearing(words, position, square, &Color::ALL, sides),
    }
}

/// A sentence about the pieces of these sides that bear on a square: that there are none, or
/// which, and which of them are pinned.
fn bearing(
    words: &Words,
    position: &Chess,
    square: Square,
    sides: &[Color],
    (none, some): (Word, Word),
) -> String {
    let mut pieces = Vec::new();
    for &color in sides {
        for from in attackers(position, square, color) {
            let mut name = standing(words, position, from);
            if let Some(&(to, _)) = pinned_by(position, from).first() {
                name.push_str(&words.fill(Word::IsPinned, &[("to", role(words, to))]));
            }
            pieces.push(name);
        }
    }
    let name = square_name(square);
    match pieces.is_empty() {
        true => words.fill(none, &[("square", &name)]),
        false => {
            let pieces = enumerate(pieces, words.get(Word::And));
            words.fill(some, &[("square", &name), ("pieces", &pieces)])
        }
    }
}

/// A piece and its square: `white knight f3`.
fn standing(words: &Words, position: &Chess, square: Square) -> String {
    let on = position.board().piece_at(square);
    join(
        &[on.map_or("", |on| piece(words, on)), &square_name(square)],
        " ",
    )
}

/// What the piece on a square is pinned to, and by what: to its king first.
fn pinned_by(position: &Chess, square: Square) -> Vec<(Role, Square)> {
    let mut all = Vec::new();
    if let Some(color) = position.board().color_at(square) {
        for (pins, to) in [
            (pins(position, color), Role::King),
            (queen_pins(position, color), Role::Queen),
        ] {
            for (pinned, by) in pins {
                if pinned == square {
                    all.push((to, by));
                }
            }
        }
    }
    all
}

/// Which pieces are pinned to their king or queen, and by what; of a kind or a square, which are not
/// too.
fn pinned(words: &Words, position: &Chess, pieces: Pieces) -> String {
    let is_named = pieces.role.is_some() || pieces.square.is_some();
    let say = |square: Square| {
        let name = capital(&standing(words, position, square));
        let mut text = String::new();
        for (to, by) in pinned_by(position, square) {
            let by = standing(words, position, by);
            let values = [("piece", &*name), ("to", role(words, to)), ("by", &by)];
            add(&mut text, &words.fill(Word::PinnedBy, &values));
        }
        if text.is_empty() && is_named {
            text = words.fill(Word::NotPinned, &[("piece", &name)]);
        }
        text
    };
    or(
        each(words, position, pieces, &say),
        words,
        Word::NothingPinned,
    )
}

/// Where pieces can legally go. Of both sides the one to move is meant; of a whole side, the pieces
/// that can move.
fn reached(words: &Words, position: &Chess, pieces: Pieces) -> String {
    let own = Pieces {
        color: pieces.color.or(Some(position.turn())),
        ..pieces
    };
    let pieces = match meant(position, own).is_empty() {
        true => pieces,
        false => own,
    };
    let is_side = pieces.role.is_none() && pieces.square.is_none();
    if is_side && pieces.color != Some(position.turn()) {
        return words.get(Word::NotTurn).to_owned();
    }
    let say = |square: Square| match is_side && reach(position, square).is_empty() {
        true => String::new(),
        false => cell(words, position, square) + ". " + &goes(words, position, square),
    };
    or(each(words, position, pieces, &say), words, Word::NoneMoves)
}

/// Where a piece can go; of the side that is not to move, that.
pub(super) fn goes(words: &Words, position: &Chess, from: Square) -> String {
    if position.board().color_at(from) == Some(!position.turn()) {
        return words.get(Word::NotTurn).to_owned();
    }
    let squares: Vec<String> = reach(position, from).into_iter().map(square_name).listed();
    match squares.is_empty() {
        true => words.get(Word::NoReachSaid).to_owned(),
        false => {
            let squares = enumerate(squares, words.get(Word::And));
            words.fill(Word::ReachSaid, &[("squares", &squares)])
        }
    }
}

/// What each side has beside its king, and what it is worth by common practice: 1, 3, 3, 5 and 9
/// pawns.
pub(super) fn material(words: &Words, position: &Chess) -> String {
    let mut text = String::new();
    let mut sums = [0, 0];
    let plurals = split(words.get(Word::Plurals), b' ').listed();
    for (at, color) in Color::ALL.into_iter().enumerate() {
        text.push_str(words.get(color.fold_wb(Word::White, Word::Black)));
        let mut has = Vec::new();
        for (row, kind) in Role::ALL.into_iter().take(5).enumerate() {
            let of = Piece { color, role: kind };
            let count = position.board().by_piece(of).count();
            sums[at] += count * usize::from(worth(kind)); // two sides, two sums
            match count {
                0 => {}
                1 => has.push(role(words, kind).to_owned()),
                _ => has.push(count.to_string() + " " + plurals.get(row).unwrap_or(&"")),
            }
        }
        has.reverse();
        text.push_str(&match has.is_empty() {
            true => role(words, Role::King).to_owned(),
            false => join(&has, ", "),
        });
    }
    let [white, black] = sums;
    let ahead = match () {
        () if white > black => Word::WhiteAhead,
        () if white < black => Word::BlackAhead,
        () => Word::NoneAhead,
    };
    let (count, white, black) = (
        white.abs_diff(black).to_string(),
        white.to_string(),
        black.to_string(),
    );
    text.push_str(". ");
    text.push_str(&words.fill(Word::InPawns, &[("white", &white), ("black", &black)]));
    text.push_str(&words.fill(ahead, &[("count", &count)]));
    text
}
