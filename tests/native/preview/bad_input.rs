//! What goes wrong with files, ports and disks: a clear sentence, and nothing half written.

use super::served::{Served, serve};
use crate::cli::run::{folder, run, site};
use serde_json::{Value, json};
use std::fs;
use std::net::TcpListener;

const PAGE: &str = "Words.\n\n```pgn\n1. e4 c5 *\n```\n\nThe end.\n";

fn refused(served: &Served, page: &str) -> Value {
    let (status, value) = served.keep(page, 0, &["e4", "c5"], &["Nf3"]);
    assert_eq!(status, 409, "{value}");
    assert!(
        value["reason"].as_str().is_some_and(|it| it.len() > 10),
        "{value}"
    );
    assert!(
        value["help"].as_str().is_some_and(|it| !it.is_empty()),
        "{value}"
    );
    value
}

#[test]
fn a_port_that_is_taken_and_a_path_that_is_none_are_told_at_the_start() {
    let taken = TcpListener::bind("127.0.0.1:0").expect("a port");
    let port = taken.local_addr().expect("its address").port().to_string();
    let folder = site("start", &[("a.md", PAGE), ("a.txt", "")]);
    let done = run(&folder, &["preview", ".", "--port", &port]);
    assert_eq!((done.code, done.out.as_str()), (2, ""));
    assert!(
        done.err.contains(&port) && done.err.contains("--port"),
        "{}",
        done.err
    );
    for path in ["missing", "a.txt"] {
        let done = run(&folder, &["preview", path]);
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{}", done.err);
        assert!(done.err.contains(path), "{}", done.err);
    }
    for address in [
        "http://example.org:4000",
        "http://192.168.0.1:4000",
        "https://127.0.0.1:4000",
        "http://127.0.0.1:4000/x",
        "http://127.0.0.1@example.org",
    ] {
        let done = run(&folder, &["preview", ".", "--through", address]);
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{address}");
        assert!(done.err.contains("this machine"), "{}", done.err);
    }
}

#[test]
fn a_file_that_is_gone_is_told_and_comes_back() {
    let folder = site("deleted", &[("a.md", PAGE)]);
    let path = folder.join("a.md");
    let served = serve(&folder, &["."]);
    let before = served.done("page", &json!({ "page": "/a.md" }));
    fs::remove_file(&path).expect("it is removed");
    assert_eq!(refused(&served, "/a.md")["code"], json!("deleted"));
    let page = served.done("page", &json!({ "page": "/a.md" }));
    assert_eq!(page["lessons"][0]["writable"], json!(false));
    assert_eq!(
        page["lessons"][0]["text"], before["lessons"][0]["text"],
        "what was typed has still its place"
    );
    assert!(
        page["problem"]
            .as_str()
            .is_some_and(|it| it.contains("not there")),
        "{page}"
    );
    fs::create_dir(&path).expect("a folder in its place");
    assert_eq!(refused(&served, "/a.md")["code"], json!("no-file"));
    fs::remove_dir(&path).expect("it is removed");
    fs::write(&path, PAGE).expect("it is back");
    let page = served.done("page", &json!({ "page": "/a.md" }));
    assert_eq!(
        (&page["problem"], &page["lessons"][0]["writable"]),
        (&json!(null), &json!(true))
    );
    assert_eq!(served.keep("/a.md", 0, &["e4", "c5"], &["Nf3"]).0, 200);
}

#[test]
fn a_file_that_may_not_be_written_stays_as_it_is() {
    let folder = site("read-only", &[("a.md", PAGE)]);
    let path = folder.join("a.md");
    let mut permissions = fs::metadata(&path).expect("the file").permissions();
    permissions.set_readonly(true);
    fs::set_permissions(&path, permissions).expect("it is protected");
    let served = serve(&folder, &["."]);
    assert_eq!(refused(&served, "/a.md")["code"], json!("read-only"));
    assert_eq!(fs::read_to_string(&path).expect("the file"), PAGE);
    assert_eq!(
        fs::read_dir(&folder).expect("the folder").count(),
        1,
        "nothing is left beside it"
    );
}

#[test]
fn a_file_that_has_grown_too_long_is_told_and_not_cut() {
    let folder = site("grown", &[("a.md", PAGE)]);
    let path = folder.join("a.md");
    let served = serve(&folder, &["."]);
    served.done("page", &json!({ "page": "/a.md" }));
    let long = PAGE.to_owned() + &"word ".repeat(10 << 20);
    fs::write(&path, &long).expect("50 MB");
    assert_eq!(refused(&served, "/a.md")["code"], json!("too-long"));
    assert_eq!(served.get("/a.md").status, 404);
    assert_eq!(
        fs::metadata(&path).expect("the file").len(),
        long.len() as u64
    );
    fs::write(&path, PAGE).expect("short again");
    assert_eq!(served.keep("/a.md", 0, &["e4", "c5"], &["Nf3"]).0, 200);
}

#[test]
fn latin_1_stays_latin_1_and_a_letter_that_it_lacks_is_refused() {
    let folder = folder("latin");
    let path = folder.join("a.pgn");
    let latin = b"1. e4 {caf\xe9} c5 *\n";
    fs::write(&path, latin).expect("the file");
    let served = serve(&folder, &["."]);
    let comment = |text: &str| {
        let edit = json!({ "comment": { "at": ["e4", "c5"], "nth": 0, "was": "", "text": text } });
        served.post(
            "edit",
            &json!({ "page": "/a.pgn", "lesson": 0, "edit": edit }),
        )
    };
    let (status, value) = comment("\u{2654}");
    assert_eq!(
        (status, value["code"].as_str()),
        (409, Some("encoding")),
        "{value}"
    );
    assert_eq!(fs::read(&path).expect("the file"), latin);
    assert_eq!(comment("d\u{e9}j\u{e0}").0, 200);
    assert_eq!(
        fs::read(&path).expect("the file"),
        b"1. e4 {caf\xe9} c5 {d\xe9j\xe0} *\n"
    );
}

#[test]
fn a_byte_order_mark_stays() {
    let folder = site("mark", &[("a.md", &format!("\u{feff}{PAGE}"))]);
    let served = serve(&folder, &["."]);
    assert_eq!(served.keep("/a.md", 0, &["e4", "c5"], &["Nf3"]).0, 200);
    let now = fs::read_to_string(folder.join("a.md")).expect("the file");
    assert_eq!(
        now,
        format!("\u{feff}{}", PAGE.replace("c5 *", "c5 2. Nf3 *"))
    );
}

#[test]
fn a_page_that_cannot_be_read_as_a_lesson_says_why_it_cannot_be_written() {
    let folder = site(
        "broken",
        &[
            (
                "a.md",
                "<ply-line src=\"b.pgn\"></ply-line>\n\n```pgn\n1. e4 (1. d4\n```\n",
            ),
            ("b.pgn", "1. e4 *\n"),
            ("c.md", "no lesson"),
        ],
    );
    let served = serve(&folder, &["."]);
    let page = served.done("page", &json!({ "page": "/a.md" }));
    let lessons = page["lessons"].as_array().expect("lessons");
    assert_eq!(lessons[0]["writable"], json!(false));
    assert!(
        lessons[0]["why"]
            .as_str()
            .is_some_and(|it| it.contains("b.pgn")),
        "{page}"
    );
    for (lesson, code) in [(0, "not-in-file"), (7, "not-in-file")] {
        let (status, value) = served.keep("/a.md", lesson, &[], &["e4"]);
        assert_eq!(
            (status, value["code"].as_str()),
            (409, Some(code)),
            "{value}"
        );
    }
    let (status, value) = served.keep("/c.md", 0, &[], &["e4"]);
    assert_eq!(
        (status, value["code"].as_str()),
        (409, Some("not-in-file")),
        "{value}"
    );
    for body in ["", "{", "[]", "{\"page\":1}"] {
        let key = format!("Plyline-Key: {}", served.key);
        let answer = served.ask(
            "POST /.plyline/edit",
            &[&key, "Content-Type: application/json"],
            body.as_bytes(),
        );
        assert_eq!(answer.status, 400, "{body}: {}", answer.text());
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told_and_leaves_the_file_whole() {
    // A small file system of its own needs the administrator; where there is none this is not looked at.
    let folder = folder("full");
    let mount = std::process::Command::new("mount")
        .args(["-t", "tmpfs", "-o", "size=64k", "none"])
        .arg(&folder)
        .output();
    if !mount.is_ok_and(|it| it.status.success()) {
        eprintln!("no file system can be mounted here: a full disk was not tried");
        return;
    }
    let told = std::panic::catch_unwind(|| {
        let page = PAGE.to_owned() + &"word ".repeat(8000);
        fs::write(folder.join("a.md"), &page).expect("the page");
        let served = serve(&folder, &["."]);
        assert_eq!(refused(&served, "/a.md")["code"], json!("disk-full"));
        assert_eq!(
            fs::read_to_string(folder.join("a.md")).expect("the page"),
            page
        );
        assert_eq!(
            fs::read_dir(&folder).expect("the folder").count(),
            1,
            "nothing is left beside it"
        );
    });
    let _ = std::process::Command::new("umount").arg(&folder).output();
    told.expect("as it should be");
}
