//! Clicks, keys and script move a lesson.

use crate::board::{assert_drawn, assert_shows};
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::browser::keys::{ALT, CONTROL, ENTER, LEFT, META, RIGHT, SHIFT, TAB};
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    InOne(
        "a click on a sideline's fifth move shows the position that python-chess gives",
        sideline,
    ),
    Everywhere(
        "back, next and start lead through the line, and turn turns the board",
        buttons,
    ),
    Everywhere(
        "arrow keys step only while the element has the focus, and never with another key held",
        keys,
    ),
    Everywhere(
        "at the end of a line next changes nothing and keeps the focus",
        line_end,
    ),
    Everywhere(
        "a next move chosen by keyboard leaves the focus in the element",
        chosen_by_keyboard,
    ),
    Everywhere(
        "at a branch point the next moves are listed with label, move and words",
        branch_point,
    ),
    InOne(
        "methods return true when they changed something, and false for what is no place",
        methods,
    ),
    Everywhere(
        "events bubble out of the element, are composed and carry plain JSON",
        events,
    ),
    InOne(
        "the attributes at and side say where a lesson begins, and move it later",
        attributes,
    ),
    InOne(
        "a page's script reads a lesson without an element",
        read_lesson,
    ),
];

const LESSON: &str = "/the-pawn-that-is-not-free/";
const ID: &str = "free-pawn";

/// The events that the page has recorded, without those of an earlier call.
fn told(browser: &Browser) -> Value {
    browser.js("return told.splice(0)")
}

fn node(browser: &Browser) -> Value {
    browser.js("return line().current.node")
}

/// The node that the demo lesson is at, and how it is written.
fn at(browser: &Browser) -> Value {
    browser.js("const { line: label, san, ply } = line().current; return [label, san, ply]")
}

fn sideline(browser: &Browser) {
    browser.visit(LESSON);
    browser.click(
        "const { lesson } = line();
         const line_a1 = lesson.outline().find((entry) => entry.line === 'A1');
         let node = lesson.node(line_a1.node);
         for (let moves = 1; moves < 5; moves += 1) node = lesson.node(node.children[0]);
         return move(node.id)",
    );
    assert_eq!(at(browser), json!(["A1", "Bg6", 14]));
    // python-chess 1.11.2: Board(), push_san of 1.d4 d5 2.c4 e6 3.Nc3 Nf6 4.cxd5 exd5 5.Bg5 c6
    // 6.e3 Bf5 7.Qf3 Bg6, then fen().
    let fen = "rn1qkb1r/pp3ppp/2p2nb1/3p2B1/3P4/2N1PQ2/PP3PPP/R3KBNR w KQkq - 3 8";
    assert_shows(browser, ID, fen, false);
}

fn buttons(browser: &Browser) {
    browser.visit(LESSON);
    browser.click("return move(line().lesson.find('7...Bg6'))");
    let there = node(browser);
    browser.click("return button('back')");
    assert_eq!(at(browser), json!(["A1", "Qf3", 13]));
    assert_drawn(browser, ID, false);
    browser.click("return button('next')");
    assert_eq!(node(browser), there);
    browser.click("return button('turn')");
    assert_eq!(node(browser), there, "turning is no move");
    assert_drawn(browser, ID, true);
    browser.click("return button('top')");
    assert_eq!(node(browser), 0);
    assert_drawn(browser, ID, true);
    browser.click("return button('turn')");
    assert_drawn(browser, ID, false);
    browser.click("return button('back')");
    assert_eq!(node(browser), 0, "there is nothing before the start");
}

fn keys(browser: &Browser) {
    browser.visit(LESSON);
    browser.press(RIGHT);
    assert_eq!(node(browser), 0, "the page has the focus, not the element");
    browser.click("return move(1)");
    browser.press(RIGHT);
    browser.press(RIGHT);
    assert_eq!(node(browser), 3);
    browser.press(LEFT);
    assert_eq!(node(browser), 2);
    assert_drawn(browser, ID, false);
    for held in [SHIFT, CONTROL, ALT, META] {
        browser.press_with(held, RIGHT);
        assert_eq!(node(browser), 2, "with {held:?} held");
    }
    for key in "nbtfj ".chars() {
        browser.js("button('turn').focus()");
        browser.press(key);
        assert_eq!(node(browser), 2, "{key:?} is no key of ours");
    }
    browser.js("document.querySelector('a').focus()");
    browser.press(RIGHT);
    assert_eq!(node(browser), 2, "the focus has left the element");
}

fn line_end(browser: &Browser) {
    browser.show(SCRIPT, "<ply-line><pre>1. e4 e5 *</pre></ply-line>");
    browser.click("return button('next')");
    browser.click("return button('next')");
    assert_eq!(node(browser), 2);
    told(browser);
    for _ in 0..2 {
        browser.click("return button('next')");
        browser.press(ENTER);
        browser.press(RIGHT);
    }
    assert_eq!(node(browser), 2);
    assert_eq!(told(browser), json!([]), "no event without a change");
    assert_eq!(
        browser.js("return line().shadowRoot.activeElement === button('next')"),
        true
    );
}

fn chosen_by_keyboard(browser: &Browser) {
    browser.visit(LESSON);
    let focused = "const { activeElement } = line().shadowRoot;
                   return document.activeElement === line() && activeElement?.textContent";
    // The first row leads to a position where the list is gone, the second to another list.
    for (row, words, place, next) in [
        (0, "Nbd7", json!([null, "Nbd7", 8]), "cxd5"),
        (1, "Be7", json!(["B", "Be7", 8]), "e3"),
    ] {
        browser.js("line().go('4.Bg5'); inside('[data-take=link]').focus()");
        for _ in 0..=row {
            browser.press(TAB);
        }
        let found = browser.text(focused);
        assert!(found.contains(words), "Tab leads on to {found}");
        browser.press(ENTER);
        assert_eq!(at(browser), place);
        assert_ne!(
            browser.text(focused),
            "",
            "the focus is on something of the element"
        );
        browser.press(RIGHT);
        assert_eq!(
            browser.js("return line().current.san"),
            next,
            "and keys go on from there"
        );
    }
}

fn branch_point(browser: &Browser) {
    browser.visit(LESSON);
    browser.js("line().go('4.Bg5')");
    let rows = "return all('ol[aria-label] li > button').map((row) => [...row.children].map((part) => part.textContent.trim().replace('…', '...')))";
    let rows = browser.js(rows);
    let rows = rows.as_array().expect("rows");
    assert_eq!(rows.len(), 2, "{rows:?}");
    assert_eq!(rows[0][1], "4...Nbd7!?");
    assert_eq!(
        (&rows[1][0], &rows[1][1]),
        (&json!("line B"), &json!("4...Be7"))
    );
    for (row, words) in rows
        .iter()
        .zip(["The knight that will never", "The bishop steps between"])
    {
        assert!(
            row[2].as_str().is_some_and(|text| text.starts_with(words)),
            "{row}"
        );
    }
    assert_ne!(rows[0][0], "", "the main line's move has a label too");
    browser.click("return all('ol[aria-label] li > button')[1]");
    assert_eq!(at(browser), json!(["B", "Be7", 8]));
    assert_drawn(browser, ID, false);
    browser.click("return button('back')");
    browser.click("return button('next')");
    assert_eq!(
        at(browser),
        json!([null, "Nbd7", 8]),
        "stepping on takes the main line"
    );
    assert_eq!(
        browser.js("return all('ol[aria-label] li > button').length"),
        0,
        "no choice, no list"
    );
}

fn methods(browser: &Browser) {
    browser.visit(LESSON);
    for (call, changed, place) in [
        ("go('line B')", true, json!(["B", "Be7", 8])),
        ("go('line B')", false, json!(["B", "Be7", 8])),
        ("go('4.cxd5 exd5')", true, json!(["A", "exd5", 8])),
        ("go(3)", true, json!([null, "c4", 3])),
        ("go('nonsense')", false, json!([null, "c4", 3])),
        ("go(100000)", false, json!([null, "c4", 3])),
        ("go(-1)", false, json!([null, "c4", 3])),
        ("go(1.5)", false, json!([null, "c4", 3])),
        ("go(NaN)", false, json!([null, "c4", 3])),
        ("go('')", false, json!([null, "c4", 3])),
        ("go()", false, json!([null, "c4", 3])),
        ("go(null)", false, json!([null, "c4", 3])),
        ("go({})", false, json!([null, "c4", 3])),
        ("go('start')", true, json!([null, null, 0])),
        ("back()", false, json!([null, null, 0])),
        ("next()", true, json!([null, "d4", 1])),
        ("next(5)", false, json!([null, "d4", 1])),
        ("next(-1)", false, json!([null, "d4", 1])),
        ("go('4.Bg5')", true, json!([null, "Bg5", 7])),
        ("next(1)", true, json!(["B", "Be7", 8])),
        ("back()", true, json!([null, "Bg5", 7])),
        ("flip()", true, json!([null, "Bg5", 7])),
    ] {
        let returned = browser.js(&format!("return line().{call}"));
        assert_eq!(returned, changed, "{call} returns");
        assert_eq!(at(browser), place, "after {call}");
    }
    assert_drawn(browser, ID, true);
}

fn events(browser: &Browser) {
    browser.show(
        SCRIPT,
        "<ply-line><pre>1. e4 {good} e5 (1... c5) 2. Nf3 *</pre></ply-line>",
    );
    let ready = told(browser);
    assert_eq!(ready[0]["type"], "ply-ready");
    assert!(ready[0]["detail"]["findings"].is_array());
    assert_eq!(
        ready[0]["detail"]["findings"],
        browser.js("return line().findings")
    );
    assert_eq!(ready.as_array().map(Vec::len), Some(1), "{ready}");

    browser.click("return move(1)");
    browser.js("line().go('line A')");
    browser.js("line().flip()");
    browser.js("line().back()");
    browser.click("return button('next')");
    browser.press(LEFT);
    let moved = told(browser);
    let expected = [
        ("e4", "reader"),
        ("c5", "script"),
        ("e4", "script"),
        ("e5", "reader"),
        ("e4", "reader"),
    ];
    let found: Vec<_> = moved.as_array().into_iter().flatten().collect();
    assert_eq!(
        found.len(),
        expected.len(),
        "turning tells nothing: {moved}"
    );
    for (event, (san, by)) in found.iter().zip(expected) {
        assert_eq!(event["type"], "ply-moved");
        assert_eq!(
            (&event["detail"]["san"], &event["detail"]["by"]),
            (&json!(san), &json!(by))
        );
    }
    for event in found
        .iter()
        .copied()
        .chain(ready.as_array().into_iter().flatten())
    {
        assert_eq!(
            (&event["bubbles"], &event["composed"], &event["id"]),
            (&json!(true), &json!(true), &json!("lesson"))
        );
    }
    // The detail is `current` and `by`, and nothing is lost on the way through JSON.
    let mut detail = found[4]["detail"].clone();
    assert_eq!(
        detail
            .as_object_mut()
            .and_then(|detail| detail.remove("by")),
        Some(json!("reader"))
    );
    assert_eq!(detail, browser.js("return line().current"));
    let fen = "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 1";
    assert_eq!(
        detail,
        json!({
            "node": 1, "ply": 1, "san": "e4", "uci": "e2e4", "fen": fen, "moves": ["e4"],
            "line": null, "comment": "good", "next": ["e5", "c5"], "aside": [],
        })
    );
}

fn attributes(browser: &Browser) {
    let body = "<ply-line id=\"one\" at=\"2.c4 e6\" side=\"black\"><pre>1. d4 d5 2. c4 e6 *</pre></ply-line>
                <ply-line id=\"two\"><pre>[At \"1.e4\"]\n[Side \"black\"]\n\n1. e4 e5 *</pre></ply-line>";
    browser.show(SCRIPT, body);
    assert_drawn(browser, "one", true);
    assert_eq!(browser.js("return line('one').current.san"), "e6");
    assert_drawn(browser, "two", true);
    assert_eq!(browser.js("return line('two').current.san"), "e4");
    browser.js("line('one').at = 'start'; line('one').setAttribute('side', 'white')");
    assert_eq!(browser.js("return line('one').current.node"), 0);
    assert_drawn(browser, "one", false);
}

fn read_lesson(browser: &Browser) {
    browser.show(SCRIPT, "<p>No lesson here.</p>");
    let read = browser.js(
        "const { lesson, findings } = await plyline.readLesson('1. e4 e5 2. Nf3 (2. f4 exf4) *');
         const none = await plyline.readLesson('');
         const known = { sans: lesson.node(2).san, find: lesson.find('line A'), none: lesson.find('9.Kd1'),
           outline: lesson.outline(), result: lesson.result, findings: findings.length,
           nothing: none.lesson, said: none.findings.length > 0 };
         lesson.free();
         return known",
    );
    let outline = json!([{ "line": "A", "node": 4, "depth": 1, "moves": ["f4", "exf4"] }]);
    assert_eq!(
        read,
        json!({
            "sans": "e5", "find": 4, "none": null, "outline": outline, "result": "*",
            "findings": read["findings"], "nothing": null, "said": true,
        })
    );
}
