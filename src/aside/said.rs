//! What is said of a move that was searched. It says what was computed and how far, and never that a move is good or bad.

use super::words::{Word, Words};
use super::{Answer, Asked, Comes};
use crate::lesson::{at_move, numbered, sans};
use crate::notation::Letters;
use crate::search::{Lost, changing, lost, worth};
use shakmaty::{Chess, Color, Move, Position, Role};

/// From so many half-moves after the move on it is told what it loses or wins: in fewer the side that is attacked may not
/// have had the time to defend.
const SURE: u32 = 4;

/// Moves with their numbers as a lesson's readers see them: `7…Qh4+ 8.Ke2 Qf2#`.
pub fn shown(start: &Chess, moves: &[Move], letters: &Letters) -> String {
    let sans = sans(start, moves);
    let sans = sans.iter().map(|san| letters.write(san));
    numbered(at_move(start), "\u{2026}", sans)
}

/// What was found of a move, in sentences; the last says who searched.
pub fn said(words: &Words, asked: &Asked, answer: &Answer, letters: &Letters) -> Vec<String> {
    let mover = asked.aside.position.turn().other();
    let gain = &answer.gain;
    let depth = gain.depth.to_string();
    let depth = [("depth", depth.as_str())];
    let line = |moves: &[Move]| shown(&asked.aside.position, moves, letters);
    let mut sentences = Vec::new();
    if let Some(count) = gain.mate {
        let side = match (count > 0) == mover.is_white() {
            true => Word::Black,
            false => Word::White,
        };
        let values = [
            ("side", words.fill(side, &[])),
            ("count", count.abs().to_string()),
            ("line", line(&gain.line)),
        ];
        sentences.push(fill(words, Word::Mated, &values));
    } else if gain.depth < SURE {
        sentences.push(words.fill(Word::Only, &depth));
    } else {
        let men = |loser| men(words, asked, answer, loser);
        let mut told = |word: Word, loser: Color| {
            let line = line(changing(&gain.line).unwrap_or(&gain.line));
            let values = [("men", men(loser)), ("line", line)];
            sentences.push(fill(words, word, &values));
            sentences.push(words.fill(Word::Depth, &depth));
        };
        match answer.comes {
            Comes::Loses => told(Word::Loses, mover),
            Comes::Wins => told(Word::Wins, mover.other()),
            Comes::Stays => {
                let values = [("men", men(mover)), ("depth", gain.depth.to_string())];
                sentences.push(fill(words, Word::Stays, &values));
            }
            Comes::Nothing => sentences.push(words.fill(Word::Nothing, &depth)),
        }
    }
    sentences.push(words.fill(Word::Source, &[]));
    sentences
}

fn fill(words: &Words, word: Word, values: &[(&str, String)]) -> String {
    let values: Vec<(&str, &str)> = values.iter().map(|(name, it)| (*name, &**it)).collect();
    words.fill(word, &values)
}

/// What a side loses along the line: `a knight`, `as much as 3 pawns`.
fn men(words: &Words, asked: &Asked, answer: &Answer, loser: Color) -> String {
    let (start, moves) = asked.way(answer.comes);
    match lost(start, &moves, loser) {
        Lost::Exchange => words.fill(Word::Exchange, &[]),
        Lost::Men { given, taken } => {
            let given = listed(words, &given);
            match taken.is_empty() {
                true => given,
                false => {
                    let values = [("men", given), ("taken", listed(words, &taken))];
                    fill(words, Word::For, &values)
                }
            }
        }
        Lost::Nothing | Lost::Promoted => match answer.gain.pawns.abs() / worth(Role::Pawn) {
            1 => words.fill(Word::Pawn, &[]),
            count => fill(words, Word::Much, &[("count", count.to_string())]),
        },
    }
}

fn listed(words: &Words, men: &[(Role, u32)]) -> String {
    let mut text = String::new();
    for &(role, count) in men {
        let more = many(words, role, count);
        text = match text.is_empty() {
            true => more,
            false => fill(words, Word::And, &[("men", text), ("more", more)]),
        };
    }
    text
}

fn many(words: &Words, role: Role, count: u32) -> String {
    let (one, several) = match role {
        Role::Queen => (Word::Queen, Word::Queens),
        Role::Rook => (Word::Rook, Word::Rooks),
        Role::Bishop => (Word::Bishop, Word::Bishops),
        Role::Knight => (Word::Knight, Word::Knights),
        // A king is never taken.
        Role::Pawn | Role::King => (Word::Pawn, Word::Pawns),
    };
    match count {
        1 => words.fill(one, &[]),
        _ => fill(words, several, &[("count", count.to_string())]),
    }
}
