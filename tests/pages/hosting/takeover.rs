//! Baked pages: a shadow root that is in the page is taken over as it is.

use crate::board::assert_drawn;
use crate::harness::Case::{self, Everywhere};
use crate::hosting::baking::{self, SHEETS, pre};
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use plyline::check::attributes::Kind;
use serde_json::json;
use std::fs;
use std::path::Path;

pub const CASES: &[Case] = &[
    Everywhere(
        "a baked lesson is taken over without a new node",
        without_a_node,
    ),
    Everywhere(
        "a baked question, recall, diagram and recap are taken over without a new node or a shift",
        others_without_a_node,
    ),
    Everywhere("taking over shifts nothing on the page", without_a_shift),
    Everywhere(
        "a baked lesson whose notation has changed is drawn anew",
        stale,
    ),
    Everywhere(
        "a baked page without the script shows the lesson",
        without_script,
    ),
];

const REMEMBER: &str =
    "<p id=\"below\">What comes after the lesson.</p><script src=\"/remember.js\"></script>";

/// The notation of the demo site's long lesson.
fn demo_lesson() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("demo-site/pages/the-pawn-that-is-not-free/index.html");
    let page = fs::read_to_string(path).expect("the demo page");
    let text = page
        .split("<pre>")
        .nth(1)
        .and_then(|rest| rest.split("</pre>").next());
    let text = text.expect("a lesson in the demo page").to_owned();
    assert!(!text.contains('&'), "this function decodes no entities");
    text
}

/// A lesson as a baked page holds it; `notation` is what then is in the page.
pub fn baked(text: &str, notation: &str) -> String {
    baking::baked(Kind::Lesson, text, &[("id", "lesson")], &pre(notation))
}

/// The script of a page that has none yet, added as a page's own script may under the policy.
const LOAD: &str =
    "const policy = trustedTypes.createPolicy('test', { createScriptURL: (url) => url });
    const script = document.createElement('script');
    script.src = policy.createScriptURL('/plyline.js');
    document.head.append(script);
    await settled();
    await painted();";

fn without_a_node(browser: &Browser) {
    let text = demo_lesson();
    browser.show(
        &format!("{SHEETS}\n{SCRIPT}"),
        &(baked(&text, &text) + REMEMBER),
    );
    let kept = browser.js(
        "await painted();
         const nodes = (node) => [...node.childNodes].flatMap((child) => [child, ...nodes(child)]);
         const now = nodes(line().shadowRoot);
         const then = baked.nodes.filter((node) => node.localName !== 'link');
         return { made: line().made, added: baked.added, links: all('link').length, count: then.length > 500,
           same: then.length === now.length && then.every((node, index) => node === now[index]),
           sheets: line().shadowRoot.adoptedStyleSheets.length > 0 }",
    );
    let wanted =
        json!({ "made": 0, "added": [], "links": 0, "count": true, "same": true, "sheets": true });
    assert_eq!(kept, wanted);
    // WebKit's driver scrolls no further than the move's margin.
    browser.js("move(line().lesson.find('line A1')).scrollIntoView({ block: 'center', behavior: 'instant' })");
    browser.click("return move(line().lesson.find('line A1'))");
    assert_eq!(browser.js("return line().current.san"), "c6");
    assert_drawn(browser, "lesson", false);
    browser.click("return button('next')");
    assert_drawn(browser, "lesson", false);
}

fn others_without_a_node(browser: &Browser) {
    let text = "1. d4 d5 2. c4 {Choose: this.} e6 {Ask: Which square for the knight?} 3. Nc3 Nf6 {Choose: develops.} *";
    let [element, question, asked, recall, diagram, recap] = [
        (Kind::Lesson, &[("id", "lesson")][..], pre(text)),
        (
            Kind::Quiz,
            &[
                ("id", "quiz"),
                ("for", "lesson"),
                ("at", "1...d5"),
                ("prompt", "Which move?"),
                ("start", "#lesson"),
            ],
            "<p>Which move?</p>".to_owned(),
        ),
        // The prompt is the lesson's: the plain form in the element is none.
        (
            Kind::Quiz,
            &[
                ("id", "asked"),
                ("for", "lesson"),
                ("at", "2...e6"),
                ("start", "#lesson"),
            ],
            String::new(),
        ),
        (
            Kind::Recall,
            &[
                ("id", "recall"),
                ("for", "lesson"),
                ("side", "white"),
                ("prompt", "Do you know it?"),
                ("start", "#lesson"),
            ],
            "<p>Do you know it?</p>".to_owned(),
        ),
        (
            Kind::Diagram,
            &[("for", "lesson"), ("at", "2.c4")],
            String::new(),
        ),
        (
            Kind::Recap,
            &[("for", "lesson"), ("side", "white")],
            "Own words.".to_owned(),
        ),
    ]
    .map(|(kind, given, own)| baking::baked(kind, text, given, &own));
    let body = format!("{element}{question}{asked}{recall}{diagram}{recap}{REMEMBER}");
    browser.show(&format!("{SHEETS}\n{SCRIPT}"), &body);
    browser.js("await stills(); await pause(200)");
    let kept = browser.js(
        "const then = baked.nodes.filter((node) => node.localName !== 'link');
         return { added: baked.added, count: then.length, gone: then.filter((node) => !node.isConnected).map(({ nodeName }) => nodeName),
           links: [...document.querySelectorAll('[data-plyline-baked]')].map(({ shadowRoot }) => shadowRoot.querySelectorAll('link').length),
           moved: baked.moved(), shifts: baked.shifts, made: ['lesson', 'quiz', 'asked', 'recall'].map((id) => line(id).made), failed: told.filter(({ type }) => type === 'ply-failed') }",
    );
    let wanted = json!({ "added": [], "gone": [], "links": [0, 0, 0, 0, 0, 0], "moved": [], "shifts": [], "made": [0, 0, 0, 0],
        "failed": [], "count": kept["count"] });
    assert_eq!(kept, wanted);
    assert!(kept["count"].as_u64() > Some(500), "{}", kept["count"]);
    browser.click("return button('hint', 'quiz')");
    browser.until("inside('.notice', 'quiz')");
}

fn without_a_shift(browser: &Browser) {
    let text = demo_lesson();
    let path = browser.write(SHEETS, &(baked(&text, &text) + REMEMBER));
    browser.open(&path);
    let moved = browser.js(&format!(
        "const wanted = [line(), document.getElementById('below'), ...all('*')].filter((part) => part.localName !== 'link');
         const places = () => wanted.map((part) => {{
           const {{ x, y, width, height }} = part.getBoundingClientRect();
           return [part.localName, part.className.baseVal ?? part.className, x, y, width, height].join(' ');
         }});
         await painted();
         const before = places();
         {LOAD}
         const after = places();
         return {{ made: line().made, moved: before.flatMap((place, index) => place === after[index] ? [] : [[place, after[index]]]),
           shifts: baked.shifts, styled: before.length > 300 && getComputedStyle(inside('button')).cursor === 'pointer' }}"
    ));
    assert_eq!(
        moved,
        json!({ "made": 0, "moved": [], "shifts": [], "styled": true })
    );
    browser.click("return button('next')");
    assert_drawn(browser, "lesson", false);

    // The page as it is usually written, where the script comes with the page. Chromium only
    // has shift entries; what they count is the same in all.
    browser.show(
        &format!("{SHEETS}\n{SCRIPT}"),
        &(baked(&text, &text) + REMEMBER),
    );
    assert_eq!(
        browser.js("await painted(); await pause(100); return baked.shifts"),
        json!([])
    );
    if browser.js("return PerformanceObserver.supportedEntryTypes.includes('layout-shift')") == true
    {
        // The observer works: a real shift is counted.
        let shifts = browser.js("const box = document.createElement('div');
             box.className = 'test';
             box.append('A shift. '.repeat(2000));
             document.querySelector('main').prepend(box);
             await painted();
             await pause(100);
             return baked.shifts.length > 0");
        assert_eq!(shifts, true);
    }
}

fn stale(browser: &Browser) {
    let old = "1. e4 e5 2. Nf3 Nc6 {the text that was baked} *";
    let new = "1. e4 e5 2. Nf3 d6 {the text that stands there now} (2... Nf6 3. Nxe5) *";
    browser.show(
        &format!("{SHEETS}\n{SCRIPT}"),
        &(baked(old, new) + REMEMBER),
    );
    let shown = browser.js(
        "return { made: line().made > 50, links: all('link').length, kept: baked.nodes.some((node) => node.isConnected),
           old: line().shadowRoot.textContent.includes('was baked'), now: line().shadowRoot.textContent.includes('stands there now') }",
    );
    assert_eq!(
        shown,
        json!({ "made": true, "links": 0, "kept": false, "old": false, "now": true })
    );
    browser.click("return move(line().lesson.find('line A'))");
    assert_eq!(browser.js("return line().current.san"), "Nf6");
    assert_drawn(browser, "lesson", false);
}

fn without_script(browser: &Browser) {
    let text = demo_lesson();
    let path = browser.write(SHEETS, &baked(&text, &text));
    browser.open(&path);
    let shown = browser.js(
        "return [customElements.get('ply-line') === undefined, visible(inside('svg')), all('use').length,
           visible(move(1)), getComputedStyle(inside('button')).cursor]",
    );
    assert_eq!(shown, json!([true, true, 32, true, "pointer"]));
}
