//! A weaker move in a quiz: the reader plays out what the lesson holds against it, and the way back
//! to the question is a word.

use super::quiz::{LESSON, QUIZ, focus, hears, put, state, tab_to, types};
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::browser::keys::{ENTER, LEFT, RIGHT};
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    InOne(
        "a weaker move is played out by the reader, and the way back is a word or step by step",
        weaker,
    ),
    Everywhere(
        "a refutation is walked with keys alone, and the focus stays on the word that steps",
        weaker_keys,
    ),
];

/// Caption, aside, whether next and back do something, and what else can be done.
const SEEN: &str = "const can = (name) => button(name, 'q').getAttribute('aria-disabled') === 'false';
    return [inside('figcaption', 'q').textContent, line('q').current.aside.join(' '), can('back'), can('next'),
      [...all('[data-do=home]', 'q'), ...all('.try > *', 'q')].map(({ textContent }) => textContent).join()]";

#[track_caller]
fn sees(browser: &Browser, caption: &str, aside: &str, can: [bool; 2], words: &str) {
    assert_eq!(
        browser.js(SEEN),
        json!([caption, aside, can[0], can[1], words]),
    );
}

const BESIDE: &str = "to the question,hint,show me";

fn weaker(browser: &Browser) {
    browser.show(SCRIPT, &format!("{LESSON}{QUIZ}"));
    // What slides, counted as it begins.
    browser.js("window.slid = []; const animate = Element.prototype.animate;
         Element.prototype.animate = function (...given) { slid.push(this.getAttribute('href')); return animate.apply(this, given) }");
    put(browser, "q", "b7", "b5");
    hears(
        browser,
        "q",
        "Weaker: 2\u{2026}b5. gives a pawn. The reply is cxb5. \u{201c}next\u{201d} shows how it goes on.",
    );
    let caption = "weaker: after 2\u{2026}b5";
    let turn = |moves: &str, turn: &str| format!("{caption} {moves}, {turn} to move");
    sees(
        browser,
        &turn("3.cxb5", "Black"),
        "b5 cxb5",
        [true, true],
        BESIDE,
    );
    assert_eq!(browser.js("return slid.splice(0)"), json!(["#pawn"]));
    browser.click("return button('next', 'q')");
    hears(browser, "q", "Black pawn from a7 to a6.");
    sees(
        browser,
        &turn("\u{2026} 3\u{2026}a6", "White"),
        "b5 cxb5 a6",
        [true, true],
        BESIDE,
    );
    assert_eq!(browser.js("return slid.splice(0)"), json!(["#pawn"]));
    browser.click("return button('next', 'q')");
    hears(
        browser,
        "q",
        "White pawn from b5 takes on a6. The line ends here.",
    );
    sees(
        browser,
        &turn("\u{2026} 4.bxa6", "Black"),
        "b5 cxb5 a6 bxa6",
        [true, false],
        BESIDE,
    );
    // The words about each move are seen.
    assert_eq!(
        browser.js("return [visible(inside('.notice', 'q')), line('q').state, line('q').next()]"),
        json!([true, "open", false])
    );
    browser.click("return button('back', 'q')");
    hears(browser, "q", "Black pawn from a7 to a6.");
    browser.click("return button('home', 'q')");
    let question = "Your move.,hint,show me";
    sees(
        browser,
        "after 2.c4, Black to move",
        "",
        [false, false],
        question,
    );
    hears(browser, "q", "Your move.");
    // No further than the question, and why next does nothing is said with it.
    assert_eq!(
        browser.js(
            "return [button('top', 'q').getAttribute('aria-disabled'), button('next', 'q').title]"
        ),
        json!(["true", "Your move."])
    );
    // A hint says that it has led back.
    put(browser, "q", "b7", "b5");
    browser.js("await pause(300)");
    assert_eq!(browser.js("return button('next', 'q').title"), "");
    browser.click("return button('hint', 'q')");
    hears(browser, "q", "Back at the question. The pawn on e7 moves.");
    assert_eq!(browser.js("return visible(inside('.notice', 'q'))"), true);
    sees(
        browser,
        "after 2.c4, Black to move",
        "",
        [false, false],
        question,
    );
    put(browser, "q", "b7", "b5");
    browser.click("return button('show', 'q')");
    hears(
        browser,
        "q",
        "Back at the question. The answer: 2\u{2026}e6.",
    );
    assert_eq!(state(browser), "settled");
}

fn weaker_keys(browser: &Browser) {
    browser.show(SCRIPT, &format!("{QUIZ}{LESSON}"));
    browser.js("line('q').answer('b5'); inside('.grid [tabindex=\"0\"]', 'q').focus()");
    tab_to(browser, "next");
    browser.press(ENTER);
    hears(browser, "q", "Black pawn from a7 to a6.");
    browser.press(RIGHT);
    hears(browser, "q", "The line ends here.");
    browser.press(RIGHT);
    browser.press(LEFT);
    hears(browser, "q", "Black pawn from a7 to a6.");
    assert_eq!(focus(browser), "next");
    // A move of the refutation, typed, is a step in it, and another one is beside it.
    types(browser, "bxa6");
    hears(browser, "q", "The line ends here.");
    types(browser, "back");
    types(browser, "Nc3");
    hears(browser, "q", "Not in the lesson.");
    assert!(browser.js(SEEN)[0].as_str().is_some_and(|caption| {
        caption == "not in the lesson: after 2\u{2026}b5 3.cxb5 a6 4.Nc3, Black to move"
    }));
    types(browser, "to the question");
    hears(browser, "q", "Your move.");
    types(browser, "e6");
    hears(browser, "q", "Right: 2\u{2026}e6.");
}
