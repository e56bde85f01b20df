//! What is won or lost by force.

use plyline::search::{Leaf, MATE, balance, exchange, gain, value};
use shakmaty::fen::Fen;
use shakmaty::san::SanPlus;
use shakmaty::{CastlingMode, Chess, Move, Position, Square};

/// Enough positions for what is looked for here.
const BUDGET: u64 = 200_000;

fn position(fen: &str) -> Chess {
    let fen: Fen = fen.parse().expect("a FEN");
    fen.into_position(CastlingMode::Standard)
        .expect("a legal position")
}

/// The moves of a line in SAN.
fn sans(position: &Chess, line: &[Move]) -> Vec<String> {
    let mut position = position.clone();
    let mut list = Vec::new();
    for &played in line {
        list.push(SanPlus::from_move_and_play_unchecked(&mut position, played).to_string());
    }
    list
}

/// The material at the end of a line, for the side that moves first in it.
fn balance_after(start: &Chess, line: &[Move]) -> i32 {
    let mut position = start.clone();
    for &played in line {
        position.play_unchecked(played);
    }
    match line.len() % 2 {
        0 => balance(&position),
        _ => -balance(&position),
    }
}

#[test]
fn a_mate_in_one_and_in_two_is_found_with_its_moves() {
    for (fen, moves, first) in [
        ("6k1/5ppp/8/8/8/8/8/R3K3 w Q - 0 1", 1, "Ra8#"),
        // The smothered mate (common knowledge of the trade, no source).
        ("r6k/6pp/7N/8/8/1Q6/8/6K1 w - - 0 1", 2, "Qg8+"),
    ] {
        let start = position(fen);
        let found = gain(&start, BUDGET);
        assert_eq!(found.mate, Some(moves), "{fen}");
        let line = sans(&start, &found.line);
        assert_eq!(line.len() as i32, 2 * moves - 1, "{fen}");
        assert!(line.last().is_some_and(|it| it.ends_with('#')), "{line:?}");
        assert_eq!(line[0], first, "{fen}");
    }
}

#[test]
fn who_is_mated_in_n_is_told_so() {
    // The king has two squares, and on each the rook mates.
    let found = gain(&position("7k/R7/8/8/8/8/8/1R4K1 b - - 0 1"), BUDGET);
    assert_eq!(found.mate, Some(-1));
    let over = gain(&position("R5k1/5ppp/8/8/8/8/8/4K3 b - - 0 1"), BUDGET);
    assert_eq!((over.mate, over.line.len()), (Some(0), 0));
}

#[test]
fn a_piece_that_hangs_is_won_and_one_that_is_guarded_is_not() {
    let hangs = position("4k3/8/8/3n4/4P3/3K4/8/8 w - - 0 1");
    let found = gain(&hangs, 2_000);
    assert_eq!((found.pawns, found.mate), (300, None));
    assert_eq!(sans(&hangs, &found.line)[0], "exd5");
    let guarded = gain(&position("4k3/8/4p3/3p4/8/8/3R4/4K3 w - - 0 1"), 2_000);
    assert_eq!(guarded.pawns, 0);
}

#[test]
fn what_is_won_is_what_the_line_shows() {
    // The knight forks king and queen.
    let start = position("q3k3/8/8/3N4/8/8/8/4K3 w - - 0 1");
    let found = gain(&start, 2_000);
    assert_eq!(sans(&start, &found.line)[0], "Nc7+");
    let shown = balance_after(&start, &found.line) - balance(&start);
    assert_eq!((found.pawns, shown), (900, 900));
}

#[test]
fn what_is_lost_by_force_is_below_nothing() {
    // The knight checks, and takes the rook; the king may come to win it back.
    let start = position("r3k3/2N5/8/8/8/8/8/4K3 b - - 0 1");
    let found = gain(&start, BUDGET);
    assert!((-500..0).contains(&found.pawns), "{found:?}");
    let line = sans(&start, &found.line);
    assert!(line.contains(&"Nxa8".to_owned()), "{line:?}");
    let shown = balance_after(&start, &found.line) - balance(&start);
    assert_eq!(found.pawns, shown);
}

#[test]
fn a_budget_of_nothing_knows_nothing_and_says_so() {
    let found = gain(&Chess::default(), 0);
    assert!(!found.complete && found.depth == 0 && found.line.is_empty());
}

#[test]
fn the_same_budget_gives_the_same_answer() {
    let start = position("r1bqkbnr/pppp1ppp/2n5/4p2Q/2B1P3/8/PPPP1PPP/RNB1K1NR b KQkq - 3 3");
    let one = gain(&start, 30_000);
    assert_eq!(gain(&start, 30_000), one);
    assert!(one.depth >= 2, "{one:?}");
}

#[test]
fn stalemate_is_a_draw_whatever_the_material() {
    let stalemate = position("7k/5Q2/6K1/8/8/8/8/8 b - - 0 1");
    assert_eq!(value(&stalemate, 0, Leaf::Standing), 0);
    assert_eq!(value(&stalemate, 3, Leaf::Quiet), 0);
    let mated = position("R5k1/5ppp/8/8/8/8/8/4K3 b - - 0 1");
    assert_eq!(value(&mated, 0, Leaf::Standing), -MATE);
}

#[test]
fn captures_on_one_square_end_where_they_no_longer_gain() {
    let at = |fen: &str, square: Square| exchange(&position(fen), square);
    // A rook takes a pawn that a pawn guards: it would lose four.
    let guarded = "4k3/8/4p3/3p4/8/8/3R4/4K3 w - - 0 1";
    assert_eq!(at(guarded, Square::D5), 0);
    // A pawn takes it: pawn for pawn, and then the rook takes back.
    let twice = "4k3/8/4p3/3p4/2P5/8/3R4/4K3 w - - 0 1";
    assert_eq!(at(twice, Square::D5), 100);
    // The guard is pinned.
    let pinned = "4k3/4n3/8/3p4/8/8/8/3RR1K1 w - - 0 1";
    assert_eq!(at(pinned, Square::D5), 100);
    // A pawn promotes as it takes.
    let promotes = "1n2k3/P7/8/8/8/8/8/4K3 w - - 0 1";
    assert_eq!(at(promotes, Square::B8), 1100);
    assert_eq!(at("4k3/8/8/8/8/8/8/4K3 w - - 0 1", Square::D5), 0);
}
