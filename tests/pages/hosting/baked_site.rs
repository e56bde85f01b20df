//! The demo site as it is published: its pages baked by the program's own functions.

use crate::harness::Case::{self, Everywhere};
use crate::support::browser::Browser;
use plyline::bake::{self, Meetings, Setting, posted};
use plyline::post::{Kind, Other};
use plyline::text::Source;
use plyline::view::Words;
use serde_json::json;
use std::fs;
use std::path::Path;

pub const CASES: &[Case] = &[
    Everywhere(
        "baked site: the style sheets in the head change nothing of the page around the elements",
        page_around,
    ),
    Everywhere(
        "baked site: the demo's pages are taken over without a new node",
        taken_over,
    ),
    Everywhere(
        "baked site: without the script a page of the demo holds every move",
        without_script,
    ),
];

/// Those without a recall that remembers: what is kept is in the browser.
const PAGES: [&str; 2] = ["the-pawn-that-is-not-free", "the-jump-that-must-wait"];

/// A page of the demo, for others.
fn other(name: &str) -> Other<'static> {
    let pages = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-site/pages");
    let path = pages.join(name).join("index.html");
    Other {
        source: Source::new(name, fs::read_to_string(path).expect("a demo page")),
        kind: Kind::Html,
        around: Box::new(|_: &str| None),
    }
}

/// A page of the demo, baked, which loads `script`.
fn baked(browser: &Browser, name: &str, script: &str) -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("demo-site/pages")
        .join(name);
    let page = fs::read_to_string(folder.join("index.html")).expect("a demo page");
    let written = "<script defer src=\"/plyline.js\"></script>";
    assert!(page.contains(written), "{name} loads the script otherwise");
    let module = "<script type=\"module\" src=\"/plyline.mjs\"></script>";
    // Counts come from a file, after the lesson.
    let page = page.replace(" counts=\"exchange.counts.json\"", "");
    let source = Source::new(name, page.replace(written, module));
    let load = |address: &str| fs::read_to_string(folder.join(address)).ok().map(Ok);
    let lessons = PAGES
        .iter()
        .flat_map(|name| posted(&other(name), &format!("{name}/")).1);
    let setting = Setting {
        around: &load,
        words: &|_, _| Words::default(),
        numbers: &|_, _| plyline::bake::Numbers::default(),
        pictures: "/pictures/",
        assets: None,
        path: &format!("{name}/"),
        series: &[],
        meetings: &Meetings::new(lessons.collect()),
        site: None,
    };
    let made = bake::page(&source, &setting);
    for picture in &made.pictures {
        browser
            .site
            .write(&format!("pictures/{}", picture.name), &picture.text);
    }
    // What remembers comes after the elements, and the script after that.
    let text = made
        .text
        .replace(module, "")
        .replace("</body>", &format!("{script}</body>"));
    let path = format!("baked-{}/{name}.html", browser.engine.name());
    browser.site.write(&path, text);
    format!("/{path}")
}

fn page_around(browser: &Browser) {
    let parts = "<p class=\"move label\">x</p><ul class=\"lines\"><li>y</li></ul><figure class=\"still\"><figcaption>z</figcaption></figure>\
                 <ol class=\"sides\"><li>a</li></ol><button class=\"move\">b</button><details><summary>c</summary></details>\
                 <div class=\"lesson\"><div class=\"board margin paper\">d</div></div><table class=\"card\"><caption>e</caption></table>";
    let path = browser.write("", parts);
    browser.open(&path);
    let changed = browser.js(
        "const look = () => [...document.body.querySelectorAll('*')].map((part) => JSON.stringify(Object.fromEntries([...getComputedStyle(part)].map((name) => [name, getComputedStyle(part).getPropertyValue(name)]))));
         const before = look();
         for (const name of ['plyline', 'plyline-more']) {
           const link = document.createElement('link');
           link.rel = 'stylesheet';
           link.href = `/${name}.css`;
           const loaded = new Promise((done) => { link.onload = () => done(true); link.onerror = () => done(false) });
           document.head.append(link);
           if (!await loaded) return `${name} is not there`;
         }
         const after = look();
         return [before.length > 10, before.filter((style, at) => style !== after[at]).length]",
    );
    assert_eq!(changed, json!([true, 0]));
}

fn taken_over(browser: &Browser) {
    // In the page: what a driver imports runs beside it, and Firefox gives it other classes.
    let ready = "import { ready } from '/plyline.mjs';\nglobalThis.loaded = ready();";
    browser.site.write("ready.js", ready);
    let remember =
        "<script src=\"/remember.js\"></script><script type=\"module\" src=\"/ready.js\"></script>";
    for name in PAGES {
        browser.open(&baked(browser, name, remember));
        let told = browser.js(
            "while (!window.loaded) await pause(20);
             await loaded;
             const found = [...document.querySelectorAll('[data-plyline-baked]')].filter(({ shadowRoot }) => shadowRoot);
             await Promise.all(found.map((element) => element.ready));
             found.forEach((element) => element.scrollIntoView());
             await pause(300); await painted();
             scrollTo(0, 0);
             await painted();
             const nodes = (node) => [...node.childNodes].flatMap((child) => [child, ...nodes(child)]);
             // One that is far from the view still has the link of its style sheet.
             const own = (list) => list.filter((node) => node.localName !== 'link');
             const now = own(found.flatMap(({ shadowRoot }) => nodes(shadowRoot)));
             const then = own(baked.nodes);
             const gone = then.filter((node) => !now.includes(node)).map((node) => (node.outerHTML ?? node.textContent).slice(0, 60)).slice(0, 9);
             const also = now.filter(({ localName, textContent }) => localName === 'a' && textContent.startsWith('Also in')).length;
             return [found.length > 0, gone, now.length - then.length, baked.added, also]",
        );
        assert_eq!(told, json!([true, [], 0, [], 3]), "{name}");
    }
}

fn without_script(browser: &Browser) {
    browser.open(&baked(browser, PAGES[0], ""));
    let told = browser.js(
        "const line = document.querySelector('ply-line');
         const plain = line.querySelector(':scope > [data-plyline]');
         const drawn = [...line.shadowRoot.querySelectorAll('.lines .move')].map(({ textContent }) => textContent.replace(/^\\d+(\\.|…)/, '').trim());
         const bold = [...plain.querySelectorAll('b')].map(({ textContent }) => textContent.replace(/^\\d+(\\.|…)/, '').trim());
         const missing = drawn.filter((move) => !bold.includes(move));
         return [drawn.length > 60, missing, plain.querySelector('img').naturalWidth >= 0]",
    );
    assert_eq!(told, json!([true, [], true]));
}
