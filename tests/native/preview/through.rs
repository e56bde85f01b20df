//! The preview before the server of a generator.

use super::served::{answer, serve};
use crate::cli::run::site;
use serde_json::json;
use std::fs;
use std::io::{Read, Write};
use std::net::TcpListener;
use std::thread;

const PAGE: &str = "# Slow lines\n\n```pgn\n1. e4 c5 {R & B} *\n```\n";

/// A server that gives one answer to every request, and says the first line and the headers that it got.
fn generator(answer: &'static str) -> u16 {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    let port = listener.local_addr().expect("its address").port();
    thread::spawn(move || {
        for mut stream in listener.incoming().flatten() {
            let mut bytes = [0; 4096];
            let count = stream.read(&mut bytes).unwrap_or(0);
            let asked = String::from_utf8_lossy(&bytes[..count]).replace("\r\n", "|");
            let body = answer.replace("ASKED", &asked);
            let (head, body) = body.split_once("\n\n").unwrap_or((&body, ""));
            let head = head.replace('\n', "\r\n");
            let _ = write!(
                stream,
                "{head}\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
                body.len()
            );
        }
    });
    port
}

#[test]
fn pages_of_the_generator_get_our_script_and_nothing_of_the_key_reaches_it() {
    let port = generator(
        "HTTP/1.1 200 OK\nContent-Type: text/html; charset=utf-8\nAccess-Control-Allow-Origin: *\nSet-Cookie: a=b\n\n<!doctype html><head><title>ASKED</title>",
    );
    let folder = site("through", &[("a.md", PAGE)]);
    let served = serve(
        &folder,
        &[".", "--through", &format!("http://127.0.0.1:{port}")],
    );
    let key = format!("Plyline-Key: {}", served.key);
    let page = served.ask("GET /posts/a/?draft=1", &[&key, "Cookie: c=d"], b"");
    assert_eq!(page.status, 200);
    let text = page.text();
    assert!(text.starts_with("<!doctype html><head><script src=\"/.plyline/first.js\"></script><title>GET /posts/a/?draft=1 "), "{text}");
    let lower = text.to_lowercase();
    assert!(
        !text.contains(&served.key) && !lower.contains("cookie"),
        "{text}"
    );
    assert!(lower.contains(&format!("host: 127.0.0.1:{port}")), "{text}");
    assert_eq!(
        (
            page.header("access-control-allow-origin"),
            page.header("set-cookie")
        ),
        (None, None)
    );
    assert_eq!(page.header("x-frame-options"), Some("DENY"));
    // The gate comes first.
    assert_eq!(
        served
            .ask("GET /posts/a/", &["Origin: http://evil.example"], b"")
            .status,
        403
    );
    assert_eq!(served.get("/../a").status, 403);
    assert!(served.get("/.plyline/first.js").status == 200);
}

#[test]
fn other_answers_and_redirections_are_handed_on() {
    let port =
        generator("HTTP/1.1 302 Found\nLocation: /other/\nContent-Type: text/plain\n\nmoved");
    let folder = site("moved", &[("a.md", PAGE)]);
    let served = serve(
        &folder,
        &[".", "--through", &format!("http://localhost:{port}/")],
    );
    let moved = served.get("/x");
    assert_eq!(
        (
            moved.status,
            moved.header("location"),
            moved.text().as_str()
        ),
        (302, Some("/other/"), "moved")
    );
}

#[test]
fn a_generator_that_does_not_run_is_told() {
    let port = {
        let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
        listener.local_addr().expect("its address").port()
    };
    let folder = site("absent", &[("a.md", PAGE)]);
    let served = serve(
        &folder,
        &[".", "--through", &format!("http://127.0.0.1:{port}")],
    );
    let page = served.get("/");
    assert_eq!(page.status, 502);
    assert!(page.text().contains(&port.to_string()), "{}", page.text());
}

#[test]
fn a_lesson_belongs_to_the_one_file_whose_text_it_has() {
    let port = generator("HTTP/1.1 200 OK\nContent-Type: text/plain\n\nx");
    let folder = site(
        "sources",
        &[
            ("posts/a b.md", PAGE),
            ("c.md", "```pgn\n1. d4 *\n```\n"),
            ("d.pgn", "1. d4 *\n"),
        ],
    );
    let served = serve(
        &folder,
        &[".", "--through", &format!("http://127.0.0.1:{port}")],
    );
    let found = served.done("lesson", &json!({ "text": "1. e4 c5 {R & B} *\n" }));
    assert_eq!(found, json!({ "page": "/posts/a%20b.md", "lesson": 0 }));
    let (status, _) = served.keep("/posts/a%20b.md", 0, &["e4", "c5"], &["Nf3"]);
    assert_eq!(status, 200);
    assert!(
        fs::read_to_string(folder.join("posts/a b.md"))
            .expect("the page")
            .contains("2. Nf3 *")
    );
    for (text, code) in [("1. d4 *", "several"), ("1. c4 *", "none")] {
        let (status, value) = served.post("lesson", &json!({ "text": text }));
        assert_eq!(
            (status, value["code"].as_str()),
            (409, Some(code)),
            "{value}"
        );
        assert!(
            value["reason"]
                .as_str()
                .is_some_and(|it| it.contains("only be read")),
            "{value}"
        );
    }
}

#[test]
fn an_answer_in_chunks_is_read_whole() {
    // The reader of these tests, not the program.
    let read = answer(
        b"HTTP/1.1 200 OK\r\nTransfer-Encoding: chunked\r\n\r\n3\r\nabc\r\n2\r\nde\r\n0\r\n\r\n",
    );
    assert_eq!(read.text(), "abcde");
}
