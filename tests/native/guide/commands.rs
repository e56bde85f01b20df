//! The commands of README and the guide, each run as it is written, in a folder that has what they name.

use super::pages::{self, Snippet};
use super::{Text, texts};
use crate::cli::run::{folder, plyline, run, site};
use std::fs;
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::Stdio;

const LESSON: &str =
    "[Event \"The advance\"]\n\n1. e4 {Hear: 0:01} c6 2. d4 d5 3. e5 Bf5 4. Nf3 e6 {Solid.} *\n";

/// A folder with every file and folder that the commands name, but what an earlier command of them writes.
fn fixtures(name: &str) -> std::path::PathBuf {
    let game =
        "[Result \"1-0\"]\n\n1. e4 c6 2. d4 d5 3. e5 Bf5 4. Nf3 e6 5. Be2 1-0\n\n".repeat(40);
    let post = "# A\n\n```pgn\n[Prose \"yes\"]\n\n1. e4 e5 2. Nf3 {attacks e5.} *\n```\n\nAfter 2.Nf3 White waits.\n";
    let page = "<!doctype html><title>A</title><ply-line><pre>1. e4 e5 {Level.} *</pre></ply-line>";
    let talk = "WEBVTT\n\n00:01.000 --> 00:05.000\nd5 now, and e takes d5, queen takes d5.\n";
    let draft = "1. e4 c5 2. c3 *\n";
    let folder = site(
        name,
        &[
            ("lesson.pgn", LESSON),
            ("mine.pgn", LESSON),
            ("club.pgn", "1. e4 c5 {Sharp.} *\n"),
            ("draft.pgn", draft),
            ("g.pgn", &game),
            ("talk.vtt", talk),
            ("posts/a.md", post),
            ("old/a.md", "# A\n\n```pgn\n1. e4 e5 *\n```\n"),
            ("public/index.html", page),
            ("_site/index.html", page),
        ],
    );
    let packed = zstd::encode_all(game.as_bytes(), 0).expect("games can be packed");
    fs::write(folder.join("g.pgn.zst"), packed).expect("a file for the test");
    folder
}

/// What is wrong with the commands of a snippet, which are run in this folder.
fn amiss(snippet: &Snippet, folder: &Path) -> Vec<String> {
    let mut wrong = Vec::new();
    for line in snippet.text.lines() {
        // Words as a shell reads them; what comes after `#` is a remark.
        let words = shlex::split(line).unwrap_or_default();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        match words[..] {
            [] => {}
            ["plyline", "preview", ..] => wrong.extend(unserved(folder, &words[1..])),
            ["plyline", ref rest @ ..] => {
                let done = run(folder, rest);
                // 1: something was found; 2: it could not run, or its arguments cannot be read.
                if !matches!(done.code, 0 | 1) {
                    wrong.push(format!("{line}: {}", done.err));
                }
            }
            ["sh", script, ..] => {
                if !pages::root().join(script).is_file() {
                    wrong.push(format!("{line}: it is not there"));
                }
            }
            _ => wrong.push(format!("{line}: nothing says how this is tested")),
        }
    }
    wrong
}

/// Why a preview, which does not end by itself, is not served.
fn unserved(folder: &Path, words: &[&str]) -> Option<String> {
    let mut command = plyline(folder, words);
    let started = command.stdout(Stdio::piped()).stderr(Stdio::null()).spawn();
    let mut child = started.expect("the program starts");
    let mut line = String::new();
    if let Some(out) = child.stdout.take() {
        let _ = BufReader::new(out).read_line(&mut line);
    }
    let _ = child.kill();
    let _ = child.wait();
    let is_served = line.starts_with("http://127.0.0.1:");
    (!is_served).then(|| format!("{words:?}: no address is printed"))
}

fn shell(of: &Text) -> Vec<Snippet> {
    let snippets = pages::snippets(&of.text).into_iter();
    snippets.filter(|it| it.language == "sh").collect()
}

#[test]
fn every_command_of_readme_and_the_guide_runs() {
    let mut count = 0;
    let is_built = pages::root().join("www/dist/plyline.js").is_file();
    for of in texts() {
        let folder = fixtures("commands");
        for mut snippet in shell(&of) {
            count += snippet.text.lines().count();
            if !is_built {
                // Without page files there are none to write; `cli::assets` has what is said then.
                let lines = snippet.text.lines();
                let kept = lines.filter(|it| !it.starts_with("plyline assets "));
                snippet.text = kept.collect::<Vec<_>>().join("\n");
            }
            let wrong = amiss(&snippet, &folder);
            assert_eq!(wrong, Vec::<String>::new(), "{}", of.path);
        }
    }
    assert!(count > 25, "only {count} commands");
}

#[test]
fn a_command_and_an_option_that_do_not_exist_are_found() {
    let folder = folder("no-commands");
    let text = "```sh\nplyline chek posts/\nplyline check --strictly posts/ # all\nsh demo-site/walk.sh\nplyline preview none/\n```\n";
    let found = pages::snippets(text);
    assert_eq!(amiss(&found[0], &folder).len(), 4);
}
