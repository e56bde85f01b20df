//! Posts as generators write them: pages of Hugo, Jekyll and mdBook that are kept, and the Markdown
//! that they were made of. What is found in the one is found in the others.

use plyline::post::{Kind, check};
use plyline::text::Source;
use std::fs;
use std::path::Path;

/// The Markdown and the pages, each with its name.
fn pages() -> Vec<(String, Kind, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pages/articles/generators");
    let read = |path: &str| fs::read_to_string(folder.join(path)).expect("a kept page");
    let mut pages = vec![("page.md".to_owned(), Kind::Markdown, read("page.md"))];
    for name in ["hugo", "hugo-html", "jekyll", "mdbook"] {
        let path = format!("saved/{name}/index.html");
        let text = read(&path);
        pages.push((path, Kind::Html, text));
    }
    pages
}

/// Codes, and the words of the file that they are about.
fn told(text: &str, kind: Kind) -> Vec<(&'static str, String)> {
    let source = Source::new("page", text);
    let lessons = "1. e4 c6 $10 *\n\n1. d4 d5 $10 *\n";
    let checked = check(&source, kind, &|_: &str| Some(Ok(lessons.to_owned())));
    let findings = checked.findings.iter();
    findings
        .map(|it| (it.code.id(), source.slice(it.span).to_owned()))
        .collect()
}

#[test]
fn pages_without_a_slip_have_no_finding() {
    for (name, kind, text) in pages() {
        assert_eq!(told(&text, kind), [], "{name}");
    }
}

#[test]
fn a_slip_in_each_kind_of_lesson_and_of_reference_is_found_at_its_place() {
    let slips = [
        ("4. Nxe5 ", "4. Nxf5 ", "Nxf5"),
        ("3. e4 $14) 3. Nc3", "3. e4 $14) 3. Nc5", "Nc5"),
        ("2. g3 $14", "2. g5 $14", "g5"),
        (
            "for=\"tagged\" at=\"2.c4\"",
            "for=\"tagged\" at=\"2.c5\"",
            "2.c5",
        ),
        ("for=\"tagged\" side", "for=\"taged\" side", "taged"),
        ("#3...exd4)", "#3...exd5)", "#3...exd5"),
        (
            "fen=\"8/5k2/8/8/3P4/8/4K3/8\"",
            "fen=\"8/5k2/8/8/3P4/8/4K3/9\"",
            "9",
        ),
        (
            "caro-kann.pgn#2",
            "caro-kann.pgn#3",
            "/examples/src/caro-kann.pgn#3",
        ),
    ];
    for (name, kind, text) in pages() {
        let mut count = 0;
        for (right, wrong, words) in slips {
            let slip = text.replacen(right, wrong, 1);
            if slip == text {
                continue;
            }
            count += 1;
            let told = told(&slip, kind);
            let is_told = told.iter().any(|(_, at)| at == words);
            assert!(is_told, "{wrong} in {name}: {told:?}");
        }
        // Hugo, unless it is told otherwise, leaves out the author's own tags.
        let wanted = if name.contains("hugo/") {
            2
        } else {
            slips.len()
        };
        assert_eq!(count, wanted, "{name}");
    }
}
