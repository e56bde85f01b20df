//! Posts of one series name each other where their lessons meet.

use plyline::bake::{self, Meetings, Posted, Setting, clean, posted};
use plyline::post::{Kind, Other};
use plyline::text::Source;
use plyline::view::Words;
use std::fmt::Write;

/// A post of the series "traps".
fn post(title: &str, id: &str, moves: &str) -> String {
    format!(
        "<!doctype html><html lang=\"en\"><head><title>x</title><script type=\"module\" src=\"/plyline.mjs\"></script></head>\
         <body><article data-plyline-series=\"traps\"><h1>{title}</h1><ply-line id=\"{id}\"><pre>\n{moves}\n</pre></ply-line></article></body></html>\n"
    )
}

fn lessons(path: &str, page: &str) -> Vec<Posted> {
    let other = Other {
        source: Source::new(path, page),
        kind: Kind::Html,
        around: Box::new(|_: &str| None),
    };
    posted(&other, path).1
}

/// What baking a page writes of other posts, a line for each place.
fn also(path: &str, pages: &[(&str, &str)]) -> String {
    let page = pages.iter().find(|(it, _)| *it == path).expect("a page").1;
    let text = made(path, pages);
    assert_eq!(clean(&text).as_deref(), Ok(page), "baking is undone");
    let value = text.split("data-plyline-also=\"").nth(1);
    let lines = value
        .and_then(|it| it.split('"').next())
        .unwrap_or_default();
    let bare = page.split("<pre>\n").nth(1).expect("a lesson");
    let bare = bare.split("</pre>").next().expect("its end");
    let mut lines = lines.lines();
    if let Some(length) = lines.next() {
        assert_eq!(length.parse(), Ok(bare.encode_utf16().count()));
    }
    let mut told = String::new();
    for line in lines.rev() {
        let (at, words) = line.split_once(' ').expect("a place and words");
        let units: Vec<u16> = bare.encode_utf16().collect();
        let before = &units[..at.parse().expect("a number")];
        let before = String::from_utf16(before).expect("whole letters");
        let last = before.split_whitespace().last().unwrap_or_default();
        writeln!(told, "{last} {words}").expect("a text");
    }
    told
}

fn made(path: &str, pages: &[(&str, &str)]) -> String {
    let page = pages.iter().find(|(it, _)| *it == path).expect("a page").1;
    let all = pages.iter().flat_map(|(path, page)| lessons(path, page));
    let setting = Setting {
        around: &|_: &str| None,
        words: &|_, _| Words::default(),
        numbers: &|_, _| plyline::bake::Numbers::default(),
        pictures: "pictures/",
        assets: None,
        path,
        series: &[],
        meetings: &Meetings::new(all.collect()),
        site: None,
    };
    bake::page(&Source::new(path, page), &setting).text
}

#[test]
fn two_posts_name_each_other_at_the_last_position_that_they_share() {
    let a = post(
        "Tea & cake",
        "a",
        "1. e4 e6 2. d4 d5 {\u{2654} Both.} (2... c5) 3. e5 c5 *",
    );
    let b = post("Bread", "b", "1. e4 e6 2. d4 d5 $10 3. Nc3 Nf6 *");
    let pages = [("a/", a.as_str()), ("posts/b.html", &b)];
    assert_eq!(
        also("a/", &pages),
        "Both.} {[Also in Bread](../posts/b.html#b/2...d5)}\n"
    );
    assert_eq!(
        also("posts/b.html", &pages),
        "$10 {[Also in Tea &amp; cake](../a/#a/2...d5)}\n"
    );
}

#[test]
fn a_position_reached_in_another_order_is_told_and_the_move_after_it_is_not() {
    let a = post("A", "a", "1. d4 e6 2. e4 d5 3. e5 c5 *");
    let b = post("B", "b", "1. e4 e6 2. d4 d5 3. Nc3 Nf6 *");
    let pages = [("a/", a.as_str()), ("b/", &b)];
    assert_eq!(also("a/", &pages), "e4 {[Also in B](../b/#b/2.d4)}\n");
}

#[test]
fn the_start_is_never_told_nor_a_post_of_another_series() {
    let a = post("A", "a", "1. e4 e5 2. Nf3 *");
    let b = post("B", "b", "1. d4 d5 *");
    let c = post("C", "c", "1. e4 e5 2. Nc3 *").replace("traps", "gambits");
    assert_eq!(also("a/", &[("a/", &a), ("b/", &b), ("c/", &c)]), "");
}

#[test]
fn a_lesson_names_another_at_most_three_times_nearest_to_the_main_line() {
    let a = post(
        "A",
        "a",
        "1. e4 e5 (1... c5 2. Nf3) (1... e6 2. d4) (1... c6 2. d4) (1... d6 2. d4 (2. Nc3)) 2. Nf3 Nc6 *",
    );
    let b = post(
        "B",
        "b",
        "1. e4 e5 (1... c5 2. Nf3) (1... e6 2. d4) (1... c6 2. d4) (1... d6 2. d4) 2. Nf3 Nf6 *",
    );
    let told = also("a/", &[("a/", &a), ("b/", &b)]);
    let lines: Vec<&str> = told.lines().collect();
    assert_eq!(lines.len(), 3, "{told}");
    assert!(
        told.contains("#b/2.Nf3)") || told.contains("e5_2.Nf3"),
        "{told}"
    );
}

#[test]
fn the_same_notation_on_several_pages_is_one_lesson_and_does_not_name_itself() {
    let a = post("A", "a", "1. e4 e5 2. Nf3 *");
    let b = post("B", "b", "1. e4 e5 2. Nc3 *");
    let both = a.replace(
        "</article>",
        &format!("</article>{}", b.split("<body>").nth(1).expect("a body")),
    );
    let pages = [("", both.as_str()), ("a/", &a), ("b/", &b)];
    assert_eq!(also("a/", &pages), "e5 {[Also in B](../b/#b/1...e5)}\n");
    assert_eq!(also("", &pages), "e5 {[Also in B](./b/#b/1...e5)}\n");
}

#[test]
fn where_the_author_links_there_nothing_is_added() {
    let b = post("B", "b", "1. e4 e5 2. Nc3 *");
    for (from, to, link) in [
        ("a/", "b/", "../b/#b/1.e4_e5"),
        ("posts/a.html", "posts/b.html", "./b.html#b/1.e4_e5"),
        ("posts/a/", "b/", "../../b/index.html"),
    ] {
        let a = post("A", "a", &format!("1. e4 e5 {{See [B]({link}).}} 2. Nf3 *"));
        assert_eq!(also(from, &[(from, &a), (to, &b)]), "", "{link}");
    }
    // Words that hold its name are no link.
    let a = post("A", "a", "1. e4 e5 {Bob/Ada played it.} 2. Nf3 *");
    assert!(!also("a/", &[("a/", &a), ("b/", &b)]).is_empty());
}

#[test]
fn it_comes_before_a_question_after_a_comment_of_one_line_and_without_signs_that_would_end_it() {
    let a = post("A", "a", "1. e4 e5 {Ask: What now?} 2. Nf3 *");
    let b = post("Is [this] {it}?", "b", "1. e4 e5 ; both\n 2. Nc3 *");
    let pages = [("a/", a.as_str()), ("b/", &b)];
    assert_eq!(
        also("a/", &pages),
        "e5 {[Also in Is (this) (it)?](../b/#b/1...e5)}\n"
    );
    assert_eq!(also("b/", &pages), "both {[Also in A](../a/#a/1...e5)}\n");
}

#[test]
fn the_drawn_and_the_plain_form_have_the_link() {
    let a = post("A", "a", "1. e4 e5 2. Nf3 *");
    let b = post("B", "b", "1. e4 e5 2. Nc3 *");
    let text = made("a/", &[("a/", &a), ("b/", &b)]);
    let link = "<a href=\"../b/#b/1...e5\" rel=\"noopener\">Also in B</a>";
    assert_eq!(text.matches(link).count(), 2);
}
