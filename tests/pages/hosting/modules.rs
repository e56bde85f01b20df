//! The form as modules: a small one that loads the rest when it is wanted, one for lessons, with the core in a file of its
//! own, one for all other elements, and what a reader sees where one of them cannot be had.

use crate::board::assert_drawn;
use crate::harness::Case::{self, Everywhere};
use crate::support::browser::Browser;
use crate::support::browser::engine::Engine;
use serde_json::{Value, json};

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
        "modules: a page that asks for the core ahead loads each file once",
        ahead,
    ),
    Everywhere(
        "modules: a core of another type than wasm is opened too",
        other_type,
    ),
    Everywhere(
        "modules: where the core's file cannot be had the packed core draws the lesson",
        packed,
    ),
    Everywhere(
        "modules: what import loads has the core packed, and asks for no other",
        imported,
    ),
    Everywhere(
        "modules: where the core cannot be opened the notation can be read",
        no_core,
    ),
    Everywhere(
        "modules: where the large module is missing the notation can be read",
        no_module,
    ),
    Everywhere(
        "modules: a page with lessons alone does not load the other elements",
        lessons_alone,
    ),
    Everywhere(
        "modules: each other element and each fence for one brings the module that draws it",
        each_other,
    ),
    Everywhere(
        "modules: other elements and fences for them may come after the lesson is drawn",
        late,
    ),
    Everywhere(
        "modules: where the other elements are missing their words can be read beside the lesson",
        no_more,
    ),
];

const MODULE: &str = "<script type=\"module\" src=\"/plyline.mjs\"></script>";
const LESSON: &str = "<ply-line id=\"one\"><pre>1. e4 {Ours.} e5 2. Nf3 Nc6 *</pre></ply-line>";
const LOADED: &str = "performance.getEntriesByType('resource').map(({ name }) => name.split('/').pop()).filter((name) => /mjs|wasm/.test(name)).sort()";

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
        json!(["plyline-core.mjs", "plyline-core.wasm", "plyline.mjs"])
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
         const isDefined = (name) => Boolean(customElements.get(name));
         globalThis.found = [version, lesson.node(2).san, isDefined('ply-line'), isDefined('ply-prose')];",
    );
    let head = format!("<script type=\"module\" src=\"/{name}\"></script>");
    browser.open(&browser.write(&head, "<p>Only a script.</p>"));
    browser.until("globalThis.found");
    assert_eq!(
        browser.js("return found"),
        json!([env!("CARGO_PKG_VERSION"), "e5", true, true])
    );
}

/// Writes built files into a folder.
fn copy(browser: &Browser, folder: &str, names: &[&str]) {
    for name in names {
        let file = std::fs::read(browser.site.dist.join(name)).expect("a built file");
        browser.site.write(&format!("{folder}/{name}"), file);
    }
}

/// Opens a page with one lesson, which is drawn, and returns what it has loaded.
#[track_caller]
fn loaded(browser: &Browser, head: &str) -> Value {
    browser.open(&browser.write(head, LESSON));
    browser.until("line('one').current");
    browser.js("await settled()");
    browser.click("return button('next', 'one')");
    assert_drawn(browser, "one", false);
    browser.js(&format!("return {LOADED}"))
}

fn ahead(browser: &Browser) {
    // As the guide writes it.
    let head = "<link rel=\"modulepreload\" href=\"/plyline-core.mjs\">
         <link rel=\"preload\" as=\"fetch\" type=\"application/wasm\" href=\"/plyline-core.wasm\">";
    let guide = include_str!("../../../www/guide/script.md");
    for line in head.lines() {
        assert!(guide.contains(line.trim()), "{line}");
    }
    let all = json!(["plyline-core.mjs", "plyline-core.wasm", "plyline.mjs"]);
    assert_eq!(loaded(browser, &format!("{head}{MODULE}")), all);
}

fn other_type(browser: &Browser) {
    let folder = format!("{}-typed", browser.engine.name());
    copy(
        browser,
        &folder,
        &["plyline.mjs", "plyline-core.mjs", "plyline-core.wasm"],
    );
    let file = format!("{folder}/plyline-core.wasm.type");
    browser.site.write(&file, "text/plain; charset=utf-8");
    let head = format!("<script type=\"module\" src=\"/{folder}/plyline.mjs\"></script>");
    let all = json!(["plyline-core.mjs", "plyline-core.wasm", "plyline.mjs"]);
    assert_eq!(loaded(browser, &head), all);
}

fn packed(browser: &Browser) {
    let folder = format!("{}-packed", browser.engine.name());
    copy(
        browser,
        &folder,
        &["plyline.mjs", "plyline-core.mjs", "plyline-packed.mjs"],
    );
    browser.allow("404");
    let head = format!("<script type=\"module\" src=\"/{folder}/plyline.mjs\"></script>");
    let found = loaded(browser, &head);
    assert!(found.to_string().contains("plyline-packed.mjs"), "{found}");
}

fn imported(browser: &Browser) {
    let head = MODULE.replace("plyline.mjs", "plyline-import.mjs");
    let all = json!([
        "plyline-core.mjs",
        "plyline-import.mjs",
        "plyline-packed.mjs"
    ]);
    assert_eq!(loaded(browser, &head), all);
}

/// The lesson says why it cannot be shown, and shows what was written.
#[track_caller]
fn assert_readable(browser: &Browser) {
    browser.until("told.length > 0");
    let shown = browser.js("return [told.map(({ type, id, detail }) => [type, id, detail.reason]), visible(line('one').querySelector('pre')), line('one').current ?? null]");
    assert_eq!(shown, json!([[["ply-failed", "one", "core"]], true, null]));
}

fn no_core(browser: &Browser) {
    // A browser that compiles nothing.
    let name = format!("{}-lacks.js", browser.engine.name());
    let script = "WebAssembly.compile = WebAssembly.compileStreaming = () => Promise.reject(new Error('no wasm here'));";
    browser.site.write(&name, script);
    browser.expect("plyline one: ");
    let head = format!("<script src=\"/{name}\"></script>\n{MODULE}");
    let body = "<ply-line id=\"one\"><pre>1. e4 e5 *</pre></ply-line>";
    browser.open(&browser.write(&head, body));
    assert_readable(browser);
    assert!(
        browser
            .text("return told[0].detail.message")
            .contains("no wasm here")
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
    browser.allow("plyline-packed.mjs");
    let head = format!("<script type=\"module\" src=\"/{folder}/plyline.mjs\"></script>");
    let body = "<ply-line id=\"one\"><pre>1. e4 e5 *</pre></ply-line>";
    browser.open(&browser.write(&head, body));
    assert_readable(browser);
}

fn lessons_alone(browser: &Browser) {
    let fence = "<pre><code class=\"language-pgn\">1. d4 d5 *</code></pre>";
    let body = format!("{LESSON}{fence}<pre>Some code.</pre><p>4.Bd3 is no link.</p>");
    browser.open(&browser.write(MODULE, &body));
    browser.until("line('one').current && line('lesson')?.current");
    browser.js("await settled(); document.querySelector('main').append(document.createElement('p')); await pause(300)");
    browser.click("return button('next', 'lesson')");
    assert_drawn(browser, "lesson", false);
    assert_eq!(
        browser.js(&format!("return {LOADED}")),
        json!(["plyline-core.mjs", "plyline-core.wasm", "plyline.mjs"])
    );
}

/// Elements and fences, all called `x`, and what is true of each when it is drawn.
const OTHERS: &[(&str, &str)] = &[
    (
        "<ply-quiz id=\"x\" at=\"1.e4\"><p>Which reply?</p></ply-quiz>",
        "line('x').state === 'open' && line('x').shadowRoot?.querySelector('.plate')",
    ),
    (
        "<ply-recall id=\"x\"><p>From memory.</p></ply-recall>",
        "line('x').progress && line('x').shadowRoot?.querySelector('[data-take=begin]')",
    ),
    (
        "<ply-diagram id=\"x\" at=\"1...e5\">Two pawns.</ply-diagram>",
        "line('x').shadowRoot && picture('x').length === 32",
    ),
    (
        "<ply-recap id=\"x\"></ply-recap>",
        "line('x').shadowRoot?.querySelector('table')",
    ),
    (
        "<p>Black <ply-ref id=\"x\" at=\"1...e5\">replies</ply-ref>.</p>",
        "line('x').querySelector('a')?.hash === '#one/1...e5'",
    ),
    (
        "<ply-prose id=\"x\"><p>After 1...e5 White plays on.</p></ply-prose>",
        "line('x').querySelector('a')?.hash === '#one/1...e5'",
    ),
    (
        "<pre><code class=\"language-ply-quiz\">[Id \"x\"] [At \"1.e4\"] Which reply?</code></pre>",
        "line('x')?.state === 'open' && line('x').shadowRoot?.querySelector('.plate')",
    ),
    (
        "<pre><code class=\"language-ply-recall\">[Id \"x\"] From memory.</code></pre>",
        "line('x')?.progress && line('x').shadowRoot?.querySelector('[data-take=begin]')",
    ),
    (
        "<pre><code class=\"language-ply-diagram\">[Id \"x\"] [At \"1...e5\"]</code></pre>",
        "line('x')?.shadowRoot && picture('x').length === 32",
    ),
    (
        "<pre><code class=\"language-ply-recap\">[Id \"x\"]</code></pre>",
        "line('x')?.shadowRoot?.querySelector('table')",
    ),
    (
        "<div id=\"around\"><pre><code class=\"language-fen\">8/5k2/8/8/3P4/8/4K3/8</code></pre></div>",
        "line('around').querySelector('ply-diagram')?.shadowRoot?.querySelectorAll('.pieces > use').length === 3",
    ),
];

fn each_other(browser: &Browser) {
    let all = json!([
        "plyline-core.mjs",
        "plyline-core.wasm",
        "plyline-more.mjs",
        "plyline.mjs"
    ]);
    for (other, is_drawn) in OTHERS {
        // Before the lesson that it is about.
        browser.open(&browser.write(MODULE, &format!("{other}{LESSON}")));
        browser.until(is_drawn);
        browser.js("await settled()");
        browser.click("return button('next', 'one')");
        assert_drawn(browser, "one", false);
        assert_eq!(browser.js(&format!("return {LOADED}")), all, "{other}");
        assert_eq!(
            browser.js("return told.filter(({ type }) => type === 'ply-failed')"),
            json!([]),
            "{other}"
        );
    }
    // A tag of a lesson has the article around it read.
    let lesson = LESSON.replace("<pre>", "<pre>[Prose \"yes\"]\n\n");
    let body = format!("<article>{lesson}<p>After 1...e5 White plays on.</p></article>");
    browser.open(&browser.write(MODULE, &body));
    browser.until("document.querySelector('ply-ref a')?.hash === '#one/1...e5'");
    assert_eq!(browser.js(&format!("return {LOADED}")), all);
}

fn late(browser: &Browser) {
    let add = "document.querySelector('main').prepend(line('later').content)";
    let later = |other: &str| format!("<template id=\"later\">{other}</template>");
    for (other, is_drawn) in OTHERS {
        browser.open(&browser.write(MODULE, &format!("{LESSON}{}", later(other))));
        browser.until("line('one').current");
        browser.js("await settled()");
        browser.js(add);
        browser.until(is_drawn);
    }
    // On a page without a lesson nothing but the entry is there yet.
    let (fen, is_drawn) = OTHERS[OTHERS.len() - 1];
    browser.open(&browser.write(MODULE, &later(fen)));
    browser.until(&format!("{LOADED}.length > 0"));
    browser.js(add);
    browser.until(is_drawn);
}

fn no_more(browser: &Browser) {
    let folder = format!("{}-lessons", browser.engine.name());
    copy(
        browser,
        &folder,
        &["plyline.mjs", "plyline-core.mjs", "plyline-core.wasm"],
    );
    browser.expect("plyline q: What belongs here could not be loaded.");
    browser.allow("What belongs here could not be loaded.");
    browser.allow("404");
    browser.allow("MIME");
    browser.allow("plyline-more.mjs");
    let head = format!("<script type=\"module\" src=\"/{folder}/plyline.mjs\"></script>");
    let others = "<ply-quiz id=\"q\" at=\"1.e4\"><p>Which reply?</p></ply-quiz>
                  <pre id=\"fence\"><code class=\"language-ply-recap\">[Side \"white\"]</code></pre>";
    browser.open(&browser.write(&head, &format!("{others}{LESSON}")));
    browser.until("told.filter(({ type }) => type === 'ply-failed').length === 2");
    let failed = "return told.filter(({ type }) => type === 'ply-failed').map(({ id, detail }) => [id, detail.reason]).sort()";
    assert_eq!(
        browser.js(failed),
        json!([["fence", "core"], ["q", "core"]])
    );
    assert_eq!(
        browser.js("return [visible(line('q').firstElementChild), visible(line('fence')), line('fence').textContent]"),
        json!([true, true, "[Side \"white\"]"])
    );
    browser.until("line('one').current");
    browser.js("await drawn(line('one'))");
    browser.click("return button('next', 'one')");
    assert_drawn(browser, "one", false);
    // It is tried again by the next that asks, and then draws those before it too. Firefox keeps
    // a failure until the page is loaded again.
    if browser.engine == Engine::Firefox {
        return;
    }
    let module = std::fs::read(browser.site.dist.join("plyline-more.mjs")).expect("a built module");
    browser
        .site
        .write(&format!("{folder}/plyline-more.mjs"), module);
    browser.js("document.querySelector('main').append(document.createElement('ply-recap'))");
    browser.until("line('q').state === 'open'");
    browser.until("document.querySelectorAll('ply-recap').length === 2");
}
