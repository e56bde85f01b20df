//! Checks against published texts and numbers; each names its source.

use crate::support::{lesson, read, sans};
use plyline::lesson::rules::{EnPassantForm, count_paths, fen};
use shakmaty::{CastlingMode, Chess};

/// PGN standard (Edwards, 1994-03-12), section 2.3, whole.
const SAMPLE_GAME: &str = include_str!("../../support/sample-game.pgn");

#[test]
fn the_sample_game_of_the_pgn_standard_is_read_whole() {
    let read = read(SAMPLE_GAME);
    assert!(read.findings.is_empty(), "{:?}", read.findings);
    let lesson = read.lessons[0].as_ref().expect("the game");
    assert_eq!(
        lesson.nodes.len(),
        86,
        "42 moves by both sides, one more by White, and the start"
    );
    assert_eq!(lesson.result, "1/2-1/2");
    assert_eq!(lesson.tag("White"), Some("Fischer, Robert J."));
    assert_eq!(lesson.tags.len(), 7);
    // Every move of the sample is written in the export form, so it is written back the same.
    let words = SAMPLE_GAME
        .split(']')
        .next_back()
        .expect("the movetext")
        .split_whitespace();
    let moves: Vec<&str> = words
        .filter(|word| !word.ends_with('.') && !word.starts_with("1/2"))
        .collect();
    assert_eq!(sans(lesson), moves);
}

#[test]
fn the_fen_sequence_of_the_pgn_standard_is_written_in_its_own_form() {
    // PGN standard, section 16.1.4.
    let game = lesson("1. e4 c5 2. Nf3 *");
    let written: Vec<String> = game
        .nodes
        .iter()
        .map(|node| fen(&node.position, EnPassantForm::Standard))
        .collect();
    assert_eq!(
        written,
        [
            "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
            "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 1",
            "rnbqkbnr/pp1ppppp/8/2p5/4P3/8/PPPP1PPP/RNBQKBNR w KQkq c6 0 2",
            "rnbqkbnr/pp1ppppp/8/2p5/4P3/5N2/PPPP1PPP/RNBQKB1R b KQkq - 1 2",
        ]
    );
}

#[test]
fn the_fens_of_the_pgn_standard_are_read() {
    // PGN standard, section 16.1.4; written back in the form that each was given in.
    for text in [
        "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
        "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 1",
        "rnbqkbnr/pp1ppppp/8/2p5/4P3/8/PPPP1PPP/RNBQKBNR w KQkq c6 0 2",
        "rnbqkbnr/pp1ppppp/8/2p5/4P3/5N2/PPPP1PPP/RNBQKB1R b KQkq - 1 2",
        "4k3/8/8/8/8/8/4P3/4K3 w - - 5 39",
    ] {
        let game = lesson(&format!("[SetUp \"1\"]\n[FEN \"{text}\"]\n*"));
        assert_eq!(fen(&game.nodes[0].position, EnPassantForm::Standard), text);
    }
}

#[test]
fn the_move_generator_counts_what_is_published() {
    // Numbers widely published in the chess programming literature: the start position, and
    // the position with castling, en passant, promotion and pins at once. The same counts run
    // in wasm, in web.rs.
    let start = [(1, 20), (2, 400), (3, 8_902), (4, 197_281)];
    let busy = "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq -";
    let fen: shakmaty::fen::Fen = busy.parse().expect("a FEN without clocks");
    let busy: Chess = fen
        .into_position(CastlingMode::Standard)
        .expect("a position");
    for (depth, count) in start {
        assert_eq!(count_paths(&Chess::default(), depth), count);
    }
    for (depth, count) in [(1, 48), (2, 2_039), (3, 97_862)] {
        assert_eq!(count_paths(&busy, depth), count);
    }
}
