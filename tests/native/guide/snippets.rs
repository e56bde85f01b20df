//! What `plyline check` says of the snippets.

use super::pages::{self, Snippet};
use super::{Text, text, texts};
use crate::cli::run::{folder, run, site};
use std::collections::BTreeSet;
use std::fs;

/// What is wrong with a snippet on a page of its own. Those of the command line and of scripts are run elsewhere.
fn wrong(snippet: &Snippet) -> Option<String> {
    let name = match snippet.language.as_str() {
        "html" => "page.html",
        "markdown" => "page.md",
        "pgn" => "page.pgn",
        _ => return None,
    };
    let folder = site("snippet", &[(name, &snippet.text)]);
    let done = run(&folder, &["check", "--strict", name]);
    (done.code != 0).then_some(done.out + &done.err)
}

/// What is wrong with the snippets that are no part of a page.
fn amiss(of: &Text) -> Vec<String> {
    let snippets = pages::snippets(&of.text);
    let alone = snippets.iter().filter(|it| !it.is_live);
    alone
        .filter_map(|it| Some(format!("{}:{}: {}", of.path, it.line, wrong(it)?)))
        .collect()
}

#[test]
fn every_snippet_that_is_no_part_of_a_page_is_read_without_an_error_or_a_warning() {
    let found: Vec<String> = texts().iter().flat_map(amiss).collect();
    assert_eq!(found, Vec::<String>::new());
}

#[test]
fn a_move_that_cannot_be_played_in_a_snippet_of_readme_is_found() {
    let Text { path, text } = text("README.md");
    let spoiled = text.replace("2. Nc3 {", "2. Nc4 {");
    let found = amiss(&Text {
        path,
        text: spoiled,
    });
    assert_eq!(found.len(), 2, "{found:?}");
    assert!(
        found.iter().all(|it| it.contains("error[P012]")),
        "{found:?}"
    );
}

#[test]
fn what_is_live_in_the_guide_is_read_in_its_page_without_a_finding() {
    let folder = folder("guide");
    pages::write(&folder).expect("the guide can be written");
    let done = run(&folder, &["check", "--strict", "."]);
    // The pages, their contents, and the lessons in a file.
    let count = pages::pages().expect("the guide").len() + 2;
    let nothing = format!("nothing found in {count} files\n");
    assert_eq!((done.out, done.err), (String::new(), nothing));
}

#[test]
fn a_live_snippet_that_names_a_place_that_is_not_there_is_found() {
    let Text { path, text } = text("www/guide/diagrams.md");
    let spoiled = text.replace("at=\"4.Bd3\"", "at=\"4.Bd4\"");
    let page = pages::page(&spoiled, &path);
    let folder = site("spoiled", &[("page.html", &page.body)]);
    let done = run(&folder, &["check", "page.html"]);
    assert!(done.out.contains("error[P041]"), "{}", done.out);
}

#[test]
fn each_live_snippet_is_shown_as_it_is_written_and_then_drawn() {
    let page = pages::page("# A\n\n```pgn live\n1. e4 {<b>} *\n```\n", "www/guide/a.md");
    assert_eq!(
        page.body,
        "<h1 id=\"a\">A</h1>\n<pre class=\"code\" data-plyline=\"off\"><code>1. e4 {&lt;b&gt;} *\n</code></pre>\n\
         <div class=\"live\">\n<p class=\"label\">As readers see it</p>\n\
         <pre><code class=\"language-pgn\">1. e4 {&lt;b&gt;} *\n</code></pre>\n</div>\n"
    );
    // Of each kind the guide has some.
    let all: Vec<Snippet> = texts()
        .iter()
        .flat_map(|it| pages::snippets(&it.text))
        .collect();
    for language in ["html", "markdown", "pgn"] {
        assert!(
            all.iter().any(|it| it.is_live && it.language == language),
            "nothing of {language} is live"
        );
    }
    let known = ["html", "markdown", "pgn", "sh", "js", "css", "text"];
    for it in &all {
        assert!(
            known.contains(&it.language.as_str()),
            "line {}: {}",
            it.line,
            it.text
        );
    }
}

#[test]
fn an_id_is_given_once_in_a_page_of_the_guide() {
    let folder = folder("guide-ids");
    pages::write(&folder).expect("the guide can be written");
    for (name, _) in pages::pages().expect("the guide") {
        let page = fs::read_to_string(folder.join(name).join("index.html")).expect("its page");
        let tree = plyline::post::Tree::of_html(&page);
        let mut seen = BTreeSet::new();
        for node in 0..tree.nodes.len() {
            if let Some(id) = tree.value(node, "id") {
                assert!(seen.insert(id.to_owned()), "{id} is there twice");
            }
        }
        assert!(seen.contains("content"), "no page was read");
    }
}
