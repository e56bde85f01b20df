//! In which letters a reader sees moves, and in which moves are typed. Letters are those of the PGN standard, section 17.

use crate::support::lesson;
use plyline::markup::{self, html};
use plyline::notation::Letters;
use plyline::text::{Findings, Source};
use plyline::view::{self, Command, Intent, Mode, State, Words, spoken, update};
use shakmaty::Color;

const QUESTION: &str =
    "1. e4 e5 {Ask: What now? Because: it attacks.} 2. Nf3 (2. Qh5 Nc6) (2. Ke2 {Slow.}) Nc6 *";

fn letters(code: &str) -> &'static Letters {
    Letters::of(code).expect("letters")
}

fn shown_in(code: &str) -> Words {
    Words::default().lettered(letters(code))
}

fn drawn(text: &str, words: &Words, moves: &[Intent]) -> String {
    let (lesson, source) = (lesson(text), Source::new("a.pgn", text));
    let mut state = State::new(&lesson, 0, Color::White);
    for intent in moves {
        state = update(&lesson, &state, intent.clone(), words.letters()).0;
    }
    let page = view::page(words, &lesson, &state, &Findings::default(), &source, &[]);
    html(&markup::lesson(&page))
}

#[test]
fn moves_are_shown_in_the_letters_of_the_reader_in_every_place() {
    let html = drawn(
        "1. Nf3 Nc6 (1... d5 2. Nc3 {so}) 2. e4 *",
        &shown_in("fr"),
        &[Intent::Next(None)],
    );
    for shown in ["1.Cf3", "Cc6", "2.Cc3"] {
        assert!(html.contains(shown), "{shown}");
    }
    assert!(!html.contains("Nf3") && !html.contains("Nc6"), "{html}");
}

#[test]
fn figurines_are_shown_on_request() {
    let html = drawn("1. Nf3 d5 2. c4 *", &shown_in("figurine"), &[]);
    assert!(html.contains("\u{2658}f3"), "{html}");
    assert!(html.contains(">d5<"));
}

#[test]
fn what_the_author_wrote_stays_as_it_is() {
    let html = drawn("1. Nf3 d5 {A plan is Nc3 or Bb5.} *", &shown_in("de"), &[]);
    assert!(html.contains("A plan is Nc3 or Bb5."), "{html}");
}

#[test]
fn a_move_is_typed_in_the_letters_that_are_shown_else_in_english_ones() {
    // In French R is the king and C the knight, in English R is the rook.
    let text = "[SetUp \"1\"]\n[FEN \"4k3/8/8/8/8/8/8/R3K1N1 w - - 0 1\"]\n\n*";
    let lesson = lesson(text);
    let played = |code: &str, word: &str| {
        let state = State::new(&lesson, 0, Color::White);
        let intent = Intent::Typed(word.to_owned());
        let state = update(&lesson, &state, intent, letters(code)).0;
        state.aside.first().map(|tried| tried.san.clone())
    };
    assert_eq!(played("fr", "Rd1").as_deref(), Some("Kd1"));
    assert_eq!(played("en", "Rd1").as_deref(), Some("Rd1"));
    assert_eq!(played("fr", "Ra5").as_deref(), Some("Ra5"));
    assert_eq!(played("fr", "Cf3").as_deref(), Some("Nf3"));
    assert_eq!(played("fr", "Nf3").as_deref(), Some("Nf3"));
    assert_eq!(played("figurine", "\u{2658}f3").as_deref(), Some("Nf3"));
}

#[test]
fn a_verdict_names_moves_in_the_letters_of_the_reader() {
    let (lesson, words) = (lesson(QUESTION), shown_in("de"));
    let heard = |word: &str| {
        let mut state = State::new(&lesson, 2, Color::White);
        assert!(matches!(state.mode, Mode::Lesson { .. }));
        let intent = Intent::Typed(word.to_owned());
        state = update(&lesson, &state, intent, words.letters()).0;
        spoken::said(&words, &lesson, &state)
    };
    assert!(heard("Sf3").contains("2.Sf3"), "{}", heard("Sf3"));
    assert!(heard("Lc4").contains("2.Lc4"), "{}", heard("Lc4"));
}

#[test]
fn moves_that_go_on_are_said_in_the_letters_of_the_reader() {
    let (lesson, words) = (lesson("1. e4 Nf6 (1... Nc6) *"), shown_in("de"));
    let state = State::new(&lesson, 1, Color::White);
    let intent = Intent::Ask(Command::Moves);
    let state = update(&lesson, &state, intent, words.letters()).0;
    let said = spoken::said(&words, &lesson, &state);
    assert!(
        said.contains("1...Sf6") && said.contains("1...Sc6"),
        "{said}"
    );
}
