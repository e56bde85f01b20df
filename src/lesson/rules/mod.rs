//! What shakmaty is asked: which legal move a shape means, how a move is written, and how a
//! position is written. Nothing here knows a text or a tree.

pub mod fen;
mod square;

pub use self::square::{landing, origin, push_square, square_name};
use super::compact::SanText;
use crate::notation::word::san::{Kind, Shape};
use shakmaty::san::San;
use shakmaty::{
    CastlingMode, CastlingSide, Chess, EnPassantMode, FromSetup, Move, Position, Role, Square,
};

/// Why a shape means no single legal move.
#[derive(Clone, Debug)]
pub enum Refusal {
    /// No legal move has this shape.
    Impossible,
    /// Several have; these.
    Ambiguous(Vec<Move>),
    /// It would be a promotion, and the word does not say to what.
    PromotionMissing,
}

/// The legal move that a shape means here, and how SAN writes it, but for check signs. A pass
/// is no move; see [`pass`].
pub fn resolve(position: &Chess, shape: &Shape) -> Result<(Move, San), Refusal> {
    match shape.kind {
        Kind::Pass => Err(Refusal::Impossible),
        Kind::Castle(side) => {
            let moves = position.castling_moves(side);
            let only = moves.first().copied().ok_or(Refusal::Impossible)?;
            Ok((only, San::Castle(side)))
        }
        Kind::Piece {
            role,
            file,
            rank,
            to,
            promotion,
        } => {
            let from = file
                .zip(rank)
                .map(|(file, rank)| Square::from_coords(file, rank));
            let role = match role {
                Some(role) => role,
                // `e2e4`: the square says which piece. The king's two squares castle.
                None => match from.and_then(|from| position.board().role_at(from)) {
                    Some(Role::King) => return king_move(position, from, to),
                    Some(role) => role,
                    None => return Err(Refusal::Impossible),
                },
            };
            let candidates = position.san_candidates(role, to);
            // A pawn's word without a file is a push, unless it says that it captures.
            let file = match role == Role::Pawn && file.is_none() && !shape.capture {
                true => Some(to.file()),
                false => file,
            };
            let fits = |m: &&Move| {
                m.from().is_some_and(|from| {
                    file.is_none_or(|file| file == from.file())
                        && rank.is_none_or(|rank| rank == from.rank())
                })
            };
            let mut exact = candidates
                .iter()
                .filter(fits)
                .filter(|m| m.promotion() == promotion);
            match (exact.next(), exact.next()) {
                (Some(&only), None) => Ok((only, San::disambiguate(only, &candidates))),
                (Some(&one), Some(&other)) => {
                    let mut all = vec![one, other];
                    for &another in exact {
                        all.push(another);
                    }
                    Err(Refusal::Ambiguous(all))
                }
                (None, _) if promotion.is_none() && candidates.iter().any(|m| fits(&m)) => {
                    Err(Refusal::PromotionMissing)
                }
                (None, _) => Err(Refusal::Impossible),
            }
        }
    }
}

/// A king's move by squares: one step, or castling written as the king's two squares.
fn king_move(position: &Chess, from: Option<Square>, to: Square) -> Result<(Move, San), Refusal> {
    let steps = position.san_candidates(Role::King, to);
    if let Some(step) = steps.iter().find(|m| m.from() == from).copied() {
        return Ok((step, San::disambiguate(step, &steps)));
    }
    for side in [CastlingSide::KingSide, CastlingSide::QueenSide] {
        let moves = position.castling_moves(side);
        if let Some(castle) = moves
            .iter()
            .find(|m| m.from() == from && landing(**m) == to)
        {
            return Ok((*castle, San::Castle(side)));
        }
    }
    Err(Refusal::Impossible)
}

/// The legal move that SAN of a game means; none if there is no single one.
pub fn meant(position: &Chess, san: &San) -> Option<Move> {
    san.to_move(position).ok()
}

/// The legal moves of a position.
#[cfg(any(not(target_family = "wasm"), feature = "answers"))]
pub fn moves(position: &Chess) -> shakmaty::MoveList {
    position.legal_moves()
}

/// The position after a legal move.
pub fn after(position: &Chess, played: Move) -> Chess {
    let mut after = position.clone();
    after.play_unchecked(played);
    after
}

/// A legal move in English SAN, with `+` or `#` where it belongs.
pub fn san_of(position: &Chess, played: Move) -> String {
    let candidates = position.san_candidates(played.role(), played.to());
    let after = after(position, played);
    let san = San::disambiguate(played, &candidates);
    SanText::new(san, check_sign(&after)).as_str().to_owned()
}

/// `+` where the side to move is in check, `#` where it is mated, else none. Mate is looked for only
/// after check, which is rare.
pub fn check_sign(after: &Chess) -> Option<u8> {
    let check = after.is_check();
    check.then(|| match after.legal_moves().is_empty() {
        true => b'#',
        false => b'+',
    })
}

/// A move as UCI writes it: two squares and what a pawn becomes; castling is the king's two
/// squares, `0000` a pass.
pub fn uci(played: Option<Move>) -> String {
    let Some(played) = played else {
        return "0000".to_owned();
    };
    let mut text = String::new();
    push_square(&mut text, origin(played));
    push_square(&mut text, landing(played));
    if let Some(role) = played.promotion() {
        text.push(role.char());
    }
    text
}

/// The position after a pass: the other side is to move, no en passant, the half-move clock
/// one higher and, after Black's, the move number. None while in check, because then a pass would
/// leave the king to be taken.
#[allow(
    clippy::result_large_err,
    reason = "shakmaty hands the position back in its errors"
)]
pub fn pass(position: &Chess) -> Option<Chess> {
    if position.is_check() {
        return None;
    }
    let mut setup = position.to_setup(EnPassantMode::Legal);
    setup.halfmoves = setup.halfmoves.saturating_add(1);
    if setup.turn.is_black() {
        setup.fullmoves = setup.fullmoves.saturating_add(1);
    }
    setup.turn = !setup.turn;
    setup.ep_square = None;
    let passed = Chess::from_setup(setup, CastlingMode::Standard);
    passed
        .or_else(|error| error.ignore_too_much_material())
        .ok()
}

/// A position by the first four fields of its FEN: equal keys are equal positions.
pub type Key = [u64; 10];

/// The key of a position.
pub fn key(position: &Chess) -> Key {
    let board = position.board();
    let mut key = [0; 10];
    for (at, role) in Role::ALL.into_iter().enumerate() {
        key[at] = board.by_role(role).0;
    }
    key[6] = board.by_color(shakmaty::Color::White).0;
    key[7] = position.castles().castling_rights().0;
    key[8] = position
        .legal_ep_square()
        .map_or(64, |square| square as u64);
    key[9] = u64::from(position.turn().is_white());
    key
}

/// When a FEN names an en passant square.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EnPassantForm {
    /// Only where the capture is legal: plyline's own form.
    Legal,
    /// After every double step (PGN standard, 16.1.3.4).
    Standard,
}

/// All six fields of the position.
pub fn fen(position: &Chess, form: EnPassantForm) -> String {
    let mode = match form {
        EnPassantForm::Legal => EnPassantMode::Legal,
        EnPassantForm::Standard => EnPassantMode::Always,
    };
    self::fen::write(position, mode)
}

/// The first four fields of the position's FEN: what it is, whatever led to it.
pub fn position_name(position: &Chess) -> String {
    let mut name = fen(position, EnPassantForm::Legal);
    // The half-move clock is after the fourth space.
    let mut fields = 0;
    let length = crate::text::run(&name, |byte| {
        fields += u32::from(byte == b' ');
        fields < 4
    });
    name.truncate(length);
    name
}

/// How many sequences of legal moves of this length there are: the usual way to count a move
/// generator against published numbers.
pub fn count_paths(position: &Chess, depth: u32) -> u64 {
    let moves = position.legal_moves();
    match depth {
        0 => 1,
        1 => moves.len() as u64,
        _ => moves
            .iter()
            .map(|&played| {
                let mut after = position.clone();
                after.play_unchecked(played);
                count_paths(&after, depth - 1)
            })
            .sum(),
    }
}
