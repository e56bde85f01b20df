//! When what a lesson needs cannot be had: a sentence, and what was written can be read.
//! (A policy that forbids the core: loading.rs; a trap: trap.rs; a file that is not there:
//! embedding.rs.)

use super::harness::Case;
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    (
        "where the script is missing the notation can be read",
        no_script,
    ),
    (
        "where there is no memory for the core the notation can be read",
        no_memory,
    ),
    (
        "in a browser too old to open the core the notation can be read",
        too_old,
    ),
    (
        "a source that the page's policy refuses is told, and the element's content stays",
        refused,
    ),
    (
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
    let path = browser.write("<script defer src=\"/no-such-script.js\"></script>", BODY);
    browser.open(&path);
    assert_eq!(
        browser.js("return ['one', 'two'].map((id) => visible(line(id).querySelector('pre')))"),
        json!([true, true])
    );
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
