//! What a browser is shown.

use super::served::serve;
use crate::cli::run::site;
use plyline::preview::with_script;
use serde_json::json;
use std::fs;

const SCRIPT: &str = "<script src=\"/.plyline/first.js\"></script>";

#[test]
fn our_script_comes_before_the_first_and_nothing_else_of_a_page_changes() {
    for page in [
        "<!doctype html><html lang=\"en\"><head>|<title>x</title><script src=\"a.js\"></script></head>",
        "\u{feff}<!-- a > b --><!DOCTYPE html>\r\n<HTML data-x='a>b'>\r\n<HEAD data-y=\">\">|<script>1</script>",
        "<!doctype html>|<p>no head",
        "|<p>nothing",
        "|",
        "<!doctype html>|<script>1</script><head></head>",
        "<!doctype html>|<header>no head</header>",
        "<!-- <head> --><head>|x",
        "<!doctype html>|<html><body>",
        "<?xml version=\"1.0\"?><!doctype html><html><head/>|<x/>",
    ] {
        let wanted = page.replace('|', SCRIPT);
        let made = with_script(page.replace('|', "").as_bytes());
        assert_eq!(String::from_utf8_lossy(&made), wanted);
    }
}

#[test]
fn pages_are_listed_with_what_is_found_in_them() {
    let folder = site(
        "listed",
        &[
            ("a & b.md", "```pgn\n1. e4 {good} *\n```\n"),
            ("sub/b.pgn", "1. e4 e4 *\n"),
            ("sub/deep/index.html", "<p>home</p>"),
            ("x.png", ""),
        ],
    );
    let served = serve(&folder, &["."]);
    let list = served.get("/").text();
    assert!(
        list.contains("<a href=\"/a%20%26%20b.md\">a &amp; b.md</a></td><td>no findings"),
        "{list}"
    );
    assert!(
        list.contains("href=\"/sub/b.pgn\">sub/b.pgn</a></td><td>1 error"),
        "{list}"
    );
    assert!(list.contains(SCRIPT));
    assert!(served.get("/sub/").text().contains("/sub/b.pgn"));
    assert!(served.get("/sub/deep/").text().contains("home"));
    let unended = served.get("/sub/deep");
    assert_eq!(
        (unended.status, unended.header("location")),
        (302, Some("/sub/deep/"))
    );
}

#[test]
fn markdown_and_games_get_the_plain_page_and_the_carried_script() {
    let folder = site(
        "plain",
        &[
            (
                "a.md",
                "---\ntitle: Slow lines\nlang: de\n---\n# Other\n\n```pgn\n1. e4 {<b>} *\n```\n",
            ),
            ("b.pgn", "1. e4 {a < b} *\n\n[White \"x\"]\n\n1. d4 *\n"),
        ],
    );
    let served = serve(&folder, &["."]);
    let page = served.get("/a.md").text();
    assert!(
        page.starts_with(&format!(
            "<!doctype html>\n<html lang=\"de\"><head>{SCRIPT}"
        )),
        "{page}"
    );
    assert!(
        page.contains("<title>Slow lines</title>") && !page.contains("title: Slow"),
        "{page}"
    );
    assert!(
        page.contains("<code class=\"language-pgn\">1. e4 {&lt;b&gt;} *"),
        "{page}"
    );
    let games = served.get("/b.pgn").text();
    assert_eq!(games.matches("<ply-line><pre>").count(), 2);
    assert!(games.contains("{a &lt; b}"), "{games}");
    let told = served.done("page", &json!({ "page": "/b.pgn" }));
    assert_eq!(
        (&told["kind"], told["lessons"].as_array().map(Vec::len)),
        (&json!("pgn"), Some(2))
    );
    // Where the program was built without the page files, there are none to carry.
    let built = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("www/dist/plyline.js")
        .exists();
    let wanted = if built { 200 } else { 404 };
    for path in [
        "/.plyline/dist/plyline.js",
        "/plyline.js",
        "/assets/plyline.css",
    ] {
        assert_eq!(served.get(path).status, wanted, "{path}");
    }
}

#[test]
fn findings_are_told_with_their_lesson_their_move_and_their_fix() {
    let text = "# \u{1f40c}\n\n```pgn\n1. e4 c5 {x} 2. Nf3 (2. Nc3 Nc6 3. 0-0) 2... d6 *\n```\n";
    let folder = site("found", &[("a.md", text)]);
    let served = serve(&folder, &["."]);
    let page = served.done("page", &json!({ "page": "/a.md" }));
    let findings = page["findings"].as_array().expect("findings");
    let bad = findings
        .iter()
        .find(|it| it["severity"] == "error")
        .expect("a move that cannot be played");
    assert_eq!(
        (&bad["lesson"], &bad["line"]),
        (&json!(0), &json!(4)),
        "{bad}"
    );
    assert_eq!(bad["at"], json!(["e4", "c5", "Nc3", "Nc6"]), "{bad}");
    let units: Vec<u16> = text.encode_utf16().collect();
    let place = |name: &str| bad[name].as_u64().expect("a place") as usize;
    assert_eq!(
        String::from_utf16_lossy(&units[place("from")..place("to")]),
        "0-0"
    );
}

#[test]
fn a_certain_fix_is_made_at_its_version_and_taken_back() {
    let text = "1. e4 c5 {x} 2. Ngf3 {y} *\n";
    let folder = site("mend", &[("a.pgn", text)]);
    let served = serve(&folder, &["."]);
    let page = served.done("page", &json!({ "page": "/a.pgn" }));
    let findings = page["findings"].as_array().expect("findings");
    let at = findings
        .iter()
        .position(|it| it["fix"] == json!(true))
        .expect("a fix");
    let asked = |version: u64| json!({ "page": "/a.pgn", "version": version, "finding": at });
    let version = page["version"].as_u64().expect("a version");
    assert_eq!(served.post("mend", &asked(version + 1)).0, 409);
    served.done("mend", &asked(version));
    let now = fs::read_to_string(folder.join("a.pgn")).expect("the file");
    assert_eq!(now, text.replace("Ngf3", "Nf3"));
    served.done("undo", &json!({ "page": "/a.pgn", "lesson": 0 }));
    assert_eq!(
        fs::read_to_string(folder.join("a.pgn")).expect("the file"),
        text
    );
}

#[test]
fn a_recording_is_served_in_parts() {
    let folder = site("parts", &[("a.md", ""), ("talk.mp3", "0123456789")]);
    let served = serve(&folder, &["."]);
    let part = served.ask("GET /talk.mp3", &["Range: bytes=3-5"], b"");
    assert_eq!((part.status, part.text().as_str()), (206, "345"));
    assert_eq!(part.header("content-range"), Some("bytes 3-5/10"));
    assert_eq!(
        served
            .ask("GET /talk.mp3", &["Range: bytes=9-2"], b"")
            .status,
        200
    );
}
