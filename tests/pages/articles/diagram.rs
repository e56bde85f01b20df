//! Still diagrams: of a placement, of a lesson's position, from fences, and where they cannot be
//! shown.

use crate::board::picture;
use crate::harness::Case::{self, Everywhere, InOne};
use crate::hosting::hosts::{never_at_rest, with_sheet};
use crate::seeing::access::assert_clean_in_both;
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    Everywhere(
        "a diagram shows any placement, from either side, with what is known of it below",
        placement,
    ),
    InOne(
        "a diagram shows a position of a lesson with its last move and the marks of its comment",
        position,
    ),
    InOne(
        "a diagram is a picture with all its pieces and marks in words, and nothing to act on",
        in_words,
    ),
    InOne("fences become diagrams", fences),
    InOne(
        "a fence that cannot be placed shows its plain words and never its tags",
        unplaced,
    ),
    Everywhere(
        "a diagram is drawn anew when its attributes change",
        changed,
    ),
    Everywhere(
        "a diagram waits for a lesson that comes late and follows one that is read anew",
        late,
    ),
    InOne(
        "where a diagram cannot be shown its own content stays and a finding says why",
        missing,
    ),
    Everywhere(
        "a diagram far below the view is read at once, drawn when it comes near, and printed",
        far_below,
    ),
    Everywhere(
        "a diagram that is put elsewhere keeps its nodes",
        put_elsewhere,
    ),
    Everywhere("a trap in a diagram costs that diagram only", trapped),
    Everywhere(
        "a page's rules and a right-to-left page do not change a diagram's board",
        hosts,
    ),
    InOne("a diagram speaks the language of its page", german),
    InOne("axe-core finds nothing in diagrams", clean),
];

const LESSON: &str = "<ply-line id=\"lesson\"><pre>1. d4 d5 2. c4 {Eyes @!d5.} e6 (2... dxc4 3. e4) 3. Nc3 Nf6 *</pre></ply-line>";
/// After 1.e4 (PGN standard, 16.1.4).
const FEN: &str = "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 1";

#[track_caller]
fn show(browser: &Browser, head: &str, body: &str) {
    browser.show(head, body);
    browser.js("await stills()");
}

#[track_caller]
fn assert_shows(browser: &Browser, id: &str, fen: &str, black_below: bool, caption: Value) {
    let shown = browser.js_with(
        "return [picture(given), coordinates(given), inside('figcaption', given)?.textContent ?? null]",
        json!(id),
    );
    let signs = match black_below {
        true => ["hgfedcba", "12345678"],
        false => ["abcdefgh", "87654321"],
    };
    assert_eq!(shown, json!([picture(fen, black_below), signs, caption]));
}

fn placement(browser: &Browser) {
    let body = format!(
        "<ply-diagram id=\"whole\" fen=\"{FEN}\"></ply-diagram>
         <ply-diagram id=\"pieces\" fen=\"8/8/3n4/8/8/8/PPP5/8\" side=\"black\"></ply-diagram>
         <ply-diagram id=\"empty\" fen=\"8/8/8/8/8/8/8/8 w\"></ply-diagram>
         <ply-diagram id=\"pre\" side=\"black\"><pre>\n8/8/8/k6R/8/8/8/K7 b - - 0 1\n?a5 h5-a5\n</pre></ply-diagram>"
    );
    show(browser, SCRIPT, &body);
    assert_shows(browser, "whole", FEN, false, json!("Black to move"));
    assert_shows(browser, "pieces", "8/8/3n4/8/8/8/PPP5/8", true, Value::Null);
    assert_shows(
        browser,
        "empty",
        "8/8/8/8/8/8/8/8",
        false,
        json!("White to move"),
    );
    assert_shows(
        browser,
        "pre",
        "8/8/8/k6R/8/8/8/K7",
        true,
        json!("Black to move"),
    );
    let signs = browser.js(
        "return ['whole', 'pre'].map((id) => [inside('.check', id).getAttribute('d') !== '', all('.marks > *', id).length])",
    );
    assert_eq!(signs, json!([[false, 0], [true, 2]]));
    assert_eq!(
        browser.js("return [...document.querySelectorAll('ply-diagram')].flatMap(({ findings }) => findings)"),
        json!([])
    );
}

fn position(browser: &Browser) {
    let body = format!(
        "<ply-diagram id=\"start\"></ply-diagram>
         <ply-diagram id=\"at\" at=\"2.c4\"></ply-diagram>
         <ply-diagram id=\"own\" for=\"lesson\" at=\"3.Nc3 Nf6\" marks=\"!e4 ?b4-b5\" side=\"black\"></ply-diagram>
         <ply-diagram id=\"none\" at=\"2.c4\" marks=\"\"></ply-diagram>{LESSON}"
    );
    show(browser, SCRIPT, &body);
    let fen = |node: u32| {
        let fen = browser.js_with("return line().lesson.node(given).fen", json!(node));
        fen.as_str().expect("a FEN").to_owned()
    };
    assert_shows(
        browser,
        "start",
        &fen(0),
        false,
        json!("the start, White to move"),
    );
    assert_shows(
        browser,
        "at",
        &fen(3),
        false,
        json!("after 2.c4, Black to move"),
    );
    assert_shows(
        browser,
        "own",
        &fen(8),
        true,
        json!("after 3\u{2026}Nf6, White to move"),
    );
    let signs = browser.js(
        "return ['start', 'at', 'own', 'none'].map((id) => [inside('.last', id).getAttribute('d') !== '', all('.marks > *', id).length])",
    );
    assert_eq!(signs, json!([[false, 0], [true, 1], [true, 2], [true, 0]]));
    // It shows the lesson, and does not follow the reader.
    browser.js("line().next(); line().flip()");
    assert_shows(
        browser,
        "start",
        &fen(0),
        false,
        json!("the start, White to move"),
    );
}

fn in_words(browser: &Browser) {
    show(
        browser,
        SCRIPT,
        "<ply-diagram id=\"a\" fen=\"8/5k2/8/8/3P4/8/4K3/8 b\" marks=\"c5 !e4 ?b4-b5\"></ply-diagram>",
    );
    let shown = browser.js(
        "const board = inside('.board', 'a');
         return [board.getAttribute('role'), board.getAttribute('aria-label'), all('[tabindex], button, a, input, [role=grid]', 'a').length]",
    );
    assert_eq!(
        shown,
        json!([
            "img",
            "White: king e2, pawn d4; Black: king f7. Marked: c5; e4, a strong square; the arrow from b4 to b5, a plan to stop",
            0
        ])
    );
}

fn fences(browser: &Browser) {
    let body = format!(
        "<pre><code class=\"language-fen\">8/8/8/8/8/8/4K3/8 w - - 0 1\n!e4\n</code></pre>
         <div class=\"highlight\"><pre class=\"lang-fen\"><code>8/5k2/8/8/8/8/8/8\n</code></pre></div>
         <pre><code class=\"language-ply-diagram\">[Id \"tags\"]\n[At \"2...dxc4\"]\n[Side \"black\"]\n[Marks \"c4\"]\n</code></pre>
         <pre data-plyline=\"off\"><code class=\"language-fen\">8/8/8/8/8/8/8/8</code></pre>{LESSON}"
    );
    show(browser, SCRIPT, &body);
    let shown = browser.js(
        "const found = [...document.querySelectorAll('ply-diagram')];
         return found.map((element, at) => { element.id = `d${at}`; return [all('.pieces > use', element.id).length, all('.marks > *', element.id).length,
           inside('figcaption', element.id)?.textContent ?? null, element.querySelector('pre') !== null, element.querySelector('pre')?.checkVisibility() ?? false] })",
    );
    assert_eq!(
        shown,
        json!([
            [1, 1, "White to move", true, false],
            [1, 0, null, true, false],
            [31, 1, "after 2\u{2026}dxc4, White to move", false, false]
        ])
    );
    assert_eq!(
        browser.js("return ['.highlight', 'main > pre'].map((selector) => document.querySelectorAll(selector).length)"),
        json!([0, 1]),
        "the wrapper is gone and the fence that is off has stayed"
    );
}

fn unplaced(browser: &Browser) {
    browser.expect("plyline words: ");
    browser.expect("plyline tags: ");
    let body = format!(
        "<pre><code class=\"language-ply-diagram\">[Id \"words\"]\n[At \"9.a3\"]\n\nThe quiet move.\n</code></pre>
         <pre><code class=\"language-ply-diagram\">[Id \"tags\"]\n[At \"9.a3\"]\n</code></pre>{LESSON}"
    );
    show(browser, SCRIPT, &body);
    let read = |id: &str| {
        browser.js_with(
            "return [line(given).innerText.trim(), line(given).innerText.includes('[')]",
            json!(id),
        )
    };
    assert_eq!(read("words"), json!(["The quiet move.", false]));
    assert_eq!(read("tags")[1], json!(false));
}

fn changed(browser: &Browser) {
    let body = format!("<ply-diagram id=\"a\" at=\"2.c4\"></ply-diagram>{LESSON}");
    show(browser, SCRIPT, &body);
    browser.js("window.kept = inside('.board', 'a'); window.element = line('a')");
    let caption = |script: &str| {
        browser.js(&format!(
            "{script}; await pause(50); return inside('figcaption', 'a')?.textContent ?? null"
        ))
    };
    assert_eq!(
        caption("element.at = '3.Nc3'"),
        "after 3.Nc3, Black to move"
    );
    assert_eq!(
        caption("element.removeAttribute('at')"),
        "the start, White to move"
    );
    assert_eq!(
        caption("element.fen = '8/8/8/8/8/8/4K3/8 b'"),
        "Black to move"
    );
    browser.js("element.side = 'black'; element.marks = 'e2'; await pause(50)");
    assert_shows(
        browser,
        "a",
        "8/8/8/8/8/8/4K3/8",
        true,
        json!("Black to move"),
    );
    assert_eq!(
        browser.js("return [kept === inside('.board', 'a'), all('.marks > *', 'a').length, element.htmlFor, element.fen]"),
        json!([true, 1, null, "8/8/8/8/8/8/4K3/8 b"])
    );
}

fn late(browser: &Browser) {
    browser.open(&browser.write(
        SCRIPT,
        "<ply-diagram id=\"a\" for=\"late\" at=\"1.e4\"></ply-diagram>",
    ));
    browser.js("await pause(200);
         const line = document.createElement('ply-line');
         line.id = 'late';
         line.text = '1. e4 *';
         document.querySelector('main').append(line)");
    browser.until("line('a').shadowRoot && inside('figcaption', 'a')?.textContent === 'after 1.e4, Black to move'");
    browser.js("line('late').text = '1. e4! e5 2. d3 (2. d4) *'");
    browser.until("inside('figcaption', 'a').textContent === 'after 1.e4!, Black to move'");
    browser.js("line('a').at = 'line A'");
    browser.until("inside('figcaption', 'a').textContent === 'after 2.d4, Black to move'");
    assert_eq!(
        browser.js("return told.filter(({ type }) => type === 'ply-failed').length"),
        0
    );
}

fn missing(browser: &Browser) {
    for name in ["fen", "bare", "at", "for", "several", "debug"] {
        browser.expect(match name {
            "fen" => "plyline fen: ",
            "bare" => "plyline bare: ",
            "at" => "plyline at: ",
            "for" => "plyline for: ",
            "several" => "plyline several: ",
            _ => "plyline debug: ",
        });
    }
    let body = format!(
        "<ply-diagram id=\"fen\" fen=\"8/8/9\"><p>The words.</p></ply-diagram>
         <ply-diagram id=\"bare\" fen=\"\"></ply-diagram>
         <ply-diagram id=\"at\" for=\"lesson\" at=\"9.Kh8\"><p>The words.</p></ply-diagram>
         <ply-diagram id=\"for\" for=\"nowhere\"><p>The words.</p></ply-diagram>
         <ply-diagram id=\"several\"><p>The words.</p></ply-diagram>
         <ply-diagram id=\"debug\" fen=\"8/8/9\" data-plyline=\"debug\"><p>The words.</p></ply-diagram>
         <ply-diagram id=\"marks\" fen=\"8/8/8/8/8/8/8/8\" marks=\"i9 e4\" data-plyline=\"debug\"></ply-diagram>
         {LESSON}<ply-line id=\"other\"><pre>1. e4 *</pre></ply-line>"
    );
    show(browser, SCRIPT, &body);
    let shown = browser.js(
        "return Object.fromEntries(['fen', 'bare', 'at', 'for', 'several', 'debug', 'marks'].map((id) => {
           const element = line(id);
           const words = element.querySelector('p');
           return [id, [element.findings.map(({ code }) => code).join(), words ? visible(words) : null, all('.failed', id).length, all('.notes li', id).length, all('.board', id).length]];
         }))",
    );
    assert_eq!(
        shown,
        json!({
            "fen": ["P019", true, 0, 0, 0],
            "bare": ["P019", null, 1, 0, 0],
            "at": ["P041", true, 0, 0, 0],
            "for": ["P064", true, 0, 0, 0],
            "several": ["P064", true, 0, 0, 0],
            "debug": ["P019", true, 0, 1, 0],
            "marks": ["P051", null, 0, 1, 1]
        })
    );
    let told = browser.js(
        "return told.filter(({ type }) => type === 'ply-failed').map(({ id, detail }) => `${id} ${detail.reason}`).sort()",
    );
    assert_eq!(
        told,
        json!([
            "at notation",
            "bare notation",
            "debug notation",
            "fen notation",
            "for source",
            "several source"
        ])
    );
    // What was fixed is shown, and the words are its caption.
    browser.js("line('fen').fen = '8/8/8/8/8/8/8/8'; await pause(50)");
    assert_eq!(
        browser.js("return [line('fen').findings.length, all('.board', 'fen').length, visible(line('fen').querySelector('p'))]"),
        json!([0, 1, true])
    );
}

fn far_below(browser: &Browser) {
    let head = never_at_rest(browser, ".gap { height: 9000px }");
    let body = "<div class=\"gap\"></div><ply-diagram id=\"a\" fen=\"8/8/8/8/8/8/8/8\" marks=\"i9\"></ply-diagram>";
    browser.open(&browser.write(&head, body));
    let early = browser.js("await customElements.whenDefined('ply-diagram');
         await line('a').ready;
         await painted();
         const before = [line('a').findings.length, all('.board', 'a').length];
         dispatchEvent(new Event('beforeprint'));
         return [...before, all('.board', 'a').length]");
    assert_eq!(early, json!([1, 0, 1]));
    browser.open(&browser.write(&head, body));
    browser.js("await customElements.whenDefined('ply-diagram'); await line('a').ready; line('a').scrollIntoView()");
    browser.until("line('a').shadowRoot && all('.board', 'a').length === 1");
}

fn put_elsewhere(browser: &Browser) {
    let body =
        format!("<ply-diagram id=\"a\" at=\"2.c4\"></ply-diagram>{LESSON}<section></section>");
    show(browser, SCRIPT, &body);
    let kept = browser.js(
        "const nodes = all('*', 'a');
         const element = line('a');
         element.remove();
         await pause(20);
         document.querySelector('section').append(element);
         document.querySelector('main').prepend(element);
         await pause(50);
         const now = all('*', 'a');
         return nodes.length > 50 && nodes.length === now.length && nodes.every((node, at) => node === now[at])",
    );
    assert_eq!(kept, true);
}

fn trapped(browser: &Browser) {
    browser.expect("plyline a: ");
    let head = "<script src=\"/trap.js\"></script>\n<script defer src=\"/plyline.js\"></script>";
    let body = format!(
        "<ply-diagram id=\"a\" fen=\"8/8/8/8/8/8/8/8\"><p>The words.</p></ply-diagram>
         <ply-diagram id=\"b\" at=\"2.c4\"></ply-diagram>{LESSON}"
    );
    show(browser, head, &body);
    browser.js("line().go('3.Nc3'); trap.armed = true; line('a').fen = '8/8/8/8/8/8/4K3/8'; await pause(100)");
    let after = browser.js(
        "return { made: trap.made, words: visible(line('a').querySelector('p')), board: all('.board', 'a').length,
           other: all('.board', 'b').length, at: line().current.san, next: line().next(),
           told: told.filter(({ type }) => type === 'ply-failed').map(({ id, detail }) => [id, detail.reason]) }",
    );
    assert_eq!(
        after,
        json!({ "made": 2, "words": true, "board": 0, "other": 1, "at": "Nc3", "next": true, "told": [["a", "core"]] })
    );
    browser.js("line('b').at = '1.d4'; await pause(50)");
    assert_eq!(
        browser.js("return inside('figcaption', 'b').textContent"),
        "after 1.d4, Black to move"
    );
}

fn hosts(browser: &Browser) {
    let css = "html { direction: rtl } body { text-transform: uppercase; letter-spacing: 0.4em; text-align: right; white-space: pre; fill: red;
                 stroke: red; stroke-width: 9px; stroke-dasharray: 3; text-indent: 4em }
               svg, path, figure, figcaption { display: none !important; width: 10px !important; margin: 40px !important }
               main ply-diagram { width: 300px; padding: 4px }";
    browser.show(
        &with_sheet(browser, css),
        &format!("<ply-diagram id=\"a\" fen=\"{FEN}\"></ply-diagram>"),
    );
    browser.js("await stills()");
    assert_shows(browser, "a", FEN, false, json!("Black to move"));
    let shape = browser.js(
        "const style = (selector) => getComputedStyle(inside(selector, 'a'));
         const at = (sign) => { const [x, y] = ['x', 'y'].map((name) => inside('.pieces > use', 'a').getAttribute(name)); return [x, y] };
         const board = inside('.board', 'a').getBoundingClientRect();
         const first = inside('.pieces > use', 'a').getBoundingClientRect();
         return [style('figcaption').textTransform, style('figcaption').letterSpacing.replace('0px', 'normal'), style('figcaption').whiteSpaceCollapse ?? 'collapse',
           style('.dark').strokeDasharray, style('.dark').stroke, Math.abs(board.width - board.height) < 4, board.width > 250,
           first.left < board.left + board.width / 4]",
    );
    assert_eq!(
        shape,
        json!([
            "none", "normal", "collapse", "none", "none", true, true, true
        ]),
        "a8 is at the left"
    );
    assert_eq!(
        browser.js("return document.scrollingElement.scrollWidth <= innerWidth"),
        true
    );
}

fn german(browser: &Browser) {
    let head =
        "<script src=\"/words/de.js\"></script>\n<script defer src=\"/plyline.js\"></script>";
    let body = "<div lang=\"de\"><ply-diagram id=\"a\" fen=\"8/5k2/8/8/3P4/8/4K3/8 b\" marks=\"!e4\"></ply-diagram></div>";
    show(browser, head, body);
    let words = browser.js("return [inside('figcaption', 'a').textContent, inside('.board', 'a').getAttribute('aria-label')]");
    assert_eq!(
        words,
        json!([
            "Schwarz am Zug",
            "Wei\u{df}: K\u{f6}nig e2, Bauer d4; Schwarz: K\u{f6}nig f7. Markiert: e4, ein starkes Feld"
        ])
    );
}

fn clean(browser: &Browser) {
    browser.expect("plyline wrong: ");
    let head = format!("<link rel=\"stylesheet\" href=\"/site.css\">\n{SCRIPT}");
    let body = format!(
        "<ply-diagram fen=\"8/8/8/k6R/8/8/8/K7 b\" marks=\"!e4 ?b4-b5 c5\"></ply-diagram><ply-diagram at=\"2.c4\"></ply-diagram>
         <ply-diagram id=\"wrong\" fen=\"8/8/9\" data-plyline=\"debug\"></ply-diagram>{LESSON}"
    );
    for dark in [false, true] {
        browser.dark(dark);
        show(browser, &head, &body);
        assert_clean_in_both(browser, if dark { "dark" } else { "light" });
    }
}
