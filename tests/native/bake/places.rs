//! Where a baked page differs from what it was, and that it does so once.

use super::{HEAD, assert_settles, bake, baked};
use plyline::bake::{self as baking, Meetings, Setting, clean};
use plyline::post::{Around, Kind, Neighbour, Other};
use plyline::text::Source;
use plyline::view::Words;
use std::fs;
use std::path::{Path, PathBuf};

const LESSON: &str = "<ply-line id=\"a\"><pre>1. e4 e5 {Both.} 2. Nf3 *</pre></ply-line>";

/// The pages of the demo, the examples and what generators made of one post.
fn pages() -> Vec<(PathBuf, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut waiting = [
        "demo-site/pages",
        "examples",
        "tests/pages/articles/generators/saved",
    ]
    .map(|it| root.join(it))
    .to_vec();
    let mut pages = Vec::new();
    while let Some(path) = waiting.pop() {
        if path.is_dir() {
            let list = fs::read_dir(&path).expect("a folder of the project");
            waiting.extend(list.map(|it| it.expect("an entry").path()));
        } else if path.extension().is_some_and(|it| it == "html") {
            let text = fs::read_to_string(&path).expect("a page");
            pages.push((path, text));
        }
    }
    assert!(pages.len() >= 15, "{}", pages.len());
    pages
}

#[test]
fn a_second_run_changes_nothing() {
    for (path, text) in pages() {
        assert_settles(&path.display().to_string(), &text);
    }
}

#[test]
fn what_is_taken_out_again_leaves_the_page_as_its_author_wrote_it() {
    let body = "<p>After 1.e4 all is open &amp; well.</p>\n\
         <ply-line id=\"a\"><pre>[Prose \"yes\"]\n\n1. e4 e5 {Both.} (1... c5 2. Nf3) 2. Nf3 Nc6 *</pre></ply-line>\
         <ply-line src=\"b.pgn\" id='b'></ply-line><p>See <ply-ref for=\"a\" at=\"2...Nc6\">the knight</ply-ref>.</p>\
         <ply-diagram for=\"a\" at=\"1.e4 c5\"></ply-diagram><ply-recap for=\"a\"></ply-recap>\
         <ply-quiz for=\"a\" at=\"1.e4\"><p>And now?</p></ply-quiz><ply-recall for=\"a\"></ply-recall>\
         <ply-diagram fen=\"8/5k2/8/8/3P4/8/4K3/8\"></ply-diagram>";
    let page = format!("{HEAD}<body>{body}</body></html>");
    let made = bake(&page);
    assert_eq!(made.count, 8);
    assert!(made.text.matches("<template").count() == 7, "{}", made.text);
    assert_eq!(clean(&made.text).as_deref(), Ok(page.as_str()));
}

#[test]
fn a_page_without_anything_of_ours_stays() {
    let page = format!("{HEAD}<body><p>After 1.e4 &copy; <b>x</p></body></html>");
    assert_eq!(bake(&page).text, page);
}

#[test]
fn an_element_alone_in_a_paragraph_is_in_a_block_afterwards() {
    let html = baked("<p class=\"x\"><ply-line src=\"a.pgn\"></ply-line></p>");
    assert!(html.contains("<div class=\"x\"><ply-line src=\"a.pgn\" data-plyline-baked="));
    assert!(html.ends_with("</ply-line></div></body></html>"), "{html}");
}

#[test]
fn an_element_among_the_words_of_a_paragraph_gets_no_block() {
    let html =
        baked("<p>Look: <ply-diagram fen=\"8/5k2/8/8/3P4/8/4K3/8\"></ply-diagram> there.</p>");
    let (_, plain) = html.split_once("</template>").expect("a root");
    assert!(
        plain.starts_with("<span data-plyline=\"\" slot=\"paper\"><img src=\"pictures/"),
        "{plain}"
    );
    assert!(
        plain.ends_with("</span></ply-diagram> there.</p></body></html>"),
        "{plain}"
    );
}

#[test]
fn a_fence_becomes_an_element_and_ends_the_paragraph_that_it_ended() {
    let html = baked(
        "<p>Before\n<div class=\"highlight\"><pre><code class=\"language-pgn\">[Id \"x\"]\n\n1. e4 &lt;x *</code></pre></div>after",
    );
    assert!(
        html.contains("<p>Before\n</p><ply-line id=\"x\" data-plyline-baked="),
        "{html}"
    );
    let end = "</div><pre><code class=\"language-pgn\">[Id \"x\"]\n\n1. e4 &lt;x *</code></pre></ply-line>after";
    assert!(html.contains(end), "{html}");
    let quiz = baked(&format!(
        "{LESSON}<pre><code class=\"lang-ply-quiz\">[For \"a\"] [At \"1.e4\"]\nWhat &amp; why?</code></pre>"
    ));
    assert!(
        quiz.contains("<ply-quiz for=\"a\" at=\"1.e4\" data-plyline-baked="),
        "{quiz}"
    );
    assert!(quiz.contains("<p>What &amp; why?</p></ply-quiz>"), "{quiz}");
}

#[test]
fn a_page_without_the_script_gets_lists_and_no_board_to_act_on() {
    let page = format!("<title>x</title>{LESSON}");
    let html = bake(&page).text;
    assert!(
        !html.contains("<template") && !html.contains("<link"),
        "{html}"
    );
    assert!(
        html.contains("<div data-plyline=\"\"><figure><img src="),
        "{html}"
    );
}

#[test]
fn the_style_sheet_is_linked_once_and_from_where_the_script_is() {
    let html = baked(LESSON);
    let link = "<link rel=\"stylesheet\" href=\"/p/plyline.css\" data-plyline=\"\">";
    assert_eq!(html.matches(link).count(), 1, "{html}");
    assert!(!html.contains("plyline-more.css"));
    let own = "<link rel=\"stylesheet\" href=\"/p/plyline.css\">";
    let html = bake(&format!(
        "{}<body>{LESSON}",
        HEAD.replace("</head>", &format!("{own}</head>"))
    ))
    .text;
    assert!(!html.contains(link), "{html}");
}

#[test]
fn what_a_question_hides_stays_hidden_until_its_answers() {
    let html = baked(
        "<ply-line><pre>1. e4 e5 2. Nf3 {Ask: What now? Because: it guards the pawn.} Nc6 3. Bb5 *</pre></ply-line>",
    );
    let (_, plain) = html.split_once("</template>").expect("a root");
    let (before, after) = plain.split_once("Answers").expect("the answers");
    assert!(
        before.contains("What now?") && !before.contains("Nc6"),
        "{before}"
    );
    assert!(
        after.contains("Nc6") && after.contains("guards the pawn"),
        "{after}"
    );
}

/// Another page of the site, and no notation elsewhere.
struct Site;

impl Around for Site {
    fn notation(&self, _: &str) -> Option<Result<String, String>> {
        None
    }

    fn post(&self, address: &str) -> Neighbour<'_> {
        match address {
            "other.html" => Neighbour::Post(Other {
                source: Source::new("other.html", LESSON),
                kind: Kind::Html,
                around: Box::new(Site),
            }),
            _ => Neighbour::Missing,
        }
    }
}

#[test]
fn an_element_about_a_lesson_of_another_page_gets_its_notation_or_a_picture() {
    let body = "<ply-quiz for=\"other.html#a\" at=\"1.e4\"></ply-quiz><ply-diagram for=\"other.html#a\" at=\"1.e4\"></ply-diagram>";
    let page = format!(
        "{HEAD}<body>{body}<p>See <ply-ref for=\"other.html#a\" at=\"2.Nf3\">it</ply-ref>.</p>"
    );
    let source = Source::new("page.html", page.as_str());
    let setting = Setting {
        around: &Site,
        words: &|_, _| Words::default(),
        numbers: &|_, _| plyline::bake::Numbers::default(),
        pictures: "pictures/",
        assets: None,
        path: "",
        series: &[],
        meetings: &Meetings::default(),
        site: None,
    };
    let made = baking::page(&source, &setting).text;
    assert!(
        made.contains("<pre data-plyline-from=\"\">\n1. e4 e5 {Both.} 2. Nf3 *</pre></ply-quiz>"),
        "{made}"
    );
    assert!(
        made.contains("at=\"1.e4\" data-plyline-baked=") && made.matches("<template").count() == 1
    );
    assert!(
        made.contains("<div data-plyline=\"\"><figure><img src="),
        "{made}"
    );
    assert!(
        made.contains("<a data-plyline=\"\" href=\"other.html#a/2.Nf3\">it</a>"),
        "{made}"
    );
    assert_eq!(clean(&made).as_deref(), Ok(page.as_str()));
}
