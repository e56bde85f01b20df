//! axe-core (npm, 4.x), an outside judge of accessibility, on the pages in every state that a
//! reader meets: wide and narrow, light and dark.

use crate::harness::Case::{self, InOne};
use crate::hosting::takeover::baked;
use crate::support::browser::Browser;
use crate::support::site::{SCRIPT, tools};
use serde_json::Value;
use std::fs;

pub const CASES: &[Case] = &[
    InOne(
        "axe-core finds nothing in the demo lesson, light",
        lesson_light,
    ),
    InOne(
        "axe-core finds nothing in the demo lesson, dark",
        lesson_dark,
    ),
    InOne(
        "axe-core finds nothing on the other demo pages",
        other_pages,
    ),
    InOne(
        "axe-core finds nothing where notation is wrong, missing or baked",
        in_trouble,
    ),
];

const WIDTHS: [u32; 2] = [390, 1280];

/// Panics with the first violation of the page as it is now.
#[track_caller]
pub fn assert_clean(browser: &Browser, state: &str) {
    let path = tools().join("npm/node_modules/axe-core/axe.min.js");
    let axe = fs::read_to_string(&path)
        .unwrap_or_else(|_| panic!("{} is missing: tests/run.sh installs it", path.display()));
    let found = browser.js(&format!(
        "if (!window.axe) {{ {axe}\n }}
         // axe-core scrolls to what it looks at; the board that stays then lies over other text, as
         // it does for readers, and axe-core cannot judge that text, nor text over a shadow, nor what a scrolled part has out of sight.
         const staying = [...document.querySelectorAll('ply-line, ply-quiz')].flatMap((element) => [...element.shadowRoot.querySelectorAll('.margin, .under, .counts > div')]);
         staying.forEach(({{ style }}) => {{ style.position = 'static'; style.backgroundImage = 'none'; style.maxBlockSize = 'none' }});
         const {{ violations, passes, incomplete }} = await axe.run(document, {{ rules: {{ 'target-size': {{ enabled: true }} }} }});
         const rows = (rules) => rules.flatMap(({{ id, help, nodes }}) =>
           nodes.map(({{ html, failureSummary, target }}) => [id, help, target.flat().join(' '), html, failureSummary].join('\\n')));
         // Text that axe-core cannot judge is no finding, but none of it may be read: the board's
         // coordinates are in its picture, which has a description of its own.
         const unsure = incomplete.filter(({{ id }}) => id === 'color-contrast')
           .map(({{ nodes, ...rule }}) => ({{ ...rule, nodes: nodes.filter(({{ html }}) => !html.includes('aria-hidden=\\\"true\\\"')) }}));
         staying.forEach(({{ style }}) => {{ ['position', 'background-image', 'max-block-size'].forEach((name) => style.removeProperty(name)) }});
         const judged = passes.map(({{ id }}) => id);
         return {{ rows: [...rows(violations), ...rows(unsure)], judged }}"
    ));
    let texts = |value: &Value| -> Vec<String> {
        serde_json::from_value(value.clone()).expect("a list of texts")
    };
    let rows = texts(&found["rows"]);
    assert!(
        rows.is_empty(),
        "{state}: {} findings:\n{}",
        rows.len(),
        rows.join("\n\n")
    );
    let judged = texts(&found["judged"]);
    for rule in ["target-size", "color-contrast", "region"] {
        assert!(
            judged.iter().any(|id| id == rule),
            "{state}: axe-core has not looked at {rule}"
        );
    }
}

/// What axe-core does not measure: moves of the line list, which are no tab stops but can be
/// clicked. WCAG 2.2, success criterion 2.5.8: 24 by 24 CSS pixels.
#[track_caller]
fn assert_large_enough(browser: &Browser, state: &str) {
    let small = browser.js(
        "return [...document.querySelectorAll('ply-line, ply-quiz, ply-recall')]
           .flatMap((element) => [...element.shadowRoot.querySelectorAll('button')])
           .filter((button) => button.checkVisibility())
           .filter((button) => { const { width, height } = button.getBoundingClientRect(); return width < 23.99 || height < 23.99; })
           .map((button) => button.outerHTML)",
    );
    assert_eq!(small, Value::Array(vec![]), "{state}: too small to click");
}

/// The page in both widths.
#[track_caller]
pub fn assert_clean_in_both(browser: &Browser, state: &str) {
    for width in WIDTHS {
        browser.width(Some(width));
        assert_eq!(browser.js("await painted(); return innerWidth"), width);
        assert_clean(browser, &format!("{state}, {width} px"));
        assert_large_enough(browser, &format!("{state}, {width} px"));
    }
}

fn lesson(browser: &Browser, dark: bool) {
    browser.dark(dark);
    browser.visit("/the-pawn-that-is-not-free/");
    assert_eq!(
        browser.js("return matchMedia('(prefers-color-scheme: dark)').matches"),
        dark
    );
    assert_clean_in_both(browser, "at the start");
    browser.js("line().go('4.Bg5')");
    assert_clean_in_both(browser, "at a branch point");
    // A check on the board, the last move of a line.
    browser.js("line().flip(); line().go('7...Bb4+')");
    assert_clean_in_both(browser, "turned");
}

fn lesson_light(browser: &Browser) {
    lesson(browser, false);
}

fn lesson_dark(browser: &Browser) {
    lesson(browser, true);
}

fn other_pages(browser: &Browser) {
    for dark in [false, true] {
        browser.dark(dark);
        for path in ["/", "/the-jump-that-must-wait/", "/ten-quiet-moves/"] {
            browser.open(path);
            browser.js("await settled()");
            assert_clean_in_both(browser, path);
        }
    }
}

fn in_trouble(browser: &Browser) {
    browser.expect("plyline gone: ");
    browser.expect("plyline words: ");
    browser.allow("404");
    let baked = baked("1. e4 e5 (1... c5) *", "1. e4 e5 (1... c5) *");
    let body = format!(
        "<ply-line id=\"wrong\" data-plyline=\"debug\"><pre>1. e4 e5 (1... d5) 2. Ke3 (2. Nf3 Nc6 3. Nd9) *</pre></ply-line>
         <ply-line id=\"gone\" src=\"/no-such-file.pgn\"><p>The lesson is about 1.e4.</p></ply-line>
         <ply-line id=\"words\"><pre>[Variant \"Atomic\"]</pre></ply-line>{baked}"
    );
    let head = format!(
        "<link rel=\"stylesheet\" href=\"/plyline.css\">\n<link rel=\"stylesheet\" href=\"/site.css\">\n{SCRIPT}"
    );
    for dark in [false, true] {
        browser.dark(dark);
        browser.show(&head, &body);
        browser.js("line('wrong').next(); line('lesson').next()");
        assert_clean_in_both(browser, if dark { "dark" } else { "light" });
    }
}
