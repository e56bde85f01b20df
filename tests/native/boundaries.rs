//! The shape of the source, as DEVELOPERS.md draws it: which folder may know which, and what
//! must be absent where. One package cannot enforce this by crates, so a test reads the source.

mod uses;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// The folders in the order of the pipeline: each may use those before it. At its end are `cli`, and beside it
/// `nodes` with the three cores of the page, `web`, `web_counts` and `web_answers`.
const FOLDERS: &[&str] = &[
    "text",
    "notation",
    "lesson",
    "ask",
    "check",
    "view",
    "markup",
    "counts",
    "assessments",
    "edge",
    "post",
    "bake",
    "edit",
    "compare",
    "merge",
    "preview",
    "games",
    "search",
    "aside",
    "weigh",
    "talk",
];
const ENDS: &[&str] = &["nodes", "web", "web_counts", "web_answers", "cli"];

/// The rooms within them.
const ROOMS: &[&str] = &[
    "bake/feed",
    "check/author",
    "check/author/brackets",
    "check/author/comments",
    "check/author/comments/signs",
    "check/author/comments/words",
    "check/author/tags",
    "check/author/text",
    "check/lesson",
    "cli/args",
    "cli/bake",
    "cli/engine",
    "cli/fix",
    "cli/preview",
    "cli/report",
    "cli/tally",
    "cli/tree",
    "cli/weigh",
    "cli/writing",
    "edit/acts",
    "edit/written",
    "lesson/build",
    "lesson/place",
    "lesson/prose",
    "lesson/reason",
    "lesson/rules",
    "markup/picture",
    "notation/comment",
    "notation/mention",
    "notation/word",
    "post/elements",
    "preview/pages",
    "talk/captions",
    "talk/reading",
    "talk/words",
    "view/reader",
    "view/show",
    "view/words",
    "weigh/claims",
];

/// The rooms of `view` in the order in which each may use those before it.
const OF_VIEW: &[&str] = &[
    "numbers.rs",
    "reader",
    "words",
    "show",
    "open.rs",
    "still.rs",
];

/// Files that know each other in a circle, and why they may.
const CIRCLES: &[(&[&str], &str)] = &[(
    &["web/draw.rs", "web/mounted.rs", "web/still.rs"],
    "an element in the page is drawn as one thing, whose parts stand in several files",
)];

const FILES_IN_A_FOLDER: usize = 15;
const LINES_IN_A_FILE: usize = 420;

/// The code of a file: no comments, and no tests, which may use what they like.
fn code(path: &Path) -> String {
    let text = fs::read_to_string(path).expect("a source file");
    let text = text.split("#[cfg(test)]").next().unwrap_or_default();
    let lines = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    lines.collect::<Vec<_>>().join("\n")
}

fn src() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

/// The entries of a folder: folders and files.
fn entries(folder: &Path) -> [Vec<PathBuf>; 2] {
    let list = fs::read_dir(folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
    let paths = list.map(|entry| entry.expect("an entry").path());
    let (folders, files) = paths.partition(|path| path.is_dir());
    [folders, files]
}

/// The source files of a folder and of those within it.
fn files(folder: &Path) -> Vec<PathBuf> {
    let [folders, mut list] = entries(folder);
    list.retain(|path| path.extension().is_some_and(|ending| ending == "rs"));
    for inner in folders {
        list.extend(files(&inner));
    }
    list
}

fn source(folder: &str) -> Vec<PathBuf> {
    files(&src().join(folder))
}

/// A path below `src/`, as it is written here.
fn name(path: &Path) -> String {
    let below = path.strip_prefix(src()).expect("a path below src");
    below.display().to_string().replace('\\', "/")
}

/// Every folder below one.
fn folders(within: &Path) -> Vec<PathBuf> {
    let [mut list, _] = entries(within);
    for at in 0..list.len() {
        let inner = folders(&list[at]);
        list.extend(inner);
    }
    list
}

#[test]
fn every_folder_is_known_and_holds_no_more_than_a_dozen_or_so_files() {
    let known = FOLDERS.iter().chain(ENDS).chain(ROOMS);
    let known: BTreeSet<String> = known.map(|name| (*name).to_owned()).collect();
    let all = folders(&src());
    let there: BTreeSet<String> = all.iter().map(|path| name(path)).collect();
    assert_eq!(there, known);
    for folder in &all {
        let count = entries(folder)[1].len();
        assert!(
            (1..=FILES_IN_A_FOLDER).contains(&count),
            "{} has {count} files",
            name(folder)
        );
    }
    let beside: BTreeSet<String> = entries(&src())[1].iter().map(|path| name(path)).collect();
    assert_eq!(beside, ["lib.rs", "main.rs"].map(str::to_owned).into());
}

/// Which file uses which; the two files beside the folders use what they like.
fn graph() -> uses::Graph {
    let list = files(&src())
        .into_iter()
        .filter(|path| !path.ends_with("src/main.rs"));
    let list: Vec<_> = list.map(|path| (name(&path), code(&path))).collect();
    let mut graph = uses::graph(&list);
    graph.remove("lib.rs");
    graph
}

#[test]
fn no_files_know_each_other_in_a_circle_but_those_that_are_listed() {
    let listed: Vec<&[&str]> = CIRCLES.iter().map(|(files, _)| *files).collect();
    assert_eq!(uses::circles(&graph()), listed);
}

#[test]
fn a_file_uses_only_files_of_its_folder_and_of_those_before_it() {
    let place = |file: &str, folders: &[&str]| {
        let first = file.split('/').next().unwrap_or_default();
        folders.iter().position(|folder| *folder == first)
    };
    let folders: Vec<&str> = FOLDERS.iter().chain(ENDS).copied().collect();
    let mut count = 0;
    for (file, used) in graph() {
        for other in used {
            let (here, there) = (place(&file, &folders), place(&other, &folders));
            assert!(there <= here, "{file} uses {other}");
            let within = |path: &str| path.strip_prefix("view/").map(str::to_owned);
            if let Some((file, other)) = within(&file).zip(within(&other)) {
                count += 1;
                let (here, there) = (place(&file, OF_VIEW), place(&other, OF_VIEW));
                assert!(there <= here, "view/{file} uses view/{other}");
            }
        }
    }
    assert!(count > 0, "no file of view/ uses another");
}

/// All folders but these.
fn all_but(left_out: &[&str]) -> Vec<&'static str> {
    let all = FOLDERS.iter().chain(ENDS).copied();
    all.filter(|folder| !left_out.contains(folder)).collect()
}

fn assert_absent(folders: &[&str], words: &[&str], why: &str) {
    for folder in folders {
        for path in source(folder) {
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
        assert_absent(&[folder], &later, "a step never reaches back");
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
        ("view/reader", &["numbers", "reader"][..]),
        ("view/words", &["numbers", "reader", "words"]),
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
    assert_absent(FOLDERS, &words, "text/ to edge/ are pure");
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
        &all_but(&["lesson", "search"]),
        &words,
        "only lesson/ asks shakmaty what is legal, and search/, which tries all of it",
    );
}

#[test]
fn only_markup_escapes_and_only_nodes_makes_nodes() {
    assert_absent(
        &all_but(&["markup"]),
        &["&amp;", "&lt;", "&quot;"],
        "only markup/ escapes",
    );
    assert_absent(
        &all_but(&["nodes"]),
        &["create_element", "create_text_node", "append_child"],
        "only nodes/ makes nodes",
    );
}

#[test]
fn nothing_in_the_core_is_serializable_but_the_shapes_of_edge() {
    assert_absent(
        &all_but(&["edge", "web", "cli"]),
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
    assert_absent(&all_but(&[]), &words, "no panic is reachable from input");
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
            assert!(
                lines <= LINES_IN_A_FILE,
                "{} has {lines} lines",
                path.display()
            );
        }
    }
}

#[test]
fn the_package_holds_every_file_that_the_script_is_built_to() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let package = fs::read_to_string(root.join("www/package.json")).expect("the package's file");
    let bundle = fs::read_to_string(root.join("www/pack/bundle.mjs")).expect("what builds it");
    let mut found = 0;
    for word in bundle.split(['"', '\'', '`']) {
        let name = word.trim_start_matches("./");
        let is_file = name.starts_with("plyline") && name.ends_with("js") && !name.contains('/');
        if is_file && !name.ends_with("_bg.js") {
            found += 1;
            assert!(
                package.contains(&format!("\"{name}\"")),
                "{name} is not in the package"
            );
        }
    }
    assert!(found >= 5, "{found} files");
    for style in ["plyline.css", "plyline-more.css", "plyline-counts.css"] {
        assert!(package.contains(style), "{style} is not in the package");
    }
}
