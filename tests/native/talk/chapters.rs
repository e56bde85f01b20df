//! Chapters of a recording, from the times of a lesson.

use plyline::lesson::validate;
use plyline::notation::parse;
use plyline::talk::chapters::{chapters, list, vtt};
use plyline::text::Source;

fn told(text: &str) -> String {
    let source = Source::new("lesson.pgn", text);
    let (lessons, _) = validate(&source, &parse(&source).0);
    let lesson = lessons.into_iter().flatten().next().expect("a lesson");
    list(&chapters(&lesson))
}

#[test]
fn the_lesson_and_each_of_its_lines_have_a_chapter_by_label_and_first_move() {
    let text = "[Event \"Two answers\"]\n\n1. e4 {Hear: 0:05} e5 {Hear: 0:30} \
                (1... c5 {Hear: 2:10} 2. Nf3 (2. c3 {Hear: 4:01} Nf6) 2... d6 {Hear: 2:40}) 2. Nf3 {Hear: 1:00} *";
    assert_eq!(
        told(text),
        "0:00 Two answers\n2:10 A 1...c5\n4:01 A1 2.c3\n"
    );
}

#[test]
fn a_line_begins_with_the_first_time_in_it_and_is_named_by_its_first_move() {
    let text = "1. e4 {Hear: 0:05} e5 (1... c5 2. Nf3 {Hear: 1:10, 0:20}) *";
    assert_eq!(told(text), "0:00 1.e4\n1:10 A 1...c5\n");
}

#[test]
fn chapters_come_in_the_order_of_the_recording_whatever_the_order_of_the_lines() {
    let text = "1. e4 {Hear: 0:05} e5 (1... c5 {Hear: 1:02:10}) (1... e6 {Hear: 3:10.5}) *";
    assert_eq!(told(text), "0:00 1.e4\n3:10 B 1...e6\n1:02:10 A 1...c5\n");
}

#[test]
fn where_the_talk_comes_back_to_a_line_and_stays_the_move_it_goes_on_with_names_a_chapter() {
    let back = |until: &str| {
        told(&format!(
            "1. e4 {{Hear: 0:05}} e5 (1... c5 {{Hear: 1:00}}) 2. Nf3 {{Hear: 2:00}} Nc6 \
             (2... d6 {{Hear: {until}}}) *"
        ))
    };
    assert_eq!(
        back("2:10"),
        "0:00 1.e4\n1:00 A 1...c5\n2:00 2.Nf3\n2:10 B 2...d6\n"
    );
    // A word on the way to the next line is none.
    assert_eq!(back("2:09"), "0:00 1.e4\n1:00 A 1...c5\n2:09 B 2...d6\n");
}

#[test]
fn after_a_word_about_another_line_a_chapter_goes_on() {
    let text = "1. e4 {Hear: 0:05} e5 {Hear: 1:30} (1... c5 {Hear: 1:00} 2. Nf3 {Hear: 1:35}) *";
    assert_eq!(told(text), "0:00 1.e4\n1:00 A 1...c5\n");
}

#[test]
fn two_that_begin_in_one_second_are_one_with_both_names() {
    let text = "1. e4 e5 (1... c5 {Hear: 1:00.2}) (1... e6 {Hear: 1:00.9}) *";
    assert_eq!(told(text), "0:00 1.e4\n1:00 A 1...c5, B 1...e6\n");
    let text = "1. e4 e5 (1... c5 {Hear: 0:00}) *";
    assert_eq!(told(text), "0:00 1.e4, A 1...c5\n");
}

#[test]
fn words_before_a_variation_are_about_the_position_that_it_leaves() {
    let text = "1. e4 {Hear: 0:05} e5 ({Hear: 0:50} 1... c5 {Hear: 1:00}) *";
    assert_eq!(told(text), "0:00 1.e4\n1:00 A 1...c5\n");
}

#[test]
fn a_lesson_without_times_has_no_chapters() {
    assert_eq!(
        told("1. e4 {Hear: soon} e5 (1... c5 {We hear 0:05.}) *"),
        ""
    );
}

#[test]
fn a_file_of_webvtt_has_cues_that_end_where_the_next_begin_and_no_markup() {
    let text = "[Event \"Black & White <1>\"]\n\n1. e4 e5 (1... c5 {Hear: 1:02:10.5}) *";
    let source = Source::new("lesson.pgn", text);
    let (lessons, _) = validate(&source, &parse(&source).0);
    let lesson = lessons.into_iter().flatten().next().expect("a lesson");
    // W3C WebVTT, sections 4.1 and 4.2.3, from memory.
    assert_eq!(
        vtt(&chapters(&lesson)),
        "WEBVTT\n\n00:00:00.000 --> 01:02:10.500\nBlack &amp; White &lt;1&gt;\n\n\
         01:02:10.500 --> 99:59:59.999\nA 1...c5\n"
    );
}

#[test]
fn of_a_recording_longer_than_a_hundred_hours_the_last_chapter_has_an_end_too() {
    let text = "1. e4 e5 (1... c5 {Hear: 120:00:00}) *";
    let source = Source::new("lesson.pgn", text);
    let (lessons, _) = validate(&source, &parse(&source).0);
    let lesson = lessons.into_iter().flatten().next().expect("a lesson");
    let text = vtt(&chapters(&lesson));
    assert!(
        text.contains("120:00:00.000 --> 120:00:01.000\nA"),
        "{text}"
    );
}
