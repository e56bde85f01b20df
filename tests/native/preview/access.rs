//! Which requests pass: the same request is obeyed as it should be and refused with each one thing changed.

use super::served::{Served, serve};
use crate::cli::run::{folder, site};
use std::fs;

const PAGE: &str = "# Slow lines\n\n```pgn\n1. e4 c5 *\n```\n";
const BODY: &[u8] =
    br#"{"page":"/a.md","lesson":0,"edit":{"keep":{"at":["e4","c5"],"moves":["Nc3"]}}}"#;

fn served(name: &str) -> (std::path::PathBuf, Served) {
    let folder = site(
        name,
        &[
            ("a.md", PAGE),
            ("sub/b.md", PAGE),
            (".hidden/c.md", PAGE),
            (".env", "secret"),
        ],
    );
    let served = serve(&folder, &["."]);
    (folder, served)
}

/// A request as a page of the preview sends it, with other lines in the place of some.
fn request(served: &Served, first: &str, changed: &[(&str, &str)], body: &[u8]) -> Vec<u8> {
    let own = format!("127.0.0.1:{}", served.port);
    let mut lines = vec![
        ("Host", own.clone()),
        ("Origin", format!("http://{own}")),
        ("Sec-Fetch-Site", "same-origin".to_owned()),
        ("Plyline-Key", served.key.clone()),
        ("Content-Type", "application/json".to_owned()),
    ];
    for (name, value) in changed {
        lines.retain(|(known, _)| known != name);
        if !value.is_empty() {
            lines.push((name, (*value).to_owned()));
        }
    }
    let mut text = format!(
        "{first} HTTP/1.1\r\nConnection: close\r\nContent-Length: {}\r\n",
        body.len()
    );
    for (name, value) in lines {
        text += &format!("{name}: {value}\r\n");
    }
    text += "\r\n";
    [text.as_bytes(), body].concat()
}

#[test]
fn the_same_request_is_refused_with_one_thing_changed_and_obeyed_unaltered() {
    let (folder, served) = served("access");
    let port = served.port;
    let first = "POST /.plyline/edit";
    let (evil, other, named) = (
        format!("evil.example:{port}"),
        format!("127.0.0.1:{}", port ^ 1),
        format!("127.0.0.1.:{port}"),
    );
    let (from_other, from_local) = (
        format!("http://127.0.0.1:{}", port ^ 1),
        format!("http://localhost:{port}"),
    );
    let (short, long, cased) = (
        &served.key[1..],
        format!("{}A", served.key),
        served.key.to_lowercase(),
    );
    let secure = format!("https://127.0.0.1:{port}");
    let refused: &[(&str, &str)] = &[
        ("Host", &evil),
        ("Host", &other),
        ("Host", &named),
        ("Host", "127.0.0.1"),
        ("Host", "localhost"),
        ("Host", "[::1]"),
        ("Origin", "null"),
        ("Origin", "http://evil.example"),
        ("Origin", &from_other),
        // The host that was asked is the other name of this machine.
        ("Origin", &from_local),
        ("Origin", &secure),
        ("Sec-Fetch-Site", "cross-site"),
        ("Sec-Fetch-Site", "same-site"),
        ("Sec-Fetch-Site", "none"),
        ("Plyline-Key", ""),
        ("Plyline-Key", "guessed"),
        ("Plyline-Key", short),
        ("Plyline-Key", &long),
        ("Plyline-Key", &cased),
        ("Content-Type", "text/plain"),
        ("Content-Type", "application/x-www-form-urlencoded"),
        ("Content-Type", ""),
    ];
    for change in refused {
        let answer = served.raw(&request(&served, first, &[*change], BODY));
        assert_eq!(answer.status, 403, "{change:?}: {}", answer.text());
        assert!(!answer.text().contains(&served.key), "{change:?}");
        assert_eq!(
            answer.text().lines().count(),
            1,
            "a plain sentence and no more"
        );
    }
    assert_eq!(
        fs::read_to_string(folder.join("a.md")).expect("the page"),
        PAGE
    );
    let answer = served.raw(&request(&served, first, &[], BODY));
    assert_eq!(answer.status, 200, "{}", answer.text());
    let now = fs::read_to_string(folder.join("a.md")).expect("the page");
    assert_eq!(now, PAGE.replace("c5 *", "c5 2. Nc3 *"));
}

#[test]
fn a_header_that_comes_twice_or_not_at_all_is_refused() {
    let (_folder, served) = served("twice");
    let own = format!("127.0.0.1:{}", served.port);
    for lines in [
        String::new(),
        format!("Host: {own}\r\nHost: {own}\r\n"),
        format!("Host: {own}\r\nHost: evil.example\r\n"),
    ] {
        let text = format!("GET /a.md HTTP/1.1\r\n{lines}Connection: close\r\n\r\n");
        let answer = served.raw(text.as_bytes());
        assert!(
            matches!(answer.status, 400 | 403),
            "{lines:?}: {}",
            answer.head
        );
    }
    let keys = format!("Plyline-Key: {0}\r\nPlyline-Key: {0}", served.key);
    let lines = [keys.as_str(), "Content-Type: application/json"];
    assert_eq!(
        served
            .ask("POST /.plyline/page", &lines, br#"{"page":"/a.md"}"#)
            .status,
        403
    );
}

#[test]
fn only_get_head_and_post_are_answered_and_post_only_where_something_can_be_done() {
    let (_folder, served) = served("methods");
    for method in [
        "PUT", "DELETE", "OPTIONS", "PATCH", "TRACE", "CONNECT", "PROPFIND",
    ] {
        for path in ["/a.md", "/.plyline/edit"] {
            let answer = served.raw(&request(&served, &format!("{method} {path}"), &[], b""));
            assert!(
                matches!(answer.status, 400 | 403),
                "{method} {path}: {}",
                answer.head
            );
            assert_eq!(answer.header("access-control-allow-origin"), None);
        }
    }
    for path in [
        "/a.md",
        "/",
        "/.plyline/",
        "/.plyline/other",
        "/.plyline/edit/",
        "/.plyline/first.js",
    ] {
        let answer = served.raw(&request(&served, &format!("POST {path}"), &[], BODY));
        assert_eq!(answer.status, 403, "{path}");
    }
    assert_eq!(served.ask("HEAD /a.md", &[], b"").status, 200);
    // What is to be done cannot be asked for by an address alone.
    assert_eq!(served.get("/.plyline/edit").status, 404);
}

#[test]
fn no_spelling_leads_out_of_the_folder_or_to_a_hidden_name() {
    let (folder, served) = served("spellings");
    let outside = folder
        .parent()
        .expect("a folder around")
        .join("outside-of-spellings.txt");
    fs::write(&outside, "outside").expect("a file");
    let name = "outside-of-spellings.txt";
    let up = [
        "/../",
        "/sub/../../",
        "/%2e%2e/",
        "/%2E%2E/",
        "/.%2e/",
        "/%2e./",
        "/..%2f",
        "/..%2F",
        "/..%5c",
        "/..\\",
        "/%2e%2e%5c",
        "//../",
        "/./../",
        "/sub/%2e%2e/%2e%2e/",
        "/%252e%252e/",
        "/..;/",
        "/%c0%ae%c0%ae/",
        "/%u002e%u002e/",
        "/..%00/",
    ];
    for spelling in up {
        let answer = served.get(&format!("{spelling}{name}"));
        assert!(
            matches!(answer.status, 400 | 403 | 404),
            "{spelling}: {}",
            answer.status
        );
        assert!(
            !answer.text().contains("outside\n") && answer.text() != "outside",
            "{spelling}"
        );
    }
    for path in [
        "/.env",
        "/%2eenv",
        "/.hidden/c.md",
        "/%2ehidden/c.md",
        "/sub/.",
        "/sub/..",
        "/a.md%00",
        "/a.md%00.png",
        "//a.md",
        "/sub//b.md",
        "/./a.md",
        "/sub%2fb.md",
        "/sub%5cb.md",
        "/sub\\b.md",
        "/a.md/",
        "/a.md%0a",
    ] {
        let answer = served.get(path);
        assert!(
            matches!(answer.status, 400 | 403 | 404),
            "{path}: {}",
            answer.status
        );
        assert!(
            !answer.text().contains("Slow lines") && !answer.text().contains("secret"),
            "{path}"
        );
        let (status, _) = served.post("page", &serde_json::json!({ "page": path }));
        assert_eq!(status, 409, "{path}");
    }
    let whole = format!(
        "GET http://127.0.0.1:{0}/a.md HTTP/1.1\r\nHost: 127.0.0.1:{0}\r\nConnection: close\r\n\r\n",
        served.port
    );
    assert_ne!(served.raw(whole.as_bytes()).status, 200);
    let absolute = format!("/{}", outside.display());
    assert_ne!(served.get(&absolute).status, 200);
    assert_eq!(served.get("/a.md").status, 200);
    assert_eq!(served.get("/%61%2Emd").status, 200);
    fs::remove_file(outside).expect("it is ours");
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder_is_not_followed() {
    use std::os::unix::fs::symlink;
    let (folder, served) = served("links");
    let outside = crate::cli::run::site("links-outside", &[("o.md", PAGE), ("o.txt", "outside")]);
    symlink(outside.join("o.md"), folder.join("link.md")).expect("a link");
    symlink(outside.join("o.txt"), folder.join("link.txt")).expect("a link");
    symlink(&outside, folder.join("out")).expect("a link");
    symlink(folder.join(".env"), folder.join("env.txt")).expect("a link");
    symlink(folder.join("a.md"), folder.join("within.md")).expect("a link");
    for path in [
        "/link.md",
        "/link.txt",
        "/out/o.md",
        "/out/o.txt",
        "/out/",
        "/env.txt",
    ] {
        assert_eq!(served.get(path).status, 404, "{path}");
        let (status, _) = served.keep(path, 0, &["e4", "c5"], &["Nc3"]);
        assert_eq!(status, 409, "{path}");
    }
    assert_eq!(
        fs::read_to_string(outside.join("o.md")).expect("the page"),
        PAGE
    );
    // One within the folder stays a link, and what it leads to is written.
    assert_eq!(served.keep("/within.md", 0, &["e4", "c5"], &["Nc3"]).0, 200);
    assert!(folder.join("within.md").is_symlink());
    assert!(
        fs::read_to_string(folder.join("a.md"))
            .expect("the page")
            .contains("Nc3")
    );
    assert!(served.get("/").text().contains("leads out of the folder"));
}

#[test]
fn forty_megabytes_are_not_read() {
    let (_folder, served) = served("large");
    let key = format!("Plyline-Key: {}", served.key);
    let lines = [key.as_str(), "Content-Type: application/json"];
    let large = vec![b' '; 40 << 20];
    let answer = served.ask("POST /.plyline/edit", &lines, &large);
    // The connection may be gone before all was sent, and the answer with it.
    assert!(matches!(answer.status, 413 | 0), "{}", answer.head);
    let answer = served.ask("POST /.plyline/edit", &lines, &vec![b' '; (1 << 20) + 1]);
    assert!(matches!(answer.status, 413 | 0), "{}", answer.head);
    if answer.status == 413 {
        assert!(
            answer.text().contains("more than 1 MB"),
            "{}",
            answer.text()
        );
    }
    assert_eq!(served.get("/a.md").status, 200, "it goes on");
}

#[test]
fn every_answer_keeps_frames_other_sites_and_caches_out() {
    let (_folder, served) = served("headers");
    let refused = served.ask("GET /a.md", &["Origin: http://evil.example"], b"");
    let missing = served.get("/missing.png");
    let page = served.get("/a.md");
    let script = served.get("/.plyline/first.js");
    let done = served.raw(&request(&served, "POST /.plyline/edit", &[], BODY));
    assert_eq!(
        [
            refused.status,
            missing.status,
            page.status,
            script.status,
            done.status
        ],
        [403, 404, 200, 200, 200]
    );
    for answer in [&refused, &missing, &page, &script, &done] {
        assert_eq!(answer.header("cache-control"), Some("no-store"));
        assert_eq!(answer.header("x-content-type-options"), Some("nosniff"));
        assert_eq!(answer.header("x-frame-options"), Some("DENY"));
        assert!(
            answer
                .header("content-security-policy")
                .is_some_and(|it| it.contains("frame-ancestors 'none'"))
        );
        assert_eq!(answer.header("access-control-allow-origin"), None);
        assert!(!answer.text().contains(&served.key) && !answer.head.contains(&served.key));
    }
    let policy = page.header("content-security-policy").expect("a policy");
    assert!(
        policy.contains("script-src 'self' 'unsafe-inline' 'wasm-unsafe-eval'"),
        "{policy}"
    );
}

#[test]
fn one_file_alone_is_served_with_what_a_page_loads_and_nothing_else() {
    let folder = site(
        "one",
        &[
            ("a.md", PAGE),
            ("b.md", PAGE),
            ("p.png", "png"),
            ("notes.txt", "mine"),
            ("sub/q.css", "css"),
        ],
    );
    let served = serve(&folder, &["a.md"]);
    for (path, status) in [
        ("/a.md", 200),
        ("/p.png", 200),
        ("/sub/q.css", 200),
        ("/b.md", 404),
        ("/notes.txt", 404),
        ("/sub/", 404),
    ] {
        assert_eq!(served.get(path).status, status, "{path}");
    }
    assert_eq!(served.keep("/b.md", 0, &["e4", "c5"], &["Nc3"]).0, 409);
    assert_eq!(served.get("/").text().matches("<tr>").count(), 1);
}

#[test]
fn two_runs_have_two_keys_of_256_bits() {
    let folder = folder("keys");
    let keys = [
        serve(&folder, &["."]).key.clone(),
        serve(&folder, &["."]).key.clone(),
    ];
    assert_ne!(keys[0], keys[1]);
    assert_eq!(keys.map(|it| it.len()), [43, 43]);
}
