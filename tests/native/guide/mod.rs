//! README and the guide are right: every snippet in them is read without an error or a warning, every command is run, and
//! every link leads somewhere. What the guide's pages make in a browser: `tests/pages/hosting/guide.rs`.

mod commands;
mod links;
mod snippets;

#[allow(dead_code)] // the page tests use the rest
#[path = "../../../demo-site/guide.rs"]
mod pages;

use pages::root;
use std::fs;

/// A text of the repository, with its path seen from there.
struct Text {
    path: String,
    text: String,
}

fn text(path: &str) -> Text {
    Text {
        path: path.to_owned(),
        text: fs::read_to_string(root().join(path)).expect("a text of the repository"),
    }
}

/// README and the pages of the guide, with the two beside it.
fn texts() -> Vec<Text> {
    let pages = pages::pages().expect("the guide");
    let paths = pages.iter().map(|(_, path)| {
        let path = path.strip_prefix(root()).expect("a file of the repository");
        text(&path.to_string_lossy())
    });
    std::iter::once(text("README.md")).chain(paths).collect()
}
