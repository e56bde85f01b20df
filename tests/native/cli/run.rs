//! Runs the program in a folder of its own and reads what it prints.

use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};

/// A new empty folder for one test. Tests run beside each other, so two that give the same name
/// get folders of their own.
pub fn folder(name: &str) -> PathBuf {
    static MADE: AtomicUsize = AtomicUsize::new(0);
    let made = MADE.fetch_add(1, Ordering::Relaxed);
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"))
        .join("cli")
        .join(format!("{name}-{made}"));
    let _ = fs::remove_dir_all(&folder); // from an earlier run
    fs::create_dir_all(&folder).expect("a folder for the test");
    folder
}

/// A folder with these files.
pub fn site(name: &str, files: &[(&str, &str)]) -> PathBuf {
    let folder = folder(name);
    for (path, text) in files {
        let path = folder.join(path);
        fs::create_dir_all(path.parent().expect("a folder")).expect("a folder for the test");
        fs::write(path, text).expect("a file for the test");
    }
    folder
}

/// The program, to be run in a folder.
pub fn plyline(folder: &Path, words: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_plyline"));
    command.args(words).current_dir(folder).stdin(Stdio::null());
    command
}

/// What a run of the program printed, and its exit code.
pub struct Run {
    pub code: i32,
    pub out: String,
    pub err: String,
}

pub fn run(folder: &Path, words: &[&str]) -> Run {
    let output: Output = plyline(folder, words).output().expect("the program starts");
    let text = |bytes| String::from_utf8(bytes).expect("the program prints UTF-8");
    Run {
        // A signal, such as that of an abort, has no code.
        code: output.status.code().expect("the program ends by itself"),
        out: text(output.stdout),
        err: text(output.stderr),
    }
}

/// Runs the program on a text, which becomes the file `a.pgn`.
pub fn run_on(name: &str, text: impl AsRef<[u8]>, words: &[&str]) -> Run {
    let folder = folder(name);
    fs::write(folder.join("a.pgn"), text).expect("a file for the test");
    run(&folder, words)
}

/// The findings that `check --format json` prints for a text, and its exit code.
pub fn findings(name: &str, text: impl AsRef<[u8]>) -> (i32, Vec<Value>) {
    let done = run_on(name, text, &["check", "--format", "json", "a.pgn"]);
    (done.code, json_lines(&done.out))
}

pub fn json_lines(text: &str) -> Vec<Value> {
    text.lines()
        .map(|line| serde_json::from_str(line).expect("a line of JSON"))
        .collect()
}

/// Each finding's code, in the order of the text.
pub fn codes(findings: &[Value]) -> Vec<&str> {
    findings
        .iter()
        .map(|finding| finding["code"].as_str().expect("a code"))
        .collect()
}

pub fn keys(value: &Value) -> Vec<&str> {
    value
        .as_object()
        .expect("an object")
        .keys()
        .map(String::as_str)
        .collect()
}

pub fn fixtures() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/native/cli")
}
