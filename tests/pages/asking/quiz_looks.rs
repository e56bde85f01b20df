//! How a question looks in an element of its own: on every page, width and paper, and to axe-core.

use super::quiz::{LESSON, QUIZ, hears};
use crate::harness::Case::{self, Everywhere, InOne};
use crate::hosting::hosts::with_sheet;
use crate::seeing::access::assert_clean_in_both;
use crate::support::browser::Browser;
use crate::support::browser::engine::Cap;
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    InOne("axe-core finds nothing in a quiz in any state", clean),
    Everywhere(
        "on a phone prompt, board and verdict of a quiz are in sight together",
        narrow,
    ),
    Everywhere(
        "a quiz has prompt and verdict beside its board where there is room",
        wide,
    ),
    Everywhere(
        "the words to step with in a quiz appear with something to step through, and nothing moves",
        steps,
    ),
    Everywhere(
        "the board of a quiz and of a recall is as large as the page allows",
        large,
    ),
    Everywhere("a page's rules do not reach into a quiz", hosts),
    Everywhere(
        "a long prompt, with anything in it, keeps to its quiz",
        long,
    ),
    Everywhere("on paper a quiz is its prompt and its board", printed),
];

fn clean(browser: &Browser) {
    browser.expect("plyline gone: ");
    let head = format!("<link rel=\"stylesheet\" href=\"/site.css\">\n{SCRIPT}");
    let body =
        format!("{LESSON}{QUIZ}<ply-quiz id=\"gone\" for=\"nowhere\"><p>The words.</p></ply-quiz>");
    for dark in [false, true] {
        browser.dark(dark);
        browser.show(&head, &body);
        for (state, script) in [
            ("open", ""),
            ("hint, with the field", "line('q').hint(); openDesk('q')"),
            ("fair", "line('q').answer('c6')"),
            ("weaker", "line('q').answer('b5')"),
            ("settled", "line('q').answer('e6')"),
        ] {
            browser.js(script);
            assert_clean_in_both(browser, &format!("{state}, dark: {dark}"));
        }
    }
}

/// Where prompt, board and verdict are, and whether anything leaves the page sideways.
const PLACES: &str = "await painted();
    const box = (element) => { const { top, bottom, left, right } = element.getBoundingClientRect(); return { top, bottom, left, right } };
    const quiz = line('q');
    const [prompt, board, verdict, tries] = [quiz.querySelector('p'), inside('.plate', 'q'), inside('.notice', 'q'), inside('.onward', 'q')].map(box);
    const host = box(quiz);
    const whole = [prompt, board, verdict, tries].every(({ left, right }) => left >= host.left - 1 && right <= host.right + 1);";

fn narrow(browser: &Browser) {
    browser.phone();
    let head = with_sheet(
        browser,
        "body { margin: 0.8rem; font: 1rem/1.5 serif } .gap { height: 2000px }",
    );
    browser.show(
        &head,
        &format!("<div class=\"gap\"></div>{LESSON}{QUIZ}<div class=\"gap\"></div>"),
    );
    for (tried, said) in [("c6", "Sound"), ("b5", "Weaker"), ("e6", "Right")] {
        browser.js_with(
            "line('q').scrollIntoView({ behavior: 'instant' }); line('q').answer(given)",
            json!(tried),
        );
        hears(browser, "q", said);
        let seen = browser.js(&format!(
            "{PLACES} return [whole, prompt.top >= 0 && verdict.bottom <= innerHeight, verdict.top >= board.bottom - 1, board.top >= prompt.bottom - 1,
               document.scrollingElement.scrollWidth <= innerWidth, board.right - board.left >= 8 * 24]"
        ));
        assert_eq!(seen, json!([true, true, true, true, true, true]), "{tried}");
    }
}

fn wide(browser: &Browser) {
    browser.width(Some(1280));
    browser.show(SCRIPT, &format!("{LESSON}{QUIZ}"));
    browser.js("line('q').answer('b5')");
    hears(browser, "q", "Weaker");
    let seen = browser.js(&format!(
        "{PLACES} return [whole, board.left > prompt.right - 1, board.left > Math.max(verdict.right, tries.right) - 1, tries.top - prompt.bottom < 60 && verdict.top - tries.bottom < 60, Math.abs(board.top - host.top) < 40,
           inside('.map', 'q'), visible(inside('.fold', 'q'))]"
    ));
    assert_eq!(seen, json!([true, true, true, true, true, null, false]));
}

fn steps(browser: &Browser) {
    let seen = |browser: &Browser| {
        browser.js(
            "await painted();
             const names = ['turn', 'desk', 'back', 'next', 'top'];
             const places = ['turn', 'desk'].map((name) => button(name, 'q').getBoundingClientRect());
             return [names.filter((name) => button(name, 'q').checkVisibility({ visibilityProperty: true })).join(' '),
               places.flatMap(({ left, top }) => [left, top]).map(Math.round).join()]",
        )
    };
    for is_narrow in [false, true] {
        if is_narrow {
            browser.phone();
        } else {
            browser.width(Some(1280));
        }
        browser.show(SCRIPT, &format!("{LESSON}{QUIZ}"));
        browser.js("await drawn(line('q')); line('q').scrollIntoView({ behavior: 'instant' })");
        let open = seen(browser);
        assert_eq!(open[0], "turn desk", "narrow: {is_narrow}");
        browser.js("line('q').answer('b5'); await pause(200)");
        assert_eq!(seen(browser)[0], "turn desk back next top");
        // The focus is not lost with the way back.
        browser.js("button('back', 'q').focus()");
        browser.js(
            "while (line('q').current.aside.length) button('back', 'q').click(); await pause(200)",
        );
        assert_eq!(seen(browser)[0], "turn desk back");
        assert_eq!(
            browser.js("return line('q').shadowRoot.activeElement === button('back', 'q')"),
            true
        );
        browser.js("button('back', 'q').blur()");
        assert_eq!(seen(browser), open, "narrow: {is_narrow}");
        browser.js("line('q').answer('e6'); await pause(200)");
        let settled = seen(browser);
        assert_eq!(settled[0], "turn desk back next top");
        assert_eq!(settled[1], open[1], "narrow: {is_narrow}");
    }
}

fn large(browser: &Browser) {
    let recall = "<ply-recall id=\"r\" side=\"black\"><p>From memory.</p></ply-recall>";
    let head = with_sheet(
        browser,
        "body { margin: 0.8rem } .column { max-inline-size: 608px }",
    );
    browser.show(
        &head,
        &format!("{LESSON}<div class=\"column\">{QUIZ}{recall}</div>"),
    );
    // What of the board's full size there is, and what is beside it or below.
    let seen = |given: serde_json::Value| {
        browser.js_with(
            "await painted();
             return ['q', 'r'].map((id) => {
               const box = (selector) => inside(selector, id).getBoundingClientRect();
               const [plate, cell] = [box('.plate'), box('[role=gridcell]')];
               const room = Math.min(line(id).clientWidth, innerHeight * given[0], given[1]);
               return [plate.width >= room - 1, cell.width >= room / 10,
                 ['figcaption', '.controls'].every((one) => given[2] ? box(one).left >= plate.right : box(one).top >= plate.bottom)
                   && box('.onward').top >= plate.bottom] })",
            given,
        )
    };
    let full = json!([[true, true, true], [true, true, true]]);
    browser.phone();
    assert_eq!(seen(json!([0.55, 900, false])), full, "a phone");
    browser.width(Some(1280));
    assert_eq!(seen(json!([0.6, 384, true])), full, "a column");
    browser.js("line('q').answer('b5')");
    hears(browser, "q", "Weaker");
    let seen = browser.js(&format!(
        "{PLACES} return [whole, verdict.top >= board.bottom && verdict.right - verdict.left > quiz.clientWidth * 0.9, verdict.top >= tries.bottom]"
    ));
    assert_eq!(seen, json!([true, true, true]));
}

fn hosts(browser: &Browser) {
    let css = "body { text-transform: uppercase; letter-spacing: 0.4em; white-space: pre; text-indent: 4em; text-align: right;
                 font: 19px/2 'DejaVu Serif', serif; color: rgb(20, 40, 60) }
               ply-quiz { display: inline !important; columns: 3 }
               div, button, figure, svg, p, ol, li, slot { display: none !important; border: 5px solid red !important }
               ply-quiz > p { display: block !important }";
    browser.show(&with_sheet(browser, css), &format!("{LESSON}{QUIZ}"));
    browser.js("line('q').answer('c6'); await painted()");
    let seen = browser.js(
        "const of = (selector, ...names) => { const style = getComputedStyle(inside(selector, 'q')); return names.map((name) => style[name]) };
         return [of('.try', 'textTransform', 'textIndent', 'display', 'color', 'borderTopWidth'), of('.notice p', 'letterSpacing', 'textAlign').map((value) => (value === 'start' ? 'left' : value)),
           all('.pieces > use', 'q').length, visible(inside('.plate', 'q')), visible(line('q').querySelector('p'))]",
    );
    assert_eq!(
        seen,
        json!([
            ["none", "0px", "flex", "rgb(20, 40, 60)", "0px"],
            ["normal", "left"],
            32,
            true,
            true
        ])
    );
}

fn long(browser: &Browser) {
    let prompt = "Who would have thought that so much can be said before a move? ".repeat(30);
    let word = "unbroken".repeat(40);
    let body = format!(
        "{LESSON}<ply-quiz id=\"q\" at=\"2.c4\"><h3>Now</h3><p>{prompt}</p><p>{word}</p><ul><li><a href=\"#x\">A link</a></li></ul></ply-quiz>"
    );
    for width in [1280, 460] {
        browser.width(Some(width));
        browser.show(SCRIPT, &body);
        browser.js("line('q').answer('c6')");
        let seen = browser.js(&format!(
            "{PLACES} return [whole, board.right - board.left > 150, board.bottom - board.top < 600, visible(line('q').querySelector('a'))]"
        ));
        assert_eq!(seen, json!([true, true, true, true]), "{width} px");
    }
}

fn printed(browser: &Browser) {
    browser.needs(Cap::Print);
    browser.show(
        SCRIPT,
        &format!("<p>Before.</p>{QUIZ}<p>After.</p>{LESSON}"),
    );
    browser.js("line('q').answer('c6')");
    let text = browser.printed();
    let (_, text) = text.split_once("Before.").expect("what stands before");
    let (text, _) = text.split_once("After.").expect("what comes after");
    for part in ["How does Black hold the centre?", "after 2.c4", "to move"] {
        assert!(text.contains(part), "{part} is not in {text}");
    }
    for part in ["Sound", "hint", "show me", "flip"] {
        assert!(!text.contains(part), "{part} is in {text}");
    }
}
