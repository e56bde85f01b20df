//! Places: slips that a machine plants in pages of many shapes are told at their line and column.

use plyline::post::{Kind, check};
use plyline::text::Source;

/// Numbers by chance, the same in each run (a linear congruential generator; the factors are those of
/// Knuth's MMIX, The Art of Computer Programming, volume 2, 3.3.4).
pub struct Chance(pub u64);

impl Chance {
    pub fn below(&mut self, count: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % count
    }
}

/// Lines of a lesson with one slip, which stands for `SLIP`; each ends with a word for it.
const MOVES: &[&str] = &[
    "1. e4 {W\u{e4}hle & \u{1F600} \u{4e2d}} e5",
    "2. Nf3\tNc6 $10",
    "(2... d6 {R < B} 3. SLIP) 3. Bb5 a6",
    "4. Ba4 {caf\u{e9}} Nf6 $14 *",
];
const SLIP: &str = "Qh6";

/// How a page of Markdown holds a lesson: what is before each line of it.
const MARKDOWN: &[(&str, &str, &str)] = &[
    ("```pgn\n", "", "```\n"),
    ("> Words\n>\n> ```pgn\n", "> ", "> ```\n"),
    ("- A list\n\n  ~~~ pgn\n", "  ", "  ~~~\n"),
    ("1. One\n   - Two\n\n     ```pgn\n", "     ", "     ```\n"),
    ("> - Three\n>\n>   ````pgn\n", ">   ", ">   ````\n"),
    ("Words\n\n<ply-line>\n<pre>\n", "", "</pre>\n</ply-line>\n"),
];
const HTML: &[(&str, &str, &str)] = &[
    (
        "<article>\n<ply-line><pre>",
        "",
        "</pre></ply-line>\n</article>\n",
    ),
    (
        "<ul><li>One<li><pre class='x'><code class=\"language-pgn\">",
        "\t",
        "</code></pre></ul>\n",
    ),
    (
        "<div class=\"highlight\"><pre><code class=\"lang-pgn\"><span>",
        "",
        "</span></code></pre></div>\n",
    ),
];

/// A page with a slip, and the line and column of the slip, from 1.
fn page(chance: &mut Chance, kind: Kind) -> (String, u32, u32) {
    let shapes = if kind == Kind::Markdown {
        MARKDOWN
    } else {
        HTML
    };
    let (head, before, tail) = shapes[chance.below(shapes.len())];
    let is_markup = kind == Kind::Html || head.contains("<pre>");
    let mut text = String::new();
    for _ in 0..chance.below(4) {
        text += "A paragraph of a \u{fc}ber-page, \u{1F3C1}.\n\n";
    }
    text += head;
    for line in MOVES {
        let line = if is_markup {
            line.replace('&', "&amp;").replace('<', "&lt;")
        } else {
            (*line).to_owned()
        };
        text += &format!("{before}{line}\n");
    }
    text += tail;
    if chance.below(2) == 0 {
        text = text.replace('\n', "\r\n");
    }
    let at = text.find("SLIP").expect("the slip");
    let line = 1 + text[..at].matches('\n').count() as u32;
    let start = text[..at].rfind('\n').map_or(0, |end| end + 1);
    let column = 1 + text[start..at].chars().count() as u32;
    (text.replace("SLIP", SLIP), line, column)
}

#[test]
fn five_hundred_planted_slips_are_told_at_their_line_and_column() {
    let mut chance = Chance(20_261_129);
    for number in 0..500 {
        let kind = if chance.below(2) == 0 {
            Kind::Markdown
        } else {
            Kind::Html
        };
        let (text, line, column) = page(&mut chance, kind);
        let source = Source::new("post", text.as_str());
        let checked = check(&source, kind, &|_: &str| None);
        let [finding] = checked.findings.as_slice() else {
            panic!("{number}: {:?} in\n{text}", checked.findings);
        };
        let place = source.place(finding.span.from);
        assert_eq!(
            (place.line, place.column),
            (line, column),
            "{number}:\n{text}"
        );
        assert_eq!(source.slice(finding.span), SLIP);
    }
}
