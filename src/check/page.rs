//! The findings that a page has about a lesson: the values of its tags, and the lesson as a whole.

use super::{lesson, values};
use crate::lesson::Lesson;
use crate::notation::Game;
use crate::text::{Code, Finding, Findings, Source, Span, join};

/// The findings of reading a game and of checking its lesson, in the order of their places. Without
/// long help: only the program has that.
pub fn game(source: &Source, game: &Game, lesson: Option<&Lesson>, found: Findings) -> Findings {
    let mut findings = found;
    findings.extend(values::of_tags(source, game));
    if let Some(lesson) = lesson {
        findings.extend(lesson::whole(source, lesson));
    }
    findings.sort();
    findings
}

/// The finding that a page has no lesson of an id, or no single lesson to be meant without one. `ids` are
/// those that the page has.
pub fn no_such_lesson(id: &str, ids: &str) -> Finding {
    let mut message = "the lesson ".to_owned();
    match id {
        "" => message.push_str("that is meant"),
        id => message.push_str(&join(&["\u{201c}", id, "\u{201d}"], "")),
    }
    message.push_str(" is not in this page, or could not be read");
    let help = match ids {
        "" => "name it by `for`; this page has no lesson".to_owned(),
        ids => join(&["name one of this page by `for`: ", ids], ""),
    };
    Finding::new(Code::NoSuchLesson, Span::default(), message).with_help(help)
}
