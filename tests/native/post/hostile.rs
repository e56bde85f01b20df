//! Posts that are broken by chance: nothing panics, and each place is one of the file.

use super::places::Chance;
use plyline::post::{Kind, check};
use plyline::text::Source;
use std::fs;
use std::path::Path;

/// What is put in somewhere.
const PIECES: &[&str] = &[
    "<",
    ">",
    "\"",
    "'",
    "&",
    "&amp",
    "&#x1F600;",
    "```",
    "```pgn\n",
    "~~~",
    "\n\n",
    "\r\n",
    "\t",
    "> ",
    "- ",
    "{",
    "}",
    "(",
    ")",
    "[For \"",
    "\"]",
    "<ply-line>",
    "</ply-line>",
    "<ply-prose>",
    "<pre>",
    "</p>",
    "<!--",
    "-->",
    "{{",
    "%}",
    "\u{fc}",
    "\u{1F3C1}",
    "\u{2028}",
    "\u{0}",
    "---\n",
    "1. ",
    "<template>",
    "<script>",
    "<ply-quiz at=",
    "\\",
];

fn broken(chance: &mut Chance, text: &str) -> String {
    let mut text = text.to_owned();
    for _ in 0..=chance.below(6) {
        let from = text.floor_char_boundary(chance.below(text.len() + 1));
        let to = text.floor_char_boundary((from + chance.below(80)).min(text.len()));
        match chance.below(3) {
            0 => text.replace_range(from..to, ""),
            1 => text.insert_str(from, PIECES[chance.below(PIECES.len())]),
            _ => {
                let piece = text[from..to].to_owned();
                let at = text.floor_char_boundary(chance.below(text.len() + 1));
                text.insert_str(at, &piece);
            }
        }
    }
    text
}

#[test]
fn whatever_a_post_holds_places_are_places_of_the_file() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pages/articles/generators");
    let read = |path: &str| fs::read_to_string(folder.join(path)).expect("a kept page");
    let pages = [
        (Kind::Markdown, read("page.md")),
        (Kind::Html, read("saved/jekyll/index.html")),
        (Kind::Html, read("saved/mdbook/index.html")),
    ];
    let mut chance = Chance(14);
    for number in 0..300 {
        let (kind, page) = &pages[number % pages.len()];
        let prose = page.replacen("[Side \"black\"]", "[Prose \"yes\"]", 1);
        let text = broken(&mut chance, &prose);
        let source = Source::new("post", text.as_str());
        let checked = check(&source, *kind, &|_: &str| {
            Some(Ok("1. e4 c6 *\n\n1. d4 d5 *".to_owned()))
        });
        let spans = checked.findings.iter().flat_map(|it| {
            let fix = it.fix.iter().map(|fix| fix.span);
            let related = it.related.iter().map(|other| other.span);
            [it.span].into_iter().chain(fix).chain(related)
        });
        let links = checked.links.iter().map(|it| it.span);
        for span in spans.chain(links) {
            assert!(
                text.get(span.range()).is_some(),
                "{number}: {span:?} of\n{text}"
            );
        }
    }
}
