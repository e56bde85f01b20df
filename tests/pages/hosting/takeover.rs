//! Baked pages: a shadow root that is in the page is taken over as it is.

use crate::board::assert_drawn;
use crate::harness::Case::{self, Everywhere};
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use plyline::check::attributes::Kind;
use plyline::text::{Findings, Source};
use plyline::{edge, lesson, markup, notation, view};
use serde_json::json;
use std::fs;
use std::path::Path;

pub const CASES: &[Case] = &[
    Everywhere(
        "a baked lesson is taken over without a new node",
        without_a_node,
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

const SHEET: &str = "<link rel=\"stylesheet\" href=\"/plyline.css\">";
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

/// The element as a baked page holds it, made by the same calls as `plyline bake` makes;
/// `notation` is what then is in the page.
pub fn baked(text: &str, notation: &str) -> String {
    let source = Source::new("page.html", text);
    let (syntax, _) = notation::parse(&source);
    let (mut lessons, _) = lesson::validate(&source, &syntax);
    let lesson = lessons.remove(0).expect("a game that can be read");
    let words = view::Words::default();
    let element = view::Element::read(Kind::Lesson, &|_| None);
    let (state, _) = view::open(&lesson, &element, notation::Letters::ENGLISH);
    let page = view::page(
        &words,
        &lesson,
        &state,
        notation::Letters::ENGLISH,
        &Findings::default(),
        &source,
        &[],
    );
    let stamp = edge::stamp(text, &[("at", None), ("side", None)], "en");
    markup::baked(
        &markup::lesson(&page),
        "/plyline.css",
        &stamp,
        Some("lesson"),
        notation,
    )
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
        &format!("{SHEET}\n{SCRIPT}"),
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

fn without_a_shift(browser: &Browser) {
    let text = demo_lesson();
    let path = browser.write(SHEET, &(baked(&text, &text) + REMEMBER));
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
        &format!("{SHEET}\n{SCRIPT}"),
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
    browser.show(&format!("{SHEET}\n{SCRIPT}"), &(baked(old, new) + REMEMBER));
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
    let path = browser.write(SHEET, &baked(&text, &text));
    browser.open(&path);
    let shown = browser.js(
        "return [customElements.get('ply-line') === undefined, visible(inside('svg')), all('use').length,
           visible(move(1)), getComputedStyle(inside('button')).cursor]",
    );
    assert_eq!(shown, json!([true, true, 32, true, "pointer"]));
}
