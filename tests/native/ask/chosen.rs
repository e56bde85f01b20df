//! What recap and recall make of the choices of 500 lessons by chance, and what hints say of moves
//! by chance, written down for `tests/oracles/choices.py` and `ideas.py`, which work it out anew
//! with python-chess.

use crate::support::chance::Chance;
use crate::support::lesson;
use plyline::ask::answers;
use plyline::ask::recall::{Intent, Recall, Stage, update};
use plyline::ask::schedule::Progress;
use plyline::lesson::rules::{EnPassantForm, fen};
use plyline::lesson::{Idea, Lesson, NodeId, idea};
use plyline::view::{Says, recap};
use serde_json::{Value, json};
use shakmaty::san::SanPlus;
use shakmaty::{CastlingMode, Chess, Color, Position};
use std::fmt::Write;
use std::fs;
use std::path::Path;

const LESSONS: u64 = 500;
/// Half-moves of the longest line.
const DEEP: usize = 6;

/// What stands after a move: mostly nothing, else words, a sign of weakness, or a choice.
const AFTER: [&str; 9] = [
    "",
    "",
    "",
    " {It is played quite often.}",
    "?!",
    "?",
    " {Choose:}",
    " {Choose: if it rains all day}",
    " {A move for the patient.\n\nChoose: if you have time}",
];

/// Moves from a position on, the first with its number, each with variations beside it.
fn moves(chance: &mut Chance, at: &Chess, left: usize, is_first: bool, text: &mut String) {
    if left == 0 || at.is_game_over() {
        return;
    }
    let mut legal: Vec<_> = at.legal_moves().into_iter().collect();
    let number = match at.turn() {
        Color::White => format!("{}. ", at.fullmoves()),
        Color::Black if is_first => format!("{}... ", at.fullmoves()),
        Color::Black => String::new(),
    };
    let mut one = |chance: &mut Chance, text: &mut String| {
        let played = legal.swap_remove(chance.below(legal.len()));
        let mut after = at.clone();
        let san = SanPlus::from_move_and_play_unchecked(&mut after, played);
        let _ = write!(text, "{number}{san}{} ", chance.pick(&AFTER));
        after
    };
    let main = one(chance, text);
    let beside = chance.below(3).min(at.legal_moves().len() - 1);
    for _ in 0..beside {
        text.push('(');
        // A variation begins with its number.
        if number.is_empty() {
            let _ = write!(text, "{}... ", at.fullmoves());
        }
        let after = one(chance, text);
        moves(chance, &after, (left - 1).min(2), false, text);
        text.push_str(") ");
    }
    moves(chance, &main, left - 1, beside > 0, text);
}

fn path(lesson: &Lesson, id: NodeId) -> Vec<String> {
    let path = lesson.path(id).into_iter().skip(1);
    path.map(|id| lesson.node(id).san.to_string()).collect()
}

fn recap_of(lesson: &Lesson, side: Color) -> Vec<Value> {
    let rows = recap(&plyline::view::Words::default(), lesson, side, |_| false)
        .rows
        .into_iter();
    rows.map(|row| match row.says {
        Says::Choices(choices) => {
            let sans = choices.iter().map(|one| one.shown.san.clone());
            json!([path(lesson, row.node), sans.collect::<Vec<_>>()])
        }
        Says::Question(prompt) => panic!("nothing is asked: {prompt}"),
    })
    .collect()
}

/// Where a whole recall asks, by its own walks, and what is right there.
fn recall_of(lesson: &Lesson, side: Color) -> Vec<Value> {
    let mut asked = Vec::new();
    let Some(mut recall) = Recall::new(lesson, 0, side, 7, &Progress::default(), 0) else {
        return Vec::new();
    };
    while recall.stage != Stage::Over {
        let intent = match recall.stage {
            Stage::Asked => {
                if !asked.contains(&recall.node) {
                    asked.push(recall.node);
                }
                Intent::Show
            }
            _ => Intent::On,
        };
        update(lesson, &mut recall, intent);
    }
    let right = asked.into_iter().map(|id| {
        let right = answers(lesson, id, &[]);
        let sans: Vec<&str> = right.iter().map(|answer| answer.san).collect();
        json!([path(lesson, id), sans])
    });
    right.collect()
}

#[test]
fn recap_and_recall_follow_the_choices_of_lessons_by_chance() {
    let mut told = String::new();
    let mut seen = (0, 0);
    for seed in 1..=LESSONS {
        let mut text = String::new();
        moves(
            &mut Chance::new(seed),
            &Chess::default(),
            DEEP,
            true,
            &mut text,
        );
        text.push('*');
        let lesson = lesson(&text);
        let mut line = json!({ "pgn": text });
        for (side, name) in [(Color::White, "white"), (Color::Black, "black")] {
            let (card, walk) = (recap_of(&lesson, side), recall_of(&lesson, side));
            seen = (seen.0 + card.len(), seen.1 + walk.len());
            line[name] = json!({ "recap": card, "recall": walk });
        }
        let _ = writeln!(told, "{line}");
    }
    assert!(seen.0 > 1_000 && seen.1 > 1_000, "{seen:?}");
    if let Ok(folder) = std::env::var("PLYLINE_CHOICES") {
        fs::write(Path::new(&folder).join("choices.jsonl"), told).expect("a folder to write to");
    }
}

/// Games by chance for hints, and their moves.
const GAMES: u64 = 200;
const PLIES: usize = 60;

#[test]
fn each_idea_of_a_hint_is_met_in_games_by_chance() {
    let mut told = String::new();
    let mut seen = [0; 6];
    for seed in 1..=GAMES {
        let mut chance = Chance::new(seed);
        let mut at = Chess::default();
        for _ in 0..PLIES {
            let legal = at.legal_moves();
            if legal.is_empty() {
                break;
            }
            for &played in &legal {
                let (ix, name, square) = match idea(&at, played) {
                    Some(Idea::Mate) => (0, "mate", None),
                    Some(Idea::Unguarded(square)) => (1, "unguarded", Some(square)),
                    Some(Idea::AttacksTwo) => (2, "attacks two", None),
                    Some(Idea::Check) => (3, "check", None),
                    Some(Idea::Pinned(square)) => (4, "pinned", Some(square)),
                    Some(Idea::Guards(square)) => (5, "guards", Some(square)),
                    None => continue,
                };
                seen[ix] += 1;
                let fen = fen(&at, EnPassantForm::Legal);
                let uci = played.to_uci(CastlingMode::Standard);
                let square = square.map(|square| square.to_string()).unwrap_or_default();
                let _ = writeln!(told, "{fen}\t{uci}\t{name}\t{square}");
            }
            at.play_unchecked(legal[chance.below(legal.len())]);
        }
    }
    assert!(seen.iter().all(|&count| count > 20), "{seen:?}");
    if let Ok(folder) = std::env::var("PLYLINE_CHOICES") {
        fs::write(Path::new(&folder).join("ideas.txt"), told).expect("a folder to write to");
    }
}
