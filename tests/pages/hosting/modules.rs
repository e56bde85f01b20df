//! The two-file form: a small module that loads the rest when it is wanted, and what a reader
//! sees where the rest cannot be had.

use crate::board::assert_drawn;
use crate::harness::Case::{self, Everywhere};
use crate::support::browser::Browser;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "modules: nothing but the entry is loaded until a lesson nears the view",
        when_near,
    ),
    Everywhere(
        "modules: a place in the address loads its lesson wherever it stands",
        addressed,
    ),
    Everywhere(
        "modules: a fence, an element that comes late and one from the start are all drawn",
        drawn,
    ),
    Everywhere(
        "modules: a script reads a lesson with what the module exports",
        exports,
    ),
    Everywhere(
        "modules: where the core cannot be opened the notation can be read",
        no_core,
    ),
    Everywhere(
        "modules: where the large module is missing the notation can be read",
        no_module,
    ),
];

const MODULE: &str = "<script type=\"module\" src=\"/plyline.mjs\"></script>";
const LOADED: &str = "performance.getEntriesByType('resource').map(({ name }) => name.split('/').pop()).filter((name) => /mjs/.test(name)).sort()";

fn when_near(browser: &Browser) {
    let far = "<ply-line id=\"one\"><pre>1. e4 e5 *</pre></ply-line>";
    let space = "<p class=\"space\">Some text.</p>".repeat(200);
    let path = browser.write(MODULE, &format!("{space}{far}"));
    browser.open(&path);
    browser.until(&format!("{LOADED}.length > 0"));
    browser.js("await pause(300)");
    assert_eq!(
        browser.js(&format!("return {LOADED}")),
        json!(["plyline.mjs"])
    );
    browser.js("line('one').scrollIntoView()");
    browser.until("line('one').current");
    assert_eq!(
        browser.js(&format!("return {LOADED}")),
        json!(["plyline-core.mjs", "plyline.mjs"])
    );
    browser.js("await settled()");
    browser.click("return button('next', 'one')");
    assert_drawn(browser, "one", false);
}

fn addressed(browser: &Browser) {
    let far = "<ply-line id=\"one\"><pre>1. e4 e5 *</pre></ply-line>";
    let space = "<p class=\"space\">Some text.</p>".repeat(200);
    let body = format!("<p><a id=\"to\" href=\"#one/1.e4\">a link</a></p>{space}{far}");
    let path = browser.write(MODULE, &body);
    browser.open(&format!("{path}#one/1...e5"));
    browser.until("line('one').current?.node === 2");
    browser.until("line('one').getBoundingClientRect().top < innerHeight");
    browser.open("about:blank");
    browser.open(&path);
    browser.until(&format!("{LOADED}.length > 0"));
    browser.js("await pause(200)");
    browser.click("return line('to')");
    browser.until("line('one').current?.node === 1");
    browser.until("line('one').getBoundingClientRect().top < innerHeight");
}

fn drawn(browser: &Browser) {
    let path = browser.write(MODULE, "<p>No lesson yet.</p>");
    browser.open(&path);
    browser.until(&format!("{LOADED}.length > 0"));
    browser.js("const late = document.createElement('ply-line');
         late.id = 'late';
         late.append(Object.assign(document.createElement('pre'), { textContent: '1. c4 e5 *' }));
         document.querySelector('main').append(late);");
    browser.until("line('late').current");
    let body = "<ply-line id=\"one\"><pre>1. e4 e5 *</pre></ply-line>
                <pre><code class=\"language-pgn\">1. d4 d5 *</code></pre>";
    let path = browser.write(MODULE, body);
    browser.open(&path);
    browser.until("line('one').current && line('lesson')?.current");
    browser.js("await settled()");
    for id in ["one", "lesson"] {
        browser.click(&format!("return button('next', '{id}')"));
        assert_drawn(browser, id, false);
    }
}

fn exports(browser: &Browser) {
    let name = format!("{}-reads.mjs", browser.engine.name());
    browser.site.write(
        &name,
        "import { readLesson, ready, version } from '/plyline.mjs';
         const { lesson } = await readLesson('1. e4 e5 (1... c5) *');
         await ready();
         globalThis.found = [version, lesson.node(2).san, Boolean(customElements.get('ply-line'))];",
    );
    let head = format!("<script type=\"module\" src=\"/{name}\"></script>");
    browser.open(&browser.write(&head, "<p>Only a script.</p>"));
    browser.until("globalThis.found");
    assert_eq!(
        browser.js("return found"),
        json!([env!("CARGO_PKG_VERSION"), "e5", true])
    );
}

/// The lesson says why it cannot be shown, and shows what was written.
#[track_caller]
fn assert_readable(browser: &Browser) {
    browser.until("told.length > 0");
    let shown = browser.js("return [told.map(({ type, id, detail }) => [type, id, detail.reason]), visible(line('one').querySelector('pre')), line('one').current ?? null]");
    assert_eq!(shown, json!([[["ply-failed", "one", "core"]], true, null]));
}

fn no_core(browser: &Browser) {
    // A browser that cannot inflate.
    let name = format!("{}-lacks.js", browser.engine.name());
    let script = "delete globalThis.DecompressionStream;";
    browser.site.write(&name, script);
    browser.expect("plyline one: ");
    let head = format!("<script src=\"/{name}\"></script>\n{MODULE}");
    let body = "<ply-line id=\"one\"><pre>1. e4 e5 *</pre></ply-line>";
    browser.open(&browser.write(&head, body));
    assert_readable(browser);
    assert!(
        browser
            .text("return told[0].detail.message")
            .contains("DecompressionStream")
    );
}

fn no_module(browser: &Browser) {
    // A folder that holds only the entry.
    let entry = std::fs::read(browser.site.dist.join("plyline.mjs")).expect("the built entry");
    let folder = format!("{}-alone", browser.engine.name());
    browser.site.write(&format!("{folder}/plyline.mjs"), entry);
    browser.expect("plyline one: ");
    browser.allow("404");
    browser.allow("MIME");
    browser.allow("plyline-core.mjs");
    let head = format!("<script type=\"module\" src=\"/{folder}/plyline.mjs\"></script>");
    let body = "<ply-line id=\"one\"><pre>1. e4 e5 *</pre></ply-line>";
    browser.open(&browser.write(&head, body));
    assert_readable(browser);
}
