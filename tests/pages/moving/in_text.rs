//! What a reader does in the text of a lesson: folds variations, follows its links.

use super::walking::SMALL;
use crate::board::assert_drawn;
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::browser::keys::{ENTER, TAB};
use crate::support::site::SCRIPT;
use serde_json::json;
pub const CASES: &[Case] = &[
    Everywhere(
        "text: a variation is folded by its label with mouse and keys, and opens where one goes",
        folding,
    ),
    InOne("text: a folded variation names its move first", folded_name),
    Everywhere(
        "text: the main line is read alone, each place says what is there, and a step into it opens it",
        alone,
    ),
    InOne(
        "text: on a narrow page a long lesson begins with its main line alone",
        narrow,
    ),
    InOne(
        "text: a move that a comment names leads to its position, or beside the lesson",
        named,
    ),
    InOne(
        "text: where two orders of moves meet each place is linked to the other",
        transposed,
    ),
    InOne("text: a link in a comment leads to its position", link),
];

fn folding(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    let shown = "return [inside('[data-fold]').getAttribute('aria-expanded'), visible(inside('.sides .sides'))]";
    assert_eq!(browser.js(shown), json!(["true", true]));
    browser.click("return inside('[data-fold]')");
    assert_eq!(browser.js(shown), json!(["false", false]));
    assert_eq!(
        browser.js("return line().current.node"),
        0,
        "folding is no step"
    );
    browser.press(ENTER);
    assert_eq!(browser.js(shown), json!(["true", true]));
    browser.press(' ');
    assert_eq!(browser.js(shown), json!(["false", false]));
    assert_eq!(
        browser.js("return line().shadowRoot.activeElement === inside('[data-fold]')"),
        true
    );
    // What is folded away is no tab stop.
    browser.press(TAB);
    assert_eq!(
        browser.js("const at = line().shadowRoot.activeElement; return at === null || visible(at)"),
        true
    );
    browser.js("line().go('2.c3')");
    assert_eq!(
        browser.js(shown),
        json!(["true", true]),
        "where one goes is open"
    );
}

fn alone(browser: &Browser) {
    browser.show(
        SCRIPT,
        "<ply-line id=\"lesson\"><pre>1. e4 e5 (1... c5 2. Nf3) (1... e6 2. d4) 2. Nf3 (2. Bc4 Nf6) 2... Nc6 *</pre></ply-line>",
    );
    let shown = "return [button('alone').textContent, all('.lines > .sides').map(visible),
           all('.gist button').map((place) => [place.textContent, place.ariaExpanded])]";
    let open = json!(["main line only", [true, true], []]);
    assert_eq!(browser.js(shown), open);
    browser.click("return button('alone')");
    let (first, second) = ("2 lines: 1\u{2026}c5, 1\u{2026}e6", "1 line: 2.Bc4");
    assert_eq!(
        browser.js(shown),
        json!([
            "all lines",
            [false, false],
            [[first, "false"], [second, "false"]]
        ])
    );
    browser.click("return inside('[data-go=\"3\"]')");
    assert_eq!(
        browser.js(shown),
        json!([
            "all lines",
            [true, false],
            [[first, "true"], [second, "false"]]
        ]),
        "where one goes is open, and the rest stays away"
    );
    browser.click("return all('.gist button')[1]");
    assert_eq!(browser.js(&format!("{shown}[1]")), json!([true, true]));
    assert_eq!(
        browser.js("return line().shadowRoot.activeElement === all('.gist button')[1]"),
        true
    );
    browser.click("return button('alone')");
    assert_eq!(browser.js(shown), open);
    assert_drawn(browser, "lesson", false);
}

fn narrow(browser: &Browser) {
    browser.width(Some(390));
    browser.visit("/the-pawn-that-is-not-free/#free-pawn/4...Be7");
    let shown = "return [inside('.sides'), ...all('.sides')].map(visible)";
    let found = browser.js(&format!("const open = (() => {{ {shown} }})(); return [visible(move(line().current.node)), open.some((one) => !one)]"));
    assert_eq!(
        found,
        json!([true, true]),
        "the place of the address is open"
    );
    browser.width(Some(1280));
    browser.visit("/the-pawn-that-is-not-free/");
    assert_eq!(browser.js("return all('.gist').length"), 0);
}

fn folded_name(browser: &Browser) {
    browser.show(
        SCRIPT,
        "<ply-line><pre>1. e4 e5 ({Sharp.} 1... c5 {The Sicilian.} 2. Nf3) (1... e6 {French.}) 2. Nf3 *</pre></ply-line>",
    );
    browser.js("all('[data-fold]').forEach((label) => label.click()); await painted()");
    assert_eq!(
        browser.js(
            "return all('.folded > p').map((row) => row.innerText.replace(/\\s+/g, ' ').trim())"
        ),
        json!([
            "line A 1\u{2026}c5 Sharp. 1\u{2026}c5 The Sicilian. 2.Nf3",
            "line B 1\u{2026}e6 French."
        ])
    );
}

fn named(browser: &Browser) {
    browser.show(
        SCRIPT,
        "<ply-line><pre>1. e4 e5 2. Nf3 {Now 2...Nc6 3.Bb5 is usual, and 2...Nf6 is sound; 2...Nb6 is nothing.} Nc6 3. Bb5 *</pre></ply-line>",
    );
    assert_eq!(
        browser.js("return all('.lines .to').map((link) => link.textContent)"),
        json!(["2\u{2026}Nc6", "3.Bb5", "2\u{2026}Nf6"])
    );
    browser.click("return all('.lines .to')[1]");
    assert_eq!(
        browser.js("return [line().current.node, line().current.aside]"),
        json!([5, []])
    );
    browser.click("return all('.lines .to')[2]");
    assert_eq!(
        browser.js(
            "await pause(700); return [line().current.node, line().current.aside, location.hash]"
        ),
        json!([3, ["Nf6"], "#lesson/2.Nf3_Nf6"])
    );
    assert_drawn(browser, "lesson", false);
}

fn transposed(browser: &Browser) {
    browser.show(
        SCRIPT,
        "<ply-line><pre>1. d4 (1. c4 d5 2. d4 {By [another order](#1.d4_d5_2.c4).}) 1... d5 2. c4 {A gambit.} *</pre></ply-line>",
    );
    let said = "return all('.lines p').map((row) => row.textContent).filter((text) => /same position/.test(text))";
    assert_eq!(
        browser.js(said),
        json!(["The same position as after 2.d4, line A."]),
        "the other says it in the author's words"
    );
    browser.js("line().go('1.d4 d5 2.c4')");
    browser.click("return all('.lines .to').at(-1)");
    assert_eq!(
        browser.js("return [line().current.moves, line().current.line]"),
        json!([["c4", "d5", "d4"], "A"])
    );
    browser.click("return all('.lines .to')[0]");
    assert_eq!(
        browser.js("return line().current.moves"),
        json!(["d4", "d5", "c4"])
    );
    assert_drawn(browser, "lesson", false);
}

fn link(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    browser.click("return inside('.to')");
    assert_eq!(
        browser.js("return line().current.moves"),
        json!(["e4", "e5"])
    );
    assert_drawn(browser, "lesson", false);
}
