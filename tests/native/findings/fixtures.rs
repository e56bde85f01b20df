//! The fixtures: `Pnnn.pgn` or `Pnnn-kind.pgn`, `.md` for what is about a post, and what is expected
//! beside them.

use crate::cli::run::{json_lines, run};
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};

/// A text that has one kind of finding.
pub struct Fixture {
    /// `P012-knight.pgn`
    pub name: String,
    pub path: PathBuf,
}

pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/findings")
}

/// All of them, in the order of their names.
pub fn all() -> Vec<Fixture> {
    let entries = fs::read_dir(folder()).expect("the fixtures");
    let paths = entries.map(|entry| entry.expect("a fixture").path());
    let mut list: Vec<Fixture> = paths
        .filter(|path| {
            let ending = path.extension().unwrap_or_default();
            ending == "pgn" || ending == "md"
        })
        .map(|path| Fixture {
            name: path
                .file_name()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned(),
            path,
        })
        .collect();
    list.sort_by(|one, other| one.name.cmp(&other.name));
    assert!(list.len() > 80, "only {} fixtures were found", list.len());
    list
}

impl Fixture {
    /// The code that its name begins with.
    pub fn code(&self) -> &str {
        &self.name[..4]
    }

    /// Whether it is notation and nothing else.
    pub fn is_notation(&self) -> bool {
        self.name.ends_with(".pgn")
    }

    /// The name of a copy.
    pub fn copy(&self) -> &'static str {
        match self.is_notation() {
            true => "a.pgn",
            false => "a.md",
        }
    }

    pub fn bytes(&self) -> Vec<u8> {
        fs::read(&self.path).expect("a fixture")
    }

    /// What the command prints that finds it.
    pub fn report(&self) -> String {
        let mut words = command(self.code(), BUDGET);
        words.push(&self.name);
        run(&folder(), &words).out
    }

    /// The same as JSON.
    pub fn findings(&self) -> Vec<Value> {
        let mut words = command(self.code(), BUDGET);
        words.extend(["--format", "json", &self.name]);
        json_lines(&run(&folder(), &words).out)
    }
}

/// The command that has findings of a code: from P200 on that which weighs, with so small a budget as will do,
/// because tests are built without optimisation.
pub fn command(code: &str, budget: &'static str) -> Vec<&'static str> {
    match code.starts_with("P2") {
        true => vec!["weigh", "--budget", budget],
        false => vec!["check"],
    }
}

const BUDGET: &str = "150000";

/// Compares a text with a file, or writes the file where that is asked for.
pub fn expect(path: &Path, text: &str) {
    if std::env::var_os("UPDATE_EXPECT").is_some() {
        // Files that are right stay untouched, so that nothing is built again for them.
        if fs::read_to_string(path).ok().as_deref() != Some(text) {
            fs::write(path, text).expect("the file can be written");
        }
        return;
    }
    let wanted = fs::read_to_string(path).unwrap_or_default();
    assert!(
        wanted == text,
        "{} is not what is printed now; if the new text is right, renew it with \
         `UPDATE_EXPECT=1 cargo test --test native findings`\n--- it is\n{wanted}\n--- now\n{text}",
        path.display()
    );
}
