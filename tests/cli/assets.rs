//! The page files that the program carries, and the build script that picks them up.

#[allow(dead_code)] // its `main` is for cargo
#[path = "../../src/cli/embed.rs"]
mod carry;

use super::run::{folder, run};
use std::fs;
use std::path::Path;

#[test]
fn the_page_files_are_written_or_the_program_says_how_they_are_made() {
    let folder = folder("assets");
    let done = run(&folder, &["assets", "new/site"]);
    let dist = Path::new(env!("CARGO_MANIFEST_DIR")).join("www/dist");
    let built = carry::dist_files(&dist).expect("the folder can be read");
    if built.is_empty() {
        assert_eq!((done.code, done.out.as_str()), (2, ""));
        assert!(done.err.contains("sh www/build.sh"), "{}", done.err);
        assert!(!folder.join("new").exists());
        return;
    }
    assert_eq!(
        (done.code, done.out.lines().count()),
        (0, built.len()),
        "{}",
        done.err
    );
    for (name, path) in built {
        let written = fs::read(folder.join("new/site").join(&name)).expect("a written file");
        assert!(
            written == fs::read(path).expect("a built file"),
            "{name} differs"
        );
    }
}

#[test]
fn the_build_script_lists_what_has_been_built_and_watches_what_is_there() {
    let root = folder("carry");
    let dist = root.join("www/dist");
    assert_eq!(carry::watched(&root), None);
    assert_eq!(carry::dist_files(&dist).expect("no folder, no files"), []);
    fs::create_dir_all(root.join("www")).expect("a folder");
    assert_eq!(carry::watched(&root), Some("www"));
    fs::create_dir_all(dist.join("more")).expect("a folder");
    for name in ["b.js", "a \"quoted\".js", ".hidden", "more/c.js"] {
        fs::write(dist.join(name), "x").expect("a file");
    }
    assert_eq!(carry::watched(&root), Some("www/dist"));
    let files = carry::dist_files(&dist).expect("a folder that can be read");
    let names: Vec<_> = files.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["a \"quoted\".js", "b.js", "more/c.js"]);
    let listing = carry::listing(&files);
    assert!(
        listing.contains("(\"a \\\"quoted\\\".js\", include_bytes!(\""),
        "{listing}"
    );
    assert_eq!(listing.matches("include_bytes!").count(), 3);
}
