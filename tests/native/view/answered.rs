//! Answers to questions about positions by chance, written down for `tests/oracles/answers.py`, which
//! works them out anew with python-chess.

use crate::support::chance::Chance;
use crate::support::lesson;
use plyline::lesson::rules::{EnPassantForm, fen};
use plyline::notation::Letters;
use plyline::view::{Notice, State, Words, actions, spoken, update};
use shakmaty::{Chess, Color, Position, Square};
use std::fmt::Write;
use std::fs;
use std::path::Path;

const GAMES: u64 = 150;
const PLIES: usize = 120;
const KINDS: [&str; 6] = ["pawn", "knight", "bishop", "rook", "queen", "king"];

/// Questions of each kind, about squares and pieces by chance.
fn questions(chance: &mut Chance, at: &Chess) -> Vec<String> {
    let mut list = ["what is pinned", "material", "legal moves"]
        .map(str::to_owned)
        .to_vec();
    for _ in 0..3 {
        let square = Square::ALL[chance.below(64)];
        list.push(format!("what attacks {square}"));
        list.push(format!("what guards {square}"));
    }
    for _ in 0..2 {
        let occupied: Vec<Square> = at.board().occupied().into_iter().collect();
        let square = chance.pick(&occupied);
        let kind = KINDS[at.board().role_at(square).expect("a piece") as usize - 1];
        list.push(format!("moves of the {kind} on {square}"));
        let kind = chance.pick(&KINDS);
        let side = chance.pick(&["white ", "black ", ""]);
        list.push(format!("is the {side}{kind} pinned"));
        list.push(format!("where is the {side}{kind}"));
        list.push(format!("where can the {kind} go"));
    }
    list
}

#[test]
fn every_question_about_a_position_by_chance_has_an_answer() {
    let words = Words::default();
    let mut told = String::new();
    for seed in 1..=GAMES {
        let mut chance = Chance::new(seed);
        let mut at = Chess::default();
        for ply in 0..PLIES {
            let legal = at.legal_moves();
            if legal.is_empty() {
                break;
            }
            at.play_unchecked(legal[chance.below(legal.len())]);
            if ply % 12 != 7 {
                continue;
            }
            let fen = fen(&at, EnPassantForm::Legal);
            let lesson = lesson(&format!("[SetUp \"1\"]\n[FEN \"{fen}\"]\n\n*"));
            let begun = State::new(&lesson, 0, Color::White);
            for text in questions(&mut chance, &at) {
                let meant = actions::meant_at(&words, &lesson, &begun, &text);
                let (state, _) = update(&lesson, &begun, meant, Letters::ENGLISH);
                assert!(matches!(state.notice, Some(Notice::Answer(_))), "{text}");
                let said = spoken::said(&words, &lesson, &state);
                let _ = writeln!(told, "{fen}\t{text}\t{said}");
            }
        }
    }
    assert!(told.contains("(pinned to the king)") && told.contains("is pinned to the king"));
    assert!(told.contains("(pinned to the queen)") && told.contains("is pinned to the queen"));
    if let Ok(folder) = std::env::var("PLYLINE_CHOICES") {
        fs::write(Path::new(&folder).join("answers.txt"), told).expect("a folder to write to");
    }
}
