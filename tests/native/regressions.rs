//! What fuzzing and random lessons found, replayed on stable: each file of `tests/fuzz/finds/`
//! through the check that is its name's first word. The same checks meet all fixtures and
//! examples, and random changes of them, so that they stay right while nobody fuzzes.

#[path = "../fuzz/checks/mod.rs"]
mod checks;

use crate::support::chance::Chance;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

type Check = fn(&[u8]);

/// The fuzz targets that are checks of the library; `findings` is one of the program.
const CHECKS: &[(&str, Check)] = &[
    ("reader", checks::reader),
    ("san", checks::san),
    ("marks", checks::marks),
    ("locators", checks::locators),
    ("prose", checks::prose),
    ("print_parse", checks::print_parse),
];

fn files(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let entries = fs::read_dir(&folder).expect("a folder of the tests");
    let mut list: Vec<PathBuf> = entries.map(|entry| entry.expect("a file").path()).collect();
    list.sort();
    list
}

/// The target that a find is for: its name up to the first `-`.
fn target(path: &Path) -> String {
    let name = path
        .file_name()
        .expect("a file")
        .to_string_lossy()
        .into_owned();
    name.split('-').next().unwrap_or_default().to_owned()
}

/// Texts that plyline was made for, and some that it was not.
fn examples() -> Vec<Vec<u8>> {
    let all = [
        files("tests/findings"),
        files("tests/fuzz/finds"),
        files("tests/spec"),
    ]
    .concat();
    let texts = all.iter().filter(|path| path.is_file());
    texts.map(|path| fs::read(path).expect("a file")).collect()
}

#[test]
fn each_find_passes_the_check_that_found_it() {
    let finds = files("tests/fuzz/finds");
    assert!(!finds.is_empty(), "there have been finds");
    for path in finds {
        let bytes = fs::read(&path).expect("a find");
        let name = target(&path);
        match CHECKS.iter().find(|(known, _)| *known == name) {
            Some((_, check)) => check(&bytes),
            None => assert_eq!(name, "findings", "no check for {}", path.display()),
        }
    }
}

#[test]
fn each_find_is_reported_by_the_program_in_all_three_forms() {
    for path in files("tests/fuzz/finds") {
        for form in ["text", "json", "github"] {
            let mut program = Command::new(env!("CARGO_BIN_EXE_plyline"));
            let done = program
                .args(["check", "--format", form])
                .arg(&path)
                .output();
            let done = done.expect("the program");
            let said = String::from_utf8_lossy(&done.stderr);
            let code = done.status.code();
            assert!(
                matches!(code, Some(0 | 1)),
                "{} {code:?}: {said}",
                path.display()
            );
        }
    }
}

#[test]
fn a_bishop_can_come_of_a_move_in_uci() {
    let lesson = crate::support::lesson("[FEN \"8/P1k5/8/8/8/8/8/4K3 w - - 0 1\"] 1. a7a8b *");
    assert_eq!(crate::support::sans(&lesson), ["a8=B"]);
}

#[test]
fn two_comments_that_hold_a_brace_stay_two() {
    let lesson = crate::support::lesson("1. e4 ;a }\n\n;Ask: b }\n e5 *");
    let written = plyline::lesson::export(&lesson, false).expect("a lesson that was read whole");
    let again = crate::support::lesson(&written);
    assert_eq!(again.node(1).comments.len(), 2, "{written}");
    assert!(again.node(1).ask().is_some(), "{written}");
}

#[test]
fn each_fuzz_target_is_replayed_here() {
    let names = files("tests/fuzz/targets").into_iter().map(|path| {
        let name = path.file_stem().expect("a file").to_string_lossy();
        name.into_owned()
    });
    let mut known: Vec<&str> = CHECKS.iter().map(|(name, _)| *name).collect();
    known.push("findings");
    known.sort_unstable();
    assert_eq!(names.collect::<Vec<_>>(), known);
}

#[test]
fn all_examples_pass_all_checks() {
    for bytes in examples() {
        for (_, check) in CHECKS {
            check(&bytes);
        }
    }
}

#[test]
fn examples_with_random_changes_pass_all_checks() {
    let examples = examples();
    let mut chance = Chance::new(7);
    for _ in 0..400 {
        let mut bytes = chance.pick(&examples.iter().collect::<Vec<_>>()).clone();
        let from = chance.below(bytes.len() + 1);
        bytes = bytes.split_off(from);
        bytes.truncate(chance.below(600));
        for _ in 0..1 + chance.below(12) {
            let at = chance.below(bytes.len() + 1);
            match chance.below(4) {
                0 if at < bytes.len() => bytes[at] = chance.below(256) as u8,
                1 if at < bytes.len() => drop(bytes.remove(at)),
                2 => bytes.insert(at, chance.pick(b"{}()[]\"\\\n;%$.!?=+-x0O@#*1")),
                _ => {
                    let more = bytes[..at].to_vec();
                    bytes.extend(more.iter().rev().take(20).rev());
                }
            }
        }
        for (_, check) in CHECKS {
            check(&bytes);
        }
    }
}
