//! The one-file script: where it can be loaded from, and how often.

use crate::board::assert_drawn;
use crate::harness::Case::{self, Everywhere};
use crate::support::browser::Browser;
use crate::support::browser::engine::Cap;
use crate::support::site::{SCRIPT, overhear, page};
use serde_json::json;
use std::fs;
use std::path::Path;

pub const CASES: &[Case] = &[
    Everywhere("the demo pages work from disk", from_disk),
    Everywhere("every example works and its notation is clean", examples),
    Everywhere(
        "a second copy of the script is silent, and the first keeps the elements",
        two_copies,
    ),
    Everywhere(
        "the script works in the head without defer, async, at the end, and after the page is there",
        places,
    ),
    Everywhere(
        "the script works in a browser that has no function for base64",
        by_letters,
    ),
    Everywhere(
        "where the policy forbids the core the fallback can be read",
        blocked,
    ),
    Everywhere(
        "where the policy forbids the core five hundred lessons leave time to paint",
        many_blocked,
    ),
    Everywhere(
        "an element whose id is the script's name takes nothing from a page's script",
        named_alike,
    ),
    Everywhere(
        "the elements offer what their types name, and nothing of what they work with",
        members,
    ),
    Everywhere(
        "the script defines its elements and nothing else at the top of the page",
        globals,
    ),
];

const BODY: &str = "<ply-line id=\"one\"><pre>1. e4 e5 (1... c5) *</pre></ply-line>
                    <pre><code class=\"language-pgn\">1. d4 d5 *</code></pre>";

#[track_caller]
fn assert_works(browser: &Browser) {
    for id in ["one", "lesson"] {
        browser.click(&format!("return button('next', '{id}')"));
        assert_drawn(browser, id, false);
    }
    assert_eq!(
        browser.js("return [line('one').current.san, line('lesson').current.san]"),
        json!(["e4", "d4"])
    );
}

fn from_disk(browser: &Browser) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folder = format!("disk-{}", browser.engine.name());
    let demo = root.join("demo-site/pages");
    let files = [
        (&browser.site.dist, "plyline.js"),
        (&demo, "site.css"),
        (&demo, "icon.svg"),
        (&root.join("tests/pages/site"), "overhear.js"),
    ];
    for (from, name) in files {
        let bytes = fs::read(from.join(name)).expect("a file of the project");
        browser.site.write(&format!("{folder}/{name}"), bytes);
    }
    for (name, id) in [
        ("the-pawn-that-is-not-free", "free-pawn"),
        ("the-jump-that-must-wait", "exchange"),
        ("ten-quiet-moves", "ten-quiet-moves"),
    ] {
        let text = fs::read_to_string(root.join("demo-site/pages").join(name).join("index.html"))
            .expect("a demo page");
        let text = text.replace("=\"/", "=\"./");
        let text = match browser.engine.can(Cap::Console) {
            true => text,
            false => overhear(&text).replace("=\"/", "=\"./"),
        };
        let file = browser.site.write(&format!("{folder}/{name}.html"), text);
        browser.visit(&format!("file://{}", file.display()));
        assert_eq!(browser.js("return location.protocol"), "file:");
        // A diagram above that is drawn on the way there would push the button away.
        browser.js("await stills()");
        browser.click(&format!("return button('next', '{id}')"));
        assert_eq!(browser.js("return line().current.node"), 1, "{name}");
        assert_drawn(browser, id, false);
    }
}

fn examples(browser: &Browser) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let entries = fs::read_dir(folder)
        .expect("the examples")
        .map(|entry| entry.expect("an entry"));
    // Those that a generator builds have no page here.
    let folders: Vec<_> = entries
        .filter(|entry| entry.path().join("index.html").is_file())
        .collect();
    assert!(
        folders.len() >= 5,
        "the examples are not where they are looked for"
    );
    for example in folders {
        let name = example.file_name().into_string().expect("a plain name");
        browser.open(&format!("/examples/{name}/index.html"));
        browser.until("document.querySelectorAll('ply-line').length > 0");
        browser.until("[...document.querySelectorAll('ply-line')].every((line) => line.current)");
        let findings = browser.js(
            "return [...document.querySelectorAll('ply-line')].flatMap((line) => line.findings)",
        );
        assert_eq!(findings, json!([]), "{name}");
        browser.until(
            "[...document.querySelectorAll('ply-quiz')].every(({ state }) => state === 'open')",
        );
    }
    browser.open("/examples/prose/index.html");
    browser.js("await customElements.whenDefined('ply-prose'); await document.querySelector('ply-prose').ready");
    assert_eq!(
        browser.js("return [document.querySelectorAll('ply-prose ply-ref').length, document.querySelector('ply-prose').findings, document.querySelector('ply-prose > p ~ p ply-ref')]"),
        json!([8, [], null])
    );
    browser.open("/examples/script/index.html");
    browser.until("document.querySelector('ply-line')?.current");
    browser.js("document.getElementById('trap').click()");
    browser.until("document.getElementById('where').textContent.endsWith('cxb5 Nxb5')");
}

fn two_copies(browser: &Browser) {
    let script = fs::read(browser.site.dist.join("plyline.js")).expect("the built script");
    let copy = format!("{}-copy.js", browser.engine.name());
    browser.site.write(&copy, script);
    let head = format!(
        "<script src=\"/trap.js\"></script>\n<script defer src=\"/plyline.js\"></script>\n\
         <script defer src=\"/between.js\"></script>\n<script defer src=\"/{copy}\"></script>"
    );
    browser.show(&head, BODY);
    assert_works(browser);
    let first = "return [first.plyline === plyline, first.element === customElements.get('ply-line'), trap.made,
                   told.filter(({ type }) => type === 'ply-ready').length, document.querySelectorAll('ply-line').length]";
    assert_eq!(browser.js(first), json!([true, true, 1, 2, 2]));
    // Nothing at all is said, not even for information.
    let said = browser.console();
    assert!(said.is_empty(), "{said:?}");
}

fn places(browser: &Browser) {
    for head in [
        "<script src=\"/plyline.js\"></script>",
        "<script async src=\"/plyline.js\"></script>",
    ] {
        browser.show(head, BODY);
        assert_works(browser);
    }
    browser.show("", &format!("{BODY}<script src=\"/plyline.js\"></script>"));
    assert_works(browser);

    let path = browser.write("", BODY);
    browser.open(&path);
    browser.js(
        "const policy = trustedTypes.createPolicy('test', { createScriptURL: (url) => url });
         const script = document.createElement('script');
         script.src = policy.createScriptURL('/plyline.js');
         document.head.append(script);
         await settled()",
    );
    // Fences are upgraded by the script, so the page has a second lesson only now.
    browser.js("await settled()");
    assert_works(browser);
}

fn by_letters(browser: &Browser) {
    let name = format!("{}-letters.js", browser.engine.name());
    browser.site.write(&name, "delete Uint8Array.fromBase64;");
    browser.show(
        &format!("<script src=\"/{name}\"></script>\n{SCRIPT}"),
        BODY,
    );
    assert_works(browser);
}

/// Writes a page under the strict policy without 'wasm-unsafe-eval'; returns its path.
fn write_blocked(browser: &Browser, name: &str, body: &str) -> String {
    let policy = "default-src 'self'; script-src 'self'; require-trusted-types-for 'script'";
    let folder = format!("{}-blocked", browser.engine.name());
    browser.site.write(&format!("{folder}/policy.txt"), policy);
    let head = "<script src=\"/record.js\"></script>\n<script defer src=\"/plyline.js\"></script>";
    let file = format!("{folder}/{name}.html");
    browser.site.write(&file, page(head, body));
    // The engine's own word for it.
    browser.allow("Content Security Policy");
    browser.allow("Content-Security-Policy");
    format!("/{file}")
}

fn blocked(browser: &Browser) {
    let file = "<ply-line id=\"file\" src=\"/two-games.pgn\"></ply-line>";
    let path = write_blocked(browser, "page", &format!("{BODY}\n{file}"));
    browser.expect("plyline one: ");
    browser.expect("plyline lesson: ");
    browser.expect("plyline file: ");
    browser.visit(&path);
    let shown = browser.js("return ['one', 'lesson'].map((id) => [
           told.filter((event) => event.id === id).map(({ type, detail }) => [type, detail.reason]),
           visible(line(id).querySelector('pre')), visible(line(id).shadowRoot.firstElementChild),
           line(id).shadowRoot.textContent.length > 20, line(id).current, line(id).next()])");
    let row = json!([[["ply-failed", "core"]], true, true, true, null, false]);
    assert_eq!(shown, json!([row, row]));
    // The browser's message is for the author; and nothing is named that is not there.
    let said =
        "return ['one', 'lesson', 'file'].map((id) => line(id).shadowRoot.textContent.trim())";
    let loaded = "The interactive board could not be loaded.";
    let below = format!("{loaded} The moves are below as they were written.");
    assert_eq!(browser.js(said), json!([below, below, loaded]));
    let told =
        browser.js("return told.every(({ detail }) => detail.message.length > 60 && /[(]/.test(detail.message))");
    assert_eq!(told, true);
}

fn many_blocked(browser: &Browser) {
    browser.allow("plyline");
    let lessons: String = (0..500)
        .map(|at| format!("<ply-line id=\"l{at}\"><pre>1. e4 e5 *</pre></ply-line>\n"))
        .collect();
    let script = "globalThis.paints = 0;
         globalThis.failedAt = [];
         const count = () => { paints += 1; requestAnimationFrame(count); };
         requestAnimationFrame(count);
         document.addEventListener('ply-failed', () => failedAt.push(paints));";
    let name = format!("{}-count.js", browser.engine.name());
    browser.site.write(&name, script);
    let path = write_blocked(
        browser,
        "many",
        &format!("<script src=\"/{name}\"></script>\n{lessons}"),
    );
    browser.open(&path);
    browser
        .js("for (let turn = 0; turn < 600 && failedAt.length < 500; turn += 1) await pause(50)");
    assert_eq!(browser.js("return failedAt.length"), 500);
    let paints = browser.js("return new Set(failedAt).size");
    assert!(
        paints.as_u64() > Some(3),
        "all were told between {paints} paints"
    );
}

fn named_alike(browser: &Browser) {
    browser.show(SCRIPT, &format!("<h2 id=\"plyline\">plyline</h2>\n{BODY}"));
    assert_works(browser);
    assert_eq!(
        browser.js("return [typeof plyline.readLesson, typeof globalThis.plyline.define]"),
        json!(["function", "function"])
    );
}

fn members(browser: &Browser) {
    browser.show(SCRIPT, BODY);
    let life = [
        "attributeChangedCallback",
        "connectedCallback",
        "connectedMoveCallback",
        "constructor",
        "disconnectedCallback",
    ];
    let played = [
        "back", "current", "findings", "flip", "go", "lesson", "made", "next", "play", "ready",
        "text",
    ];
    let still = ["findings", "ready"];
    let wanted: [(&str, &[&str], &[&str]); 7] = [
        (
            "ply-line",
            &played,
            &[
                "answers",
                "assessments",
                "at",
                "counts",
                "following",
                "hear",
                "hearing",
                "letters",
                "side",
                "src",
                "talk",
            ],
        ),
        (
            "ply-quiz",
            &played,
            &[
                "accept", "again", "answer", "at", "hint", "htmlFor", "letters", "moves", "show",
                "side", "src", "state",
            ],
        ),
        (
            "ply-recall",
            &played,
            &[
                "at",
                "exportProgress",
                "forget",
                "htmlFor",
                "importProgress",
                "letters",
                "progress",
                "remember",
                "side",
                "src",
            ],
        ),
        (
            "ply-diagram",
            &still,
            &["at", "fen", "htmlFor", "marks", "side"],
        ),
        ("ply-recap", &still, &["htmlFor", "side"]),
        ("ply-ref", &still, &["at", "htmlFor"]),
        ("ply-prose", &still, &["htmlFor"]),
    ];
    for (name, shared, own) in wanted {
        let mut members: Vec<&str> = life.iter().chain(shared).chain(own).copied().collect();
        members.sort();
        let found = browser.js_with(
            "const made = document.createElement(given);
             const names = new Set(Reflect.ownKeys(made).map(String));
             const kinds = new Set();
             for (let at = Object.getPrototypeOf(made); at !== HTMLElement.prototype; at = Object.getPrototypeOf(at)) {
               for (const name of Reflect.ownKeys(at)) names.add(String(name));
               for (const name of Reflect.ownKeys(at.constructor)) kinds.add(String(name));
             }
             return [[...names].sort(), [...kinds].sort()]",
            json!(name),
        );
        let statics = json!(["length", "name", "observedAttributes", "prototype"]);
        assert_eq!(found, json!([members, statics]), "{name}");
    }
}

fn globals(browser: &Browser) {
    // The driver leaves names of its own, so the same is asked of a page without the script.
    let added = "return Object.getOwnPropertyNames(window).filter((name) => !before.has(name) && name !== 'plyline').sort()";
    browser.open(&browser.write("", "<p>No script.</p>"));
    browser.js("");
    let others = browser.js(added);
    browser.show(SCRIPT, BODY);
    assert_eq!(browser.js(added), others);
    let known = browser.js(
        "plyline.define();
         return [Object.keys(plyline).sort(), plyline.version, Object.keys(customElements.get('ply-line'))]",
    );
    let members = ["define", "readLesson", "ready", "version"];
    assert_eq!(
        known,
        json!([members, env!("CARGO_PKG_VERSION"), ["observedAttributes"]])
    );
}
