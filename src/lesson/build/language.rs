//! A game without the tag `Letters` whose piece letters are not the English ones.

use crate::lesson::tree::Lesson;
use crate::notation::{Game, Item, ItemKind, Letters};
use crate::text::{Code, Finding, Findings, Listed, Source, Span, join};
use shakmaty::Role;

/// How much a word says for a language: two where its letter begins no English move (pawns
/// write none), one where it means another piece.
fn weight(word: &str, letters: &Letters) -> u32 {
    let first = word.chars().next().unwrap_or(' ');
    let (here, english) = (letters.role(first), Letters::ENGLISH.role(first));
    match english {
        _ if word.starts_with("O-O") || here.is_none() || here == english => 0,
        None | Some(Role::Pawn) => 2,
        Some(_) => 1,
    }
}

fn moves(game: &Game) -> Vec<&Item> {
    let mut moves = Vec::new();
    for line in &game.lines {
        for item in &line.items {
            if item.kind == ItemKind::Move {
                moves.push(item);
            }
        }
    }
    moves
}

/// Whether enough of a game is written as only a language with these letters would: one move that
/// fits no other letters, or two of which each alone could be a slip: `1. e4 e5 2. Bf4` is no
/// German pawn to f4.
fn is_written_with(source: &Source, game: &Game, letters: &Letters) -> bool {
    let mut sum = 0;
    for item in moves(game) {
        sum += weight(source.slice(item.span), letters);
    }
    sum >= 2
}

/// A lesson and its findings.
type Run = (Lesson, Findings);

/// The one set of letters that reads the whole game.
pub(crate) fn only_reader(
    source: &Source,
    game: &Game,
    read: &impl Fn(&'static Letters) -> Run,
) -> Option<(&'static Letters, Lesson, Findings)> {
    let mut only = None;
    for letters in &Letters::ALL[1..] {
        if !is_written_with(source, game, letters) {
            continue;
        }
        let (lesson, findings) = read(letters);
        if lesson.unread.is_empty() && only.replace((letters, lesson, findings)).is_some() {
            return None; // two readings, and nobody knows which
        }
    }
    only
}

/// That a game is read with these letters, at the first move that shows it.
pub(crate) fn finding(source: &Source, game: &Game, letters: &Letters) -> Finding {
    let languages = join(&letters.languages().listed(), " or ");
    let code = letters.code();
    let start = game.span.from as usize;
    let moves = moves(game);
    let mut moves = moves.iter();
    let first = moves.find(|item| weight(source.slice(item.span), letters) > 0);
    let place = match first {
        Some(item) => {
            let from = item.span.from as usize;
            let core = crate::notation::word::san::read(source.slice(item.span), letters).core;
            Span::new(from, from + core.len())
        }
        None => Span::new(start, start),
    };
    let message = format!("the piece letters of this game are {languages}, not English");
    Finding::new(Code::OtherLetters, place, message)
        .with_help(format!("say so with the tag `[Letters \"{code}\"]`"))
        .with_fix(Span::new(start, start), format!("[Letters \"{code}\"]\n"))
}
