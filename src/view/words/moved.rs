//! A move in a spoken sentence.

use super::wording::{piece, role};
use super::{Word, Words};
use crate::lesson::rules::{landing, origin, square_name};
use crate::notation::word::nag;
use crate::view::reader::state::Last;
use shakmaty::{Move, Piece, Position};

/// A move in a spoken sentence, without its period.
pub fn move_said(words: &Words, last: &Last) -> String {
    let white = last.before.turn().is_white();
    let mut text = match last.played {
        None => words
            .get(if white {
                Word::WhitePasses
            } else {
                Word::BlackPasses
            })
            .to_owned(),
        Some(Move::Castle { king, rook }) => {
            let short = rook.file() > king.file();
            let word = match (white, short) {
                (true, true) => Word::WhiteCastlesShort,
                (true, false) => Word::WhiteCastlesLong,
                (false, true) => Word::BlackCastlesShort,
                (false, false) => Word::BlackCastlesLong,
            };
            words.get(word).to_owned()
        }
        Some(played) => {
            let mover = Piece {
                color: last.before.turn(),
                role: played.role(),
            };
            let word = if played.is_capture() {
                Word::Takes
            } else {
                Word::Moves
            };
            let (from, to) = (square_name(origin(played)), square_name(landing(played)));
            let mut text = words.fill(
                word,
                &[("piece", piece(words, mover)), ("from", &from), ("to", &to)],
            );
            if let Some(kind) = played.promotion() {
                text.push_str(&words.fill(Word::Becomes, &[("piece", role(words, kind))]));
            }
            capital(&text)
        }
    };
    match last.san.as_bytes().last() {
        Some(b'#') => text.push_str(words.get(Word::Mate)),
        Some(b'+') => text.push_str(words.get(Word::Check)),
        _ => {}
    }
    for &nag in last.nags {
        text.push_str(sign_said(words, nag));
    }
    text
}

/// What a sign says, after a comma.
pub(crate) fn sign_said(words: &Words, nag: u8) -> &str {
    // One word for each sign that is drawn.
    words.get(match nag::sign(nag) {
        "!" => Word::Good,
        "?" => Word::Mistake,
        "!!" => Word::VeryGood,
        "??" => Word::Blunder,
        "!?" => Word::Thought,
        "?!" => Word::Doubtful,
        "\u{25a1}" => Word::Only,
        "=" => Word::Level,
        "\u{221e}" => Word::Unclear,
        "+=" => Word::WhiteLittle,
        "=+" => Word::BlackLittle,
        "\u{b1}" => Word::WhiteBetter,
        "\u{2213}" => Word::BlackBetter,
        "+\u{2212}" => Word::WhiteWins,
        "\u{2212}+" => Word::BlackWins,
        _ => return "",
    })
}

/// With its first letter large.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_ascii_uppercase().to_string() + letters.as_str(),
        None => String::new(),
    }
}
