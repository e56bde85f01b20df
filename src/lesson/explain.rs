//! Why a move cannot be played, in chess terms, computed from the position.

use super::rules::{Refusal, landing, origin, san_of, square_name};
use crate::notation::san::{Kind, Shape};
use crate::text::{Code, Finding, Span};
use shakmaty::{
    Bitboard, CastlingSide, Chess, Color, Move, Piece, Position, Role, Square, attacks,
};

/// Most moves that a help lists; a queen has up to 27, and nobody reads that.
const LISTED: usize = 12;

/// A word that is no move.
pub fn not_a_move(position: &Chess, word: &str, place: Span) -> Finding {
    let message = format!("\u{201c}{}\u{201d} is no move", shorten(word));
    let help = format!(
        "{} is to move here; a move is written like Nf3, exd5 or O-O; words belong in a comment, in {{braces}}",
        side(position.turn())
    );
    Finding::new(Code::NotAMove, place, message).with_help(help)
}

/// A pass while in check.
pub fn pass_in_check(position: &Chess, place: Span) -> Finding {
    let message = format!(
        "{} is in check from {} and cannot pass",
        side(position.turn()),
        pieces_at(position, position.checkers())
    );
    Finding::new(Code::PassInCheck, place, message)
}

/// A move that has no single legal meaning here.
pub fn refused(
    position: &Chess,
    shape: &Shape,
    refusal: &Refusal,
    word: &str,
    place: Span,
) -> Finding {
    match refusal {
        Refusal::Ambiguous(moves) => ambiguous(position, moves, word, place),
        Refusal::PromotionMissing => {
            let message = format!("{word} does not say what the pawn becomes");
            let help = format!("write {word}=Q, or =R, =B, =N");
            Finding::new(Code::CannotPlay, place, message).with_help(help)
        }
        Refusal::Impossible => {
            let (message, help) = reason(position, shape);
            let finding = Finding::new(Code::CannotPlay, place, message);
            match help {
                Some(help) => finding.with_help(help),
                None => finding,
            }
        }
    }
}

fn ambiguous(position: &Chess, moves: &[Move], word: &str, place: Span) -> Finding {
    // A resolved shape that means several moves means several of one kind of piece.
    let role = moves.first().map_or(Role::Pawn, |m| m.role());
    let message = format!("{} can play {word}: {}", many(moves.len(), role), {
        let from = moves.iter().map(|&m| square_name(origin(m)));
        format!("from {}", list(from.collect(), "and"))
    });
    let written = moves.iter().map(|&m| san_of(position, m)).collect();
    Finding::new(Code::Ambiguous, place, message)
        .with_help(format!("write {}", list(written, "or")))
}

fn reason(position: &Chess, shape: &Shape) -> (String, Option<String>) {
    let turn = position.turn();
    match shape.kind {
        // A pass is answered by `pass_in_check` before anyone asks here.
        Kind::Pass => ("this side cannot pass".to_owned(), None),
        Kind::Castle(castling) => (castling_reason(position, castling), None),
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
            let Some(role) = role.or(from.and_then(|from| position.board().role_at(from))) else {
                let from = from.map(square_name).unwrap_or_default();
                return (format!("no piece stands on {from}"), None);
            };
            let ours = position.board().by_piece(Piece { color: turn, role });
            let meant: Vec<Square> = ours
                .into_iter()
                .filter(|square| file.is_none_or(|file| file == square.file()))
                .filter(|square| rank.is_none_or(|rank| rank == square.rank()))
                .collect();
            let message = piece_reason(position, role, &meant, to, shape.capture, promotion)
                .unwrap_or_else(|| none_reaches(turn, role, to));
            let message = match (meant.is_empty(), ours.is_empty()) {
                (_, true) => format!("{} has no {}", side(turn), name(role)),
                (true, _) => format!("no {} stands there", coloured(turn, role)),
                _ => message,
            };
            (message, reachable(position, role, &meant, ours))
        }
    }
}

/// The reason that holds for a piece which would reach the square by its own way of moving.
fn piece_reason(
    position: &Chess,
    role: Role,
    meant: &[Square],
    to: Square,
    capture: bool,
    promotion: Option<Role>,
) -> Option<String> {
    let board = position.board();
    let turn = position.turn();
    let target = square_name(to);
    if let Some(own) = board.piece_at(to).filter(|piece| piece.color == turn) {
        return Some(format!("{} stands on {target} already", a(own.role, turn)));
    }
    if role == Role::Pawn {
        return pawn_reason(position, meant, to, capture, promotion);
    }
    let reaching = |occupied: Bitboard| {
        let piece = Piece { color: turn, role };
        meant
            .iter()
            .copied()
            .find(|&from| attacks::attacks(from, piece, occupied).contains(to))
    };
    if let Some(from) = reaching(board.occupied()) {
        return Some(king_reason(position, role, from, to));
    }
    let from = reaching(Bitboard::EMPTY)?;
    let between = attacks::between(from, to) & board.occupied();
    Some(format!(
        "the {} on {} cannot reach {target}: {} in the way",
        name(role),
        square_name(from),
        stands(position, between)
    ))
}

fn pawn_reason(
    position: &Chess,
    meant: &[Square],
    to: Square,
    capture: bool,
    promotion: Option<Role>,
) -> Option<String> {
    let board = position.board();
    let target = square_name(to);
    let forward = |square: Square| (square.rank() as i32, square.file() as i32);
    for &from in meant {
        let piece = Piece {
            color: position.turn(),
            role: Role::Pawn,
        };
        let (rank, file) = forward(from);
        let (to_rank, to_file) = forward(to);
        let step = if position.turn().is_white() { 1 } else { -1 };
        let home = if position.turn().is_white() { 1 } else { 6 };
        let pushes = file == to_file
            && !capture
            && (to_rank == rank + step || (rank == home && to_rank == rank + 2 * step));
        let takes = attacks::attacks(from, piece, board.occupied()).contains(to);
        if pushes {
            let way = (attacks::between(from, to) | Bitboard::from(to)) & board.occupied();
            return Some(match way.is_empty() {
                true if promotion.is_some() => format!("a pawn on {target} becomes nothing"),
                true => king_reason(position, Role::Pawn, from, to),
                false => format!(
                    "the pawn on {} cannot move to {target}: {} in the way",
                    square_name(from),
                    stands(position, way)
                ),
            });
        }
        if takes && board.piece_at(to).is_some() {
            return Some(king_reason(position, Role::Pawn, from, to));
        }
        if takes && capture {
            return Some(format!(
                "there is nothing on {target} for the pawn on {} to take, and en passant is not possible there",
                square_name(from)
            ));
        }
    }
    None
}

/// Why a move that the piece can make by its own way of moving is not legal: the king.
fn king_reason(position: &Chess, role: Role, from: Square, to: Square) -> String {
    let board = position.board();
    let turn = position.turn();
    let target = square_name(to);
    // Every position of a lesson has both kings; `start` refuses others.
    let Some(king) = board.king_of(turn) else {
        return none_reaches(turn, role, to);
    };
    if role == Role::King {
        let without = board.occupied().without(king);
        let attackers = board.attacks_to(to, !turn, without);
        return format!(
            "the king cannot go to {target}: {} it",
            attack(position, attackers)
        );
    }
    let after = board.occupied().without(from).with(to);
    let pinners = board.attacks_to(king, !turn, after).without(to) & !position.checkers();
    if let Some(pinner) = pinners.first() {
        return format!(
            "the {} on {} is pinned to the king by {}",
            name(role),
            square_name(from),
            piece_at(position, pinner)
        );
    }
    format!(
        "{} is in check from {}, and this move does not answer it",
        side(turn),
        pieces_at(position, position.checkers())
    )
}

fn castling_reason(position: &Chess, castling: CastlingSide) -> String {
    let turn = position.turn();
    let board = position.board();
    let word = match castling {
        CastlingSide::KingSide => "on the king's side",
        CastlingSide::QueenSide => "on the queen's side",
    };
    let who = side(turn);
    if !position.castles().has(turn, castling) {
        return format!("{who} cannot castle {word}: king or rook has moved, or is not there");
    }
    if position.is_check() {
        let from = pieces_at(position, position.checkers());
        return format!("{who} cannot castle out of check, from {from}");
    }
    let way = position.castles().path(turn, castling) & board.occupied();
    if !way.is_empty() {
        return format!(
            "{who} cannot castle {word}: {} in the way",
            stands(position, way)
        );
    }
    let king = board.king_of(turn).unwrap_or(Square::E1);
    let landing = Square::from_coords(castling.king_to_file(), king.rank());
    for square in attacks::between(king, landing).with(landing) {
        let attackers = board.attacks_to(square, !turn, board.occupied());
        if !attackers.is_empty() {
            let attacks = attack(position, attackers);
            return format!(
                "{who} cannot castle {word}: {attacks} {}",
                square_name(square)
            );
        }
    }
    format!("{who} cannot castle {word} here")
}

/// Where the pieces that were meant can go; all pieces of that kind where none was.
fn reachable(position: &Chess, role: Role, meant: &[Square], ours: Bitboard) -> Option<String> {
    let all: Vec<Square> = ours.into_iter().collect();
    let asked = if meant.is_empty() { &all[..] } else { meant };
    let legal = position.legal_moves();
    let mut sentences = Vec::new();
    // Naming the moves of all eight pawns helps nobody.
    if role == Role::Pawn && asked.len() > 2 {
        return None;
    }
    for &from in asked {
        let moves: Vec<String> = legal
            .iter()
            .filter(|m| m.from() == Some(from))
            .map(|&m| square_name(landing(m)))
            .collect();
        let piece = format!("the {} on {}", name(role), square_name(from));
        sentences.push(match moves.len() {
            0 => format!("{piece} has no legal move"),
            count if count > LISTED => format!("{piece} has {count} legal moves"),
            _ => format!("{piece} can go to {}", list(moves, "and")),
        });
    }
    (!sentences.is_empty()).then(|| sentences.join("; "))
}

fn none_reaches(turn: Color, role: Role, to: Square) -> String {
    format!("no {} can reach {}", coloured(turn, role), square_name(to))
}

fn side(color: Color) -> &'static str {
    if color.is_white() { "White" } else { "Black" }
}

fn name(role: Role) -> &'static str {
    match role {
        Role::Pawn => "pawn",
        Role::Knight => "knight",
        Role::Bishop => "bishop",
        Role::Rook => "rook",
        Role::Queen => "queen",
        Role::King => "king",
    }
}

fn coloured(color: Color, role: Role) -> String {
    let colour = if color.is_white() { "white" } else { "black" };
    format!("{colour} {}", name(role))
}

fn a(role: Role, color: Color) -> String {
    match role {
        Role::King | Role::Queen => format!("the {}", coloured(color, role)),
        _ => format!("a {}", coloured(color, role)),
    }
}

fn piece_at(position: &Chess, square: Square) -> String {
    let role = position.board().role_at(square).map_or("piece", name);
    format!("the {role} on {}", square_name(square))
}

fn pieces_at(position: &Chess, squares: Bitboard) -> String {
    let pieces = squares.into_iter().map(|square| piece_at(position, square));
    list(pieces.collect(), "and")
}

fn stands(position: &Chess, squares: Bitboard) -> String {
    let verb = if squares.count() == 1 {
        "stands"
    } else {
        "stand"
    };
    format!("{} {verb}", pieces_at(position, squares))
}

fn attack(position: &Chess, squares: Bitboard) -> String {
    let verb = if squares.count() == 1 {
        "attacks"
    } else {
        "attack"
    };
    format!("{} {verb}", pieces_at(position, squares))
}

fn many(count: usize, role: Role) -> String {
    let number = match count {
        2 => "two",
        3 => "three",
        4 => "four",
        _ => "several",
    };
    format!("{number} {}s", name(role))
}

fn list(mut words: Vec<String>, joint: &str) -> String {
    let last = words.pop().unwrap_or_default();
    match words.is_empty() {
        true => last,
        false => format!("{} {joint} {last}", words.join(", ")),
    }
}

fn shorten(word: &str) -> String {
    let mut short: String = word.chars().take(24).collect();
    if short.len() < word.len() {
        short.push('\u{2026}');
    }
    short
}

#[cfg(test)]
mod tests {
    use super::super::rules;
    use super::*;
    use crate::notation::san;
    use shakmaty::{CastlingMode, fen::Fen};

    /// What is said about a word in a position.
    fn said(fen: &str, word: &str) -> String {
        let fen: Fen = fen.parse().expect("a test's FEN");
        let position: Chess = fen
            .into_position(CastlingMode::Standard)
            .expect("a test's FEN");
        let (shape, _) = san::read(word);
        let shape = shape.expect("a test's word");
        let refusal = rules::resolve(&position, &shape).expect_err("a test's bad move");
        refused(&position, &shape, &refusal, word, Span::default()).message
    }

    const START: &str = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";

    #[test]
    fn each_reason_is_the_true_one() {
        let cases = [
            (START, "Nh4", "no white knight can reach h4"),
            (START, "Ne2", "a white pawn stands on e2 already"),
            (
                START,
                "Bb5",
                "the bishop on f1 cannot reach b5: the pawn on e2 stands in the way",
            ),
            (
                START,
                "exd3",
                "there is nothing on d3 for the pawn on e2 to take, and en passant is not possible there",
            ),
            (START, "e5", "no white pawn can reach e5"),
            (
                START,
                "O-O",
                "White cannot castle on the king's side: the bishop on f1 and the knight on g1 stand in the way",
            ),
            (START, "d5d6", "no piece stands on d5"),
            (
                "4k3/3n4/8/1B6/8/8/8/4K3 b - - 0 1",
                "Nf6",
                "the knight on d7 is pinned to the king by the bishop on b5",
            ),
            (
                "4k3/8/8/8/8/8/4q3/4K2R w K - 0 1",
                "Rh2",
                "White is in check from the queen on e2, and this move does not answer it",
            ),
            (
                "4k3/8/8/8/8/8/q7/4K2R w K - 0 1",
                "Ke2",
                "the king cannot go to e2: the queen on a2 attacks it",
            ),
            (
                "4k3/8/8/8/2b5/8/8/4K2R w K - 0 1",
                "O-O",
                "White cannot castle on the king's side: the bishop on c4 attacks f1",
            ),
            (
                "4k3/8/8/8/8/8/8/4K2R w - - 0 1",
                "O-O",
                "White cannot castle on the king's side: king or rook has moved, or is not there",
            ),
            (
                "4k3/P7/8/8/8/8/8/4K3 w - - 0 1",
                "a8",
                "a8 does not say what the pawn becomes",
            ),
            (
                "4k3/8/8/8/8/8/3R4/R3K3 w - - 0 1",
                "Ra2",
                "two rooks can play Ra2: from a1 and d2",
            ),
            ("4k3/8/8/8/8/8/8/4K3 w - - 0 1", "Qd4", "White has no queen"),
        ];
        for (fen, word, wanted) in cases {
            assert_eq!(said(fen, word), wanted);
        }
    }
}
