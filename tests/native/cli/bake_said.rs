//! `plyline bake` on a small site as an author has it: what its feed, its questions and its pages in
//! another language say, and what is told of names that lead nowhere.

use super::run::{run, site};
use std::fs;
use std::path::Path;

const SCRIPT: &str = "<script type=\"module\" src=\"/plyline.mjs\"></script>";

fn page(lang: &str, head: &str, body: &str) -> String {
    format!(
        "<!doctype html><html lang=\"{lang}\"><head><title>x</title>{head}</head><body>{body}</body></html>\n"
    )
}

fn feed(link: &str, html: &str) -> String {
    let html = html.replace('&', "&amp;").replace('<', "&lt;");
    format!(
        "<?xml version=\"1.0\" encoding=\"utf-8\"?>\n<feed xmlns=\"http://www.w3.org/2005/Atom\" xml:lang=\"en\">\n<title>t</title><id>i</id>\
         <entry><title>e</title><id>j</id><link href=\"{link}\"/><content type=\"html\">{html}</content></entry></feed>\n"
    )
}

const LESSON: &str =
    "<ply-line id=\"open\"><pre>\n1. e4 e5 {So.} (1... c5) 2. Nf3 Nc6 $10 *\n</pre></ply-line>";

/// The text of a file of a site after it was baked in place.
#[track_caller]
fn baked(folder: &Path, file: &str) -> String {
    let done = run(
        folder,
        &[
            "bake",
            ".",
            "--in-place",
            "--base-url",
            "https://a.example/",
        ],
    );
    assert_eq!(done.code, 0, "{}{}", done.out, done.err);
    fs::read_to_string(folder.join(file)).expect("a file of the site")
}

#[test]
fn pictures_of_a_feed_stay_when_the_site_is_baked_again() {
    let folder = site(
        "bake-feed-twice",
        &[("feed.xml", &feed("https://a.example/x/", LESSON))],
    );
    let once = baked(&folder, "feed.xml");
    let (_, after) = once.split_once("plyline-pictures/").expect("a picture");
    let picture = folder.join("plyline-pictures").join(&after[..20]);
    assert!(picture.is_file(), "{}", picture.display());
    assert_eq!(baked(&folder, "feed.xml"), once);
    assert!(picture.is_file(), "{}", picture.display());
}

#[test]
fn an_entry_speaks_the_language_of_the_page_that_it_links_to() {
    let folder = site(
        "bake-feed-lang",
        &[
            ("feed.xml", &feed("https://a.example/de/", LESSON)),
            ("de/index.html", &page("de", "", "<p>x</p>")),
        ],
    );
    let text = baked(&folder, "feed.xml");
    assert!(text.contains("Weiß: König e1"), "{text}");
    assert!(!text.contains("White: king"), "{text}");
}

#[test]
fn a_page_without_the_script_speaks_its_own_language_and_asks_once() {
    let quiz = "<ply-quiz for=\"open\" at=\"1.e4\"><p>Und nun?</p></ply-quiz>";
    let folder = site(
        "bake-bare-lang",
        &[("a.html", &page("de", "", &format!("{LESSON}{quiz}")))],
    );
    let text = baked(&folder, "a.html");
    assert!(text.contains("Weiß: König e1"), "{text}");
    assert_eq!(text.matches("Und nun?").count(), 1, "{text}");
    assert!(
        text.contains("Antworten: <b><bdi dir=\"ltr\">1...e5"),
        "{text}"
    );
}

#[test]
fn of_a_file_with_several_games_the_one_that_is_named_is_in_the_plain_form() {
    let games = "[Event \"A\"]\n\n1. e4 e5 *\n\n[Event \"B\"]\n\n1. d4 d5 *\n";
    let body = "<ply-line src=\"g.pgn#2\"></ply-line>";
    let folder = site(
        "bake-game",
        &[("a.html", &page("en", SCRIPT, body)), ("g.pgn", games)],
    );
    let text = baked(&folder, "a.html");
    assert!(text.contains("1. d4 d5 *</pre>"), "{text}");
    assert!(!text.contains("1. e4 e5 *"), "{text}");
}

#[test]
fn pages_that_are_not_there_are_told_in_a_site_that_is_made() {
    let body = "<ply-quiz for=\"nowhere.html#open\"></ply-quiz><a href=\"/b/#open/1.e4\">x</a><a href=\"/c/#/route\">y</a>";
    let folder = site("bake-nowhere", &[("a.html", &page("en", SCRIPT, body))]);
    let done = run(&folder, &["check", "."]);
    assert!(
        done.out.contains("there is no page at nowhere.html"),
        "{}",
        done.out
    );
    assert!(done.out.contains("there is no page at /b/"), "{}", done.out);
    assert_eq!(
        done.out.matches("there is no page").count(),
        2,
        "{}",
        done.out
    );
    assert_eq!(done.code, 1);
}

#[test]
fn a_slash_means_the_given_folder_that_holds_the_page() {
    let link = page("en", SCRIPT, "<a href=\"/b/#open/1.e4\">x</a>");
    let other = page("en", SCRIPT, LESSON);
    let pages = [
        ("posts/a.html", &*link),
        ("pages/a.html", &link),
        ("pages/b/index.html", &other),
    ];
    let done = run(&site("bake-two", &pages), &["check", "posts", "pages"]);
    let told = "there is no page at /b/\n --> posts/a.html";
    assert!(done.out.contains(told), "{}", done.out);
    assert_eq!(done.out.matches("there is no page").count(), 1);
}

#[test]
fn a_lesson_that_is_not_in_another_page_is_told_as_it_would_be_written() {
    let folder = site(
        "bake-other",
        &[
            ("posts/a.html", &page("en", SCRIPT, LESSON)),
            (
                "b.html",
                &page(
                    "en",
                    SCRIPT,
                    "<ply-recap for=\"posts/a.html#opne\"></ply-recap>",
                ),
            ),
        ],
    );
    let done = run(&folder, &["check", "b.html"]);
    assert!(done.out.contains("is not in posts/a.html"), "{}", done.out);
    assert!(
        done.out.contains("it has `posts/a.html#open`"),
        "{}",
        done.out
    );
}

#[test]
fn a_series_of_one_post_beside_others_and_an_address_without_its_scheme_are_told() {
    let post = |name: &str| {
        page(
            "en",
            "",
            &format!("<article data-plyline-series=\"{name}\"><h1>t</h1></article>"),
        )
    };
    let folder = site(
        "bake-lonely",
        &[
            ("a.html", &post("Frist steps")),
            ("b.html", &post("First steps")),
            ("c.html", &post("First steps")),
        ],
    );
    let done = run(&folder, &["bake", ".", "--in-place"]);
    assert!(
        done.err
            .contains("a.html: the only post of the series \u{201c}Frist steps\u{201d}"),
        "{}",
        done.err
    );
    let done = run(
        &folder,
        &["bake", ".", "--in-place", "--base-url", "a.example"],
    );
    assert_eq!(done.code, 2);
    assert!(done.err.contains("https://a.example"), "{}", done.err);
}
