//! Writing PGN: the standard's export format, and reading back what was written.

use crate::support::{codes, lesson, read};
use plyline::edge;
use plyline::lesson::{Incomplete, Lesson, export};

fn written(lesson: &Lesson) -> String {
    export(lesson, false).expect("a lesson that was read whole")
}

/// All that a lesson holds, as its tree JSON.
fn data(lesson: &Lesson) -> String {
    serde_json::to_string(&edge::lesson(lesson)).expect("plain data")
}

#[test]
fn the_sample_game_of_the_pgn_standard_is_written_byte_for_byte() {
    // PGN standard (Edwards, 1994-03-12), section 2.3, in the export format.
    let sample = include_str!("../../support/sample-game.pgn");
    let read = read(sample);
    let lesson = read.lessons[0].as_ref().expect("the game");
    assert_eq!(written(lesson).trim_end(), sample.trim_end());
}

#[test]
fn the_roster_is_filled_and_other_tags_follow_in_ascii_order() {
    // PGN standard, 8.1.1 and 9.7.1.
    let text = written(&lesson(
        "[Zebra \"z\"] [White \"a \\\"b\\\" \\\\ c\"] [FEN \"4k3/8/8/8/8/8/4P3/4K3 w - - 5 39\"] 1-0",
    ));
    let wanted = "[Event \"?\"]\n[Site \"?\"]\n[Date \"????.??.??\"]\n[Round \"?\"]\n\
                  [White \"a \\\"b\\\" \\\\ c\"]\n[Black \"?\"]\n[Result \"1-0\"]\n\
                  [FEN \"4k3/8/8/8/8/8/4P3/4K3 w - - 5 39\"]\n[SetUp \"1\"]\n[Zebra \"z\"]\n\n1-0\n\n";
    assert_eq!(text, wanted);
}

#[test]
fn black_moves_have_their_number_after_comments_variations_and_glyphs() {
    // PGN standard, 8.2.2.2.
    let text = written(&lesson("1.e4 {a} e5 2.Nf3! Nc6 (2...d6) 3.Bb5 a6 *"));
    let moves = text.split("\n\n").nth(1).expect("the movetext");
    assert_eq!(
        moves,
        "1. e4 {a} 1... e5 2. Nf3 $1 2... Nc6 (2... d6) 3. Bb5 a6 *"
    );
}

#[test]
fn lines_are_shorter_than_eighty_columns_and_have_no_space_at_their_ends() {
    // PGN standard, 8.2.1.
    let long = "words and words ".repeat(60);
    let text = written(&lesson(&format!(
        "1. e4 {{{long}}} ({{%x {long}}} 1. d4 ;{long}\n) *"
    )));
    for line in text.lines() {
        assert!(line.chars().count() < 80, "{line:?}");
        assert_eq!(line.trim_end(), line);
    }
}

#[test]
fn what_is_written_reads_back_as_the_same_lesson() {
    let texts = [
        "{a\n\nb} 1. e4! $14 {c} ({d} 1. d4 d5 (1... Nf6 {e}) (1... f5 $6 2. g3)) ({f} 1. c4 (1. g3 *) c5) 1... e5 1/2-1/2",
        "[FEN \"r3k2r/8/8/8/8/8/8/R3K2R b KQkq - 3 7\"] 7... O-O-O+ 8. O-O -- 9. Ra7 *",
        "1. e4 ;to } the end\n;and on\n e5 {} ( ;x }\n 1... c5 ; y }\n) *",
        "{%escaped?} 1. d4 {one\n\n%two\n\nthree %four} d5 *",
        "1. e4 {Ask: what? Hint: this. Because: that.} e5 {@c5 and @!d2-d4\n\nChoose: for peace} *",
        "*",
        "$4 {weak start} 1. a3?? *",
    ];
    for text in texts {
        let first = lesson(text);
        let pgn = written(&first);
        let again = read(&pgn);
        assert!(codes(&again).is_empty(), "{pgn}\n{:?}", again.findings);
        let second = again.lessons[0].as_ref().expect("a lesson");
        // The roster is filled by writing; all else must be the same.
        assert_eq!(
            data(second).split("\"start\"").nth(1),
            data(&first).split("\"start\"").nth(1),
            "{pgn}"
        );
        assert_eq!(written(second), pgn, "writing twice changes nothing");
    }
}

#[test]
fn a_lesson_with_unread_words_is_not_written_unless_asked() {
    let game = lesson("1. e4 e5 2. Ke3 Nc6 *");
    assert_eq!(export(&game, false), Err(Incomplete));
    assert!(
        export(&game, true)
            .expect("what was read")
            .ends_with("1. e4 e5 *\n\n")
    );
}

#[test]
fn a_lesson_of_which_something_was_passed_over_is_not_written_unless_asked() {
    for text in ["[Site x] 1. e4 *", "(1. c4) 1. e4 *", "1. e4 ({words}) *"] {
        let game = lesson(text);
        assert_eq!(export(&game, false), Err(Incomplete), "{text}");
        assert!(export(&game, true).is_ok(), "{text}");
    }
    for text in ["1. e4 () *", "1. e4 < *", "1. e4 $256 *"] {
        let written = export(&lesson(text), false);
        assert!(written.is_ok(), "no word is lost: {text}");
    }
}

#[test]
fn what_was_passed_over_in_one_game_does_not_hinder_the_next() {
    let read = read("1. e4 ({words}) * 1. d4 *");
    let is_whole = |lesson: &Option<Lesson>| lesson.as_ref().map(|it| export(it, false).is_ok());
    let whole: Vec<_> = read.lessons.iter().map(is_whole).collect();
    assert_eq!(whole, [Some(false), Some(true)]);
}
