//! How a question in a lesson looks: on paper, on a phone, and to axe-core.

use super::ask::LESSON;
use super::quiz::{hears, put};
use crate::harness::Case::{self, Everywhere, InOne};
use crate::hosting::hosts::with_sheet;
use crate::seeing::access::assert_clean_in_both;
use crate::support::browser::Browser;
use crate::support::browser::engine::Cap;
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    Everywhere(
        "on paper the answers stand at the end, whatever has been opened",
        printed,
    ),
    InOne("axe-core finds nothing at a question in any state", clean),
    Everywhere(
        "on a phone the question's move, the board and what is said are in sight together",
        narrow,
    ),
];

fn paper(browser: &Browser) -> Value {
    browser.js(
        "dispatchEvent(new Event('beforeprint'));
         const text = inside('.plain').textContent.replace(/\\s+/g, ' ');
         const marks = all('.plain .diagram').map((figure) => [figure.querySelector('figcaption').textContent, figure.querySelectorAll('.ring').length].join(': '));
         const buttons = all('.plain button').length;
         dispatchEvent(new Event('afterprint'));
         return [text, marks, buttons]",
    )
}

fn printed(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    let closed = paper(browser);
    let text = closed[0].as_str().unwrap_or_default();
    let (before, answers) = text.split_once("Answers").expect("answers");
    for word in ["Nc6", "ecretly", "Bb5", "show me"] {
        assert!(!before.contains(word), "{word} is in {before}");
    }
    assert!(before.contains("Question: What guards e5?"), "{before}");
    let mut rest = answers;
    for part in [
        "after 2.Nf3:",
        "The c6",
        "2\u{2026}Nc6",
        "Secretly good.",
        "Secretly passive.",
        "3.Bb5",
        "Question: And the bishop?",
        "after 3.Bb5:",
        "secretly it is asked.",
        "a6",
        "4.Bxc6",
    ] {
        let at = rest.to_lowercase().find(&part.to_lowercase());
        let at = at.unwrap_or_else(|| panic!("{part:?} is not in its place in {answers:?}"));
        rest = &rest[at + part.len()..];
    }
    // Each diagram shows its own place, and none before the answers what they point at.
    assert_eq!(
        closed[1],
        json!([
            "the start, White to move: 0",
            "after 2.Nf3, Black to move: 1",
            "after 3\u{2026}a6, White to move: 0"
        ])
    );
    assert_eq!(closed[2], 0);
    browser.click("return button('open')");
    assert_eq!(paper(browser), closed);
    if browser.engine.can(Cap::Print) {
        browser.pdf();
        assert_eq!(
            browser.js("await pause(50); return visible(inside('.lesson'))"),
            true
        );
    }
}

fn clean(browser: &Browser) {
    let head = format!("<link rel=\"stylesheet\" href=\"/site.css\">\n{SCRIPT}");
    for dark in [false, true] {
        browser.dark(dark);
        browser.show(
            &head,
            &format!("{LESSON}<ply-recap side=\"black\"></ply-recap>"),
        );
        browser.js("await stills()");
        for (state, script) in [
            ("at the start", ""),
            ("at the question", "line().go('2.Nf3')"),
            ("hint", "button('hint').click()"),
            ("weaker", "line().play('f6')"),
            ("settled", "button('home').click(); line().play('Nc6')"),
            ("all open", "button('open').click()"),
        ] {
            browser.js(script);
            assert_clean_in_both(browser, &format!("{state}, dark: {dark}"));
        }
    }
}

fn narrow(browser: &Browser) {
    browser.phone();
    let head = with_sheet(
        browser,
        "body { margin: 0.8rem; font: 1rem/1.5 serif } .gap { height: 2000px }",
    );
    browser.show(
        &head,
        &format!("<div class=\"gap\"></div>{LESSON}<div class=\"gap\"></div>"),
    );
    browser.js("line().scrollIntoView({ behavior: 'instant' }); line().go('2.Nf3'); inside('.question').scrollIntoView({ block: 'center', behavior: 'instant' })");
    for (from, to, said) in [("d7", "d6", "Sound"), ("f7", "f6", "Weaker")] {
        put(browser, "lesson", from, to);
        hears(browser, "lesson", said);
        let seen = browser.js(
            "await painted();
             const shown = (selector) => { const { top, bottom, left, right } = inside(selector).getBoundingClientRect(); return top >= 0 && bottom <= innerHeight && left >= 0 && right <= innerWidth };
             return [shown('.plate'), shown('.notice'), shown('.try'), document.scrollingElement.scrollWidth <= innerWidth]",
        );
        assert_eq!(seen, json!([true, true, true, true]), "{to}");
    }
}
