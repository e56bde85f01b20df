//! Baked elements need the core only when a reader touches one; what was done there before it has
//! come is done once it has.

use crate::board::assert_drawn;
use crate::harness::Case::{self, Everywhere, InOne};
use crate::hosting::baking::{SHEETS, baked, pre};
use crate::support::browser::Browser;
use plyline::check::attributes::Kind;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "asleep: a page of baked elements loads its entry and style alone",
        alone,
    ),
    Everywhere(
        "asleep: a click, the pointer over the board, the focus, a key, an address and a script bring the core",
        wakes,
    ),
    Everywhere(
        "asleep: fifty clicks before, while and after the core comes are fifty steps",
        fifty_clicks,
    ),
    Everywhere(
        "asleep: on page after page what is pressed before the core has come is done once and in order",
        page_after_page,
    ),
    Everywhere(
        "asleep: keys that are pressed before the core has come move the lesson and not the page",
        keys,
    ),
    Everywhere(
        "asleep: an answer on the board of a question counts once",
        answer,
    ),
    Everywhere(
        "asleep: moves that are linked in a baked article lead to their place, and become links of the script's",
        article,
    ),
    Everywhere(
        "asleep: the first move that is pressed in a baked article brings the board there, and Back undoes it",
        first_link,
    ),
    InOne(
        "asleep: a baked lesson whose root has been lost on its way is drawn as others are",
        rootless,
    ),
    Everywhere(
        "asleep: where the core is missing a baked lesson stays as it is and says so",
        missing,
    ),
];

const MODULE: &str = "<script type=\"module\" src=\"/plyline.mjs\"></script>";
const LOADED: &str = "performance.getEntriesByType('resource').map(({ name }) => name.split('/').pop()).filter((name) => /mjs/.test(name)).sort().join()";
const ALONE: &str = "plyline.mjs";
const REMEMBER: &str = "<script src=\"/remember.js\"></script>";

pub const NOTATION: &str = "1. d4 {Our comment.} d5 2. c4 e6 (2... dxc4 {takes the pawn} 3. e4) 3. Nc3 Nf6 4. Bg5 {The end.} *";

pub fn lesson(notation: &str) -> String {
    let own = pre(notation);
    baked(Kind::Lesson, notation, &[("id", "lesson")], &own)
}

/// Sixty steps without a choice.
fn long_lesson() -> String {
    lesson(&"Nf3 Nf6 Ng1 Ng8 ".repeat(15))
}

fn question() -> String {
    let given = [
        ("id", "quiz"),
        ("for", "lesson"),
        ("at", "1...d5"),
        ("prompt", "Which move?"),
        ("start", "#lesson"),
    ];
    baked(Kind::Quiz, NOTATION, &given, "<p>Which move?</p>")
}

/// Everything that can be baked.
pub fn everything() -> String {
    let diagram = [("for", "lesson"), ("at", "2.c4")];
    let diagram = baked(Kind::Diagram, NOTATION, &diagram, "");
    let recap = [("for", "lesson"), ("side", "white")];
    let recap = baked(Kind::Recap, NOTATION, &recap, "");
    format!(
        "<ply-prose for=\"lesson\" data-plyline-baked=\"3 0\"><p>After <a id=\"link\" data-plyline=\"\" href=\"#lesson/4.Bg5\">4.Bg5</a> \
         all is well, and <a data-plyline=\"\" href=\"#lesson/2.c4\">2.c4</a> <a data-plyline=\"\" href=\"#lesson/2...e6\">e6</a> came before.</p>\
         <p>See <ply-ref for=\"lesson\" at=\"3.Nc3\"><a id=\"ref\" data-plyline=\"\" href=\"#lesson/3.Nc3\">the knight</a></ply-ref>.</p></ply-prose>\
         {}{}{diagram}{recap}",
        lesson(NOTATION),
        question()
    )
}

/// A page in whose head the entry and style are, and the modules that come this late.
fn late(browser: &Browser, milliseconds: u32, body: &str) -> String {
    let folder = format!("{}-late", browser.engine.name());
    for name in [
        "plyline.mjs",
        "plyline-core.mjs",
        "plyline-core.wasm",
        "plyline-more.mjs",
    ] {
        let module = std::fs::read(browser.site.dist.join(name)).expect("a built module");
        browser.site.write(&format!("{folder}/{name}"), module);
    }
    let late = milliseconds.to_string();
    let core = format!("{folder}/plyline-core.mjs.late");
    browser.site.write(&core, late);
    let head = format!("{SHEETS}\n<script type=\"module\" src=\"/{folder}/plyline.mjs\"></script>");
    browser.write(&head, &format!("{body}{REMEMBER}"))
}

/// The entry has come and heeds the reader.
pub fn until_heeded(browser: &Browser) {
    browser.until("document.readyState === 'complete'");
    browser.until(&format!("{LOADED} === '{ALONE}'"));
}

/// Opens a page of baked elements with the modules at their usual speed.
pub fn open(browser: &Browser, body: &str, fragment: &str) {
    let path = browser.write(&format!("{SHEETS}\n{MODULE}"), &format!("{body}{REMEMBER}"));
    browser.open("about:blank");
    browser.open(&format!("{path}{fragment}"));
    browser.until("document.readyState === 'complete'");
}

fn alone(browser: &Browser) {
    open(browser, &everything(), "");
    until_heeded(browser);
    browser.js("for (const element of document.querySelectorAll('main *')) { element.scrollIntoView({ behavior: 'instant' }); await painted(); }
         await pause(300)");
    assert_eq!(browser.js(&format!("return {LOADED}")), ALONE);
    assert_eq!(
        browser.js("return [customElements.get('ply-line') === undefined, visible(move(1)), baked.added, baked.moved(), baked.shifts]"),
        json!([true, true, [], [], []])
    );
    // Over the text is not over the board; nor does the page around them bring it.
    browser.js("const over = (target) => target.dispatchEvent(new PointerEvent('pointermove', { bubbles: true, composed: true }));
         over(move(1)); over(document.querySelector('p')); document.querySelector('h1').click(); await pause(200)");
    assert_eq!(browser.js(&format!("return {LOADED}")), ALONE);
}

fn wakes(browser: &Browser) {
    let board = |browser: &Browser| {
        let place = browser.js(
            "inside('.board').scrollIntoView({ block: 'center', behavior: 'instant' });
             await painted();
             return [move(1), inside('.board')].map((part) => {
               const { left, top, width, height } = part.getBoundingClientRect();
               return { type: 'pointerMove', duration: 50, x: Math.round(left + width / 2), y: Math.round(top + height / 2) };
             })",
        );
        // It comes to the board from the text, so from inside the element.
        browser.point("mouse", place.as_array().expect("two places"));
    };
    let click = |browser: &Browser| browser.click("return move(3)");
    let focus = |browser: &Browser| {
        browser.js("move(1).focus()");
    };
    let key = |browser: &Browser| {
        browser
            .js("document.querySelector('h1').tabIndex = 0; document.querySelector('h1').focus()");
        browser.press('\u{e004}'); // Tab
    };
    let address = |browser: &Browser| {
        browser.js("location.hash = '#lesson/4.Bg5'");
    };
    let script = |browser: &Browser| {
        let name = format!("{}-wake.mjs", browser.engine.name());
        let text = "import { ready } from '/plyline.mjs';\nready();";
        browser.site.write(&name, text);
        let head = format!("{SHEETS}\n{MODULE}<script type=\"module\" src=\"/{name}\"></script>");
        browser.open(&browser.write(&head, &lesson(NOTATION)));
    };
    type Way<'a> = &'a dyn Fn(&Browser);
    let ways: [(&str, Way, i32); 6] = [
        ("click", &click, 3),
        ("board", &board, 0),
        ("focus", &focus, 0),
        ("key", &key, 0),
        ("address", &address, 9),
        ("script", &script, 0),
    ];
    for (name, way, node) in ways {
        open(browser, &lesson(NOTATION), "");
        until_heeded(browser);
        way(browser);
        let found = browser.js(
            "for (let turn = 0; turn < 150 && !Number.isInteger(line().made); turn += 1) await pause(20);
             return [line().made, line().current?.node]",
        );
        assert_eq!(found[1], node, "{name}");
        // Drawn where the address says, it is no longer what was baked.
        assert!(found[0] == 0 || name == "address", "{name}: {found}");
    }
    open(browser, &lesson(NOTATION), "#lesson/4.Bg5");
    browser.until("line().current?.san === 'Bg5'");
    assert_drawn(browser, "lesson", false);
}

fn fifty_clicks(browser: &Browser) {
    for milliseconds in [0, 40, 150] {
        browser.open(&late(browser, milliseconds, &long_lesson()));
        until_heeded(browser);
        let done = browser.js(
            "const next = button('next');
             let undrawn = 0;
             for (let times = 0; times < 50; times += 1) {
               undrawn += Number.isInteger(line().made) ? 0 : 1;
               next.click();
               await pause(8);
             }
             for (let turn = 0; turn < 100 && line().current?.node !== 50; turn += 1) await pause(20);
             await pause(100);
             return { node: line().current.node, moved: told.filter(({ type }) => type === 'ply-moved').length, made: line().made,
               same: next === button('next'), early: undrawn > 1, late: undrawn < 50 }",
        );
        assert_eq!(
            done,
            json!({ "node": 50, "moved": 50, "made": 0, "same": true, "early": true, "late": true }),
            "{milliseconds} ms"
        );
        assert_drawn(browser, "lesson", false);
    }
}

fn page_after_page(browser: &Browser) {
    let inner = late(browser, 60, &long_lesson());
    browser.open(&browser.write("", "<p>Pages in frames, one after the other.</p>"));
    // The first press brings the core. The others come at another moment on each page, from long
    // before the core has come until the lesson has been drawn.
    let script = "const wrong = [];
         let undrawn = 0;
         for (let turn = given.from; turn < given.from + 5; turn += 1) {
           const frame = document.createElement('iframe');
           Object.assign(frame, { src: `${given.page}?${turn}`, width: 900, height: 600 });
           document.querySelector('main').append(frame);
           await new Promise((done) => (frame.onload = done));
           const { document: inner, told } = frame.contentWindow;
           const line = inner.querySelector('ply-line');
           const pressed = (selector) => line.shadowRoot.querySelector(selector);
           const [next, move] = [pressed('[data-do=next]'), pressed('#m30')];
           next.click();
           await pause(turn * 4);
           undrawn += Number.isInteger(line.made) ? 0 : 1;
           move.click();
           next.click();
           const moved = () => told.filter(({ type }) => type === 'ply-moved').map(({ detail }) => detail.node);
           for (let times = 0; times < 150 && moved().length < 3; times += 1) await pause(10);
           await pause(20);
           const found = [moved().join(), line.made, next === pressed('[data-do=next]')].join(' ');
           if (found !== '1,30,31 0 true') wrong.push([turn, found]);
           frame.remove();
         }
         return [wrong, undrawn]";
    let mut undrawn = 0;
    // All of them where time does not matter.
    let pages = match std::env::var("PLYLINE_LONG").is_ok_and(|long| !long.is_empty()) {
        true => 50,
        false => 15,
    };
    for from in (0..pages).step_by(5) {
        let done = browser.js_with(script, json!({ "page": inner, "from": from }));
        assert_eq!(done[0], json!([]));
        undrawn += done[1].as_u64().unwrap_or_default();
    }
    assert!(
        undrawn > 5,
        "the core has come before the second press on {} pages",
        pages - undrawn
    );
}

fn keys(browser: &Browser) {
    let body = format!("{}<p class=\"space\">Below.</p>", long_lesson());
    browser.open(&late(browser, 400, &body));
    until_heeded(browser);
    browser.js("move(1).focus({ preventScroll: true }); window.was = [scrollX, scrollY]");
    for _ in 0..3 {
        browser.press('\u{e014}'); // right
    }
    browser.press('\u{e012}'); // left
    let scrolled = browser
        .js("return [scrollX, scrollY].join() === was.join() && !Number.isInteger(line().made)");
    assert_eq!(scrolled, true);
    browser.until("line().current?.node === 2");
    let told = browser.js("await pause(50); return told.filter(({ type }) => type === 'ply-moved').map(({ detail }) => detail.node)");
    assert_eq!(told, json!([1, 2, 3, 2]));
    // In the board's grid an arrow moves the cursor, and Enter takes the piece.
    browser.open(&late(browser, 400, &body));
    until_heeded(browser);
    browser.js("inside('[data-square][tabindex=\"0\"]').focus()");
    browser.js("const key = (key) => line().shadowRoot.activeElement.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, composed: true, cancelable: true }));
         window.first = line().shadowRoot.activeElement;
         window.kept = [key('ArrowUp'), key('a'), key('Tab')]");
    assert_eq!(browser.js("return kept"), json!([false, true, true]));
    browser.until("line().current");
    browser.until("line().shadowRoot.activeElement !== first && line().shadowRoot.activeElement?.dataset.square");
}

fn answer(browser: &Browser) {
    let body = format!("{}{}", question(), lesson(NOTATION));
    browser.open(&late(browser, 300, &body));
    until_heeded(browser);
    browser.click("return inside('[data-square=c2]', 'quiz')");
    browser.click("return inside('[data-square=c4]', 'quiz')");
    browser.until("line('quiz').state === 'settled'");
    let told = browser.js("await pause(50);
         return [told.filter(({ type }) => type === 'ply-answered').length, line('quiz').made]");
    assert_eq!(told, json!([1, 0]));
}

fn article(browser: &Browser) {
    open(browser, &everything(), "");
    until_heeded(browser);
    let read = "document.querySelectorAll('ply-prose ply-ref').length";
    assert_eq!(browser.js(&format!("return {read}")), json!(1));
    browser.js("window.placed = () => [...document.querySelectorAll('h1, ply-prose, ply-prose p')].map((part) => {
           const { x, y, width, height } = part.getBoundingClientRect();
           return [x, y + scrollY, width, height].join();
         });
         window.was = placed();
         document.querySelector('#link').focus(); window.ref = document.querySelector('#ref')");
    assert_eq!(browser.js(&format!("return {LOADED}")), ALONE);
    browser.press('\u{e007}'); // Enter
    browser.until("line().current?.san === 'Bg5'");
    browser.until(&format!("{read} === 4"));
    let found = browser.js(
        "await stills(); await settled(); await pause(100);
         const paragraph = document.querySelector('ply-prose p');
         const linked = [...paragraph.querySelectorAll('ply-ref')].map(({ at, textContent }) => [at, textContent]);
         return { linked, text: paragraph.textContent, left: document.querySelectorAll('ply-prose p > a').length,
           focus: document.activeElement.textContent, ref: ref === document.querySelector('ply-ref[at=\"3.Nc3\"] > a'),
           words: [...paragraph.childNodes].map((node) => node.localName ?? node.data), moved: placed().filter((place, at) => place !== was[at]) }",
    );
    assert_eq!(
        found,
        json!({
            "linked": [["4.Bg5", "4.Bg5"], ["2.c4", "2.c4"], ["2...e6", "e6"]],
            "text": "After 4.Bg5 all is well, and 2.c4 e6 came before.",
            "left": 0, "focus": "4.Bg5", "ref": true,
            "words": ["After ", "ply-ref", " all is well, and ", "ply-ref", " ", "ply-ref", " came before."],
            "moved": [],
        })
    );
    // Now the links of the article move the lesson without the address's help.
    browser.js("document.querySelectorAll('ply-prose p ply-ref a')[1].click()");
    assert_eq!(browser.js("return line().current.san"), "c4");
}

fn first_link(browser: &Browser) {
    let between = "<p>Other things.</p>".repeat(90);
    let far = everything().replacen("</ply-prose>", &format!("</ply-prose>{between}"), 1);
    open(browser, &far, "");
    until_heeded(browser);
    browser.click("return document.querySelector('#link')");
    // Beside the article, or at the window's edge.
    browser.until(
        "line().current?.san === 'Bg5' && (({ top, bottom }) => top >= 0 && bottom <= innerHeight)(inside('.plate').getBoundingClientRect())",
    );
    let place = "return [line().current.ply, Math.round(scrollY), location.hash]";
    assert_eq!(browser.js(place), json!([7, 0, "#lesson/4.Bg5"]));
    browser.js("history.back()");
    browser.until("location.hash === '' && line().current.ply === 0");
    assert_eq!(browser.js(place), json!([0, 0, ""]));
}

fn rootless(browser: &Browser) {
    // As where a script puts a page's text into another.
    let body = lesson(NOTATION).replace(" shadowrootmode=\"open\"", "");
    let path = browser.write(&format!("{SHEETS}\n{MODULE}"), &body);
    browser.open(&path);
    browser.until("line().made > 50");
    browser.click("return button('next')");
    assert_drawn(browser, "lesson", false);
}

fn missing(browser: &Browser) {
    let folder = format!("{}-none", browser.engine.name());
    let entry = std::fs::read(browser.site.dist.join("plyline.mjs")).expect("a built module");
    browser.site.write(&format!("{folder}/plyline.mjs"), entry);
    let head = format!("{SHEETS}\n<script type=\"module\" src=\"/{folder}/plyline.mjs\"></script>");
    browser.expect("plyline lesson: The interactive board could not be loaded.");
    browser.allow("The interactive board could not be loaded.");
    browser.allow("404");
    browser.allow("MIME");
    browser.allow("plyline-packed.mjs");
    browser.allow("plyline-core.mjs");
    browser.open(&browser.write(&head, &lesson(NOTATION)));
    browser.until(&format!(
        "{LOADED} === '{ALONE}' && document.readyState === 'complete'"
    ));
    browser.click("return button('next')");
    browser.until(
        "told.some(({ type, detail }) => type === 'ply-failed' && detail.reason === 'core')",
    );
    assert_eq!(
        browser.js("return [visible(move(1)), visible(inside('.board'))]"),
        json!([true, true])
    );
}
