//! `plyline bake` on sites that are broken, odd or badly named: what is said, what is left as it was,
//! and that the rest is baked all the same.

use super::run::{Run, run, site};
use plyline::text::limits;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// The body of a page without an error.
const LESSON: &str =
    "<ply-line id=\"open\"><pre>\n1. e4 e5 {So.} 2. Nf3 Nc6 $10 *\n</pre></ply-line>";

fn page(body: &str) -> String {
    format!(
        "<!doctype html><html lang=\"en\"><head><title>x</title><script type=\"module\" \
         src=\"/plyline.mjs\"></script></head><body>{body}</body></html>\n"
    )
}

/// The bytes of each file below a folder, by its path.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut waiting = vec![folder.to_owned()];
    while let Some(next) = waiting.pop() {
        for entry in fs::read_dir(&next).expect("a folder") {
            let entry = entry.expect("an entry");
            let (kind, path) = (entry.file_type().expect("a kind"), entry.path());
            if kind.is_dir() {
                waiting.push(path);
            } else if kind.is_file() {
                let name = path.strip_prefix(folder).expect("it is below");
                let bytes = fs::read(&path).expect("its bytes");
                found.insert(name.display().to_string().replace('\\', "/"), bytes);
            }
        }
    }
    found
}

fn is_baked(bytes: &[u8]) -> bool {
    String::from_utf8_lossy(bytes).contains("data-plyline-baked=")
}

/// Bakes a site with one good page and this file, elsewhere and in place: the file is named with the
/// reason and stays as it was, and the good page is baked.
#[track_caller]
fn assert_refused(name: &str, file: &str, bytes: &[u8], said: &str) {
    for words in [
        &["bake", "site", "--out", "out"][..],
        &["bake", "site", "--in-place"],
    ] {
        let folder = site(name, &[("site/good.html", &page(LESSON))]);
        fs::write(folder.join("site").join(file), bytes).expect("a file for the test");
        let done = run(&folder, words);
        assert_eq!(done.code, 2, "{}", done.err);
        let wanted = format!("plyline: site/{file}");
        let line = done.err.lines().find(|line| line.starts_with(&wanted));
        let line = line.unwrap_or_else(|| panic!("{wanted}: {}", done.err));
        assert!(line.contains(said), "{line}");
        let to = folder.join(if words.contains(&"--out") {
            "out"
        } else {
            "site"
        });
        let there = files(&to);
        assert!(there[file] == bytes, "{file} is as it was");
        assert!(is_baked(&there["good.html"]), "{words:?}");
    }
}

#[test]
fn a_page_in_another_encoding_is_named_and_stays_as_it_was() {
    let mut latin = page(LESSON).into_bytes();
    latin.extend(b"<p>Gr\xfcn</p>");
    assert_refused("bake-latin", "a.html", &latin, "is not UTF-8");
    for (name, mark, pair) in [
        (
            "bake-wide",
            [0xff, 0xfe],
            u16::to_le_bytes as fn(u16) -> [u8; 2],
        ),
        ("bake-wide-big", [0xfe, 0xff], u16::to_be_bytes),
    ] {
        let mut wide = mark.to_vec();
        wide.extend(page(LESSON).encode_utf16().flat_map(pair));
        assert_refused(name, "a.html", &wide, "is UTF-16");
    }
}

#[test]
fn pages_in_other_encodings_with_nothing_of_ours_are_copied_without_a_word() {
    let folder = site("bake-foreign", &[("site/good.html", &page(LESSON))]);
    let latin = b"<!doctype html><title>Gr\xfcn</title>";
    fs::write(folder.join("site/a.html"), latin).expect("a file for the test");
    let done = run(&folder, &["bake", "site", "--out", "out"]);
    assert_eq!(done.code, 0, "{}", done.err);
    assert_eq!(files(&folder.join("out"))["a.html"], latin);
}

#[test]
fn a_page_over_the_limit_is_named_and_stays_as_it_was() {
    let mut long = page(LESSON).into_bytes();
    long.resize(limits::TEXT_BYTES + 1, b'\n');
    assert_refused("bake-long", "a.html", &long, "more than 16777216 bytes");
}

#[test]
fn a_page_of_a_newer_plyline_is_named_and_stays_as_it_was() {
    let newer = page("<ply-line data-plyline-baked=\"99 ab\"><pre>1. e4 *</pre></ply-line>");
    assert_refused("bake-newer", "a.html", newer.as_bytes(), "newer plyline");
}

#[test]
fn a_broken_feed_is_named_with_its_place_and_stays_as_it_was() {
    let feed =
        "<rss><channel><item><description>&lt;ply-line>&nbsp;</description></item></channel></rss>";
    assert_refused("bake-feed", "feed.xml", feed.as_bytes(), ":1:");
    let open = "<rss><channel><item><description>&lt;ply-line>";
    assert_refused(
        "bake-open",
        "feed.xml",
        open.as_bytes(),
        "not well-formed XML",
    );
}

#[test]
#[cfg(unix)]
fn links_that_lead_round_in_a_circle_end_and_are_named() {
    use std::os::unix::fs::symlink;
    let folder = site("bake-circle", &[("site/a/good.html", &page(LESSON))]);
    // A folder within itself, which is passed over, and a link to itself, which leads nowhere.
    symlink("../../site", folder.join("site/a/up")).expect("a link");
    symlink("self.html", folder.join("site/self.html")).expect("a link");
    let done = run(&folder, &["bake", "site", "--out", "out"]);
    assert_eq!(done.code, 2, "{}", done.err);
    for name in ["site/self.html: ", "site/a/up: "] {
        assert!(done.err.contains(name), "{}", done.err);
    }
    let there = files(&folder.join("out"));
    assert!(is_baked(&there["a/good.html"]));
    assert!(there.keys().all(|it| !it.contains("up")), "{there:?}");
}

#[test]
#[cfg(unix)]
fn a_link_to_a_folder_is_passed_over_in_place() {
    let folder = site("bake-link", &[("site/a/good.html", &page(LESSON))]);
    std::os::unix::fs::symlink("../../site", folder.join("site/a/up")).expect("a link");
    let done = run(&folder, &["bake", "site", "--in-place"]);
    assert_eq!(done.code, 0, "{}", done.err);
    assert!(folder.join("site/a/up").is_symlink());
}

#[test]
#[cfg(unix)]
fn a_page_that_may_not_be_read_is_named_and_the_others_are_baked() {
    use std::os::unix::fs::PermissionsExt;
    let good = page(LESSON);
    let files_of = [("site/a.html", good.as_str()), ("site/good.html", &good)];
    let folder = site("bake-unreadable", &files_of);
    let path = folder.join("site/a.html");
    fs::set_permissions(&path, fs::Permissions::from_mode(0o000)).expect("permissions");
    // The system's administrator may read all.
    if fs::read(&path).is_ok() {
        return;
    }
    let done = run(&folder, &["bake", "site", "--out", "out"]);
    assert_eq!(done.code, 2, "{}", done.err);
    assert!(done.err.contains("site/a.html: "), "{}", done.err);
    assert!(is_baked(&files(&folder.join("out"))["good.html"]));
}

#[test]
fn elements_that_are_not_closed_lose_nothing_and_settle() {
    for open in [
        "<ply-line id=\"open\"><pre>1. e4 e5 $10 *",
        "<div><ply-line id=\"open\"><pre>1. e4 e5 $10 *</pre></div><p>After.",
        "<p>Before <ply-diagram fen=\"8/8/8/8/8/8/8/8\"><p>After.",
        "<pre><code class=\"language-pgn\">1. e4 e5 $10 *",
        "<ply-prose><p>After 1.e4 <em>comes",
    ] {
        let text = format!("<!doctype html><title>x</title><body>{open}\n");
        let folder = site("bake-unclosed", &[("site/a.html", &text)]);
        let done = run(&folder, &["bake", "site", "--in-place"]);
        assert!(done.code < 2, "{open}: {}", done.err);
        let once = files(&folder.join("site"));
        let baked = String::from_utf8_lossy(&once["a.html"]).into_owned();
        for words in ["1. e4 e5 $10 *", "After.", "Before ", "<em>comes"] {
            assert!(!open.contains(words) || baked.contains(words), "{baked}");
        }
        run(&folder, &["bake", "site", "--in-place"]);
        assert!(files(&folder.join("site")) == once, "{open} settles");
    }
}

#[test]
fn pages_that_show_one_position_share_its_picture() {
    let good = page(LESSON);
    let names: Vec<String> = (0..60).map(|at| format!("site/{at}.html")).collect();
    let pages: Vec<(&str, &str)> = names
        .iter()
        .map(|it| (it.as_str(), good.as_str()))
        .collect();
    let folder = site("bake-shared", &pages);
    let done = run(&folder, &["bake", "site", "--out", "out"]);
    assert_eq!(done.code, 0, "{}", done.err);
    let there = files(&folder.join("out"));
    let pictures = there
        .keys()
        .filter(|it| it.starts_with("plyline-pictures/"));
    assert_eq!(
        (pictures.count(), there.len()),
        (1, 61),
        "{:?}",
        there.keys()
    );
}

/// A run with one good page in `site`, in a folder with another.
fn between(name: &str, words: &[&str]) -> (Run, BTreeMap<String, Vec<u8>>) {
    let good = page(LESSON);
    let folder = site(name, &[("site/a.html", &good), ("site/sub/b.html", &good)]);
    let done = run(&folder, words);
    (done, files(&folder))
}

#[test]
fn the_output_may_be_inside_the_site_and_is_no_part_of_it() {
    let good = page(LESSON);
    let folder = site("bake-inside", &[("site/a.html", &good)]);
    for _ in 0..2 {
        let done = run(&folder, &["bake", "site", "--out", "site/out"]);
        assert_eq!(done.code, 0, "{}", done.err);
        let there = files(&folder.join("site"));
        assert_eq!(there["a.html"], good.as_bytes());
        assert!(is_baked(&there["out/a.html"]));
        assert!(
            there.keys().all(|it| !it.starts_with("out/out")),
            "{:?}",
            there.keys()
        );
    }
}

#[test]
fn a_site_inside_the_output_and_one_that_is_the_output_are_refused() {
    for (words, said) in [
        (
            ["bake", "site/sub", "--out", "site"],
            "the site is in this folder",
        ),
        (["bake", "site", "--out", "site"], "--in-place"),
        (["bake", "site", "--out", "site/sub/.."], "--in-place"),
        (["bake", "site/none", "--out", "out"], "no such folder"),
        (["bake", "site/a.html", "--out", "out"], "no such folder"),
        (["bake", "site", "--out", "site/a.html"], "site/a.html: "),
    ] {
        let (done, there) = between("bake-refused", &words);
        assert_eq!(done.code, 2, "{words:?}: {}", done.err);
        assert!(done.err.contains(said), "{words:?}: {}", done.err);
        let untouched = there.values().all(|it| it == page(LESSON).as_bytes());
        assert!(
            untouched && there.len() == 2,
            "{words:?}: {:?}",
            there.keys()
        );
    }
}

#[test]
fn a_page_that_cannot_be_written_is_named_and_the_others_are() {
    let good = page(LESSON);
    let files_of = [("site/a.html", good.as_str()), ("site/good.html", &good)];
    let folder = site("bake-blocked", &files_of);
    // There is a folder with something in it where the page should be.
    fs::create_dir_all(folder.join("out/a.html/x")).expect("a folder");
    let done = run(&folder, &["bake", "site", "--out", "out"]);
    assert_eq!(done.code, 2, "{}", done.err);
    assert!(done.err.contains("plyline: out/a.html: "), "{}", done.err);
    let there = files(&folder.join("out"));
    assert!(is_baked(&there["good.html"]));
    assert!(
        there.keys().all(|it| !it.contains(".plyline-")),
        "{:?}",
        there.keys()
    );
}

#[test]
fn the_exit_code_says_whether_a_page_has_an_error_and_it_is_baked_all_the_same() {
    let bad = page("<ply-line><pre>1. e4 e5 2. Nf4 *</pre></ply-line>");
    let hint = page("<ply-line><pre>1. e4 e5 *</pre></ply-line>");
    for (text, code) in [
        (page(LESSON), 0),
        (hint, 0),
        (page("<p>Nothing."), 0),
        (bad, 1),
    ] {
        let folder = site("bake-code", &[("site/a.html", &text)]);
        let done = run(&folder, &["bake", "site", "--out", "out"]);
        assert_eq!(done.code, code, "{text}: {}", done.err);
        let is_ours = text.contains("ply-line>");
        assert_eq!(
            is_baked(&files(&folder.join("out"))["a.html"]),
            is_ours,
            "{text}"
        );
    }
}

#[test]
fn everything_else_is_copied_byte_for_byte() {
    let good = page(LESSON);
    let folder = site(
        "bake-copied",
        &[
            ("site/a.html", &good),
            ("site/plain.html", "<!doctype html>\r\n<p>R & D, no end tag"),
            ("site/style/site.css", "body { margin: 0 }\r\n"),
            ("site/empty", ""),
            ("site/.well-known/x", "a name that begins with a dot"),
            (
                "site/map.xml",
                "<urlset xmlns=\"http://www.sitemaps.org/schemas/sitemap/0.9\"/>",
            ),
            ("site/words é.txt", "\u{feff}mark"),
        ],
    );
    fs::write(
        folder.join("site/board.png"),
        [0x89, b'P', 0, 0xff, 0xfe, b'\r', b'\n'],
    )
    .expect("a file for the test");
    let done = run(&folder, &["bake", "site", "--out", "out"]);
    assert_eq!(done.code, 0, "{}", done.err);
    let (before, mut after) = (files(&folder.join("site")), files(&folder.join("out")));
    after.retain(|name, _| !name.starts_with("plyline-pictures/"));
    assert!(is_baked(&after["a.html"]));
    assert_eq!(
        before.keys().collect::<Vec<_>>(),
        after.keys().collect::<Vec<_>>()
    );
    for (name, bytes) in before.iter().filter(|(name, _)| *name != "a.html") {
        assert!(after[name] == *bytes, "{name}");
    }
}

#[test]
fn pictures_that_are_no_longer_shown_are_taken_away_and_no_other_file_is() {
    let folder = site(
        "bake-tidy",
        &[
            ("site/a.html", &page(LESSON)),
            ("site/plyline-pictures/own.svg", "<svg/>"),
        ],
    );
    let pictures = || -> Vec<String> {
        let there = files(&folder.join("site/plyline-pictures"));
        there.into_keys().filter(|it| it != "own.svg").collect()
    };
    run(&folder, &["bake", "site", "--in-place"]);
    let first = pictures();
    let path = folder.join("site/a.html");
    let text = fs::read_to_string(&path).expect("the page");
    fs::write(&path, text.replace("1. e4 e5 {So.}", "1. d4 d5 {So.}")).expect("a file");
    let done = run(&folder, &["bake", "site", "--in-place"]);
    assert!(done.code < 2, "{}", done.err);
    let second = pictures();
    assert_eq!((first.len(), second.len()), (1, 1));
    assert_ne!(first, second);
    assert!(folder.join("site/plyline-pictures/own.svg").exists());
}

#[test]
fn what_a_program_left_that_was_ended_is_taken_away_and_never_copied() {
    let left = [
        ("site/.a.html.plyline-1-0", "half a pa"),
        ("site/sub/.b.html.plyline-77", "half"),
    ];
    let own = [
        ("site/.plyline-notes", "of the author"),
        ("site/.x.plyline-y", "too"),
        ("site/a.html", &page(LESSON)),
    ];
    let there = |folder: &Path| -> Vec<String> {
        let names = files(folder).into_keys();
        names.filter(|it| it.contains(".plyline-")).collect()
    };
    let wanted = [".plyline-notes", ".x.plyline-y"];
    let folder = site("bake-left", &[&left[..], &own].concat());
    run(&folder, &["bake", "site", "--out", "out"]);
    assert_eq!(there(&folder.join("out")), wanted);
    assert_eq!(there(&folder.join("site")).len(), 4);
    let done = run(&folder, &["bake", "site", "--in-place"]);
    assert_eq!(done.code, 0, "{}", done.err);
    assert_eq!(there(&folder.join("site")), wanted);
}
