//! What a move does, in the words of a teacher: the first hint, before the piece and the square are
//! named. Every idea is computed and holds; where none does, there is none.

use super::rules::{landing, origin};
use shakmaty::{Bitboard, Board, Chess, Color, Move, Position, Role, Square};

/// What a move does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Idea {
    /// It mates.
    Mate,
    /// It takes a piece or a pawn on this square, and nothing can legally take back.
    Unguarded(Square),
    /// The piece that moved attacks two pieces: each is worth more than it, or has no guard.
    AttacksTwo,
    /// It gives check.
    Check,
    /// It attacks a piece that is pinned to its king, on this square.
    Pinned(Square),
    /// It guards a piece or a pawn of its side, on this square, that was attacked and had no guard.
    Guards(Square),
}

/// The idea of a legal move; of several the most forcing.
pub fn idea(position: &Chess, played: Move) -> Option<Idea> {
    let to = landing(played);
    let mut after = position.clone();
    after.play_unchecked(played);
    if after.is_checkmate() {
        return Some(Idea::Mate);
    }
    let (own, other) = (position.turn(), !position.turn());
    let takes_back = || {
        after
            .legal_moves()
            .iter()
            .any(|it| it.is_capture() && it.to() == to)
    };
    if played.is_capture() && !played.is_en_passant() && !takes_back() {
        return Some(Idea::Unguarded(to));
    }
    if attacks_two(&after, to, own) {
        return Some(Idea::AttacksTwo);
    }
    if after.is_check() {
        return Some(Idea::Check);
    }
    let board = after.board();
    let newly = board.attacks_from(to) & !position.board().attacks_from(origin(played));
    let pinned = pinned(position, other) & pinned(&after, other) & newly;
    if let Some(square) = pinned.first() {
        return Some(Idea::Pinned(square));
    }
    let loose = |position: &Chess| {
        let board = position.board();
        let of_own = board.by_color(own) & !board.kings();
        of_own & attacked_by(position, other) & !attacked_by(position, own)
    };
    // What has moved away is no longer there to be guarded.
    let guarded = loose(position) & board.by_color(own) & attacked_by(&after, own);
    let guarded = guarded & !Bitboard::from(to);
    guarded.first().map(Idea::Guards)
}

/// All squares that the pieces of a side attack, those of their own pieces too.
fn attacked_by(position: &Chess, side: Color) -> Bitboard {
    let board = position.board();
    let mut all = Bitboard::EMPTY;
    for from in board.by_color(side) {
        all |= board.attacks_from(from);
    }
    all
}

/// The squares of the pieces of a side that are pinned to its king.
fn pinned(position: &Chess, side: Color) -> Bitboard {
    let mut pinned = Bitboard::EMPTY;
    for (square, _) in pins(position, side) {
        pinned |= Bitboard::from(square);
    }
    pinned
}

/// The pieces of a side that stand alone between their king and a piece that attacks in lines, each
/// with that piece, by their squares.
pub fn pins(position: &Chess, side: Color) -> Vec<(Square, Square)> {
    let board = position.board();
    match board.king_of(side) {
        Some(king) => shields(board, board.by_color(side), king, board.by_color(!side)),
        None => Vec::new(),
    }
}

/// The same before their queens: what a bishop or a rook attacks through them, as neither gives
/// up as much as it would take. What cannot move by the rules is among [`pins`].
pub fn queen_pins(position: &Chess, side: Color) -> Vec<(Square, Square)> {
    let board = position.board();
    let own = board.by_color(side);
    let by = board.by_color(!side) & !board.queens();
    let mut pins = Vec::new();
    for queen in board.queens() & own {
        pins.append(&mut shields(board, own & !board.kings(), queen, by));
    }
    pins
}

/// Which of these pieces stand alone between a square and one of those that attack in lines, each
/// with that one.
pub fn shields(
    board: &Board,
    own: Bitboard,
    behind: Square,
    by: Bitboard,
) -> Vec<(Square, Square)> {
    let mut pins = Vec::new();
    let straight =
        shakmaty::attacks::rook_attacks(behind, Bitboard::EMPTY) & board.rooks_and_queens();
    let slanted =
        shakmaty::attacks::bishop_attacks(behind, Bitboard::EMPTY) & board.bishops_and_queens();
    for from in by & (straight | slanted) {
        let between = shakmaty::attacks::between(behind, from) & board.occupied();
        if let Some(square) = between.single_square()
            && own.contains(square)
        {
            pins.push((square, from));
        }
    }
    pins
}

/// What pieces are worth to each other: common practice, no source.
pub fn worth(role: Role) -> u8 {
    match role {
        Role::Pawn => 1,
        Role::Knight | Role::Bishop => 3,
        Role::Rook => 5,
        Role::Queen => 9,
        Role::King => 100,
    }
}

fn attacks_two(after: &Chess, from: Square, own: Color) -> bool {
    let board = after.board();
    let Some(role) = board.role_at(from) else {
        return false;
    };
    let targets = board.attacks_from(from) & board.by_color(!own);
    let mut count = 0;
    for square in targets {
        let target = board.role_at(square).map_or(0, worth);
        let guards = board.attacks_to(square, !own, board.occupied());
        let is_piece = board.role_at(square) != Some(Role::Pawn);
        count += u8::from(is_piece && (target > worth(role) || guards.is_empty()));
    }
    count > 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lesson::{Attempt, attempt_word};
    use crate::notation::Letters;
    use shakmaty::CastlingMode;
    use shakmaty::fen::Fen;

    #[track_caller]
    fn assert_idea(fen: &str, word: &str, wanted: Option<Idea>) {
        let fen: Fen = fen.parse().expect("a FEN");
        let position: Chess = fen
            .into_position(CastlingMode::Standard)
            .expect("a position");
        let Attempt::Played(tried) = attempt_word(&position, word, Letters::ENGLISH) else {
            panic!("{word} is legal");
        };
        assert_eq!(
            idea(&position, tried.played.expect("a move")),
            wanted,
            "{word}"
        );
    }

    #[test]
    fn a_move_that_mates_or_takes_what_nothing_guards_says_so() {
        assert_idea(
            "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1",
            "Rd8",
            Some(Idea::Mate),
        );
        let loose = "6k1/5ppp/8/3n4/8/8/5PPP/3R2K1 w - - 0 1";
        assert_idea(loose, "Rxd5", Some(Idea::Unguarded(Square::D5)));
        assert_idea("6k1/5ppp/4p3/3n4/8/8/5PPP/3R2K1 w - - 0 1", "Rxd5", None);
    }

    #[test]
    fn a_move_that_attacks_two_pieces_comes_before_a_check() {
        let fork = "r3k3/8/8/3N4/8/8/8/4K3 w - - 0 1";
        assert_idea(fork, "Nc7", Some(Idea::AttacksTwo));
        assert_idea("4k3/8/8/3N4/8/8/8/4K3 w - - 0 1", "Nc7", Some(Idea::Check));
    }

    #[test]
    fn a_move_against_a_pinned_piece_or_for_an_attacked_one_says_so() {
        // The knight on d7 stands between the bishop on b5 and the king.
        let pin = "4k3/3n4/8/1B6/8/8/8/R3K3 w - - 0 1";
        assert_idea(pin, "Ra7", Some(Idea::Pinned(Square::D7)));
        let hangs = "4k3/8/8/4r3/4N3/8/3P4/4K3 w - - 0 1";
        assert_idea(hangs, "d3", Some(Idea::Guards(Square::E4)));
        assert_idea("4k3/8/8/8/8/8/3P4/4K3 w - - 0 1", "d3", None);
    }
}
