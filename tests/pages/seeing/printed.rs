//! A lesson on paper.

use crate::harness::Case::{self, Everywhere};
use crate::hosting::hosts::never_at_rest;
use crate::support::browser::Browser;
use crate::support::browser::engine::Cap;
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "a lesson is printed with all its text, in order, and nothing to press",
        text,
    ),
    Everywhere(
        "a printed lesson has a diagram at the start and at each branch point of the main line",
        diagrams,
    ),
    Everywhere(
        "a lesson far below the view is printed as the others are",
        far_below,
    ),
    Everywhere("after printing a lesson is where it was", afterwards),
];

const LESSON: &str = "<ply-line id=\"lesson\"><pre>1. d4 {Our comment.} d5 2. c4 e6 (2... dxc4 {takes the pawn} 3. e4) \
    3. Nc3 Nf6 {Second comment about @d5.} (3... c5 {a defence} 4. cxd5) 4. Bg5 {The end.} *</pre></ply-line>";

/// What is found on the paper, with single spaces; `None` where the driver does not print.
fn printed_text(browser: &Browser) -> Option<String> {
    if !browser.engine.can(Cap::Print) {
        return None;
    }
    let text = browser.printed();
    Some(text.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// The same of the document, for engines without.
fn written_text(browser: &Browser) -> String {
    browser.text(
        "dispatchEvent(new Event('beforeprint'));
         const text = inside('.paper').textContent.replace(/\\s+/g, ' ');
         dispatchEvent(new Event('afterprint'));
         return text",
    )
}

const IN_ORDER: &[&str] = &[
    "1.d4",
    "Our comment.",
    "1…d5",
    "2.c4",
    "e6",
    "dxc4",
    "takes the pawn",
    "3.e4",
    "3.Nc3",
    "Nf6",
    "Second comment about",
    "d5",
    "c5",
    "a defence",
    "4.cxd5",
    "4.Bg5",
    "The end.",
];

#[track_caller]
fn assert_in_order(text: &str) {
    let mut rest = text;
    for part in IN_ORDER {
        let at = rest
            .find(part)
            .unwrap_or_else(|| panic!("{part:?} is not in its place in {text:?}"));
        rest = &rest[at + part.len()..];
    }
}

fn text(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    assert_in_order(&written_text(browser));
    let Some(text) = printed_text(browser) else {
        return;
    };
    assert_in_order(&text);
    for word in ["Back", "Next", "Turn", "Map", "Copy"] {
        assert!(!text.contains(word), "{word} is printed: {text}");
    }
    assert_eq!(
        text.matches("Our comment.").count(),
        1,
        "the text is printed once: {text}"
    );
}

fn diagrams(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    browser.js("line().flip()");
    let shown = browser.js(
        "dispatchEvent(new Event('beforeprint'));
         const found = all('.paper .diagram').map((figure) => [figure.querySelector('figcaption').textContent,
           figure.querySelectorAll('.pieces > use').length, figure.querySelector('svg').getAttribute('aria-label').length > 20,
           [...figure.querySelectorAll('svg text')].map((text) => text.textContent).join(' ')]);
         const folds = all('.paper .label').filter((label) => getComputedStyle(label, '::before').content !== 'none').length;
         const after = all('.paper .diagram').slice(1).map((figure) => figure.nextElementSibling.textContent.trim());
         const buttons = all('.paper button, .paper a, .paper input').length;
         dispatchEvent(new Event('afterprint'));
         return [found, buttons, all('.paper :not(slot)').length, after, folds]",
    );
    let captions: Vec<&str> = shown[0]
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(|row| row[0].as_str())
        .collect();
    assert_eq!(captions.len(), 3, "{captions:?}");
    assert!(captions[1].contains("2.c4"), "{captions:?}");
    assert!(captions[2].contains("3.Nc3"), "{captions:?}");
    assert_eq!(shown[4], 0, "nothing on paper looks as if it folded");
    // Each shows the position from which the moves below it, and their variations, go on.
    assert_eq!(shown[3], json!(["2\u{2026}e6", "3\u{2026}Nf6"]));
    for row in shown[0].as_array().into_iter().flatten() {
        assert_eq!((&row[1], &row[2]), (&json!(32), &json!(true)));
        assert_eq!(
            row[3], "hgfedcba 12345678",
            "from the side that the reader sees it"
        );
    }
    assert_eq!(
        [&shown[1], &shown[2]],
        [&json!(0), &json!(0)],
        "no buttons, and nothing is kept"
    );
}

fn far_below(browser: &Browser) {
    let head = never_at_rest(
        browser,
        ".gap { height: 6000px } @media print { .gap { height: 0 } }",
    );
    let body = format!("<p>Above.</p><div class=\"gap\"></div>{LESSON}<p>Below.</p>");
    browser.open(&browser.write(&head, &body));
    browser.until("line()?.current");
    assert_eq!(browser.js("return line().made"), json!(null));
    if let Some(text) = printed_text(browser) {
        assert_in_order(&text);
        assert!(
            text.starts_with("A test page Above.") && text.ends_with("Below."),
            "{text}"
        );
    }
    assert_in_order(&written_text(browser));
}

fn afterwards(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    browser.js("line().go('line A'); window.seen = inside('figure'); told.splice(0)");
    browser.pdf();
    browser.until("all('.paper :not(slot)').length === 0 && all('.paper > slot').length === 1");
    let kept = browser.js("return [line().current.san, window.seen === inside('figure'), visible(inside('.lesson')), told.length]");
    assert_eq!(kept, json!(["dxc4", true, true, 0]));
    browser.click("return button('next')");
    assert_eq!(browser.js("return line().current.san"), "e4");
}
