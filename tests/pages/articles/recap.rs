//! The recap: a table made from a lesson, whose links move the lesson.

use crate::harness::Case::{self, Everywhere, InOne};
use crate::hosting::hosts::with_sheet;
use crate::seeing::access::assert_clean_in_both;
use crate::support::browser::Browser;
use crate::support::browser::engine::Cap;
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    InOne(
        "a recap is a table with a caption, headings and a row for each decision",
        table,
    ),
    InOne(
        "a recap is for the lesson's own side unless it names another",
        sides,
    ),
    Everywhere(
        "a link of a recap moves the lesson and takes the focus there",
        links,
    ),
    Everywhere(
        "a link that the reader wants in another tab stays a link",
        elsewhere,
    ),
    InOne("the answer to a question is nowhere in a recap", questions),
    Everywhere("a recap follows a lesson that is read anew", anew),
    InOne(
        "where a recap has no lesson its own content stays and a finding says why",
        missing,
    ),
    Everywhere(
        "on narrow pages the rows of a recap are stacked, and it is still a table",
        narrow,
    ),
    Everywhere("a page's rules do not reach into a recap", hosts),
    InOne(
        "a recap that is too long is cut, and its author is told",
        too_long,
    ),
    Everywhere("a recap is printed with all its rows", printed),
    InOne("a fence becomes a recap", fence),
    InOne("axe-core finds nothing in recaps", clean),
];

const LESSON: &str = "<ply-line id=\"lesson\"><pre>1. d4 {This is our move. And more.} d5 (1... Nf6 2. c4 {It comes here again.}) 2. c4 {All eyes on @d5!\n\nChoose: if you are *bold*} \
    (2. e3 {Slow but very sure.\n\nChoose: if not}) 2... e6 3. Nc3 Nf6 4. Bg5 {This is the pin.} *</pre></ply-line>";
const ASKS: &str = "<ply-line id=\"asks\"><pre>1. e4 e5 2. Nf3 {It attacks a pawn. Good.} {Ask: What guards @e5? Hint: a piece. Because: the knight secretly.} \
    Nc6 {Secretly.} (2... d6 {Secretly passive.}) 3. Bb5 {Secretly later.} a6 *</pre></ply-line>";

#[track_caller]
fn show(browser: &Browser, head: &str, body: &str) {
    browser.show(head, body);
    browser.js("await stills()");
}

/// The rows of a recap as text: where, and what is said there.
#[track_caller]
fn rows(browser: &Browser, id: &str) -> Value {
    browser.js_with(
        "return all('tbody tr', given).map((row) => [...row.cells].map((cell) =>
           [...cell.querySelectorAll('a, p')].map(({ textContent }) => textContent).join(' | ')).join(' => '))",
        json!(id),
    )
}

fn table(browser: &Browser) {
    show(
        browser,
        SCRIPT,
        &format!("{LESSON}<ply-recap id=\"a\"></ply-recap>"),
    );
    assert_eq!(
        rows(browser, "a"),
        json!([
            "the start => 1.d4 | This is our move.",
            "1.d4 d5 => 2.c4 if you are bold | All eyes on d5! | 2.e3 if not | Slow but very sure.",
            "2.c4 e6 3.Nc3 Nf6 => 4.Bg5 | This is the pin.",
            "1.d4 Nf6 => 2.c4 | It comes here again."
        ])
    );
    let shape = browser.js(
        "const table = inside('table', 'a');
         return [table.caption.textContent, [...table.tHead.rows[0].cells].map(({ localName, scope, textContent }) => [localName, scope, textContent].join(' ')),
           [...table.tBodies[0].rows].every(({ cells }) => cells.length === 2 && cells[0].localName === 'th' && cells[0].scope === 'row'),
           all('tbody th bdi', 'a').every(({ dir }) => dir === 'ltr'), all('a', 'a').map((link) => link.getAttribute('href'))]",
    );
    assert_eq!(
        shape,
        json!([
            "Recap for White",
            ["th col after", "th col White plays"],
            true,
            true,
            [
                "#lesson",
                "#lesson/1...d5",
                "#lesson/3...Nf6",
                "#lesson/1...Nf6"
            ]
        ])
    );
}

fn sides(browser: &Browser) {
    let black = LESSON.replace("id=\"lesson\"", "id=\"black\" side=\"black\"");
    let tagged = LESSON
        .replace("id=\"lesson\"", "id=\"tagged\"")
        .replace("<pre>", "<pre>[Side \"black\"]\n\n");
    show(
        browser,
        SCRIPT,
        &format!(
            "{LESSON}{black}{tagged}<ply-recap id=\"a\" for=\"lesson\"></ply-recap><ply-recap id=\"b\" for=\"black\"></ply-recap>
             <ply-recap id=\"c\" for=\"tagged\"></ply-recap><ply-recap id=\"d\" for=\"black\" side=\"white\"></ply-recap>"
        ),
    );
    let captions = || {
        browser.js("return ['a', 'b', 'c', 'd'].map((id) => inside('caption', id).textContent.split(' ').at(-1))")
    };
    assert_eq!(captions(), json!(["White", "Black", "Black", "White"]));
    // The reader's turning of the board is the reader's.
    browser.js(
        "line('lesson').flip(); line('a').side = 'black'; line('d').side = null; await pause(50)",
    );
    assert_eq!(captions(), json!(["Black", "Black", "Black", "Black"]));
    assert_eq!(rows(browser, "a")[0], "1.d4 => 1\u{2026}d5");
}

fn links(browser: &Browser) {
    let head = with_sheet(browser, ".gap { height: 9000px }");
    show(
        browser,
        &head,
        &format!("<ply-recap id=\"a\"></ply-recap><div class=\"gap\"></div>{LESSON}"),
    );
    browser.js("told.splice(0)");
    browser.click("return all('a', 'a')[2]");
    let there = "const { shadowRoot, current } = line('lesson');
        return [current.san, shadowRoot.activeElement?.id, location.hash]";
    assert_eq!(browser.js(there), json!(["Nf6", "m9", "#lesson/3...Nf6"]));
    // The page may be scrolled a frame later than the focus is set.
    browser.until(
        "(({ top, bottom }) => top >= 0 && bottom <= innerHeight)(line('lesson').shadowRoot.activeElement.getBoundingClientRect())",
    );
    // The arrow keys go on from there.
    browser.press('\u{E014}');
    assert_eq!(browser.js("return line('lesson').current.san"), "Bg5");
    // By keyboard, to the start, where the first move has the focus.
    browser.js("all('a', 'a')[0].focus()");
    browser.press('\u{E007}');
    assert_eq!(
        browser.js(
            "return [line('lesson').current.node, line('lesson').shadowRoot.activeElement?.id]"
        ),
        json!([0, "m1"])
    );
    let told = browser.js("return told.filter(({ type }) => type === 'ply-moved').map(({ detail }) => [detail.node, detail.by])");
    assert_eq!(told, json!([[9, "reader"], [10, "reader"], [0, "reader"]]));
}

fn elsewhere(browser: &Browser) {
    show(
        browser,
        SCRIPT,
        &format!("{LESSON}<ply-recap id=\"a\"></ply-recap>"),
    );
    let kept = browser.js(
        "const heed = (event) => { window.kept = !event.defaultPrevented; event.preventDefault() };
         document.addEventListener('click', heed);
         const click = (how) => { all('a', 'a')[2].dispatchEvent(new MouseEvent('click', { bubbles: true, composed: true, cancelable: true, ...how })); return window.kept };
         const all_kept = [click({ ctrlKey: true }), click({ metaKey: true }), click({ shiftKey: true }), line('lesson').current.node, click({})];
         document.removeEventListener('click', heed);
         return [...all_kept, line('lesson').current.node]",
    );
    assert_eq!(kept, json!([true, true, true, 0, false, 9]));
}

fn questions(browser: &Browser) {
    show(
        browser,
        SCRIPT,
        &format!(
            "{ASKS}<ply-recap id=\"w\"></ply-recap><ply-recap id=\"b\" side=\"black\"></ply-recap>"
        ),
    );
    assert_eq!(
        rows(browser, "b"),
        json!(["1.e4 e5 2.Nf3 => There is a question here. | What guards e5?"])
    );
    assert_eq!(
        rows(browser, "w"),
        json!([
            "1.e4 e5 => 2.Nf3 | It attacks a pawn.",
            "2.Nf3 => There is a question here. | What guards e5?"
        ])
    );
    let tells = browser.js(
        "const whole = ['w', 'b'].map((id) => line(id).shadowRoot.innerHTML).join();
         return ['Nc6', 'd6', 'Bb5', 'ecretly', 'a piece'].filter((word) => whole.includes(word))",
    );
    assert_eq!(tells, json!([]));
}

fn anew(browser: &Browser) {
    show(
        browser,
        SCRIPT,
        &format!("<ply-recap id=\"a\"></ply-recap>{LESSON}"),
    );
    browser.js("line('lesson').text = '1. e4 {It is another move.} e5 *'");
    browser.until("all('tbody tr', 'a').length === 1");
    assert_eq!(
        rows(browser, "a"),
        json!(["the start => 1.e4 | It is another move."])
    );
}

fn missing(browser: &Browser) {
    browser.expect("plyline for: ");
    browser.expect("plyline bare: ");
    browser.expect("plyline debug: ");
    show(
        browser,
        SCRIPT,
        "<ply-recap id=\"for\" for=\"nowhere\"><p>The words.</p></ply-recap><ply-recap id=\"bare\"></ply-recap>
         <ply-recap id=\"debug\" data-plyline=\"debug\"><p>The words.</p></ply-recap>",
    );
    let shown = browser.js(
        "return ['for', 'bare', 'debug'].map((id) => {
           const words = line(id).querySelector('p');
           return [line(id).findings.map(({ code }) => code).join(), words ? visible(words) : null, all('.failed', id).length, all('.notes li', id).length];
         })",
    );
    assert_eq!(
        shown,
        json!([
            ["P064", true, 0, 0],
            ["P064", null, 1, 0],
            ["P064", true, 0, 1]
        ])
    );
}

/// The longest recap that the demo has.
const DEMO: &str = "const recap = document.createElement('ply-recap');
    recap.id = 'recap';
    line().after(recap);
    await recap.ready;
    recap.scrollIntoView();
    while (!recap.shadowRoot?.querySelector('table')) await painted();";

fn narrow(browser: &Browser) {
    // 320 px: WCAG 2.2, success criterion 1.4.10. WebKitGTK's window is never so narrow.
    for width in [1280, 390, 320] {
        browser.width(None);
        browser.visit("/the-pawn-that-is-not-free/");
        browser.js(DEMO);
        let frame = browser.engine.name() == "webkit" && width < 447;
        if frame {
            browser.js_with(
                "document.body.style.width = `${given}px`; document.body.style.margin = '0'",
                json!(width),
            );
        } else {
            browser.width(Some(width));
        }
        let shown = browser.js(
            "await painted();
             const rows = all('tbody tr', 'recap');
             const boxes = rows.map(({ cells }) => [...cells].map((cell) => cell.getBoundingClientRect()));
             const host = line('recap').getBoundingClientRect();
             return { rows: rows.length > 10, stacked: boxes.every(([place, says]) => says.top >= place.bottom - 1),
               beside: boxes.every(([place, says]) => says.left >= place.right - 1),
               inside: all('tbody a, tbody p', 'recap').every((part) => part.getBoundingClientRect().right <= host.right + 1),
               roles: [...new Set(all('[role]', 'recap').map((part) => `${part.localName} ${part.role ?? part.getAttribute('role')}`))].sort() }",
        );
        let is_narrow = width < 480;
        let roles = [
            "table table",
            "tbody rowgroup",
            "td cell",
            "th columnheader",
            "th rowheader",
            "thead rowgroup",
            "tr row",
        ];
        assert_eq!(
            shown,
            json!({ "rows": true, "stacked": is_narrow, "beside": !is_narrow, "inside": true, "roles": roles }),
            "{width} px"
        );
        if !frame {
            assert_eq!(
                browser.js("return document.scrollingElement.scrollWidth <= innerWidth"),
                true
            );
        }
        // WCAG 2.2, success criterion 2.5.8.
        let small = browser.js("return all('a', 'recap').filter((link) => { const { width, height } = link.getBoundingClientRect(); return width < 23.99 || height < 23.99 }).length");
        assert_eq!(small, 0);
    }
}

fn hosts(browser: &Browser) {
    let css = "body { text-transform: uppercase; letter-spacing: 0.4em; white-space: pre; text-indent: 4em; caption-side: bottom;
                 border-collapse: separate; text-align: right; font: 19px/2 'DejaVu Serif', serif; color: rgb(20, 40, 60) }
               table, tr, td, th, caption, a, p { display: none !important; border: 5px solid red !important }";
    show(
        browser,
        &with_sheet(browser, css),
        &format!("{LESSON}<ply-recap id=\"a\"></ply-recap>"),
    );
    let style = browser.js(
        "const of = (selector, ...names) => { const style = getComputedStyle(inside(selector, 'a')); return names.map((name) => style[name]) };
         return [of('tbody th', 'textTransform', 'textIndent', 'display', 'color', 'fontSize', 'borderTopWidth'), of('caption', 'captionSide'), of('table', 'borderCollapse')]",
    );
    assert_eq!(
        style,
        json!([
            [
                "none",
                "0px",
                "table-cell",
                "rgb(20, 40, 60)",
                "19px",
                "0px"
            ],
            ["top"],
            ["collapse"]
        ])
    );
}

fn too_long(browser: &Browser) {
    show(
        browser,
        SCRIPT,
        &format!("{LESSON}<ply-recap id=\"a\"></ply-recap>"),
    );
    browser.js(
        "const moves = Array.from({ length: 501 }, (_, at) => `${at + 1}. ${at % 2 ? 'Ng1' : 'Nf3'} {Said.} ${at % 2 ? 'Ng8' : 'Nf6'}`);
         line('lesson').text = `${moves.join(' ')} *`",
    );
    browser.until("all('tbody tr', 'a').length === 501");
    assert_eq!(
        browser.js("return [line('a').findings.map(({ code }) => code), all('tbody tr', 'a').at(-1).textContent, all('tbody a', 'a').at(-1).textContent]"),
        json!([["P065"], "\u{2026}", "499.Nf3 Nf6"])
    );
}

fn printed(browser: &Browser) {
    browser.needs(Cap::Print);
    show(
        browser,
        SCRIPT,
        &format!("{LESSON}<ply-recap id=\"a\"></ply-recap>"),
    );
    let text = browser.printed();
    let text = text.split_once("Recap for White").expect("the recap").1;
    let mut rest = text;
    for part in [
        "after",
        "White plays",
        "the start",
        "1.d4",
        "This is our move.",
        "2.c4",
        "if you are bold",
        "2.e3",
        "4.Bg5",
        "This is the pin.",
        "1.d4 Nf6",
        "It comes here again.",
    ] {
        let at = rest.find(part);
        let at = at.unwrap_or_else(|| panic!("{part:?} is not in its place in {text:?}"));
        rest = &rest[at + part.len()..];
    }
}

fn fence(browser: &Browser) {
    show(
        browser,
        SCRIPT,
        &format!(
            "{LESSON}<pre><code class=\"language-ply-recap\">[Id \"a\"]\n[Side \"black\"]\n</code></pre>"
        ),
    );
    assert_eq!(
        browser.js("return [inside('caption', 'a').textContent, line('a').textContent]"),
        json!(["Recap for Black", ""])
    );
}

fn clean(browser: &Browser) {
    let head = format!("<link rel=\"stylesheet\" href=\"/site.css\">\n{SCRIPT}");
    let body = format!(
        "{LESSON}{ASKS}<ply-recap for=\"lesson\"></ply-recap><ply-recap for=\"asks\"></ply-recap><ply-recap for=\"lesson\" side=\"black\"></ply-recap>"
    );
    for dark in [false, true] {
        browser.dark(dark);
        show(browser, &head, &body);
        assert_clean_in_both(browser, if dark { "dark" } else { "light" });
    }
}
