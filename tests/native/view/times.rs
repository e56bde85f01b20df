//! Times of a talk, `Hear: 4:27`: a part of the text of a lesson, and of nothing else that is made of its comments.

use crate::support::lesson;
use plyline::check::attributes::Kind;
use plyline::lesson::Lesson;
use plyline::notation::Letters;
use plyline::text::{Findings, Source};
use plyline::view::{Element, Page, State, Words, open, page, prompt, spoken};
use shakmaty::Color;

fn shown(lesson: &Lesson, state: &State) -> Page {
    let (words, none) = (Words::default(), Findings::default());
    page(&words, lesson, state, &none, &Source::new("a", ""), &[])
}

#[test]
fn the_outline_takes_the_first_words_that_are_no_times() {
    let lesson = lesson(
        "1. e4 e5 (1... c5 {Hear: 0:40} 2. Nf3 {Sharp.}) (1... e6 {Solid.\n\nHear: 0:50}) \
         ({Hear: 0:55-1:05, 1:10.} 1... d6) (1... g6 {Hear: my voice}) *",
    );
    let page = shown(&lesson, &State::new(&lesson, 0, Color::White));
    let words: Vec<&str> = page.outline.iter().map(|row| row.words.as_str()).collect();
    assert_eq!(words, ["Sharp", "Solid", "", "Hear: my voice"]);
}

#[test]
fn a_comment_is_heard_without_its_times() {
    let lesson = lesson("1. e4 {The centre first.\n\nHear: 0:02-0:03, 0:20} *");
    let state = State::new(&lesson, 1, Color::White);
    let said = spoken::said(&Words::default(), &lesson, &state);
    assert!(!said.contains("0:02"), "{said}");
    let page = shown(&lesson, &state);
    assert!(format!("{:?}", page.lines).contains("Hear: 0:02"));
}

#[test]
fn a_quiz_tells_no_times_in_its_prompt_its_answer_and_its_lines() {
    let text = "1. e4 {Ask: What now? Because: It is.\n\nHear: 0:02} e5 {Hear: 0:05} 2. Nf3 *";
    let lesson = lesson(text);
    let value = |name: &str| (name == "at").then(|| "1.e4".to_owned());
    let element = Element::read(Kind::Quiz, &value);
    let (state, _) = open(&lesson, &element, Letters::ENGLISH);
    let asking = state.asking().expect("a question");
    let own = prompt(&asking.question.prompt);
    assert!(!own.is_empty());
    assert!(!format!("{own:?}").contains("0:0"), "{own:?}");
    let page = format!("{:?}", shown(&lesson, &state));
    assert!(
        page.contains("What now?") && !page.contains("0:0"),
        "{page}"
    );
}
