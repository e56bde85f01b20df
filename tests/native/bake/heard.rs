//! Times of a talk in what is baked: as the script writes them where nothing plays them.

use super::{bake_with_numbers, baked};
use plyline::bake::{Heard, Numbers};

const LESSON: &str =
    "1. e4 {The centre.\n\nHear: 4:27-4:58, 12:03} e5 (1... c5 {Hear: 0:40.5 \u{2013} 1:00.}) *";

/// The drawn form of an element and its plain one.
fn forms(html: &str) -> (&str, &str) {
    html.split_once("</template>").expect("a root")
}

fn lesson(text: &str) -> String {
    format!("<ply-line><pre>{text}</pre></ply-line>")
}

#[test]
fn times_are_said_in_the_drawn_form_and_in_the_plain_one() {
    let html = baked(&lesson(LESSON));
    let (drawn, plain) = forms(&html);
    for form in [drawn, plain] {
        assert!(form.contains("<bdi>hear 4:27, 12:03</bdi>"), "{form}");
        assert!(form.contains("<bdi>hear 0:40.5</bdi>"), "{form}");
    }
}

#[test]
fn the_notation_keeps_its_times() {
    let html = baked(&lesson(LESSON));
    assert!(html.contains("Hear: 4:27-4:58, 12:03}"), "{html}");
}

#[test]
fn what_is_no_list_of_times_stays_as_it_is_written() {
    for words in [
        "Hear: soon",
        "Hear: 0:09-0:05",
        "Hear: 0:61",
        "We hear: 0:04",
        "Hear: 0:04 and on",
        "Hear: 0:04 *again*",
    ] {
        let html = baked(&lesson(&format!("1. e4 {{{words}}} e5 *")));
        let (drawn, plain) = forms(&html);
        let shown = words.replace("*again*", "<em>again</em>");
        for form in [drawn, plain] {
            assert!(form.contains(&format!("<bdi>{shown}")), "{words}: {form}");
        }
    }
}

#[test]
fn a_lesson_of_another_language_says_them_in_its_words() {
    let numbers = Numbers {
        heard: Heard::with([["hear", "hören"], ["hearTimes", "hören: {times}"]]),
        ..Numbers::default()
    };
    let html = bake_with_numbers(&lesson(LESSON), &numbers);
    let (drawn, plain) = forms(&html);
    for form in [drawn, plain] {
        assert!(form.contains("<bdi>hören: 4:27, 12:03</bdi>"), "{form}");
    }
}

#[test]
fn the_english_words_are_those_of_the_script() {
    let script = include_str!("../../../www/page/apart/talk/talk.js");
    let (_, after) = script.split_once("hearTimes: \"").expect("its words");
    let (words, _) = after.split_once('"').expect("their end");
    assert_eq!(Heard::with([["hearTimes", words]]), Heard::default());
}

#[test]
fn a_baked_quiz_follows_no_talk_and_tells_no_times() {
    let text = "1. e4 {Ask: What now?\n\nHear: 0:02} e5 {Hear: 0:05} *";
    let html = baked(&format!(
        "<ply-quiz at=\"1.e4\"><pre>{text}</pre></ply-quiz>"
    ));
    let (drawn, plain) = forms(&html);
    let (plain, notation) = plain.split_once("<pre>").expect("the notation");
    for form in [drawn, plain] {
        assert!(form.contains("What now?"), "{form}");
        assert!(!form.to_lowercase().contains("hear"), "{form}");
    }
    assert!(notation.contains("Hear: 0:02"), "{notation}");
}

#[test]
fn the_outline_of_a_baked_lesson_tells_no_times() {
    let html = baked(&lesson(
        "1. e4 e5 (1... c5 {Hear: 0:40} 2. Nf3 {Sharp.}) (1... e6 {Hear: 0:50}) *",
    ));
    let (drawn, plain) = forms(&html);
    let (plain, _) = plain.split_once("<pre>").expect("the notation");
    for form in [drawn, plain] {
        assert!(!form.contains("Hear: 0"), "{form}");
    }
    let (_, outline) = drawn.split_once("class=\"outline\"").expect("an outline");
    let (outline, _) = outline.split_once("class=\"lines\"").expect("the lines");
    assert!(outline.contains("Sharp"), "{outline}");
    assert!(!outline.contains("0:"), "{outline}");
}

#[test]
fn times_alone_do_not_part_the_moves_of_the_main_line() {
    let html = baked(&lesson(
        "1. e4 {Hear: 0:01} e5 {Hear: 0:02, 0:09} 2. Nf3 {Attacks.\n\nHear: 0:03} Nc6 *",
    ));
    let (drawn, plain) = forms(&html);
    for form in [drawn, plain] {
        let (_, line) = form.split_once("hear 0:01").expect("the first");
        let (between, _) = line.split_once("Attacks.").expect("a comment");
        assert!(between.contains("hear 0:02, 0:09"), "{between}");
        assert_eq!(between.matches("<p").count(), 1, "{between}");
    }
}
