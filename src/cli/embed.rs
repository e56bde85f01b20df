//! The package's build script: lists the files of `www/dist`, where they have been built, so
//! that the program carries them (`plyline assets`), and those of `www/writing`, the script with which
//! `plyline preview` writes. Where `www/dist` has not been built, its list is empty.

use std::io;
use std::path::{Path, PathBuf};
use std::{env, fs};

fn main() -> io::Result<()> {
    println!("cargo:rerun-if-changed=src/cli/embed.rs");
    // Cargo sets these for every build script.
    let folder = |name| env::var_os(name).map(PathBuf::from).unwrap_or_default();
    let root = folder("CARGO_MANIFEST_DIR");
    // The wasm build embeds nothing: it is the build that makes `www/dist`.
    let is_page = env::var("CARGO_CFG_TARGET_FAMILY").is_ok_and(|family| family.contains("wasm"));
    let (files, writing) = match is_page {
        true => (Vec::new(), Vec::new()),
        false => {
            if let Some(watched) = watched(&root) {
                println!("cargo:rerun-if-changed={watched}");
            }
            println!("cargo:rerun-if-changed=www/writing");
            let files = dist_files(&root.join("www/dist"))?;
            (files, dist_files(&root.join("www/writing"))?)
        }
    };
    let out = folder("OUT_DIR");
    fs::write(out.join("writing.rs"), listing(&writing))?;
    fs::write(out.join("carried.rs"), listing(&files))
}

/// What to look at for changes. A path that is missing would count as changed each time, so
/// without `www/dist` its folder is watched, which changes when `dist` is made.
pub fn watched(root: &Path) -> Option<&'static str> {
    ["www/dist", "www"]
        .into_iter()
        .find(|path| root.join(path).is_dir())
}

/// The files in a folder and the folders inside it, with their names seen from there, sorted.
/// Names that begin with a dot are not for pages. No folder, no files.
pub fn dist_files(dist: &Path) -> io::Result<Vec<(String, PathBuf)>> {
    let mut files = Vec::new();
    let mut folders = Vec::new();
    if dist.is_dir() {
        folders.push((String::new(), dist.to_owned()));
    }
    while let Some((prefix, folder)) = folders.pop() {
        for entry in fs::read_dir(folder)? {
            let entry = entry?;
            let name = entry.file_name().to_string_lossy().into_owned();
            let path = entry.path();
            match path.is_dir() {
                _ if name.starts_with('.') => {}
                true => folders.push((format!("{prefix}{name}/"), path)),
                false => files.push((format!("{prefix}{name}"), path)),
            }
        }
    }
    files.sort();
    Ok(files)
}

/// The Rust source that embeds the files.
pub fn listing(files: &[(String, PathBuf)]) -> String {
    let mut text = "/// Name and content of every file.\n\
                    pub const FILES: &[(&str, &[u8])] = &[\n"
        .to_owned();
    for (name, path) in files {
        let path = path.display().to_string();
        text += &format!("    ({name:?}, include_bytes!({path:?})),\n");
    }
    text + "];\n"
}
