//! What is typed into the one field.

use super::served::{Served, serve};
use crate::cli::run::site;
use serde_json::{Value, json};
use std::fs;

fn enter(served: &Served, at: &[&str], text: &str) -> (u16, Value) {
    served.post(
        "enter",
        &json!({ "page": "/a.pgn", "lesson": 0, "at": at, "text": text }),
    )
}

#[test]
fn moves_signs_and_words_enter_an_empty_file() {
    let folder = site("entered", &[("a.pgn", "")]);
    let served = serve(&folder, &["."]);
    let (_, done) = enter(&served, &[], "e4 c5 nf3");
    assert_eq!(done["at"], json!(["e4", "c5", "Nf3"]));
    let (_, done) = enter(&served, &["e4"], "e6 (c6 {solid}) 2.d4");
    assert_eq!(done["at"], json!(["e4", "e6", "d4"]), "{done}");
    enter(&served, &["e4", "c5"], "!?");
    enter(&served, &["e4", "c5"], "! +=");
    enter(&served, &["e4"], "{the first move}");
    let text = fs::read_to_string(folder.join("a.pgn")).expect("the file");
    let read = crate::support::lesson(&text);
    let c5 = crate::support::node(&read, "1...c5");
    assert_eq!(read.node(c5).nags, [1, 14], "{text}");
    assert_eq!(
        read.node(1)
            .comments
            .iter()
            .map(|it| it.text())
            .collect::<Vec<_>>(),
        ["the first move"]
    );
    assert_eq!(read.nodes.len(), 7, "{text}");
}

#[test]
fn a_word_that_is_no_move_is_told_with_its_place_and_what_may_have_been_meant() {
    let folder = site("no-move", &[("a.pgn", "1. e4 *\n")]);
    let served = serve(&folder, &["."]);
    let (status, refused) = enter(&served, &["e4"], "Nf9");
    assert_eq!((status, refused["code"].as_str()), (409, Some("no-move")));
    assert_eq!(
        (&refused["from"], &refused["to"]),
        (&json!(0), &json!(3)),
        "{refused}"
    );
    assert!(
        refused["near"]
            .as_array()
            .is_some_and(|it| it.contains(&json!("Nf6"))),
        "{refused}"
    );
    // What can be read before it enters, and the rest is left.
    let (status, done) = enter(&served, &["e4"], "c5 2. Nf3 Qd9");
    assert_eq!((status, &done["unread"]), (200, &json!(["Qd9"])), "{done}");
    assert_eq!(
        (&done["stop"]["from"], &done["stop"]["to"]),
        (&json!(10), &json!(13))
    );
}

#[test]
fn a_look_counts_and_changes_nothing() {
    let text = "1. e4 c5 2. Nf3 *\n";
    let folder = site("look", &[("a.pgn", text)]);
    let served = serve(&folder, &["."]);
    let asked = json!({ "page": "/a.pgn", "lesson": 0, "at": [], "text": "1. e4 c5 2. Nf3 d6 3. d4 rubbish", "look": true });
    let looked = served.done("enter", &asked);
    assert_eq!(
        looked,
        json!({ "look": { "moves": 5, "fresh": 2, "here": 3, "named": false, "unread": ["rubbish"] } })
    );
    assert_eq!(
        fs::read_to_string(folder.join("a.pgn")).expect("the file"),
        text
    );
}

#[test]
fn a_look_at_sentences_says_that_they_name_the_moves() {
    let folder = site("sentences", &[("a.pgn", "1. e4 c5 2. Nf3 *\n")]);
    let served = serve(&folder, &["."]);
    let text = "After 2.Nf3 Black plays 2...d6, and then 3.d4 cxd4 opens the centre.";
    let asked =
        |look| json!({ "page": "/a.pgn", "lesson": 0, "at": ["e4"], "text": text, "look": look });
    assert_eq!(
        served.done("enter", &asked(true)),
        json!({ "look": { "moves": 4, "fresh": 3, "here": 1, "named": true, "unread": [] } })
    );
    let done = served.done("enter", &asked(false));
    assert_eq!(
        done["at"],
        json!(["e4", "c5", "Nf3", "d6", "d4", "cxd4"]),
        "{done}"
    );
}

#[test]
fn moves_of_the_board_are_english_and_those_of_the_field_are_the_lessons() {
    // In French R is the king, T the rook (PGN standard, section 17).
    let text = "[Letters \"fr\"]\n[FEN \"4k3/8/8/8/8/8/3R4/4K3 w - - 0 1\"]\n[SetUp \"1\"]\n\n*\n";
    let folder = site("letters", &[("a.pgn", text)]);
    let served = serve(&folder, &["."]);
    let (_, done) = served.keep("/a.pgn", 0, &[], &["Rd1"]);
    assert_eq!(done["at"], json!(["Rd1"]), "{done}");
    assert!(
        fs::read_to_string(folder.join("a.pgn"))
            .expect("the file")
            .contains("Td1")
    );
    let (_, done) = enter(&served, &[], "Rf1");
    assert_eq!(done["at"], json!(["Kf1"]), "{done}");
}
