//! When what a lesson needs cannot be had: a sentence, and what was written can be read.
//! (A policy that forbids the core: loading.rs; a trap: trap.rs; a file that is not there:
//! embedding.rs.)

use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "where the script is missing the notation can be read",
        no_script,
    ),
    Everywhere(
        "where there is no memory for the core the notation can be read",
        no_memory,
    ),
    Everywhere(
        "in a browser too old to open the core the notation can be read",
        too_old,
    ),
    Everywhere(
        "a source that the page's policy refuses is told, and the element's content stays",
        refused,
    ),
    InOne(
        "where a server answers with a web page that page is not read as moves",
        a_web_page,
    ),
];

const BODY: &str = "<ply-line id=\"one\"><pre>1. e4 e5 *</pre></ply-line>
                    <ply-line id=\"two\"><pre>1. d4 d5 *</pre></ply-line>";

/// Both lessons say why they cannot be shown and show what was written.
#[track_caller]
fn assert_readable(browser: &Browser) {
    let shown = browser.js("return ['one', 'two'].map((id) => [
           told.filter((event) => event.id === id).map(({ type, detail }) => [type, detail.reason]),
           visible(line(id).querySelector('pre')), visible(line(id).shadowRoot.firstElementChild),
           line(id).current, line(id).next()])");
    let row = json!([[["ply-failed", "core"]], true, true, null, false]);
    assert_eq!(shown, json!([row, row]));
}

fn no_script(browser: &Browser) {
    browser.allow("404");
    browser.allow("MIME"); // the answer of a server that has no such file is text
    browser.allow("no-such-script.js");
    // What our own style sheet does to the elements of a page before, or without, the script.
    let head = "<link rel=\"stylesheet\" href=\"/plyline.css\">
                <script defer src=\"/no-such-script.js\"></script>";
    let body = format!(
        "{BODY}<ply-quiz at=\"1.e4\"><p>What now?</p></ply-quiz><ply-recall><p>By heart.</p></ply-recall>
         <ply-diagram><pre>8/8/8/8/8/8/4K3/8</pre></ply-diagram><ply-recap><p>In short.</p></ply-recap>
         <ply-prose><p>After <ply-ref at=\"1.e4\">e4</ply-ref>.</p></ply-prose>"
    );
    browser.open(&browser.write(head, &body));
    let shown = browser.js(
        "const parts = [...document.querySelectorAll('main :is(pre, p, ply-ref)')];
         return [document.styleSheets[0].cssRules.length > 10, parts.length, parts.filter(visible).length]",
    );
    assert_eq!(shown, json!([true, 8, 8]));
}

/// A page whose browser lacks something from the start.
fn show_without(browser: &Browser, what: &str) {
    let name = format!("{}-without.js", browser.engine.name());
    browser.site.write(&name, what);
    browser.expect("plyline one: ");
    browser.expect("plyline two: ");
    browser.show(
        &format!("<script src=\"/{name}\"></script>\n{SCRIPT}"),
        BODY,
    );
}

fn no_memory(browser: &Browser) {
    // What engines answer when they cannot reserve the memory of an instance.
    let refuse = "const refuse = () => Promise.reject(new RangeError('WebAssembly.instantiate(): Out of memory'));
                  WebAssembly.instantiate = refuse; WebAssembly.instantiateStreaming = refuse;";
    show_without(browser, refuse);
    assert_readable(browser);
    assert!(
        browser
            .text("return told.find(({ id }) => id === 'one').detail.message")
            .contains("memory")
    );
}

fn too_old(browser: &Browser) {
    show_without(browser, "delete globalThis.DecompressionStream;");
    assert_readable(browser);
}

fn refused(browser: &Browser) {
    browser.expect("plyline away: ");
    browser.allow("Content Security Policy");
    browser.allow("Content-Security-Policy");
    browser.allow("elsewhere.example");
    let body = "<ply-line id=\"away\" src=\"https://elsewhere.example/lesson.pgn\"><p>The lesson is about 1.e4.</p></ply-line>
                <ply-line id=\"good\"><pre>1. e4 e5 *</pre></ply-line>";
    browser.show(SCRIPT, body);
    let shown = browser.js(
        "return [told.filter(({ id }) => id === 'away').map(({ type, detail }) => [type, detail.reason]),
           visible(line('away').querySelector('p')), line('away').shadowRoot.textContent.includes('elsewhere.example'), line('good').next()]",
    );
    assert_eq!(shown, json!([[["ply-failed", "source"]], true, true, true]));
}

fn a_web_page(browser: &Browser) {
    browser.expect("plyline page: ");
    let body =
        "<ply-line id=\"page\" src=\"/index.html\"><p>The lesson is about 1.e4.</p></ply-line>";
    browser.show(SCRIPT, body);
    let shown = browser.js(
        "return [told.map(({ type, detail }) => [type, detail.reason]), visible(line().querySelector('p')), line().current,
           line().shadowRoot.textContent.includes('web page')]",
    );
    assert_eq!(shown, json!([[["ply-failed", "source"]], true, null, true]));
}
