//! Posts: lessons, questions and prose in Markdown and HTML, each finding at its place in the file.

mod generators;
mod hostile;
mod places;
mod slips;

use plyline::post::{Checked, Kind, check};
use plyline::text::Source;

/// A post that has no files beside it.
fn read(text: &str, kind: Kind) -> (Source, Checked) {
    let source = Source::new("post", text);
    let checked = check(&source, kind, &|_: &str| None);
    (source, checked)
}

/// Codes, and the words of the file that they are about.
fn told(text: &str, kind: Kind) -> Vec<(&'static str, String)> {
    let (source, checked) = read(text, kind);
    let findings = checked.findings.iter();
    findings
        .map(|it| (it.code.id(), source.slice(it.span).to_owned()))
        .collect()
}

fn markdown(text: &str) -> Vec<(&'static str, String)> {
    told(text, Kind::Markdown)
}

fn html(text: &str) -> Vec<(&'static str, String)> {
    told(text, Kind::Html)
}

fn one(code: &'static str, words: &str) -> Vec<(&'static str, String)> {
    vec![(code, words.to_owned())]
}

#[test]
fn a_slip_in_a_fence_is_told_at_its_own_place() {
    assert_eq!(
        markdown("# Post\n\n```pgn\n1. e4 e5 2. Nf4 *\n```\n"),
        one("P012", "Nf4")
    );
    assert_eq!(
        markdown("> - ```pgn\n>   1. e4 e5\n>   2. Nf4 *\n>   ```\n"),
        one("P012", "Nf4")
    );
    assert_eq!(
        markdown("```pgn\r\n1. e4 e5\r\n2. Nf4 *\r\n```\r\n"),
        one("P012", "Nf4")
    );
    assert_eq!(markdown("~~~ js\n1. e4 e5 2. Nf4 *\n~~~\n"), []);
}

#[test]
fn a_slip_in_an_element_is_told_at_its_own_place() {
    let page = "<ply-line><pre>1. e4 {R &amp; B} e5 2. Nf4 *</pre></ply-line>";
    assert_eq!(html(page), one("P012", "Nf4"));
    let block = page.replacen("<pre>", "\n<pre>", 1);
    assert_eq!(markdown(&format!("Text\n\n{block}\n")), one("P012", "Nf4"));
    // Within a paragraph the block ends the element, on the page too.
    let inline = markdown(&format!("Text\n\n{page}\n"));
    assert_eq!(inline, one("P001", "<ply-line>"));
    let block = "<pre><code class=\"language-pgn\">1. e4 e5 2. N&#102;4 *\n</code></pre>";
    assert_eq!(html(block), one("P012", "N&#102;4"));
    assert_eq!(
        html(&format!("<template>{page}</template><!-- {page} -->")),
        []
    );
}

#[test]
fn what_names_a_lesson_is_checked_against_it() {
    let lesson = "```pgn\n[Id \"open\"]\n\n1. e4 e5 2. Nf3 Nc6 $10 *\n```\n\n";
    let after = |rest: &str| markdown(&format!("{lesson}{rest}\n"));
    assert_eq!(
        after("<ply-ref for=\"open\" at=\"2.Nf3\">a knight</ply-ref>"),
        []
    );
    assert_eq!(
        after("<ply-ref for=\"open\" at=\"3.Nd4\">a knight</ply-ref>"),
        one("P041", "3.Nd4")
    );
    assert_eq!(
        after("<ply-ref for=\"opne\" at=\"2.Nf3\">a knight</ply-ref>"),
        one("P064", "opne")
    );
    assert_eq!(
        after("```ply-quiz\n[For \"open\"]\n[At \"5.a4\"]\nWhat now?\n```"),
        one("P041", "5.a4")
    );
    assert_eq!(
        after("<ply-diagram for=\"open\" at=\"2.Nf3\" side=\"left\"></ply-diagram>"),
        one("P070", "left")
    );
    assert_eq!(
        after("<ply-diagram fen=\"8/8/8/8/8/8/8/4X3\"></ply-diagram>").len(),
        1
    );
}

#[test]
fn names_that_are_nearly_ours_are_told_and_names_of_other_tools_are_not() {
    let lesson = "<ply-line id=\"a\"><pre>1. e4 e5 $10 *</pre></ply-line>";
    let after = |rest: &str| html(&format!("{lesson}{rest}"));
    assert_eq!(after("<ply-qiuz>Now?</ply-qiuz>"), one("P110", "ply-qiuz"));
    assert_eq!(
        after("<ply-diagram ta=\"1.e4\" fro=\"a\"></ply-diagram>"),
        one("P110", "fro")
    );
    assert_eq!(
        after("<ply-diagram class=x data-fro=a :for=b @fro=c></ply-diagram>"),
        []
    );
    assert_eq!(
        after("<pre class=\"language-ply-diagram\">[Mrks \"@e4\"]</pre>"),
        one("P110", "Mrks")
    );
}

#[test]
fn a_second_lesson_of_one_id_is_told() {
    let lesson = "<ply-line id=\"a\"><pre>1. e4 e5 $10 *</pre></ply-line>";
    assert_eq!(html(&lesson.repeat(2)), one("P040", "a"));
}

#[test]
fn prose_is_read_where_it_is_asked_for_and_a_move_that_cannot_be_played_is_a_warning() {
    let lesson = "<ply-line id=\"a\"><pre>1. e4 e5 2. Nf3 Nc6 $10 *</pre></ply-line>";
    let prose = "<p>After <b>2.Nf3</b> comes Nc6, never 2.Nf5.</p>";
    assert_eq!(html(&format!("{prose}{lesson}")), []);
    let page = format!("<ply-prose for=\"a\">{prose}</ply-prose>{lesson}");
    assert_eq!(html(&page), one("P067", "2.Nf5"));
    let (source, checked) = read(&page, Kind::Html);
    let links = checked.links.iter();
    let links: Vec<_> = links
        .map(|it| (source.slice(it.span), it.address()))
        .collect();
    assert_eq!(
        links,
        [
            ("2.Nf3", Some("a/2.Nf3".to_owned())),
            ("Nc6", Some("a/2...Nc6".to_owned())),
            ("2.Nf5", None),
        ]
    );
}

#[test]
fn in_markdown_all_text_around_a_lesson_that_asks_for_it_is_prose() {
    let lesson = "```pgn\n[Prose \"yes\"]\n\n1. e4 e5 2. Nf3 Nc6 $10 *\n```\n\n";
    let with = |text: &str| markdown(&format!("{text}\n\n{lesson}"));
    assert_eq!(
        with("# After 2.Nf5\n\nA line\nof 2.Nf6 and `2.Ng6`, {{ 2.Nh6 }}"),
        [("P067", "2.Nf5".to_owned()), ("P067", "2.Nf6".to_owned()),]
    );
    assert_eq!(with("2. Nf3 is natural."), one("P111", "2. Nf3"));
    assert_eq!(with("2. Chairs\n3. Tables"), []);
}

#[test]
fn the_letters_are_those_of_the_element_or_of_the_language_around_it() {
    let text = "---\nlang: de\n---\n\n```pgn\n[Prose \"yes\"]\n\n1. e4 e5 2. Nf3 Nc6 $10 *\n```\n\nNach 2.Sf3 kommt 2...Sf6.\n";
    let (source, checked) = read(text, Kind::Markdown);
    let links = checked.links.iter();
    let links: Vec<_> = links
        .map(|it| (source.slice(it.span), it.address()))
        .collect();
    assert_eq!(
        links,
        [
            ("2.Sf3", Some("lesson/2.Nf3".to_owned())),
            ("2...Sf6", Some("lesson/2.Nf3_Nf6".to_owned()))
        ]
    );
}

#[test]
fn in_a_list_of_posts_a_name_means_the_lesson_of_its_own_article() {
    let post = |moves: &str, at: &str| {
        format!(
            "<article><ply-line id=\"a\"><pre>{moves} $10 *</pre></ply-line><ply-ref for=\"a\" at=\"{at}\">so</ply-ref><ply-ref at=\"{at}\">so</ply-ref></article>"
        )
    };
    let page = post("1. e4 e5", "1...e5") + &post("1. d4 d5", "1...d5");
    assert_eq!(html(&page), one("P040", "a"));
    let page = post("1. e4 e5", "1...d5") + &post("1. d4 d5", "1...e5");
    let told: Vec<_> = html(&page).into_iter().map(|(code, _)| code).collect();
    assert_eq!(told, ["P041", "P041", "P040", "P041", "P041"]);
}

#[test]
fn links_of_the_author_to_places_of_a_lesson_are_checked() {
    let lesson = "```pgn\n[Id \"open\"]\n\n1. e4 e5 2. Nf3 Nc6 $10 *\n```\n\n";
    let after = |link: &str| markdown(&format!("{lesson}See [the \"knight\"]({link}) there.\n"));
    for right in [
        "#open/2.Nf3",
        "#open",
        "#other/2.Nf4",
        "b.html#open/2.Nf4",
        "https://example.org/#open/9.a4",
    ] {
        assert_eq!(after(right), [], "{right}");
    }
    assert_eq!(after("#open/2.Nf4"), one("P041", "#open/2.Nf4"));
    let page = "<ply-line id=\"a\"><pre>1. e4 e5 $10 *</pre></ply-line><a href=\"#a/3.Nf3\">so</a>";
    assert_eq!(html(page), one("P041", "#a/3.Nf3"));
}

#[test]
fn a_move_that_a_question_hides_is_told_once_in_an_article() {
    let lesson =
        "<ply-line id=\"a\"><pre>1. e4 e5 {Ask: Which knight?} 2. Nf3 Nc6 $10 *</pre></ply-line>";
    let prose = |text: &str| format!("<ply-prose for=\"a\"><p>{text}</p></ply-prose>{lesson}");
    assert_eq!(html(&prose("After 1.e4 e5 it is open.")), []);
    let told = html(&prose("Later 2.Nf3 Nc6 is natural. Then 2...Nc6 again."));
    assert_eq!(told, one("P096", "2.Nf3"));
}

#[test]
fn a_pawns_move_with_its_number_that_cannot_be_played_is_told_where_a_move_was_named() {
    let lesson = "<ply-line id=\"a\"><pre>1. e4 e5 2. Nf3 Nc6 $10 *</pre></ply-line>";
    let prose = |text: &str| {
        html(&format!(
            "<ply-prose for=\"a\"><p>{text}</p></ply-prose>{lesson}"
        ))
    };
    assert_eq!(prose("After 1.e4 e5 comes 2.h5."), one("P067", "2.h5"));
    assert_eq!(prose("Chapter 2.h5 is short."), []);
    assert_eq!(prose("After 1.e4 e5 2.h3 is slow."), []);
}
