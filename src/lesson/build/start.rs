//! Where a game starts: the usual array, or the position that its tags give.

use crate::lesson::rules::fen;
use crate::notation::{Game, Tag};
use crate::text::{Code, Finding, Findings, Source, Span, find, quote};
use core::ops::Range;
use shakmaty::{CastlingMode, Chess, Color, FromSetup, PositionErrorKinds, Setup, Square};

/// The start of a game; `None`, with a finding, where it is not ordinary chess or its FEN
/// cannot be used.
pub fn start(source: &Source, game: &Game, findings: &mut Findings) -> Option<Chess> {
    let tag = |name: &str| game.tags.iter().find(|tag| source.slice(tag.name) == name);
    if let Some(variant) = tag("Variant")
        && !["standard", "chess", "normal", "from position"]
            .contains(&variant.value.to_ascii_lowercase().as_str())
    {
        findings.push(other_chess(variant.value_span, &variant.value));
        return None;
    }
    let Some(fen) = tag("FEN") else {
        return Some(Chess::default());
    };
    let position = position(source, fen, findings)?;
    if tag("SetUp").is_none() {
        let before = Span::new(fen.span.from as usize, fen.span.from as usize);
        findings.push(
            Finding::new(
                Code::SetUpMissing,
                fen.span,
                "a game with a start position has the tag SetUp too".to_owned(),
            )
            .with_help("write `[SetUp \"1\"]` before it (PGN standard, 9.7.1)".to_owned())
            .with_fix(before, "[SetUp \"1\"]\n".to_owned()),
        );
    }
    Some(position)
}

fn other_chess(span: Span, name: &str) -> Finding {
    let message = format!(
        "this is a game of {}; plyline reads ordinary chess only",
        quote(name)
    );
    Finding::new(Code::OtherChess, span, message)
}

#[allow(
    clippy::result_large_err,
    reason = "shakmaty hands the position back in its errors"
)]
fn position(source: &Source, tag: &Tag, findings: &mut Findings) -> Option<Chess> {
    let setup = match fen::read(tag.value.trim()) {
        Ok(setup) => setup,
        Err(field) => {
            let slip = fen::slip(&tag.value, field);
            let place = within(source, tag, slip.place);
            findings.push(
                Finding::new(Code::BadFen, place, slip.message).with_help(
                    "a FEN has six fields: pieces, side to move, castling, en passant square, \
                     half-move clock, move number (PGN standard, 16.1.3)"
                        .to_owned(),
                ),
            );
            return None;
        }
    };
    let castles_elsewhere = CastlingMode::detect(&setup) == CastlingMode::Chess960
        && !speaks_of_home(&tag.value, &setup);
    let mut result = Chess::from_setup(setup, CastlingMode::Standard);
    if let Err(error) = &result
        && error
            .kinds()
            .contains(PositionErrorKinds::INVALID_CASTLING_RIGHTS)
    {
        if castles_elsewhere {
            findings.push(other_chess(tag.value_span, "chess from another array"));
            return None;
        }
        findings.push(Finding::new(
            Code::CastlingRight,
            tag.value_span,
            "this FEN gives a right to castle, but king or rook is not on its first square"
                .to_owned(),
        ));
    }
    // These do not matter for a lesson: the move list is still well defined.
    result = result
        .or_else(|error| error.ignore_invalid_castling_rights())
        .or_else(|error| error.ignore_invalid_ep_square())
        .or_else(|error| error.ignore_too_much_material())
        .or_else(|error| error.ignore_impossible_check());
    match result {
        Ok(position) => Some(position),
        Err(error) => {
            let message = format!("this position cannot occur: {}", reason(error.kinds()));
            findings.push(Finding::new(
                Code::ImpossiblePosition,
                tag.value_span,
                message,
            ));
            None
        }
    }
}

/// Whether the rights to castle are written as ordinary chess writes them, and the kings of
/// those sides stand on e1 and e8: then it is only a rook that is not where it belongs.
fn speaks_of_home(fen: &str, setup: &Setup) -> bool {
    let fields = fen::fields(fen);
    let is_home = |letter: char| {
        let side = Color::from_white(letter.is_ascii_uppercase());
        let home = side.fold_wb(Square::E1, Square::E8);
        matches!(letter, 'K' | 'Q' | 'k' | 'q') && setup.board.king_of(side) == Some(home)
    };
    fields
        .get(2)
        .is_some_and(|(_, rights)| rights.chars().all(is_home))
}

/// The place of a part of a tag's value; all of the value where it is written with backslashes.
fn within(source: &Source, tag: &Tag, part: Option<Range<usize>>) -> Span {
    let written = source.slice(tag.value_span);
    match (part, find(written, &tag.value)) {
        (Some(part), Some(at)) => {
            let from = tag.value_span.from as usize + at;
            Span::new(from + part.start, from + part.end)
        }
        _ => tag.value_span,
    }
}

fn reason(kinds: PositionErrorKinds) -> &'static str {
    if kinds.contains(PositionErrorKinds::EMPTY_BOARD) {
        "the board is empty"
    } else if kinds.contains(PositionErrorKinds::MISSING_KING) {
        "a king is missing"
    } else if kinds.contains(PositionErrorKinds::TOO_MANY_KINGS) {
        "one side has more than one king"
    } else if kinds.contains(PositionErrorKinds::PAWNS_ON_BACKRANK) {
        "a pawn stands on the first or the eighth rank"
    } else if kinds.contains(PositionErrorKinds::OPPOSITE_CHECK) {
        "the side that is not to move is in check"
    } else {
        "the rules do not allow it"
    }
}
