//! Whole lessons: names of places, and their export.

use plyline::edge;
use plyline::lesson::place::address::{address, follow};
use plyline::lesson::prose::misplaced::finding;
use plyline::lesson::prose::{Context, named};
use plyline::lesson::{self, Lesson, LocateError, export, locate};
use plyline::notation::{self, Letters};
use plyline::text::{Source, limits};

/// A lesson with sidelines, passes, castling, a promotion and moves that come twice.
const LESSON: &str = "1. d4 d5 (1... Nf6 2. c4 e6 (2... g6 3. d5) 3. Nc3 d5) 2. c4 e6 3. Nc3 Nf6 4. cxd5 exd5 \
    (4... --) 5. Bg5 Be7 6. e3 O-O (6... h6 7. Bxf6 Bxf6) 7. Bd3 c5 8. dxc5 d4 9. c6 dxc3 10. cxb7 cxb2 \
    11. bxa8=N *";

/// Any locator is answered, and an answer is of this lesson.
pub fn locators(bytes: &[u8]) {
    let Ok(text) = core::str::from_utf8(bytes) else {
        return;
    };
    let lesson = lessons(LESSON).remove(0).expect("the lesson above");
    match locate(&lesson, text) {
        Ok(id) => assert!(lesson.get(id).is_some()),
        Err(LocateError::None) => {}
        Err(LocateError::Several(ids)) => {
            assert!(ids.len() > 1 && ids.is_sorted(), "{ids:?}");
            assert!(ids.iter().all(|&id| lesson.get(id).is_some()));
        }
    }
}

/// Any sentence is read; what it names is in it, in order, and its address leads back there.
pub fn prose(bytes: &[u8]) {
    let Ok(text) = core::str::from_utf8(bytes) else {
        return;
    };
    let lesson = lessons(LESSON).remove(0).expect("the lesson above");
    let mut context = Context::default();
    let mut past = 0;
    for paragraph in text.lines() {
        for one in named(&lesson, Letters::ENGLISH, &mut context, paragraph) {
            assert!(one.range.start >= past && paragraph.get(one.range.clone()).is_some());
            past = one.range.end;
            match &one.place {
                Ok(place) => {
                    let run = address(&lesson, place);
                    let again = follow(&lesson, &run).expect("an address that leads somewhere");
                    assert_eq!(again.node, place.node, "{run}");
                    assert_eq!(again.aside.len(), place.aside.len(), "{run}");
                }
                Err(missed) => {
                    let range = one.range.clone();
                    _ = finding(&lesson, Letters::ENGLISH, paragraph, range, missed);
                }
            }
        }
        past = 0;
    }
}

/// An exported lesson reads back as the same tree, and is exported the same again.
pub fn print_parse(bytes: &[u8]) {
    let (source, _) = Source::from_bytes("fuzz.pgn", bytes);
    let (syntax, _) = notation::parse(&source);
    let (lessons_read, _) = lesson::validate(&source, &syntax);
    for lesson in lessons_read.iter().flatten() {
        let Ok(pgn) = export(lesson, false) else {
            continue;
        };
        // Writing adds the roster and `SetUp`, and more tags than the limit are not read.
        if lesson.tags.len() + 8 > limits::TAGS {
            continue;
        }
        let mut again = lessons(&pgn);
        assert_eq!(again.len(), 1, "{pgn}");
        let again = again
            .remove(0)
            .unwrap_or_else(|| panic!("no lesson in\n{pgn}"));
        assert_eq!(tree(&again), tree(lesson), "\n{pgn}");
        assert_eq!(export(&again, false).as_ref(), Ok(&pgn));
    }
}

fn lessons(text: &str) -> Vec<Option<Lesson>> {
    let source = Source::new("again.pgn", text);
    let (syntax, _) = notation::parse(&source);
    lesson::validate(&source, &syntax).0
}

/// The tree as data, tags left out: writing fills the roster.
fn tree(lesson: &Lesson) -> String {
    let mut data = edge::lesson(lesson);
    data.tags.0.clear();
    serde_json::to_string(&data).expect("plain data")
}
