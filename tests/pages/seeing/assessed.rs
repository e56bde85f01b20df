//! What an engine said of positions, where an author lets readers see it.

use super::access::assert_clean_in_both;
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "assessments: one word is beside the board, opens the number and follows the reader",
        follows,
    ),
    InOne(
        "assessments: a file of another lesson or version is told, and the lesson goes on",
        amiss,
    ),
    InOne(
        "assessments: with modules, in a tag and beside counts they are shown too",
        beside,
    ),
    InOne("assessments: axe-core finds nothing in them", clean),
];

const MODULE: &str = "<script type=\"module\" src=\"/plyline.mjs\"></script>";
const START: &str = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq -";
const AFTER_E4: &str = "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq -";
const AFTER_E5: &str = "rnbqkbnr/pppp1ppp/8/4p3/4P3/8/PPPP1PPP/RNBQKBNR w KQkq -";

fn file(browser: &Browser, format: &str, start: &str) -> String {
    let entry = |fen: &str, score: serde_json::Value, bound: Option<&str>| json!({"fen": fen, "score": score, "bound": bound, "depth": 24, "nodes": 1000, "line": ["e5", "Nf3"]});
    let text = json!({
        "plyline": format, "engine": {"name": "Ours 1", "author": "A. Nobody", "options": {}}, "limit": {"nodes": 1000},
        "date": "2026-11-30",
        "positions": [
            entry(start, json!({"pawns": 0.04}), None),
            entry(AFTER_E4, json!({"pawns": 0.7}), None),
            entry(AFTER_E5, json!({"mate": -3}), Some("lower")),
        ],
    });
    let path = format!("assessed-{}/a.json", browser.engine.name());
    browser.site.write(&path, text.to_string());
    path
}

const OPEN: &str = "inside('.assessed').open = true";
const TOLD: &str = "return inside('.assessed').innerText.replaceAll(/\\s+/g, ' ').trim()";

fn show(browser: &Browser, head: &str, format: &str, start: &str) {
    let path = file(browser, format, start);
    let head = format!("<link rel=\"stylesheet\" href=\"/site.css\">\n{head}");
    let body = format!(
        "<ply-line id=\"one\" assessments=\"/{path}\"><pre>1. e4 {{Ours.}} e5 2. Nf3 *</pre></ply-line>"
    );
    browser.open(&browser.write(&head, &body));
    browser.js("await settled()");
}

fn follows(browser: &Browser) {
    show(browser, SCRIPT, "assessments 1", START);
    browser.until("inside('.assessed')");
    assert_eq!(browser.js(TOLD), "engine");
    browser.js(OPEN);
    assert_eq!(browser.js(TOLD), "engine engine: 0.0, depth 24 source");
    browser.js("line().next()");
    assert_eq!(
        browser.js(TOLD),
        "engine engine: +0.7 for White, depth 24 source"
    );
    browser.js("inside('.assessed details').open = true");
    let source = browser.text(TOLD);
    assert!(
        source.contains("Ours 1, A. Nobody; 1000 positions searched for each; 2026-11-30."),
        "{source}"
    );
    assert!(source.contains("Its line: 1…e5 2.Nf3."), "{source}");
    browser.js("line().next()");
    let told = browser.text(TOLD);
    assert!(
        told.contains("engine: at most mate in 3 for Black, depth 24"),
        "{told}"
    );
    // Nothing was asked about what comes then.
    browser.js("line().next()");
    assert_eq!(browser.js("return inside('.assessed').hidden"), true);
    browser.js("line().back(); line().flip(); await painted()");
    assert_eq!(browser.js("return all('.assessed').length"), 1);
}

fn amiss(browser: &Browser) {
    browser.expect("assessments");
    let other = "8/8/8/8/8/8/8/8 w - -";
    for (format, start) in [("assessments 2", START), ("assessments 1", other)] {
        let path = file(browser, format, start);
        let body = format!(
            "<ply-line id=\"one\" assessments=\"/{path}\"><pre>1. c4 c5 *</pre></ply-line>"
        );
        browser.open(&browser.write(SCRIPT, &body));
        browser.js("await settled()");
        browser.until(
            "performance.getEntriesByType('resource').some(({ name }) => name.endsWith('a.json'))",
        );
        browser.js("await pause(200)");
        browser.js("line().next()");
        let there = browser.js("return [all('.assessed').length, line().current.san]");
        assert_eq!(there, json!([0, "c4"]), "{format}");
    }
}

fn beside(browser: &Browser) {
    let path = file(browser, "assessments 1", START);
    let counts =
        json!({"plyline": "counts 1", "positions": [{"fen": START, "results": {"1-0": 40}}]});
    let counted = format!("assessed-{}/c.json", browser.engine.name());
    browser.site.write(&counted, counts.to_string());
    let body = format!(
        "<pre><code class=\"language-pgn\">[Id \"one\"]\n[Assessments \"/{path}\"]\n[Counts \"/{counted}\"]\n\n1. e4 e5 *</code></pre>"
    );
    browser.open(&browser.write(MODULE, &body));
    browser.until("line()?.shadowRoot && inside('.assessed') && inside('.counts > summary')");
    let order = "return [...inside('.under').children].map((it) => it.className.split(' ')[0]).filter((it) => /assessed|counts/.test(it))";
    assert_eq!(browser.js(order), json!(["assessed", "counts"]));
}

fn clean(browser: &Browser) {
    for dark in [false, true] {
        browser.dark(dark);
        show(browser, SCRIPT, "assessments 1", START);
        browser.until("inside('.assessed')");
        browser.js("openDesk(); for (const part of all('details')) part.open = true");
        assert_clean_in_both(browser, &format!("assessments, dark: {dark}"));
    }
}
