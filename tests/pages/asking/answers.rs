//! Lessons that answer asides: what is searched, said and walked, and that the page never waits for it.

use crate::harness::Case::{self, Everywhere, InOne};
use crate::seeing::access::assert_clean_in_both;
use crate::support::browser::Browser;
use crate::support::browser::keys::RIGHT;
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "answers: a move that loses a piece is told with its line, which next walks by button and by key",
        loses,
    ),
    Everywhere(
        "answers: nothing is loaded before the first aside, also with modules",
        late,
    ),
    InOne(
        "answers: the lesson's own position by another order is said, and its word leads there",
        own,
    ),
    InOne(
        "answers: a lesson without the word answers nothing, nor one whose question is open",
        silent,
    ),
    InOne("answers: axe-core finds nothing in them", clean),
];

const MODULE: &str = "<script type=\"module\" src=\"/plyline.mjs\"></script>";
const LESSON: &str = "1. e4 e5 2. Nf3 Nc6 3. Bc4 Nf6 4. d3 (4. Nc3 {Here.}) *";

fn show(browser: &Browser, head: &str, text: &str) {
    let head = format!("<link rel=\"stylesheet\" href=\"/site.css\">\n{head}");
    let body = format!(
        "<p>Some words.</p><ply-line id=\"one\" answers=\"search\"><pre>{text}</pre></ply-line>"
    );
    browser.open(&browser.write(&head, &body));
    browser.js(
        "await settled(); window.asides = []; document.addEventListener('ply-answered-aside', ({ detail }) => asides.push(detail))",
    );
}

const SAID: &str = "[...inside('.answer')?.children ?? []].map((it) => it.textContent)";
const TOLD: &str = "inside('.answer')?.getAttribute('aria-busy') === 'false'";

/// Until the answer is the last; on a busy machine that takes some seconds.
fn answered(browser: &Browser) {
    let told = format!(
        "for (let times = 0; times < 400 && !({TOLD}); times += 1) await pause(50); return {TOLD}"
    );
    assert_eq!(browser.js(&told), true);
}

fn loses(browser: &Browser) {
    show(browser, SCRIPT, LESSON);
    browser.js("line().go('2.Nf3 Nc6'); line().play('Nxe5')");
    answered(browser);
    let said = browser.js(&format!("return {SAID}"));
    let first = said[0].as_str().unwrap_or_default();
    assert!(
        first.starts_with("Loses a knight for a pawn by force: 3\u{2026}Nxe5"),
        "{first}"
    );
    assert_eq!(
        said[2],
        "Searched by this page, not written by your teacher."
    );
    let event = browser.js("return [asides.length, asides[0].gain.pawns, asides[0].gain.mate, asides[0].line[0], asides[0].complete, asides[0].fen === line().current.fen]");
    assert_eq!(event, json!([1, -2, null, "Nxe5", true, true]));
    assert_eq!(
        browser.js("return button('next').getAttribute('aria-disabled')"),
        "false"
    );
    browser.js("button('next').click()");
    assert_eq!(
        browser.js("return line().current.aside"),
        json!(["Nxe5", "Nxe5"])
    );
    browser.js("line().shadowRoot.querySelector('.move').focus()");
    browser.press(RIGHT);
    assert_eq!(browser.js("return line().current.aside.length"), 3);
    // The same is still said, and nothing was searched again.
    assert_eq!(browser.js(&format!("return {SAID}")), said);
    assert_eq!(browser.js("return asides.length"), 1);
    browser.js("line().back(); line().back(); line().back()");
    assert_eq!(browser.js("return all('.answer').length"), 0);
}

fn late(browser: &Browser) {
    for head in [SCRIPT, MODULE] {
        show(browser, head, LESSON);
        let loaded = || {
            browser.js("return performance.getEntriesByType('resource').some(({ name }) => name.endsWith('plyline-answers.mjs'))")
        };
        browser.js("line().next(); await pause(300)");
        assert_eq!(loaded(), false, "{head}");
        browser.js("line().play('f6')");
        answered(browser);
        assert_eq!(loaded(), true, "{head}");
        let first = browser.text(&format!("return {SAID}[0]"));
        assert!(
            first.starts_with("Nothing is lost by force: every reply was tried "),
            "{first}"
        );
    }
}

fn own(browser: &Browser) {
    show(browser, SCRIPT, LESSON);
    // 4.Nc3 by another order.
    browser.js("line().go('1.e4 e5'); for (const move of ['Nc3', 'Nf6', 'Bc4', 'Nc6', 'Nf3']) line().play(move)");
    browser.until("inside('.answer button')");
    assert_eq!(
        browser.js(&format!("return {SAID}")),
        json!([
            "This is the lesson\u{2019}s own position after 4.Nc3, by another order of moves. go there"
        ])
    );
    browser.js("inside('.answer button').click()");
    assert_eq!(
        browser
            .js("return [line().current.san, line().current.aside.length, all('.answer').length]"),
        json!(["Nc3", 0, 0])
    );
}

fn silent(browser: &Browser) {
    show(browser, SCRIPT, "1. e4 e5 2. Nf3 {Ask: What now?} Nc6 *");
    browser.js("line().go('2.Nf3'); line().play('Nf6'); await pause(400)");
    assert_eq!(
        browser.js("return [all('.answer').length, asides.length]"),
        json!([0, 0])
    );
    browser.js("button('show').click(); line().go('2.Nf3'); line().play('Nf6')");
    answered(browser);
    show(browser, SCRIPT, LESSON);
    browser.js("line().answers = null; line().play('a3'); await pause(400)");
    assert_eq!(browser.js("return all('.answer').length"), 0);
    // What is no legal position on, or over, gets none.
    browser.js("line().answers = 'search'; line().back(); for (const move of ['f3', 'e5', 'g4', 'Qh4']) line().play(move); await pause(400)");
    assert_eq!(
        browser.js("return [line().current.san, all('.answer').length]"),
        json!(["Qh4#", 0])
    );
}

fn clean(browser: &Browser) {
    for dark in [false, true] {
        browser.dark(dark);
        show(browser, SCRIPT, LESSON);
        browser.js("line().play('a3')");
        answered(browser);
        assert_clean_in_both(browser, &format!("answers, dark: {dark}"));
    }
}
