//! Pages whose style sheets know nothing of us: what a lesson takes from them,
//! and what it does not let in.

use crate::harness::Case::{self, Everywhere};
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    Everywhere("a lesson has the page's type, size and ink", inherits),
    Everywhere(
        "what a page inherits to its text does not change how moves are written",
        inherited,
    ),
    Everywhere(
        "rules for every element of the page do not reach into a lesson",
        universal,
    ),
    Everywhere(
        "rules for the lesson's element move it and do not break it",
        on_the_host,
    ),
    Everywhere(
        "a page that turns dark by a class has a dark lesson at once",
        dark_by_class,
    ),
    Everywhere(
        "a page that is dark for readers who prefer it has a dark lesson",
        dark_by_preference,
    ),
    Everywhere(
        "a paper that fades to another is followed to its end",
        dark_slowly,
    ),
    Everywhere(
        "on a right-to-left page the board is not mirrored and moves read as moves",
        right_to_left,
    ),
    Everywhere(
        "on a right-to-left page an English comment ends with its full stop",
        full_stop,
    ),
];

/// A lesson with every kind of text that a page shows.
pub const LESSON: &str = "<ply-line id=\"lesson\"><pre>1. d4 {A word about @d5 and *why*.} d5 \
    2. c4 {Choose: when you like [the long way](#1.d4).} e6 (2... dxc4 {takes the pawn} 3. e4 e5) \
    (2... c6 {keeps it}) 3. Nc3 Nf6 *</pre></ply-line>";

/// A head with a style sheet of the page's own: inline ones are against the strict policy.
pub fn with_sheet(browser: &Browser, css: &str) -> String {
    let name = format!("{}-host.css", browser.engine.name());
    browser.site.write(&name, css);
    format!("<link rel=\"stylesheet\" href=\"/{name}\">\n{SCRIPT}")
}

/// A head with a style sheet, of a page that never rests; `rest()` lets it, for one task.
pub fn never_at_rest(browser: &Browser, css: &str) -> String {
    let name = format!("{}-busy.js", browser.engine.name());
    let script = "globalThis.requestIdleCallback = (call) => { globalThis.rest = call; };";
    browser.site.write(&name, script);
    format!(
        "<script src=\"/{name}\"></script>\n{}",
        with_sheet(browser, css)
    )
}

/// The computed values of some properties of an element in the lesson, ply-line itself for "".
fn style(browser: &Browser, selector: &str, names: &[&str]) -> Vec<String> {
    let values = browser.js_with(
        "const [selector, names] = given;
         const style = getComputedStyle(selector ? inside(selector) : line());
         return names.map((name) => style.getPropertyValue(name))",
        json!([selector, names]),
    );
    serde_json::from_value(values).expect("a list of texts")
}

fn inherits(browser: &Browser) {
    let css = "body { font: 19px/1.7 'DejaVu Serif', serif; color: rgb(20, 40, 60) }";
    browser.show(&with_sheet(browser, css), LESSON);
    let page = style(browser, "", &["font-family", "color"]);
    for selector in [
        ".lines p",
        ".move",
        ".main",
        ".outline button",
        "figcaption",
    ] {
        assert_eq!(
            style(browser, selector, &["font-family", "color"]),
            page,
            "{selector}"
        );
    }
    assert_eq!(style(browser, ".lines", &["font-size"]), ["19px"]);
    assert_eq!(style(browser, ".frame", &["stroke"]), ["rgb(20, 40, 60)"]);
}

fn inherited(browser: &Browser) {
    let css = "body { text-transform: uppercase; letter-spacing: 0.4em; word-spacing: 2em;
        text-align: right; text-indent: 4em; white-space: pre; line-height: 4; font-variant: all-small-caps;
        text-shadow: 1px 1px red; hyphens: auto; word-break: break-all; list-style: square inside;
        cursor: wait; pointer-events: auto; user-select: none; -webkit-user-select: none; text-wrap: nowrap;
        writing-mode: horizontal-tb; quotes: none; border-collapse: collapse; fill: red; stroke: red;
        stroke-width: 9px; fill-opacity: 0.1; stroke-dasharray: 3; stroke-opacity: 0.1; stroke-linecap: round;
        text-anchor: end; paint-order: stroke; shape-rendering: crispEdges }";
    browser.show(&with_sheet(browser, css), LESSON);
    let set = [
        "text-transform",
        "letter-spacing",
        "word-spacing",
        "text-indent",
        "white-space-collapse",
        "word-break",
        "font-variant-caps",
        "text-shadow",
        "hyphens",
    ];
    let wanted = [
        "none", "normal", "0px", "0px", "collapse", "normal", "normal", "none", "manual",
    ];
    for selector in [".move", ".lines p", "figcaption", ".controls button"] {
        let found = style(browser, selector, &set);
        for ((name, found), wanted) in set.iter().zip(&found).zip(wanted) {
            // Engines write no spacing in two ways, and older ones have no white-space-collapse.
            let is_none =
                wanted == "normal" && found == "0px" || wanted == "0px" && found == "normal";
            assert!(
                found == wanted || is_none || found.is_empty(),
                "{selector} {name}: {found}"
            );
        }
    }
    assert_eq!(style(browser, ".lines p", &["text-align"]), ["start"]);
    // Lines wrap, and are as close as ours.
    let shape = browser.js(
        "const rows = (element) => new Set([...element.getClientRects()].map(({ top }) => top)).size;
         const comment = inside('.lines p:not(.main)');
         const style = getComputedStyle(comment);
         return [parseFloat(style.lineHeight) < 2 * parseFloat(style.fontSize), comment.scrollWidth <= comment.clientWidth + 1, rows(comment)]",
    );
    assert_eq!(shape, json!([true, true, 1]));
    // The picture has its own pens.
    let pens = [
        "fill-opacity",
        "stroke-opacity",
        "stroke-dasharray",
        "stroke-linecap",
    ];
    for selector in [".frame", ".dark", ".last", ".pieces > use"] {
        assert_eq!(
            style(browser, selector, &pens),
            ["1", "1", "none", "butt"],
            "{selector}"
        );
    }
    assert_eq!(
        style(browser, ".names", &["stroke", "text-anchor"]),
        ["none", "middle"]
    );
}

/// How the inner elements look: place and every property that a rule of the page might set.
const LOOK: &str = "return all('*').filter((element) => !element.closest('defs')).map((element) => {
    const { x, y, width, height } = element.getBoundingClientRect();
    const style = getComputedStyle(element);
    const names = ['display', 'position', 'float', 'box-sizing', 'margin-left', 'margin-top', 'padding-left', 'padding-top',
      'border-left-width', 'background-color', 'max-width', 'min-width', 'transform', 'opacity', 'filter', 'overflow-x', 'color', 'font-size'];
    return [element.localName, Math.round(x), Math.round(y), Math.round(width), Math.round(height), ...names.map((name) => style[name] ?? style.getPropertyValue(name))].join(' ');
})";

fn universal(browser: &Browser) {
    let alone = "body { margin: 0 } main { padding: 20px }";
    let css = format!(
        "{alone} main ply-line ~ *, main ply-line * {{ margin: 9px !important; padding: 9px !important; border: 3px solid red !important;
           float: left !important; display: block !important; position: absolute !important; background: lime !important;
           opacity: 0.5 !important; transform: rotate(3deg) !important; font-size: 40px !important; color: red !important }}
         img, svg, use, path, button, ol, li, p, figure, table, summary {{ max-width: 10px !important; min-width: 300px; height: 7px !important;
           background: lime !important; overflow: hidden !important; list-style: square !important; text-transform: uppercase !important }}
         button {{ border-radius: 50% !important; padding: 20px !important }}"
    );
    browser.show(&with_sheet(browser, alone), LESSON);
    let before = browser.js(LOOK);
    browser.show(&with_sheet(browser, &css), LESSON);
    assert_eq!(browser.js(LOOK), before);
}

fn on_the_host(browser: &Browser) {
    let css = "* { box-sizing: border-box !important; text-transform: uppercase !important; white-space: nowrap !important; \
                   text-indent: 3em !important; text-align: center !important }
               ply-line { display: flex; padding: 10px; border: 1px solid; overflow: hidden; direction: rtl;
                 float: left; max-width: 600px; columns: 3; column-count: 3 }";
    browser.show(&with_sheet(browser, css), LESSON);
    let set = ["text-transform", "white-space-collapse", "text-indent"];
    for selector in [".move", ".lines p", "figcaption"] {
        let found = style(browser, selector, &set);
        assert_eq!([&found[0], &found[2]], ["none", "0px"], "{selector}");
        assert!(["", "collapse"].contains(&found[1].as_str()), "{selector}");
    }
    let boxes = browser.js(
        "const host = line().getBoundingClientRect();
         const parts = ['.lines', '.board', '.controls'].map((name) => inside(name).getBoundingClientRect());
         const comment = inside('.lines p:not(.main)');
         return [host.width >= 320, parts.every(({ left, right, width }) => width > 60 && left >= host.left - 1 && right <= host.right + 1),
           comment.scrollWidth <= comment.clientWidth + 1]",
    );
    assert_eq!(boxes, json!([true, true, true]));
    browser.click("return button('next')");
    assert_eq!(browser.js("return line().current.san"), "d4");
}

/// Lightness from 0 to 1 of the ink of the text, of the paper under the board that stays, and of
/// the two kinds of squares as they look on that paper.
fn tones(browser: &Browser) -> [f64; 4] {
    let tones = browser.js(
        "const canvas = document.createElement('canvas').getContext('2d', { willReadFrequently: true });
         const tone = (...colors) => {
           for (const color of colors) { canvas.fillStyle = color; canvas.fillRect(0, 0, 1, 1); }
           const [red, green, blue] = canvas.getImageData(0, 0, 1, 1).data;
           return (0.2126 * red + 0.7152 * green + 0.0722 * blue) / 255;
         };
         const paper = getComputedStyle(inside('.margin')).backgroundColor;
         const fill = (name) => getComputedStyle(inside(name)).fill;
         return [tone('white', getComputedStyle(inside('.lines')).color), tone('white', paper), tone('white', paper, fill('.light')), tone('white', paper, fill('.dark'))]",
    );
    serde_json::from_value(tones).expect("four numbers")
}

#[track_caller]
fn assert_dark(browser: &Browser, is_dark: bool) {
    let [ink, paper, light, dark] = tones(browser);
    let all = format!("ink {ink}, paper {paper}, squares {light} and {dark}");
    assert_eq!(ink > 0.5, is_dark, "{all}");
    assert_eq!(paper < 0.5, is_dark, "{all}");
    assert!(light - dark > 0.1, "{all}");
    let middle = 0.3..0.75;
    assert_eq!(
        middle.contains(&light),
        is_dark,
        "light squares are a middle tone on dark pages only: {all}"
    );
}

const TWO_PAPERS: &str =
    "body { background: #fdfcf7; color: #222 } .night body { background: #14161a; color: #ddd }";

fn dark_by_class(browser: &Browser) {
    browser.width(Some(390));
    browser.show(&with_sheet(browser, TWO_PAPERS), LESSON);
    assert_dark(browser, false);
    for (is_dark, call) in [(true, "add"), (false, "remove"), (true, "add")] {
        browser.js(&format!(
            "document.documentElement.classList.{call}('night'); await painted(); await painted()"
        ));
        assert_dark(browser, is_dark);
    }
    browser.show(
        &with_sheet(browser, "main { background: #111; color: #eee }"),
        LESSON,
    );
    assert_dark(browser, true);
}

fn dark_slowly(browser: &Browser) {
    browser.width(Some(390));
    let css = format!("{TWO_PAPERS} body {{ transition: background-color 150ms, color 100ms }}");
    browser.show(&with_sheet(browser, &css), LESSON);
    browser.js(
        "const ended = new Promise((done) => document.addEventListener('transitionend', ({ propertyName }) => propertyName === 'background-color' && done()));
         document.documentElement.classList.add('night');
         await ended; await painted(); await painted()",
    );
    assert_dark(browser, true);
}

fn dark_by_preference(browser: &Browser) {
    browser.width(Some(390));
    // Without `color-scheme`, as many pages have it.
    let css = "body { background: #fff; color: #111 }
               @media (prefers-color-scheme: dark) { body { background: #111; color: #eee } }";
    browser.show(&with_sheet(browser, css), LESSON);
    for is_dark in [true, false] {
        browser.dark(is_dark);
        browser.js("await painted(); await painted()");
        assert_dark(browser, is_dark);
    }
    // A page without rules for it stays light, and so does the lesson.
    browser.show(SCRIPT, LESSON);
    browser.dark(true);
    assert_dark(browser, false);
}

fn right_to_left(browser: &Browser) {
    for (width, is_wide) in [(390, false), (1280, true)] {
        browser.width(Some(width));
        let head = with_sheet(browser, "html { direction: rtl } body { margin: 0 }");
        browser.show(&head, &LESSON.replace("<ply-line", "<ply-line dir=\"rtl\""));
        let shown = browser.js(
            "const square = (name) => inside(`[data-square=${name}]`).getBoundingClientRect();
             const inOrder = (bdi) => {
               const text = bdi.firstChild;
               const lefts = [...text.data].map((_, at) => {
                 const range = document.createRange();
                 range.setStart(text, at); range.setEnd(text, at + 1);
                 return range.getBoundingClientRect().left;
               });
               return lefts.every((left, at) => !at || left >= lefts[at - 1]);
             };
             const main = inside('.main').getBoundingClientRect();
             const moves = all('.main:first-child .move').map((move) => move.getBoundingClientRect().left);
             return {
               board: square('a1').left < square('h1').left && square('a1').top > square('a8').top,
               signs: coordinates(),
               words: all('bdi[dir]').every(inOrder),
               moves: moves.every((left, at) => !at || left < moves[at - 1]),
               figure: inside('.board').getBoundingClientRect().left < main.left,
               sideways: document.scrollingElement.scrollWidth - innerWidth,
             }",
        );
        assert_eq!(shown["board"], true, "a is on the left and 1 below");
        assert_eq!(shown["signs"], json!(["abcdefgh", "87654321"]));
        assert_eq!(shown["words"], true, "each move reads from the left");
        assert_eq!(
            shown["moves"], true,
            "the moves follow each other as the page's words do"
        );
        if is_wide {
            assert_eq!(shown["figure"], true, "the outer margin is the left one");
        }
        assert!(shown["sideways"].as_i64() <= Some(0), "{shown}");
    }
    browser.click("return inside('[data-square=d2]')");
    browser.click("return inside('[data-square=d4]')");
    assert_eq!(browser.js("return line().current.san"), Value::from("d4"));
}

fn full_stop(browser: &Browser) {
    let head = with_sheet(browser, "html { direction: rtl }");
    let body = "<ply-line id=\"lesson\" at=\"2.c4\"><pre>1. d4 {Main words.} d5 (1... Nf6 {Side words.} 2. c4) \
                2. c4! {Choose: with these words.} {Ask: What now? Because: it is sound.} e6! *</pre></ply-line>
                <ply-recap id=\"table\" for=\"lesson\"></ply-recap>";
    browser.show(&head, body);
    browser.js("await stills()");
    let last = "const ends = (id) => {
           const found = {};
           const texts = document.createTreeWalker(line(id).shadowRoot, NodeFilter.SHOW_TEXT);
           for (let text = texts.nextNode(); text; text = texts.nextNode()) {
             const whole = text.data.trimEnd();
             if (!/ words\\.$/.test(whole) || !text.parentElement.checkVisibility()) continue;
             const left = (at) => {
               const range = document.createRange();
               range.setStart(text, at); range.setEnd(text, at + 1);
               return range.getBoundingClientRect().left;
             };
             found[whole] = left(whole.length - 1) > left(whole.length - 2);
           }
           return found;
         };
         return [ends('lesson'), ends('table')]";
    let shown = browser.js(last);
    assert_eq!(
        shown[0],
        json!({ "Main words.": true, "Side words.": true }),
        "{shown}"
    );
}
