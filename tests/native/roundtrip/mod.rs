//! Random lessons, written as a careless author might, read, written by plyline and read again:
//! nothing may be lost on the way. Their moves are legal by shakmaty alone.

use crate::support::author::{Written, write};
use crate::support::chance::Chance;
use crate::support::read;
use plyline::edge;
use plyline::lesson::{Lesson, export};
use plyline::notation::Comment;
use plyline::text::Severity;

/// How many lessons, and how many in a long run; one takes a millisecond or two without
/// optimization.
const LESSONS: u64 = 600;
const LONG: u64 = 20_000;

fn count() -> u64 {
    // Set by `sh tests/run.sh --long`.
    match std::env::var("PLYLINE_LONG").is_ok_and(|long| !long.is_empty()) {
        true => LONG,
        false => LESSONS,
    }
}

/// Reads a text that holds one whole lesson.
fn whole(text: &str) -> Lesson {
    let mut read = read(text);
    let errors = read
        .findings
        .iter()
        .filter(|it| it.severity() == Severity::Error);
    // A comment may link to nothing; no other error can be in such a text.
    let errors: Vec<_> = errors
        .filter(|it| !matches!(it.code.id(), "P041" | "P042"))
        .collect();
    assert!(errors.is_empty(), "{errors:?}\n{text}");
    assert_eq!(read.lessons.len(), 1, "{text}");
    read.lessons.remove(0).expect("a start that can be used")
}

/// The tree as data, tags left out.
fn tree(lesson: &Lesson) -> String {
    let mut data = edge::lesson(lesson);
    data.tags.0.clear();
    serde_json::to_string_pretty(&data).expect("plain data")
}

fn each(mut check: impl FnMut(&Written, &Lesson)) {
    for seed in 1..=count() {
        let written = write(&mut Chance::new(seed));
        let lesson = whole(&written.text);
        check(&written, &lesson);
    }
}

#[test]
fn what_an_author_writes_is_what_is_read() {
    let mut nodes = 0;
    each(|written, lesson| {
        assert_eq!(lesson.nodes.len(), written.nodes.len(), "{}", written.text);
        assert_eq!(lesson.result, written.result, "{}", written.text);
        for (id, (node, wanted)) in lesson.nodes.iter().zip(&written.nodes).enumerate() {
            let seen = (
                node.parent.map(|parent| parent as usize),
                node.san.as_str(),
                &node.nags,
                Comment::join(&node.before).unwrap_or_default(),
                Comment::join(&node.comments).unwrap_or_default(),
            );
            let wanted = (
                wanted.parent,
                wanted.san.as_str(),
                &wanted.nags,
                wanted.before.join(" "),
                wanted.comments.join(" "),
            );
            assert_eq!(seen, wanted, "node {id} of\n{}", written.text);
        }
        nodes += lesson.nodes.len();
    });
    assert!(
        nodes as u64 > 10 * count(),
        "only {nodes} nodes: no lessons worth the name"
    );
}

#[test]
fn what_is_written_reads_back_as_the_same_tree() {
    each(|written, lesson| {
        let pgn = export(lesson, false).expect("a lesson that was read whole");
        let again = whole(&pgn);
        assert_eq!(
            tree(&again),
            tree(lesson),
            "\n{}\n--- was written as\n{pgn}",
            written.text
        );
        for (name, value) in lesson.tags.iter().filter(|(name, _)| name != "Result") {
            assert_eq!(again.tag(name), Some(value.as_str()), "{name} in\n{pgn}");
        }
    });
}

#[test]
fn what_was_written_once_is_written_the_same_again() {
    each(|_, lesson| {
        let once = export(lesson, false).expect("a lesson that was read whole");
        let twice = export(&whole(&once), false).expect("what was written");
        assert_eq!(twice, once);
    });
}

#[test]
fn no_line_that_is_written_has_80_columns_but_for_long_words_and_tags() {
    each(|_, lesson| {
        let pgn = export(lesson, false).expect("a lesson that was read whole");
        for line in pgn.lines().filter(|line| !line.starts_with('[')) {
            let columns = line.chars().count();
            let long_word = line.split(' ').any(|word| word.chars().count() >= 70);
            assert!(columns < 80 || long_word, "{line}");
            assert!(
                !line.starts_with('%'),
                "other programs hide this line: {line}"
            );
        }
    });
}
