//! References in sentences: their links move the lesson, whose board comes to the window's edge where it
//! is out of sight.

use crate::harness::Case::{self, Everywhere, InOne};
use crate::hosting::hosts::with_sheet;
use crate::seeing::access::assert_clean_in_both;
use crate::support::browser::Browser;
use crate::support::browser::engine::Cap;
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "a reference moves the lesson, makes an entry of the history and keeps the focus",
        moves,
    ),
    InOne("a reference without a link gets one", linked),
    InOne(
        "a reference that names nothing stays as it is, and a finding says why",
        nothing,
    ),
    Everywhere(
        "a click with a key held, and one that the page has taken, are not the reference's",
        elsewhere,
    ),
    InOne(
        "a reference may name a move that the lesson does not hold",
        aside,
    ),
    Everywhere(
        "a reference waits for a lesson that comes late and follows one that is read anew",
        late,
    ),
    Everywhere(
        "a board that is out of sight comes to the edge of the window",
        small,
    ),
    Everywhere(
        "the board at the edge goes back by Escape and by its button, and shows what moves the lesson",
        closes,
    ),
    Everywhere(
        "the board at the edge leads into the lesson, and gives the focus back",
        keys,
    ),
    Everywhere("the board comes to the edge by a finger", touch),
    Everywhere(
        "the board at the edge stays inside a page of 320 pixels",
        narrow,
    ),
    Everywhere("the board at the edge is not printed", printed),
    InOne(
        "in a list of posts a name, or none, means the lesson of its own article",
        listed,
    ),
    InOne("the board at the edge says what it shows", said),
    InOne(
        "axe-core finds nothing in references and their boards",
        clean,
    ),
];

const LESSON: &str = "<ply-line id=\"lesson\"><pre>1. d4 d5 2. c4 e6 (2... dxc4 3. e4 b5 4. a4) (2... c6 3. Nf3) 3. Nc3 Nf6 4. Bg5 Be7 *</pre></ply-line>";
const REFS: &str = "<p>Take <ply-ref id=\"taken\" at=\"2...dxc4 3.e4\"><a href=\"#lesson/3.e4\">the pawn <em>at once</em></a></ply-ref> \
    or play <ply-ref id=\"bare\" for=\"lesson\" at=\"line B\">the <b>Slav</b></ply-ref>.</p>";

#[track_caller]
fn show(browser: &Browser, head: &str, body: &str) {
    browser.show(head, body);
    browser.js(
        "await Promise.all([...document.querySelectorAll('ply-ref')].map(({ ready }) => ready))",
    );
}

/// References far from their lesson.
#[track_caller]
fn far(browser: &Browser, css: &str) {
    let head = with_sheet(browser, &format!(".gap {{ height: 9000px }} {css}"));
    show(
        browser,
        &head,
        &format!("{REFS}<div class=\"gap\"></div>{LESSON}"),
    );
}

/// The board at the window's edge, if it is there.
const OPEN: &str = "const open = () => inside('.margin:popover-open', 'lesson');";

fn listed(browser: &Browser) {
    let post = |name: &str, moves: &str| {
        format!(
            "<article><ply-ref id=\"{name}\" at=\"1...{name}\">so</ply-ref><ply-ref for=\"a\" at=\"1...{name}\">so</ply-ref>\
             <ply-line id=\"a\"><pre>{moves} *</pre></ply-line></article>"
        )
    };
    browser.allow("an earlier element has the id a");
    let posts = [post("e5", "1. e4 e5"), post("d5", "1. d4 d5")].concat();
    show(browser, SCRIPT, &posts);
    browser.click("return line('d5').querySelector('a')");
    let shown =
        "return [...document.querySelectorAll('ply-line')].map(({ current }) => current.san)";
    assert_eq!(browser.js(shown), json!([null, "d5"]));
    let amiss = "return [...document.querySelectorAll('ply-ref')].flatMap(({ findings }) => findings.map(({ code }) => code))";
    assert_eq!(browser.js(amiss), json!([]));
}

fn moves(browser: &Browser) {
    show(browser, SCRIPT, &format!("{LESSON}{REFS}"));
    let before = browser.js("return entries").as_u64();
    browser.click("return line('taken').querySelector('em')");
    let now = "return [line('lesson').current.san, location.hash, entries, scrollY, document.activeElement.parentElement.id]";
    let length = before.map(|length| length + 1);
    assert_eq!(
        browser.js(now),
        json!(["e4", "#lesson/3.e4", length, 0, "taken"])
    );
    assert_eq!(
        browser.js(
            "return [told.at(-1).type, told.at(-1).detail.by, inside('.margin', 'lesson').popover]"
        ),
        json!(["ply-moved", "reader", null]),
        "the board is in its place"
    );
    // At the place where the lesson already is, nothing is written twice.
    browser.js("line('taken').querySelector('a').focus()");
    browser.press('\u{E007}');
    assert_eq!(browser.js("return entries").as_u64(), length);
    browser.js("history.back()");
    browser.until("line('lesson').current.node === 0");
}

fn linked(browser: &Browser) {
    show(browser, SCRIPT, &format!("{LESSON}{REFS}"));
    assert_eq!(
        browser.js("return line('bare').innerHTML"),
        "<a href=\"#lesson/2...c6\">the <b>Slav</b></a>"
    );
    browser.js("line('bare').at = '3.Nc3'; await pause(50)");
    assert_eq!(
        browser.js("return line('bare').innerHTML"),
        "<a href=\"#lesson/3.Nc3\">the <b>Slav</b></a>"
    );
    browser.click("return line('bare').querySelector('a')");
    assert_eq!(browser.js("return line('lesson').current.san"), "Nc3");
}

fn nothing(browser: &Browser) {
    show(
        browser,
        SCRIPT,
        &format!(
            "{LESSON}<p><ply-ref id=\"none\" at=\"9.Qh5\">nowhere</ply-ref> <ply-ref id=\"several\" at=\"d5 c4\">two</ply-ref>
             <ply-ref id=\"for\" for=\"other\" at=\"start\">no <a href=\"#elsewhere\">lesson</a></ply-ref></p>"
        ),
    );
    let found = browser.js(
        "return ['none', 'several', 'for'].map((id) => [line(id).findings.map(({ code }) => code).join(), line(id).innerHTML])",
    );
    assert_eq!(
        found,
        json!([
            ["P041", "nowhere"],
            ["", "<a href=\"#lesson/2.c4\">two</a>"],
            ["P064", "no <a href=\"#elsewhere\">lesson</a>"]
        ])
    );
    browser.click("return line('for').querySelector('a')");
    assert_eq!(
        browser.js("return [location.hash, told.filter(({ type }) => type !== 'ply-ready')]"),
        json!(["#elsewhere", []])
    );
}

fn elsewhere(browser: &Browser) {
    show(browser, SCRIPT, &format!("{LESSON}{REFS}"));
    let kept = browser.js(
        "const heed = (event) => { window.kept = !event.defaultPrevented; event.preventDefault() };
         document.addEventListener('click', heed);
         const link = line('taken').querySelector('a');
         const click = (how) => { link.dispatchEvent(new MouseEvent('click', { bubbles: true, composed: true, cancelable: true, ...how })); return window.kept };
         const all = [click({ ctrlKey: true }), click({ metaKey: true }), click({ shiftKey: true }), click({ altKey: true }), line('lesson').current.node];
         link.addEventListener('click', (event) => event.preventDefault(), { once: true });
         click({});
         all.push(line('lesson').current.node);
         click({});
         document.removeEventListener('click', heed);
         return [...all, line('lesson').current.node]",
    );
    assert_eq!(kept, json!([true, true, true, true, 0, 0, 6]));
}

fn aside(browser: &Browser) {
    show(
        browser,
        SCRIPT,
        &format!("{LESSON}<p><ply-ref id=\"a\" at=\"3.Nc3 Be7 4.e4\">quiet</ply-ref></p>"),
    );
    browser.click("return line('a').querySelector('a')");
    assert_eq!(
        browser.js("return [line('lesson').current.aside, location.hash, line('a').findings]"),
        json!([["Be7", "e4"], "#lesson/3.Nc3_Be7_4.e4", []])
    );
}

fn late(browser: &Browser) {
    browser.show(
        SCRIPT,
        "<p><ply-ref id=\"a\" for=\"late\" at=\"1...e5\">the reply</ply-ref></p>",
    );
    browser.js("await pause(100);
         const lesson = document.createElement('ply-line');
         lesson.id = 'late';
         lesson.text = '1. d4 d5 (1... e5) *';
         document.querySelector('main').append(lesson);
         await line('a').ready");
    let content = "return [line('a').innerHTML, line('a').findings]";
    let linked = json!(["<a href=\"#late/1...e5\">the reply</a>", []]);
    assert_eq!(browser.js(content), linked);
    browser.js("line('late').text = '1. e4 e5 *'; await line('late').ready; await pause(100)");
    browser.click("return line('a').querySelector('a')");
    assert_eq!(browser.js("return line('late').current.san"), "e5");
}

fn small(browser: &Browser) {
    far(browser, "");
    let before = browser.js(
        "const box = () => [...document.querySelectorAll('p')].map((part) => part.getBoundingClientRect().toJSON());
         return [box(), document.body.innerText, scrollY]",
    );
    browser.click("return line('taken').querySelector('a')");
    let after = browser.js(
        "const box = () => [...document.querySelectorAll('p')].map((part) => part.getBoundingClientRect().toJSON());
         return [box(), document.body.innerText, scrollY]",
    );
    let boxes = |found: &serde_json::Value| [found[0].clone(), found[2].clone()];
    assert_eq!(boxes(&before), boxes(&after), "nothing is pushed away");
    let shown = browser.js(&format!(
        "{OPEN} const box = open().getBoundingClientRect();
         const link = line('taken').querySelector('a').getBoundingClientRect();
         return [line('lesson').current.san, open().querySelector('figcaption').textContent, open().querySelectorAll('.pieces > use').length,
           box.top >= link.bottom && box.bottom <= innerHeight && box.height <= innerHeight * 0.4, document.activeElement.parentElement.id,
           getComputedStyle(line('taken')).display]"
    ));
    assert_eq!(
        shown,
        json!([
            "e4",
            "after 3.e4, Black to move",
            31,
            true,
            "taken",
            "inline"
        ])
    );
    // Another sentence, the same board.
    browser.click("return line('bare').querySelector('a')");
    assert_eq!(
        browser.js(&format!(
            "{OPEN} return open().querySelector('figcaption').textContent"
        )),
        "after 2\u{2026}c6, White to move"
    );
}

fn closes(browser: &Browser) {
    far(browser, "");
    let open = || {
        browser.click("return line('taken').querySelector('a')");
        browser.js("await pause(50)");
        assert_eq!(
            browser.js(&format!("{OPEN} return Boolean(open())")),
            true,
            "opened"
        );
    };
    let closed = format!("(() => {{ {OPEN} return !open() }})()");
    open();
    browser.press('\u{E00C}');
    browser.until(&closed);
    assert_eq!(
        browser.js("return [line('lesson').current.san, document.activeElement.parentElement.id]"),
        json!(["e4", "taken"])
    );
    open();
    browser.click(&format!(
        "{OPEN} return open().querySelector('[data-take=leave]')"
    ));
    browser.until(&closed);
    open();
    let caption = "inside('.margin:popover-open figcaption', 'lesson')?.textContent";
    browser.click(&format!(
        "{OPEN} return open().querySelector('[data-do=next]')"
    ));
    browser.until(&format!("{caption} === 'after 3\u{2026}b5, White to move'"));
    assert_eq!(
        browser.js("return scrollY"),
        0,
        "the page stays at the sentence"
    );
    browser.js("line('lesson').go('2.c4')");
    browser.until(&format!("{caption} === 'after 2.c4, Black to move'"));
}

fn keys(browser: &Browser) {
    far(browser, "");
    browser.js("line('taken').querySelector('a').focus()");
    browser.press('\u{E007}');
    browser.js("await pause(50)");
    browser.js("inside('[data-take=leave]', 'lesson').focus()");
    browser.press(' ');
    browser.until(&format!("(() => {{ {OPEN} return !open() }})()"));
    // On from there, wherever the engine puts the focus itself, it is not lost.
    assert_eq!(
        browser.js(
            "return document.activeElement.parentElement.id || document.activeElement.localName"
        ),
        "taken"
    );
    browser.press('\u{E007}');
    browser.js("await pause(50); inside('[data-take=text]', 'lesson').focus()");
    browser.press(' ');
    browser.until("line('lesson').shadowRoot.activeElement?.textContent === '3.e4'");
    browser.until("(({ top, bottom }) => top >= 0 && bottom <= innerHeight)(inside('.plate', 'lesson').getBoundingClientRect())");
}

fn touch(browser: &Browser) {
    browser.needs(Cap::Touch);
    far(browser, "");
    let place = browser.js("const { x, y } = line('taken').querySelector('a').getBoundingClientRect(); return [Math.round(x + 8), Math.round(y + 8)]");
    browser.point(
        "touch",
        &[
            json!({ "type": "pointerMove", "x": place[0], "y": place[1] }),
            json!({ "type": "pointerDown", "button": 0 }),
            json!({ "type": "pointerUp", "button": 0 }),
        ],
    );
    browser.until(&format!("(() => {{ {OPEN} return open() }})()"));
}

fn narrow(browser: &Browser) {
    far(browser, "main p { padding-inline-start: 50% }");
    let width = match browser.engine.name() {
        "webkit" => 447,
        _ => 320,
    };
    for id in ["taken", "bare"] {
        // One that is open when the page becomes narrow, and one that is opened there.
        if id == "bare" {
            browser.press('\u{E00C}');
        }
        browser.click(&format!("return line('{id}').querySelector('a')"));
        browser.width(Some(width));
        browser.js("await painted()");
        let shown = browser.js(&format!(
            "{OPEN} const {{ left, right, top, bottom }} = open().getBoundingClientRect();
             return [left >= 0, right <= document.documentElement.clientWidth, top >= 0, document.scrollingElement.scrollWidth <= innerWidth]"
        ));
        assert_eq!(shown, json!([true, true, true, true]), "{id}");
    }
}

fn printed(browser: &Browser) {
    browser.needs(Cap::Print);
    far(browser, "");
    browser.click("return line('taken').querySelector('a')");
    let text = browser.printed();
    assert!(
        text.contains("Take the pawn at once or play the Slav."),
        "{text}"
    );
    assert!(!text.contains("close"), "{text}");
}

fn said(browser: &Browser) {
    far(browser, "");
    browser.click("return line('taken').querySelector('a')");
    browser.until(&format!(
        "(() => {{ {OPEN} return open()?.querySelector('[role=status]').textContent === 'White pawn from e2 to e4.' }})()"
    ));
    assert_eq!(
        browser.js(&format!(
            "{OPEN} return open().querySelector('[role=grid]').getAttribute('aria-label')"
        )),
        "Board"
    );
}

fn clean(browser: &Browser) {
    for dark in [false, true] {
        browser.dark(dark);
        let head = format!(
            "<link rel=\"stylesheet\" href=\"/site.css\">{}",
            // Text that the board covers axe-core could not judge.
            with_sheet(
                browser,
                ".gap { height: 9000px } main p { font-size: 12px }"
            )
        );
        show(
            browser,
            &head,
            &format!("{REFS}<div class=\"gap\"></div>{LESSON}"),
        );
        assert_clean_in_both(browser, if dark { "dark" } else { "light" });
        browser.click("return line('taken').querySelector('a')");
        assert_clean_in_both(browser, if dark { "open, dark" } else { "open, light" });
    }
}
