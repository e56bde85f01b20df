//! A FEN that names the wrong side to move: all numbers and moves play with the other.

use super::quotes::Splice;
use super::trial::{Score, Trial};
use crate::lesson::Lesson;
use crate::lesson::rules::fen;
use crate::notation::{Game, Lexer, TokenKind};
use crate::text::{Code, Finding, Source, Span};

/// The side in the FEN of a game whose moves, `text`, only play from the other one's turn, and what to
/// write instead. `lesson_with` reads the game with that. Its place is in the file.
pub(super) fn fen_side(
    source: &Source,
    game: &Game,
    lesson: &Lesson,
    text: &str,
    lesson_with: impl FnOnce(&Splice) -> Option<Lesson>,
    left: &mut usize,
) -> Option<(Finding, Splice)> {
    let mut tags = game.tags.iter();
    let tag = tags.find(|tag| source.slice(tag.name) == "FEN")?;
    let letters = lesson.letters();
    let base = Trial::new(&lesson.node(0).position, letters).read(text, 0, Score::WORST, left)?;
    let (first, _) = base.first?;
    let word = Lexer::new(text).find(|it| it.kind == TokenKind::Word)?;
    if first != word.span.from as usize {
        return None;
    }
    let written = source.slice(tag.value_span);
    let fields = fen::fields(written);
    let &(at, side) = fields.get(1)?;
    let (now, other, turn) = match side {
        "w" => ("White", "Black", "b"),
        "b" => ("Black", "White", "w"),
        _ => return None,
    };
    let from = tag.value_span.from as usize + at;
    let splice = Splice {
        from,
        to: from + 1,
        text: turn.to_owned(),
    };
    let new = lesson_with(&splice)?;
    let read = Trial::new(&new.node(0).position, letters).read(text, 0, Score::SOUND, left)?;
    if read.moves < 2 {
        return None; // one move proves nothing
    }
    let span = Span::new(from, from + 1);
    let message = format!("this FEN says that {now} is to move, and the first move is {other}'s");
    let help = format!("write {turn} for {side}: with it all moves can be played");
    let finding = Finding::new(Code::WrongTurn, span, message).with_help(help);
    Some((finding.with_fix(span, turn.to_owned()), splice))
}

#[cfg(test)]
mod tests {
    use crate::check::author::given::codes;

    fn told(side: &str, moves: &str) -> Vec<&'static str> {
        let fen = format!("rnbqkbnr/pppp1ppp/8/4p3/4P3/8/PPPP1PPP/RNBQKBNR {side} KQkq - 0 2");
        codes(&format!(
            "[SetUp \"1\"]\n[FEN \"{fen}\"]\n\n{moves} {{x}} *"
        ))
    }

    #[test]
    fn a_side_with_which_nothing_plays_is_told_where_all_plays_with_the_other() {
        assert_eq!(told("b", "2. Nf3 Nc6 3. Bb5"), ["P089"]);
        assert!(told("w", "2. Nf3 Nc6 3. Bb5").is_empty());
        for moves in [
            "2. Nf3",
            "2. Nf3 Nc6 3. Bb6 a6",
            "3. Nf3 Nc6",
            "2... Nc6 3. Nf3",
        ] {
            assert!(!told("b", moves).contains(&"P089"), "{moves}");
        }
    }
}
