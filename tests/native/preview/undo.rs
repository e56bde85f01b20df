//! What is done can be taken back, one step at a time, to the first byte.

use super::served::serve;
use crate::cli::run::site;
use serde_json::{Value, json};
use std::fs;

const PAGE: &str = "# Lines\r\n\r\n> ```pgn\r\n> [Id \"x\"]\r\n>\r\n> 1. e4 c5 {a word} 2. Nf3 (2. Nc3 Nc6) 2... d6 *\r\n> ```\r\n\r\n<ply-line>\r\n<pre>1. d4 d5 {R &amp; B} *</pre></ply-line>\r\n";

#[test]
fn after_undo_of_all_the_file_is_the_first_to_the_byte_and_redo_gives_the_last() {
    let folder = site("undo", &[("a.md", PAGE)]);
    let path = folder.join("a.md");
    let served = serve(&folder, &["."]);
    let edits: Vec<(usize, Value)> = vec![
        (
            0,
            json!({ "keep": { "at": ["e4", "c5", "Nf3", "d6"], "moves": ["d4", "cxd4"] } }),
        ),
        (1, json!({ "keep": { "at": ["d4"], "moves": ["Nf6"] } })),
        (
            0,
            json!({ "comment": { "at": ["e4"], "nth": 0, "was": "", "text": "the other way & back" } }),
        ),
        (0, json!({ "sign": { "at": ["e4", "c5"], "nags": [5] } })),
        (
            1,
            json!({ "comment": { "at": ["d4", "d5"], "nth": 0, "was": "R & B", "text": "B & R" } }),
        ),
        (0, json!({ "lift": { "at": ["e4", "c5", "Nc3"] } })),
        (0, json!({ "drop": { "at": ["e4", "c5", "Nf3"] } })),
        (
            1,
            json!({ "paste": { "at": ["d4"], "text": "d5 2. c4 e6 (2... c6 3. Nf3)" } }),
        ),
        (
            0,
            json!({ "change": { "at": ["e4", "c5"], "moves": ["e6"] } }),
        ),
    ];
    let mut counts = [0, 0];
    for (lesson, edit) in &edits {
        served.done(
            "edit",
            &json!({ "page": "/a.md", "lesson": lesson, "edit": edit }),
        );
        counts[*lesson] += 1;
    }
    let last = fs::read_to_string(&path).expect("the page");
    // In an order of its own for each lesson.
    for (lesson, count) in counts.iter().enumerate() {
        for _ in 0..*count {
            served.done("undo", &json!({ "page": "/a.md", "lesson": lesson }));
        }
        let (status, refused) = served.post("undo", &json!({ "page": "/a.md", "lesson": lesson }));
        assert_eq!((status, refused["code"].as_str()), (409, Some("nothing")));
    }
    assert_eq!(fs::read_to_string(&path).expect("the page"), PAGE);
    for lesson in [1, 0] {
        for _ in 0..counts[lesson] {
            served.done("redo", &json!({ "page": "/a.md", "lesson": lesson }));
        }
    }
    assert_eq!(fs::read_to_string(&path).expect("the page"), last);
}

#[test]
fn one_visit_to_a_comment_is_one_step_and_two_comments_are_two() {
    let folder = site("visit", &[("a.pgn", "1. e4 c5 {a word} *\n")]);
    let served = serve(&folder, &["."]);
    let comment = |at: &[&str], was: &str, text: &str| {
        let edit = json!({ "comment": { "at": at, "nth": 0, "was": was, "text": text } });
        served.done(
            "edit",
            &json!({ "page": "/a.pgn", "lesson": 0, "edit": edit }),
        )
    };
    comment(&["e4", "c5"], "a word", "a word or");
    comment(&["e4", "c5"], "a word or", "a word or two");
    comment(&["e4"], "", "first");
    let done = comment(&["e4"], "first", "first of all");
    assert_eq!(done["page"]["lessons"][0]["undo"], json!("comment on 1.e4"));
    let undo = || served.done("undo", &json!({ "page": "/a.pgn", "lesson": 0 }));
    undo();
    let text = || fs::read_to_string(folder.join("a.pgn")).expect("the file");
    assert_eq!(text(), "1. e4 c5 {a word or two} *\n");
    let done = undo();
    assert_eq!(text(), "1. e4 c5 {a word} *\n");
    assert_eq!(
        (&done["at"], &done["page"]["lessons"][0]["undo"]),
        (&json!(["e4", "c5"]), &json!(null))
    );
    // A comment that was begun and taken out again leaves no step.
    comment(&["e4"], "", "never");
    let done = comment(&["e4"], "never", "");
    assert_eq!(done["page"]["lessons"][0]["undo"], json!(null));
}

#[test]
fn undo_is_made_in_the_file_as_it_is_now_and_refused_where_others_have_changed_its_place() {
    let folder = site(
        "now",
        &[(
            "a.md",
            "Words.\n\n```pgn\n1. e4 c5 2. Nf3 *\n```\n\nThe end.\n",
        )],
    );
    let path = folder.join("a.md");
    let served = serve(&folder, &["."]);
    served.keep("/a.md", 0, &["e4"], &["e5"]);
    served.keep("/a.md", 0, &["e4", "c5"], &["Nc3"]);
    let change = |from: &str, to: &str| {
        let text = fs::read_to_string(&path).expect("the page");
        assert!(text.contains(from), "{text}");
        fs::write(&path, text.replace(from, to)).expect("a save");
    };
    change("Words.", "Many words.\n\nAnd more of them.");
    let undo = || served.post("undo", &json!({ "page": "/a.md", "lesson": 0 }));
    assert_eq!(undo().0, 200);
    let text = fs::read_to_string(&path).expect("the page");
    assert!(
        text.contains("And more") && !text.contains("Nc3") && text.contains("(1... e5)"),
        "{text}"
    );
    // The other half-move that goes on from the move that was entered: it would be left without it.
    change("(1... e5)", "(1... e5 2. Nf3)");
    let (status, refused) = undo();
    assert_eq!(
        (status, refused["code"].as_str()),
        (409, Some("changed")),
        "{refused}"
    );
    let now = fs::read_to_string(&path).expect("the page");
    assert!(now.contains("(1... e5 2. Nf3)"), "{now}");
}

#[test]
fn the_sentence_and_the_place_say_what_was_done_and_taken_back() {
    let folder = site(
        "said",
        &[("a.pgn", "1. d4 d5 2. c4 e6 (2... c6 3. Nf3) 3. Nc3 *\n")],
    );
    let served = serve(&folder, &["."]);
    let (_, done) = served.keep("/a.pgn", 0, &["d4", "d5", "c4", "c6"], &["Nc3"]);
    assert_eq!(done["said"], json!("3.Nc3, line A1"));
    assert_eq!(done["at"], json!(["d4", "d5", "c4", "c6", "Nc3"]));
    let edit = json!({ "lift": { "at": ["d4", "d5", "c4", "c6"] } });
    let done = served.done(
        "edit",
        &json!({ "page": "/a.pgn", "lesson": 0, "edit": edit }),
    );
    assert_eq!(done["prefers"], json!("2...c6"));
    let edit = json!({ "drop": { "at": ["d4", "d5"] } });
    let done = served.done(
        "edit",
        &json!({ "page": "/a.pgn", "lesson": 0, "edit": edit }),
    );
    assert_eq!(done["page"]["lessons"][0]["undo"], json!("drop of 7 moves"));
    let done = served.done("undo", &json!({ "page": "/a.pgn", "lesson": 0 }));
    assert_eq!(done["said"], json!("took back: drop of 7 moves"));
    assert_eq!(done["at"], json!(["d4", "d5"]));
}
