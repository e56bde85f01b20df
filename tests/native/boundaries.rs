//! The shape of the source, as DEVELOPERS.md draws it: which folder may know which, and what
//! must be absent where. One package cannot enforce this by crates, so a test reads the source.

use std::fs;
use std::path::{Path, PathBuf};

/// The folders in the order of the pipeline: each may use those before it. `web` and `cli`
/// stand side by side at its end.
const FOLDERS: &[&str] = &[
    "text", "notation", "lesson", "ask", "check", "view", "markup", "edge",
];
const ENDS: &[&str] = &["web", "cli"];

/// The code of a file: no comments, and no tests, which may use what they like.
fn code(path: &Path) -> String {
    let text = fs::read_to_string(path).expect("a source file");
    let text = text.split("#[cfg(test)]").next().unwrap_or_default();
    let lines = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    lines.collect::<Vec<_>>().join("\n")
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut list = Vec::new();
    let Ok(entries) = fs::read_dir(folder) else {
        return list; // a step of the picture that no issue has built yet
    };
    for entry in entries {
        let path = entry.expect("an entry").path();
        match path.is_dir() {
            true => list.extend(files(&path)),
            false if path.extension().is_some_and(|ending| ending == "rs") => list.push(path),
            false => {}
        }
    }
    list
}

fn source(folder: &str) -> Vec<PathBuf> {
    files(
        &Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("src")
            .join(folder),
    )
}

fn assert_absent(folders: &[&str], words: &[&str], why: &str) {
    let mut seen = 0;
    for folder in folders {
        for path in source(folder) {
            seen += 1;
            let code = code(&path);
            for word in words {
                assert!(
                    !code.contains(word),
                    "{} has {word:?}: {why}",
                    path.display()
                );
            }
        }
    }
    assert!(seen > 0, "no file was read in {folders:?}");
}

#[test]
fn a_folder_uses_only_folders_before_it() {
    for (at, folder) in FOLDERS.iter().enumerate() {
        let later: Vec<String> = FOLDERS[at + 1..]
            .iter()
            .chain(ENDS)
            .map(|name| format!("crate::{name}"))
            .collect();
        let later: Vec<&str> = later.iter().map(String::as_str).collect();
        if !source(folder).is_empty() {
            assert_absent(&[folder], &later, "a step never reaches back");
        }
    }
    assert_absent(
        &["web"],
        &["crate::cli"],
        "page and program do not know each other",
    );
    assert_absent(
        &["cli"],
        &["crate::web"],
        "page and program do not know each other",
    );
}

#[test]
fn the_rooms_of_view_know_only_those_before_them() {
    for (room, known) in [
        ("view/reader", &["moves", "reader"][..]),
        ("view/words", &["moves", "reader", "words"]),
    ] {
        for path in source(room) {
            for after in code(&path).split("crate::view::").skip(1) {
                let is_known = known
                    .iter()
                    .any(|name| after.starts_with(&format!("{name}::")));
                let name = after.lines().next().unwrap_or_default();
                assert!(is_known, "{} uses view::{name}", path.display());
            }
        }
        assert!(!source(room).is_empty(), "no file was read in {room}");
    }
}

#[test]
fn a_list_of_imports_names_no_later_folder() {
    // `use crate::{a, b}` would pass the test above unseen.
    for folder in FOLDERS.iter().chain(ENDS) {
        for path in source(folder) {
            assert!(
                !code(&path).contains("crate::{"),
                "{}: one `use` a folder",
                path.display()
            );
        }
    }
}

#[test]
fn the_core_knows_no_browser_no_files_no_clock_and_no_chance() {
    let words = [
        "web_sys",
        "js_sys",
        "wasm_bindgen",
        "std::fs",
        "std::io",
        "std::net",
        "std::env",
        "std::process",
        "std::time",
        "println!",
        "eprintln!",
        "print!(",
        "dbg!",
        "rand::",
    ];
    let core: Vec<&str> = FOLDERS
        .iter()
        .copied()
        .filter(|folder| !source(folder).is_empty())
        .collect();
    assert_absent(&core, &words, "text/ to edge/ are pure");
}

#[test]
fn only_lesson_asks_what_is_legal() {
    let words = [
        "legal_moves",
        "san_candidates",
        "castling_moves",
        "play_unchecked",
        ".play(",
        "is_legal",
        "to_move(",
        "from_setup",
        "swap_turn",
    ];
    assert_absent(
        &[
            "text", "notation", "ask", "check", "view", "markup", "edge", "web", "cli",
        ],
        &words,
        "only lesson/ asks shakmaty what is legal",
    );
}

#[test]
fn only_markup_escapes_and_only_web_makes_nodes() {
    assert_absent(
        &[
            "text", "notation", "lesson", "ask", "check", "view", "edge", "web", "cli",
        ],
        &["&amp;", "&lt;", "&quot;"],
        "only markup/ escapes",
    );
    assert_absent(
        &[
            "text", "notation", "lesson", "ask", "check", "view", "markup", "edge", "cli",
        ],
        &["create_element", "create_text_node", "append_child"],
        "only web/ makes nodes",
    );
    for path in source("web") {
        let makes = code(&path).contains("create_element");
        assert!(
            !makes || path.ends_with("morph.rs"),
            "{} makes nodes",
            path.display()
        );
    }
}

#[test]
fn nothing_in_the_core_is_serializable_but_the_shapes_of_edge() {
    assert_absent(
        &[
            "text", "notation", "lesson", "ask", "check", "view", "markup",
        ],
        &["serde", "Serialize"],
        "core types stay free to change",
    );
}

#[test]
fn the_page_gets_at_most_six_functions() {
    let exported = |code: &str| {
        let lines: Vec<&str> = code.lines().collect();
        let marked = lines
            .windows(2)
            .filter(|pair| pair[0].starts_with("#[wasm_bindgen") && pair[1].starts_with("pub fn"));
        marked.count()
    };
    let count: usize = source("web").iter().map(|path| exported(&code(path))).sum();
    assert!((1..=6).contains(&count), "{count} functions are exported");
}

#[test]
fn no_panic_is_written_where_input_flows() {
    // Indexing is not found by this; each place states its invariant beside it.
    let words = [
        ".unwrap()",
        ".expect(",
        "panic!",
        "unreachable!",
        "todo!",
        "unimplemented!",
    ];
    let all: Vec<&str> = FOLDERS
        .iter()
        .chain(ENDS)
        .copied()
        .filter(|folder| !source(folder).is_empty())
        .collect();
    assert_absent(&all, &words, "no panic is reachable from input");
}

#[test]
fn files_open_with_what_they_are_for_and_stay_short() {
    for folder in FOLDERS.iter().chain(ENDS) {
        for path in source(folder) {
            let text = fs::read_to_string(&path).expect("a source file");
            assert!(
                text.starts_with("//!"),
                "{} does not say what it is for",
                path.display()
            );
            let lines = text.lines().count();
            assert!(lines <= 500, "{} has {lines} lines", path.display());
        }
    }
}
