//! Elements are added, removed and moved, and there may be many.

use crate::board::assert_drawn;
use crate::harness::Case::{self, Everywhere};
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "an element that is removed and put back is where it was, with the same nodes",
        put_back,
    ),
    Everywhere(
        "an element that is moved in the document answers a click once",
        moved,
    ),
    Everywhere(
        "an element that is removed while the core is loading and put back is drawn once",
        early,
    ),
    Everywhere(
        "lessons, questions and recalls that the page lets go of are freed",
        freed,
    ),
    Everywhere(
        "forty lessons on a page are all drawn by one instance of the core",
        forty,
    ),
];

const LESSON: &str =
    "<ply-line><pre>1. d4 d5 2. c4 e6 (2... dxc4 {takes} 3. e4) 3. Nc3 *</pre></ply-line>";
const TRAP: &str =
    "<script src=\"/trap.js\"></script>\n<script defer src=\"/plyline.js\"></script>";

fn put_back(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    let kept = browser.js(
        "const element = line();
         element.go('line A');
         element.flip();
         const parent = element.parentElement;
         const nodes = [...element.shadowRoot.querySelectorAll('*')];
         element.remove();
         const away = [element.current.san, element.next(), element.back()];
         parent.append(element);
         await pause(20);
         const now = [...element.shadowRoot.querySelectorAll('*')];
         return [away, nodes.length > 20 && nodes.every((node, index) => node === now[index]), element.current.san]",
    );
    assert_eq!(kept, json!([["dxc4", true, true], true, "dxc4"]));
    assert_drawn(browser, "lesson", true);
    assert_eq!(
        browser.js("return told.filter(({ type }) => type === 'ply-ready').length"),
        1,
        "drawn once"
    );
    browser.click("return button('next')");
    assert_eq!(browser.js("return line().current.san"), "e4");
    assert_drawn(browser, "lesson", true);
}

fn moved(browser: &Browser) {
    browser.show(SCRIPT, &format!("{LESSON}<section id=\"there\"></section>"));
    browser.js("const element = line();
         for (let times = 0; times < 3; times += 1) {
           document.getElementById('there').append(element);
           document.querySelector('main').prepend(element);
         }
         document.getElementById('there').append(element);
         told.splice(0)");
    browser.click("return button('next')");
    browser.press('\u{E014}');
    let told = browser.js("return told.map(({ type, detail }) => [type, detail.san])");
    assert_eq!(told, json!([["ply-moved", "d4"], ["ply-moved", "d5"]]));
    assert_drawn(browser, "lesson", false);
}

fn early(browser: &Browser) {
    browser.show(SCRIPT, "<p>A lesson comes.</p>");
    let told = browser.js("const make = (id) => {
           const element = document.createElement('ply-line');
           element.id = id;
           const pre = document.createElement('pre');
           pre.append('1. e4 e5 *');
           element.append(pre);
           document.querySelector('main').append(element);
           return element;
         };
         const element = make('back');
         element.remove();
         document.querySelector('main').append(element);
         make('gone').remove();
         await element.ready;
         await pause(50);
         await drawn(element);
         return told.map(({ type, id }) => [type, id])");
    assert_eq!(told, json!([["ply-ready", "back"]]));
    browser.click("return button('next', 'back')");
    assert_eq!(browser.js("return line('back').current.san"), "e4");
}

fn forty(browser: &Browser) {
    browser.show(TRAP, &LESSON.repeat(40));
    let shown = browser.js(
        "const lines = [...document.querySelectorAll('ply-line')];
         lines.forEach((element, index) => { for (let moves = 0; moves < index % 5; moves += 1) element.next(); });
         return [trap.compiled, trap.made, lines.length, lines.every(visible), lines.every((element) => element.lesson !== null),
           lines.map((element) => element.current.node), new Set(lines.map((element) => element.id)).size]",
    );
    // Nodes: 1.d4 is 1, 1...d5 2, 2.c4 3, 2...e6 4.
    let nodes: Vec<u32> = (0..40).map(|index| index % 5).collect();
    assert_eq!(shown, json!([1, 1, 40, true, true, nodes, 40]));
    for id in ["lesson", "lesson-20", "lesson-40"] {
        assert_drawn(browser, id, false);
    }
}

/// Rounds of a lesson, a quiz and a recall that come and go: many more with `--long`.
fn rounds() -> usize {
    match std::env::var("PLYLINE_LONG").is_ok_and(|long| !long.is_empty()) {
        true => 504,
        false => 36,
    }
}

fn freed(browser: &Browser) {
    browser.show(TRAP, &format!("{LESSON}<div id=\"place\"></div>"));
    browser.js("window.gone = []");
    let mut memory = Vec::new();
    let kinds = ["ply-line", "ply-quiz", "ply-recall"];
    for (round, name) in kinds.into_iter().cycle().take(rounds()).enumerate() {
        let come = "const element = document.createElement(given);
             if (given === 'ply-line') element.append(line().querySelector('pre').cloneNode(true));
             line('place').append(element);
             await drawn(element);
             element.next();
             const { made } = element;
             element.remove();
             gone.push({ name: given, is: new WeakRef(element) });
             return made > 0";
        let is_drawn = browser.js_with(come, json!(name));
        assert_eq!(is_drawn, true, "{name} is drawn");
        // Memory of the core never shrinks: what waits to be freed must not pile up.
        if (round + 1) % 12 == 0 {
            wait_until_freed(browser);
            memory.push(browser.js("return trap.memory.buffer.byteLength"));
        }
    }
    // The first dozen finds how much is needed at once. After it at most one page of memory more: what waits to be
    // freed differs from browser to browser and from run to run.
    let bytes: Vec<u64> = memory.iter().filter_map(|it| it.as_u64()).collect();
    let grown = bytes[bytes.len() - 1].saturating_sub(bytes[1]);
    assert!(grown <= 65_536, "bytes of the core, by and by: {bytes:?}");
}

fn wait_until_freed(browser: &Browser) {
    let left = "return gone.filter(({ is }) => is.deref()).map(({ name }) => name)";
    // An engine may take a number on its stack for one of them.
    let mut names = browser.js(left);
    for _ in 0..30 {
        if names.as_array().is_some_and(|names| names.len() <= 2) {
            return;
        }
        browser.sweep();
        names = browser.js(left);
    }
    panic!("{names} are still there");
}
