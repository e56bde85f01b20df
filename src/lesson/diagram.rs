//! What the text of a diagram says: a placement, which need not be a position that can occur,
//! and marks.

use super::rules::fen;
use crate::notation::comment::mark::{self, Mark};
use crate::text::{Code, Finding, Findings, Source, Span, quote};
use shakmaty::{Board, Color, Square};

/// Pieces on a board. Nothing is checked: there may be no king, or ten.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placement {
    /// The pieces.
    pub board: Board,
    /// The side to move, where the text says it.
    pub turn: Option<Color>,
    /// The square of its king, where that is its only one and in check.
    pub check: Option<Square>,
}

/// Reads the text of a diagram: a FEN on its first line, of which the pieces alone are enough,
/// and marks on the lines after it. No placement where the FEN cannot be read; then, and for each
/// word that is no mark, there is a finding.
pub fn read(source: &Source, findings: &mut Findings) -> (Option<Placement>, Vec<Mark>) {
    let text = source.text();
    let begin = text.len() - text.trim_start().len();
    let line = text[begin..].lines().next().unwrap_or_default();
    let end = begin + line.len();
    let placement = placement(line.trim_end(), begin, findings);
    (placement, read_marks(source, end, findings))
}

/// Reads marks, `c5 !e4 ?b4-b5`, from a byte of the text to its end.
pub fn read_marks(source: &Source, from: usize, findings: &mut Findings) -> Vec<Mark> {
    let text = source.text();
    let mut marks = Vec::new();
    let mut at = from;
    for word in text[from..].split_inclusive(char::is_whitespace) {
        let from = at;
        at += word.len();
        // A list is often written with commas.
        let word = word.trim_end().trim_end_matches([',', ';']);
        let span = Span::new(from, from + word.len());
        if word.is_empty() {
            continue;
        }
        match mark::read_word(word) {
            Some(mark) => {
                if mark.squares.windows(2).any(|pair| pair[0] == pair[1]) {
                    let message = format!("\u{201c}{word}\u{201d} points from a square to itself");
                    findings.push(Finding::new(Code::ArrowToItself, span, message));
                }
                marks.push(mark);
            }
            None => {
                let message = format!("\u{201c}{}\u{201d} marks no square", quote(word));
                let help = "a mark is a square, an arrow or a route, such as c5, !e4 or ?b4-b5";
                findings.push(
                    Finding::new(Code::NoSuchSquare, span, message).with_help(help.to_owned()),
                );
            }
        }
    }
    marks
}

/// The placement of a FEN that begins at a byte of the text.
fn placement(written: &str, begin: usize, findings: &mut Findings) -> Option<Placement> {
    let setup = match fen::read(written) {
        Ok(setup) => setup,
        Err(field) => {
            let slip = fen::slip(written, field);
            let place = slip.place.unwrap_or(0..written.len());
            findings.push(
                Finding::new(
                    Code::BadFen,
                    Span::new(begin + place.start, begin + place.end),
                    slip.message,
                )
                .with_help(
                    "the pieces alone are enough, rank by rank from the eighth, such as \
                     8/5k2/8/8/3P4/8/4K3/8 (PGN standard, 16.1.3.1)"
                        .to_owned(),
                ),
            );
            return None;
        }
    };
    // If the text does not say the side to move, the parser assumes White.
    let has_turn = fen::fields(written).len() > 1;
    let (board, turn) = (setup.board, has_turn.then_some(setup.turn));
    let check = turn.and_then(|turn| {
        let king = board.king_of(turn)?;
        let attackers = board.attacks_to(king, !turn, board.occupied());
        attackers.any().then_some(king)
    });
    Some(Placement { board, turn, check })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn placed(text: &str) -> (Option<Placement>, Vec<Mark>, Vec<(&'static str, String)>) {
        let source = Source::new("a", text);
        let mut findings = Findings::default();
        let (placement, marks) = read(&source, &mut findings);
        let found = findings.iter();
        let found = found.map(|one| (one.code.id(), source.slice(one.span).to_owned()));
        let found = found.collect();
        (placement, marks, found)
    }

    #[test]
    fn pieces_alone_are_a_placement_and_say_nothing_of_the_side_to_move() {
        let (placement, marks, found) = placed("8/5k2/8/8/3P4/8/4K3/8");
        let placement = placement.expect("a placement");
        assert_eq!(placement.board.occupied().count(), 3);
        assert_eq!((placement.turn, marks.len(), found.len()), (None, 0, 0));
    }

    #[test]
    fn a_whole_fen_is_read_with_its_side_to_move() {
        // PGN standard, 16.1.4, after 1.e4.
        let fen = "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 1";
        let (placement, ..) = placed(fen);
        let placement = placement.expect("a placement");
        assert_eq!(placement.turn, Some(Color::Black));
        assert_eq!(placement.board.occupied().count(), 32);
    }

    #[test]
    fn a_board_needs_no_king_and_may_have_none_of_its_pieces_in_place() {
        for text in [
            "8/8/8/8/8/8/8/8",
            "8/8/8/3N4/8/8/8/8 b",
            "PPPPPPPP/8/8/8/8/8/8/kkkkKKKK w",
        ] {
            let (placement, _, found) = placed(text);
            assert!(placement.is_some_and(|it| it.check.is_none()), "{text}");
            assert!(found.is_empty(), "{text}: {found:?}");
        }
    }

    #[test]
    fn a_king_in_check_is_seen_where_it_is_his_turn() {
        for (text, check) in [
            ("8/8/8/k6R/8/8/8/K7 b", Some(Square::A5)),
            ("8/8/8/k6R/8/8/8/K7 w", None),
            ("8/8/8/k6R/8/8/8/K7", None),
        ] {
            assert_eq!(placed(text).0.and_then(|it| it.check), check, "{text}");
        }
    }

    #[test]
    fn marks_stand_on_the_lines_after_the_fen() {
        let (placement, marks, found) =
            placed("\n  8/8/8/8/8/8/8/8 w \nc5 !e4 ?b4-b5\n @f3-d2-c4 ");
        assert!(placement.is_some() && found.is_empty());
        let texts: Vec<String> = marks.iter().map(Mark::text).collect();
        assert_eq!(
            texts,
            ["c5", "e4", "b4\u{2013}b5", "f3\u{2013}d2\u{2013}c4"]
        );
        let kinds: Vec<&str> = marks.iter().map(|mark| mark.kind.word()).collect();
        assert_eq!(kinds, ["plain", "strong", "weak", "plain"]);
    }

    #[test]
    fn a_fen_that_cannot_be_read_is_named_with_its_place() {
        let (placement, marks, found) = placed("8/8/8/9/8/8/8/8\nc5");
        assert_eq!((placement, marks.len()), (None, 1));
        assert_eq!(found, [("P019", "9".to_owned())]);
        assert_eq!(placed("").2[0].0, "P019");
        assert_eq!(placed("8/8/8/8/8/8/8/8 x").2, [("P019", "x".to_owned())]);
    }

    #[test]
    fn a_word_that_is_no_mark_is_named_and_the_others_are_drawn() {
        let (placement, marks, found) = placed("8/8/8/8/8/8/8/8\ni9 c5, e4- d4-d4");
        assert!(placement.is_some());
        assert_eq!(marks.len(), 2);
        let wanted = [("P051", "i9"), ("P051", "e4-"), ("P052", "d4-d4")];
        assert_eq!(found, wanted.map(|(code, word)| (code, word.to_owned())));
    }
}
