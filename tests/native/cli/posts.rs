//! `plyline check` on posts: what is read of them, from where, and what is written into them.

use super::run::{folder, json_lines, plyline, run, site};
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Stdio;

const LESSON: &str = "```pgn\n[Id \"open\"]\n\n1. e4 e5 2. Nf3 Nc6 $10 *\n```\n";

/// File, line, column and code of all findings.
fn found(folder: &Path, words: &[&str]) -> Vec<(String, u64, u64, String)> {
    let done = run(folder, &[&["check", "--format", "json"], words].concat());
    let text = |value: &serde_json::Value| value.as_str().unwrap_or_default().to_owned();
    let lines = json_lines(&done.out).into_iter();
    let number = |value: &serde_json::Value| value.as_u64().unwrap_or_default();
    lines
        .map(|it| {
            (
                text(&it["file"]),
                number(&it["line"]),
                number(&it["column"]),
                text(&it["code"]),
            )
        })
        .collect()
}

fn at(file: &str, line: u64, column: u64, code: &str) -> (String, u64, u64, String) {
    (file.to_owned(), line, column, code.to_owned())
}

#[test]
fn posts_of_a_folder_are_checked_with_its_notation_files() {
    let folder = site(
        "posts",
        &[
            ("a.pgn", "1. e5 *"),
            ("b.md", "# B\n\n```pgn\n1. e4 e5 2. Nf4 *\n```\n"),
            (
                "c/d.html",
                "<ply-line><pre>1. e4 e5 2. Nf4 *</pre></ply-line>",
            ),
            ("readme.md", "# Nothing of ours\n\n1. e5 is no move here.\n"),
        ],
    );
    let wanted = [
        at("./a.pgn", 1, 4, "P044"),
        at("./b.md", 4, 13, "P012"),
        at("./c/d.html", 1, 28, "P012"),
    ];
    assert_eq!(found(&folder, &["."]), wanted);
}

#[test]
fn notation_in_a_file_of_its_own_is_checked_once_and_at_its_own_place() {
    let quiz = "<ply-line src=\"../lines/a.pgn\"></ply-line>\n\n<ply-quiz src=\"../lines/a.pgn#2\" at=\"2.a4\">?</ply-quiz>\n";
    let folder = site(
        "posts-src",
        &[
            ("posts/a.md", quiz),
            ("lines/a.pgn", "1. e4 e5 2. Nf4 *\n\n1. d4 d5 $10 *\n"),
            (
                "posts/b.md",
                "<ply-line src=\"/lines/none.pgn\"></ply-line>\n",
            ),
            (
                "posts/c.md",
                "<ply-line src=\"https://example.org/a.pgn\"></ply-line>\n",
            ),
        ],
    );
    let wanted = [
        at("posts/a.md", 3, 38, "P041"),
        at("posts/b.md", 1, 16, "P064"),
        at("lines/a.pgn", 1, 13, "P012"),
    ];
    assert_eq!(found(&folder, &["posts", "--root", "."]), wanted);
}

#[test]
fn a_mend_in_a_post_changes_its_own_bytes_and_no_others() {
    let text = "# R & D\r\n\r\n> ```pgn\r\n> 1. e4 e5 2. nf3 {a &amp; b} $10 *\r\n> ```\r\n\r\n2. 0-0 stays.\r\n";
    let folder = site("posts-fix", &[("a.md", text)]);
    let done = run(&folder, &["check", "--fix", "a.md"]);
    let after = fs::read_to_string(folder.join("a.md")).expect("the post");
    assert_eq!(after, text.replace("nf3", "Nf3"));
    assert!(done.out.contains("a.md:4:15: nf3 -> Nf3"), "{}", done.out);
    assert_eq!(done.code, 0, "{}", done.out);
}

#[test]
fn standard_input_is_read_as_what_its_name_says() {
    let check = |words: &[&str], text: &str| {
        let mut command = plyline(&folder("posts-input"), words);
        let mut child = command
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let mut input = child.stdin.take().expect("its input");
        input.write_all(text.as_bytes()).expect("it reads");
        drop(input);
        let output = child.wait_with_output().expect("it ends");
        let lines = json_lines(&String::from_utf8_lossy(&output.stdout));
        let told = lines
            .iter()
            .map(|it| format!("{}:{}", it["file"].as_str().unwrap_or_default(), it["code"]));
        (output.status.code(), told.collect::<Vec<_>>())
    };
    let json = ["check", "--format", "json", "-"];
    assert_eq!(
        check(&json, "1. e5 *"),
        (Some(1), vec!["-:\"P044\"".to_owned()])
    );
    let named = [&json[..], &["--name", "posts/x.md"]].concat();
    assert_eq!(check(&named, "1. e5 *"), (Some(0), vec![]));
    let told = vec!["posts/x.md:\"P044\"".to_owned()];
    assert_eq!(check(&named, "```pgn\n1. e5 *\n```\n"), (Some(1), told));
    assert_eq!(check(&["check", "--fix", "-"], "1. e5 *").0, Some(2));
}

#[test]
fn a_text_that_looks_like_a_post_and_is_named_otherwise_is_told_once() {
    let folder = site(
        "posts-unnamed",
        &[
            ("post.txt", "# A post\n\n```pgn\n1. e4 *\n```\n"),
            ("moves.txt", "1. e4 e5 $10 *\n"),
        ],
    );
    let told = |name: &str, input: &str| {
        let mut command = plyline(&folder, &["check", name]);
        let mut child = command
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let mut pipe = child.stdin.take().expect("its input");
        pipe.write_all(input.as_bytes()).expect("it reads");
        drop(pipe);
        let output = child.wait_with_output().expect("it ends");
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        said.matches("this looks like a post; say so by").count()
    };
    assert_eq!(told("post.txt", ""), 1);
    assert_eq!(told("moves.txt", ""), 0);
    for post in [
        "---\ntitle: A\n---\n",
        "# A",
        "<p>so",
        "So\n\n```pgn\n1. e4 *\n```",
    ] {
        assert_eq!(told("-", post), 1, "{post}");
    }
    assert_eq!(told("-", "[Event \"?\"]\n\n1. e4 e5 $10 *"), 0);
}

#[test]
fn links_are_listed_with_their_place_words_and_address() {
    let text = format!(
        "<ply-prose for=\"open\">\n\nAfter 2.Nf3 comes Nc6,\nnot 2.Nf5.\n\n</ply-prose>\n\n{LESSON}"
    );
    let folder = site("posts-links", &[("a.md", &text)]);
    let done = run(&folder, &["check", "--links", "a.md"]);
    assert_eq!(
        done.out,
        "a.md:3:7  2.Nf3  open/2.Nf3\na.md:3:19  Nc6  open/2...Nc6\na.md:4:5  2.Nf5  -\n"
    );
    let json = run(&folder, &["check", "--links", "--format", "json", "a.md"]);
    let last = json_lines(&json.out).pop().expect("a line");
    assert_eq!(
        last,
        serde_json::json!({ "file": "a.md", "line": 4, "column": 5, "words": "2.Nf5", "address": null })
    );
}

#[test]
fn other_commands_say_that_a_post_is_not_for_them() {
    let folder = site("posts-tree", &[("a.md", LESSON)]);
    for command in ["tree", "export"] {
        let done = run(&folder, &[command, "a.md"]);
        assert_eq!(done.code, 2);
        assert!(done.err.contains("`plyline check` reads"), "{}", done.err);
    }
}

#[test]
fn findings_of_many_files_come_in_the_order_of_the_files() {
    let names: Vec<String> = (0..150).map(|number| format!("{number:03}.md")).collect();
    let text = "```pgn\n1. e4 e5 2. Nf4 *\n```\n";
    let files: Vec<(&str, &str)> = names.iter().map(|name| (name.as_str(), text)).collect();
    let folder = site("posts-many", &files);
    let wanted: Vec<_> = names
        .iter()
        .map(|name| at(&format!("./{name}"), 2, 13, "P012"))
        .collect();
    assert_eq!(found(&folder, &["."]), wanted);
}

/// Two posts: the second is about a lesson of the first.
fn series(other: &str) -> PathBuf {
    let first = "# A\n\n```pgn\n[Id \"open\"]\n\n1. e4 e5 2. Nf3 Nc6 $10 *\n```\n";
    site("series", &[("a.md", first), ("b/index.md", other)])
}

#[test]
fn an_element_may_be_about_a_lesson_of_another_post() {
    for address in ["../a.html", "../a/", "../a", "../a.md"] {
        let folder = series(&format!(
            "<ply-quiz for=\"{address}#open\" at=\"2.Nf3\"></ply-quiz>\n\n<ply-ref for=\"{address}#open\" at=\"2.Nf4\">x</ply-ref>\n"
        ));
        let (line, column) = (3, 26 + address.len() as u64);
        let wanted = [at("./b/index.md", line, column, "P041")];
        assert_eq!(found(&folder, &["."]), wanted, "{address}");
    }
}

#[test]
fn a_lesson_that_another_post_does_not_have_is_told_with_those_that_it_has() {
    let folder = series("<ply-recap for=\"../a.html#opne\"></ply-recap>\n");
    let done = run(&folder, &["check", "."]);
    assert!(done.out.contains("is not in ../a.html"), "{}", done.out);
    assert!(done.out.contains("open"), "{}", done.out);
    assert_eq!(done.code, 1);
}

#[test]
fn of_a_post_that_is_no_file_nothing_is_said() {
    let folder = series(
        "<ply-recap for=\"../z.html#open\"></ply-recap> [x](https://a.example/#open/9.Nf9)\n",
    );
    assert_eq!(found(&folder, &["."]), []);
}

#[test]
fn links_to_places_of_lessons_of_other_posts_are_checked() {
    let folder =
        series("[x](../a.html#open/2.Nf4), [y](../a.html#open/2.Nf3), [z](../a.html#opne/2.Nf3)\n");
    let wanted = [
        at("./b/index.md", 1, 5, "P041"),
        at("./b/index.md", 1, 59, "P064"),
    ];
    assert_eq!(found(&folder, &["."]), wanted);
}

#[test]
fn posts_that_choose_otherwise_in_one_position_are_told_with_the_place_of_both() {
    let post =
        |moves: &str, choice: &str| format!("# A\n\n```pgn\n{moves} {{Choose: {choice}}} *\n```\n");
    let folder = site(
        "choices",
        &[
            ("a.md", &post("1. e4 e5 2. Nf3", "")),
            ("b.md", &post("1. e4 e5 2. Bc4", "")),
            ("c.md", &post("1. e4 e5 2. Nf3", "")),
            ("d.md", &post("1. d4 d5 2. c4", "")),
        ],
    );
    let choices = |words: &[&str]| {
        let mut told = found(&folder, words);
        told.retain(|it| it.3 == "P047");
        told
    };
    let wanted = [at("./b.md", 4, 13, "P047"), at("./c.md", 4, 13, "P047")];
    assert_eq!(choices(&["."]), wanted);
    assert_eq!(choices(&["a.md", "c.md", "d.md"]), []);
    let done = run(&folder, &["check", "."]);
    assert!(
        done.out.contains("the other choice: ./a.md:4:13"),
        "{}",
        done.out
    );
    let done = run(&folder, &["check", "--format", "json", "a.md", "b.md"]);
    let lines = json_lines(&done.out);
    let told = lines
        .iter()
        .find(|it| it["code"] == "P047")
        .expect("it is told");
    assert_eq!(told["related"][0]["file"], "a.md");
    assert_eq!(told["related"][0]["line"], 4);
}
