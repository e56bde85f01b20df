//! The real games of the benches: those in the source archive of pgn-reader.

use std::fs;
use std::path::PathBuf;
use std::process::Command;

/// Where cargo keeps the archive of pgn-reader: its collections of about 1 MB.
pub fn all() -> Vec<PathBuf> {
    let asked = Command::new(env!("CARGO"))
        .args([
            "metadata",
            "--format-version",
            "1",
            "--quiet",
            "--manifest-path",
        ])
        .arg(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml"))
        .output()
        .expect("cargo, which runs this");
    let about: serde_json::Value = serde_json::from_slice(&asked.stdout).expect("JSON of cargo");
    let packages = about["packages"].as_array().expect("a list of packages");
    let package = packages.iter().find(|it| it["name"] == "pgn-reader");
    let manifest = package
        .and_then(|it| it["manifest_path"].as_str())
        .expect("pgn-reader");
    let folder = PathBuf::from(manifest).with_file_name("benches");
    let mut list: Vec<PathBuf> = fs::read_dir(folder)
        .expect("its games")
        .map(|entry| entry.expect("a file").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "pgn"))
        .filter(|path| path.metadata().is_ok_and(|about| about.len() > 900_000))
        .collect();
    list.sort();
    assert_eq!(list.len(), 2, "the archive has two large collections");
    list
}
