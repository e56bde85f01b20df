//! An author's editor and the preview write one file at the same time.

use super::served::{Served, serve};
use crate::cli::run::{folder, site};
use crate::support::chance::Chance;
use serde_json::{Value, json};
use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::thread;
use std::time::Duration;

const PAGE: &str = "# Slow lines\n\nSome words before.\n\n```pgn\n1. e4 c5 2. Nf3 {a word} d6 3. d4 *\n```\n\nThe end of it.\n";

/// How an editor saves.
#[derive(Clone, Copy, Debug)]
enum Saves {
    Renaming,
    Emptying,
    /// Without having read what was saved since it opened the file.
    Old,
}

fn save(path: &Path, text: &str, how: Saves, chance: &mut Chance) {
    match how {
        Saves::Renaming => {
            let beside = path.with_extension("tmp");
            fs::write(&beside, text).expect("a file beside it");
            fs::rename(&beside, path).expect("in its place");
        }
        Saves::Emptying | Saves::Old => {
            let mut file = File::create(path).expect("the file, empty");
            let half = text.len() / 2;
            for part in [&text[..half], &text[half..]] {
                if chance.one_in(20) {
                    thread::sleep(Duration::from_millis(150));
                }
                if chance.one_in(2) {
                    thread::sleep(Duration::from_micros(chance.below(3000) as u64));
                }
                file.write_all(part.as_bytes()).expect("some of it");
            }
        }
    }
}

/// What became of one interleaving.
#[derive(Debug, Default)]
struct Told {
    /// The edits that were answered as done, by the words that the file must hold.
    done: usize,
    refused: usize,
    restored: usize,
}

fn one(served: &Served, folder: &Path, seed: u64) -> Told {
    let mut chance = Chance::new(seed);
    let path = folder.join(format!("p{seed}.md"));
    fs::write(&path, PAGE).expect("the page");
    let page = format!("/p{seed}.md");
    served.done("page", &json!({ "page": page }));
    let how = chance.pick(&[Saves::Renaming, Saves::Emptying, Saves::Old]);
    let editor = {
        let (path, mut chance) = (path.clone(), Chance::new(seed + 1000));
        thread::spawn(move || {
            let mut buffer = PAGE.to_owned();
            let mut mine = Vec::new();
            for nth in 0..2 {
                thread::sleep(Duration::from_millis(chance.below(40) as u64));
                if !matches!(how, Saves::Old) {
                    // An editor that has noticed the change and read the file again, when it is whole.
                    buffer = loop {
                        let text = fs::read_to_string(&path).unwrap_or_default();
                        if text.ends_with("The end of it.\n") {
                            break text;
                        }
                    };
                }
                let note = format!("Note {nth} of {seed}.");
                buffer = match chance.one_in(3) {
                    true => buffer.replace("{a word", &format!("{{a word, {note}")),
                    false => buffer.replace("Some words", &format!("{note} Some words")),
                };
                save(&path, &buffer, how, &mut chance);
                mine.push(note);
            }
            mine
        })
    };
    let edits: Vec<(Value, &str)> = vec![
        (
            json!({ "keep": { "at": ["e4", "c5"], "moves": ["Nc3"] } }),
            "(2. Nc3",
        ),
        (
            json!({ "keep": { "at": ["e4", "c5", "Nf3", "d6", "d4"], "moves": ["cxd4"] } }),
            "cxd4",
        ),
        (json!({ "sign": { "at": ["e4"], "nags": [1] } }), "e4!"),
    ];
    let mut told = Told::default();
    let mut wanted = Vec::new();
    for (edit, words) in edits {
        thread::sleep(Duration::from_millis(chance.below(40) as u64));
        match served.post("edit", &json!({ "page": page, "lesson": 0, "edit": edit })) {
            (200, _) => {
                told.done += 1;
                wanted.push(words);
            }
            (409, value) => {
                assert!(
                    value["reason"].as_str().is_some_and(|it| !it.is_empty()),
                    "{value}"
                );
                told.refused += 1;
            }
            other => panic!("{other:?}"),
        }
    }
    let mine = editor.join().expect("the editor");
    // What was saved over is told, and put back by one word.
    let now = served.done("page", &json!({ "page": page }));
    if now["lessons"][0]["lost"] != json!(0) {
        told.restored += 1;
        served.done("restore", &json!({ "page": page, "lesson": 0 }));
    }
    let text = fs::read_to_string(&path).expect("the page");
    let last = mine.last().expect("it has saved");
    assert!(
        text.contains(last.as_str()),
        "{seed} {how:?}: the editor's words are lost:\n{text}"
    );
    // One that reads the file before it changes it may overlap with our writing only in its last save.
    for words in wanted {
        assert!(
            text.contains(words),
            "{seed} {how:?}: {words} is lost:\n{text}"
        );
    }
    assert!(text.ends_with("The end of it.\n"), "{seed} {how:?}: {text}");
    let left = hidden(folder, &format!(".p{seed}.md"));
    assert!(left.is_empty(), "{left:?}");
    told
}

fn hidden(folder: &Path, begin: &str) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder)
        .expect("the folder")
        .flatten()
        .map(|it| it.path());
    entries
        .filter(|it| {
            it.file_name()
                .is_some_and(|it| it.to_string_lossy().starts_with(begin))
        })
        .collect()
}

#[test]
fn in_200_interleavings_by_chance_both_stand_or_both_are_shown() {
    // In memory where there is such a place: what is looked at here is the order of things, not the disk.
    let memory =
        PathBuf::from("/dev/shm").join(format!("plyline-interleaved-{}", std::process::id()));
    let folder = match fs::create_dir(&memory) {
        Ok(()) => memory.clone(),
        Err(_) => folder("interleaved"),
    };
    let served = serve(&folder, &["."]);
    let told: Vec<Told> = thread::scope(|scope| {
        let part = |from: u64| {
            let (served, folder) = (&served, &folder);
            scope.spawn(move || {
                (from..from + 25)
                    .map(|seed| one(served, folder, seed))
                    .collect::<Vec<_>>()
            })
        };
        let parts: Vec<_> = (0..8).map(|nth| part(nth * 25)).collect();
        parts
            .into_iter()
            .flat_map(|it| it.join().expect("a part"))
            .collect()
    });
    let sum = |of: fn(&Told) -> usize| told.iter().map(of).sum::<usize>();
    let (done, refused, restored) = (
        sum(|it| it.done),
        sum(|it| it.refused),
        sum(|it| it.restored),
    );
    drop(served);
    let _ = fs::remove_dir_all(&memory);
    println!("done {done}, refused {refused}, restored in {restored}");
    assert_eq!(told.len(), 200);
    assert_eq!(done + refused, 600);
    assert!(
        done > 500 && restored > 10,
        "done {done}, refused {refused}, restored in {restored}"
    );
}

#[test]
fn an_edit_is_made_in_what_the_editor_has_saved_meanwhile() {
    let folder = site("saved", &[("a.md", PAGE)]);
    let served = serve(&folder, &["."]);
    let before = served.done("page", &json!({ "page": "/a.md" }));
    let saved = PAGE
        .replace("Some words", "Other words")
        .replace("d6 3. d4", "e6 3. d4");
    fs::write(folder.join("a.md"), &saved).expect("a save");
    assert_eq!(served.keep("/a.md", 0, &["e4", "c5"], &["Nc3"]).0, 200);
    let now = fs::read_to_string(folder.join("a.md")).expect("the page");
    assert_eq!(now, saved.replace("{a word} e6", "{a word} (2. Nc3) e6"));
    let after = served.done("page", &json!({ "page": "/a.md" }));
    assert_ne!(
        before["around"], after["around"],
        "more than the lesson has changed"
    );
}

#[test]
fn a_place_that_the_editor_has_taken_away_is_told_and_nothing_is_written() {
    let folder = site("gone", &[("a.md", PAGE)]);
    let served = serve(&folder, &["."]);
    served.done("page", &json!({ "page": "/a.md" }));
    let saved = PAGE.replace("2. Nf3 {a word} d6 3. d4", "2. Nc3");
    fs::write(folder.join("a.md"), &saved).expect("a save");
    let (status, refused) = served.keep("/a.md", 0, &["e4", "c5", "Nf3"], &["Nc6"]);
    assert_eq!(
        (status, refused["code"].as_str()),
        (409, Some("place-gone")),
        "{refused}"
    );
    assert_eq!(
        fs::read_to_string(folder.join("a.md")).expect("the page"),
        saved
    );
    assert!(hidden(&folder, ".a.md").is_empty());
}

#[test]
fn a_save_is_told_to_a_page_that_waits() {
    let folder = site("waits", &[("a.md", PAGE)]);
    let served = serve(&folder, &["."]);
    let before = served.done("page", &json!({ "page": "/a.md" }));
    thread::scope(|scope| {
        let waiting = scope.spawn(|| {
            served.done(
                "wait",
                &json!({ "page": "/a.md", "version": before["version"] }),
            )
        });
        thread::sleep(Duration::from_millis(50));
        fs::write(folder.join("a.md"), PAGE.replace("d4 *", "c3 *")).expect("a save");
        let after = waiting.join().expect("an answer");
        assert_ne!(after["version"], before["version"]);
        assert!(
            after["lessons"][0]["text"]
                .as_str()
                .is_some_and(|it| it.contains("c3 *")),
            "{after}"
        );
        assert_eq!(after["around"], before["around"]);
    });
}

#[cfg(unix)]
#[test]
fn the_mode_of_the_file_stays() {
    use std::os::unix::fs::PermissionsExt;
    let folder = site("mode", &[("a.md", PAGE)]);
    let path = folder.join("a.md");
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).expect("a mode");
    let served = serve(&folder, &["."]);
    assert_eq!(served.keep("/a.md", 0, &["e4", "c5"], &["Nc3"]).0, 200);
    let mode = fs::metadata(&path).expect("the file").permissions().mode();
    assert_eq!(mode & 0o777, 0o640);
}
