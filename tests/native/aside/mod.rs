//! What is said of a move that the lesson does not hold.

use plyline::aside::{self, Asked, Words};
use plyline::notation::Letters;
use plyline::search::{Deepening, deepest};
use plyline::text::join;

const START: &str = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";

/// So many positions a turn.
const TURN: u64 = 5_000;

/// What is said of the last of these moves; nothing where it gets no answer.
fn said(start: &str, moves: &str) -> Vec<String> {
    let tried = format!("{start}\0{}", moves.replace(' ', "\0"));
    let Some(aside) = aside::aside(&tried).filter(aside::Aside::goes_on) else {
        return Vec::new();
    };
    let mut asked = Asked::about(aside);
    while asked.turn(TURN) {}
    let answer = asked.answer();
    assert!(answer.is_last);
    aside::said(&Words::default(), &asked, &answer, Letters::ENGLISH)
}

#[test]
fn a_mate_is_told_with_its_moves() {
    let told = said(START, "e4 e5 Bc4 Nc6 Qh5 Nf6");
    assert_eq!(told[0], "Black is mated in 1: 4.Qxf7#.");
    assert_eq!(
        told.last().map(|it| &**it),
        Some("Searched by this page, not written by your teacher.")
    );
    assert_eq!(
        said(START, "f3 e5 g4")[0],
        "White is mated in 1: 2\u{2026}Qh4#."
    );
}

#[test]
fn a_piece_that_is_left_to_be_taken_is_told_by_its_name() {
    let told = said(START, "e4 e5 Nf3 Nc6 Nxe5");
    assert!(
        told[0].starts_with("Loses a knight for a pawn by force: 3\u{2026}Nxe5"),
        "{told:?}"
    );
    assert!(told[1].starts_with("Every reply was tried "), "{told:?}");
}

#[test]
fn who_takes_back_wins_nothing_and_who_does_not_has_lost_what_was_taken_before() {
    let back = said(START, "e4 d5 exd5 Qxd5");
    assert!(
        back[0].starts_with("Nothing is lost by force: every reply was tried "),
        "{back:?}"
    );
    let not = said(START, "e4 e5 Nf3 Nc6 Bb5 a6 Bxc6 h6");
    assert!(
        not[0].starts_with("What was taken before is not won back: a knight. Nothing more is lost by force: every reply was tried "),
        "{not:?}"
    );
    let less = said(
        START,
        "d4 d5 c4 e6 Nc3 Nf6 Bg5 Nbd7 cxd5 exd5 Nxd5 Nxd5 Bxd8 Kxd8",
    );
    assert!(
        less[0].starts_with("What was taken before is not won back: the queen for a bishop. "),
        "{less:?}"
    );
    // What is lost by the move itself is told alone.
    let hangs = said(START, "e4 d5 exd5 h6");
    assert!(
        hangs[0].starts_with("What was taken before is not won back: a pawn"),
        "{hangs:?}"
    );
    let hangs = said(START, "e4 d5 exd5 Bh3");
    assert!(hangs[0].starts_with("Loses a bishop "), "{hangs:?}");
    // The queen came to be attacked, and nothing was lost on the way: two pawns were exchanged.
    let attacked = said(START, "e4 d5 exd5 Qxd5 Nc3");
    assert!(attacked[0].starts_with("Nothing is lost"), "{attacked:?}");
}

#[test]
fn a_finished_game_a_pass_and_what_cannot_be_read_get_no_answer() {
    assert!(said(START, "f3 e5 g4 Qh4").is_empty());
    assert!(said(START, "e4 --").is_empty());
    assert!(said("8/8/8/8/8/8/8/8 w - - 0 1", "e4").is_empty());
    assert!(said(START, "").is_empty());
}

#[test]
fn moves_are_shown_in_the_letters_of_the_reader() {
    let tried = format!("{START}\0e4\0e5\0Bc4\0Nc6\0Qh5\0Nf6");
    let mut asked = Asked::about(aside::aside(&tried).expect("an aside"));
    while asked.turn(TURN) {}
    let german = Letters::of("de").expect("German");
    let told = aside::said(&Words::default(), &asked, &asked.answer(), german);
    assert_eq!(told[0], "Black is mated in 1: 4.Dxf7#.");
}

#[test]
fn a_search_in_turns_finds_what_one_without_pauses_finds() {
    let tried = format!("{START}\0e4\0e5\0Nf3\0Nc6\0Bc4\0Nf6\0Ng5");
    let start = aside::aside(&tried).expect("an aside").position;
    let whole = deepest(&start, 70_000);
    for turn in [1, 7, 1_000, 69_999] {
        let mut search = Deepening::in_turns(start.clone());
        let mut left = 70_000;
        while left > 0 {
            search.turn(turn.min(left));
            left -= turn.min(left);
        }
        assert_eq!(search.found(), &whole, "{turn} positions a turn");
    }
}

#[test]
fn names_of_a_language_replace_english_ones() {
    let words = Words::with(["asideOnly", "Nur {depth} Halbzüge.", "other", "x"].into_iter());
    assert_eq!(
        words.fill(aside::Word::Only, &[("depth", "3")]),
        "Nur 3 Halbzüge."
    );
    let names: Vec<&str> = aside::TEXTS.iter().map(|(name, _)| *name).collect();
    assert!(
        names.iter().all(|it| it.starts_with("aside")),
        "{}",
        join(&names, " ")
    );
}
