//! A page with every form that Markdown authors can write (`generators/page.md`), as CommonMark
//! and site generators render it: every form becomes its element, and the rest stays.
//!
//! CommonMark and Eleventy render it when the cases run; of the others the pages that they wrote
//! are kept in `generators/saved/`. `tests/run.sh --long` runs them again into the folder that
//! PLYLINE_GENERATED names, and there mdBook's page has mdBook's own scripts beside it.

use crate::board::assert_drawn;
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::browser::keys::RIGHT;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;
use std::{env, fs};

pub const CASES: &[Case] = &[
    InOne(
        "CommonMark that leaves raw HTML out keeps the fences, which become elements",
        |browser| assert_upgraded(browser, "commonmark", Keeps::Fences),
    ),
    InOne(
        "CommonMark with raw HTML: every form becomes its element",
        |browser| assert_upgraded(browser, "commonmark-html", Keeps::All),
    ),
    Everywhere(
        "Eleventy as it comes: every form becomes its element",
        |browser| assert_upgraded(browser, "eleventy", Keeps::All),
    ),
    InOne(
        "Hugo as it comes leaves raw HTML out and keeps the fences, which become elements",
        |browser| assert_upgraded(browser, "hugo", Keeps::Fences),
    ),
    InOne(
        "Hugo with raw HTML: every form becomes its element",
        |browser| assert_upgraded(browser, "hugo-html", Keeps::All),
    ),
    InOne(
        "Jekyll as it comes: every form becomes its element",
        |browser| assert_upgraded(browser, "jekyll", Keeps::All),
    ),
    Everywhere("mdBook as it comes: every form becomes its element", mdbook),
];

/// The parts of the source that a rendering keeps.
#[derive(Clone, Copy, PartialEq)]
enum Keeps {
    All,
    /// Raw HTML is left out.
    Fences,
}

const PAGE: &str = include_str!("generators/page.md");
/// What the generators write that are run with the cases, and those whose pages are kept.
const RENDERED: [&str; 3] = ["commonmark", "commonmark-html", "eleventy"];

/// Every element of the page in its order: what it is, its id or where the source of its
/// notation begins, and whether it is a tag of its own, not a fence.
const ELEMENTS: [(&str, &str, bool); 11] = [
    ("ply-line", "fenced", false),
    ("ply-line", "tagged", true),
    ("ply-line", "tight", true),
    ("ply-line", "filed", true),
    ("ply-diagram", "", false),
    ("ply-diagram", "fenced-diagram", false),
    ("ply-recap", "fenced-recap", false),
    ("ply-diagram", "said", true),
    ("ply-diagram", "placed", true),
    ("ply-recap", "summed", true),
    ("ply-diagram", "inline", true),
];

/// Writes all renderings into the served folder, once for all engines.
fn render(browser: &Browser) {
    static DONE: OnceLock<Result<(), String>> = OnceLock::new();
    let done = DONE.get_or_init(|| {
        let here = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pages/articles/generators");
        let out = browser.site.folder.join("generators");
        let run = Command::new("sh")
            .arg(here.join("render.sh"))
            .arg(&out)
            .args(RENDERED)
            .output()
            .map_err(|error| format!("sh cannot be started: {error}"))?;
        if !run.status.success() {
            return Err(String::from_utf8_lossy(&run.stderr).into_owned());
        }
        copy(&here.join("saved"), &out).map_err(|error| error.to_string())?;
        if let Some(folder) = generated() {
            copy(&folder, &out).map_err(|error| error.to_string())?;
        }
        // mdBook copies the script beside its pages.
        let script = browser.site.dist.join("plyline.js");
        fs::copy(script, out.join("mdbook/plyline.js")).map_err(|error| error.to_string())?;
        Ok(())
    });
    if let Err(reason) = done {
        panic!("the page is not rendered: {reason}");
    }
}

/// Where the generators' whole sites are, if they have been run.
fn generated() -> Option<PathBuf> {
    env::var_os("PLYLINE_GENERATED").map(PathBuf::from)
}

fn copy(from: &Path, to: &Path) -> std::io::Result<()> {
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from)? {
        let entry = entry?;
        let target = to.join(entry.file_name());
        match entry.file_type()?.is_dir() {
            true => copy(&entry.path(), &target)?,
            false => fs::copy(entry.path(), target).map(|_| ())?,
        }
    }
    Ok(())
}

/// The notation of a lesson as it is in the source.
fn notation(id: &str) -> &str {
    let (before, after, end) = match id {
        "fenced" => ("```pgn\n", "", "```"),
        _ => (id, "<pre>\n", "</pre>"),
    };
    let (_, rest) = PAGE.split_once(before).expect("the lesson's beginning");
    let (_, rest) = rest.split_once(after).expect("the notation's beginning");
    rest.split_once(end).expect("the notation's end").0
}

fn mdbook(browser: &Browser) {
    let words: &[&str] = match generated() {
        // mdBook's highlighter warns about unknown languages, and its bar
        // follows the scrolling.
        Some(_) => &[
            "Could not find the language",
            "no-highlight",
            "scroll-linked",
        ],
        // Only the page is kept: its style sheets and scripts are not there.
        None => &["404", "Loading failed", "not loaded"],
    };
    for words in words {
        browser.allow(words);
    }
    assert_upgraded(browser, "mdbook", Keeps::All);
    // Its arrows lead to the next chapter, but not out of a lesson.
    browser.js("line('tagged').go('start'); move(1, 'tagged').focus()");
    browser.press(RIGHT);
    browser.js("await pause(200)");
    assert_eq!(
        browser.js("return [location.pathname, line('tagged').current.san]"),
        json!(["/generators/mdbook/index.html", "d4"])
    );
}

#[track_caller]
fn assert_upgraded(browser: &Browser, name: &str, keeps: Keeps) {
    render(browser);
    browser.visit(&format!("/generators/{name}/index.html"));
    browser.js("await stills()");
    let wanted: Vec<_> = ELEMENTS
        .iter()
        .filter(|(.., is_tag)| keeps == Keeps::All || !is_tag)
        .collect();

    let found = browser.js(
        "return [...document.querySelectorAll('ply-line, ply-diagram, ply-recap')].map((element) =>
           [element.localName, element.id, element.findings, ![...element.shadowRoot.children].some((part) => part.matches('slot, .failed'))])",
    );
    let expected: Vec<_> = wanted
        .iter()
        .map(|(element, id, _)| json!([element, id, [], true]))
        .collect();
    assert_eq!(
        found,
        json!(expected),
        "each is there, drawn, without a finding"
    );

    for (element, id, _) in &wanted {
        match (*element, *id) {
            ("ply-line", "filed") => {
                let event = browser.js("return line('filed').lesson.tags.Event");
                assert_eq!(event, "The exchange");
                assert_drawn(browser, id, false);
            }
            ("ply-line", _) => {
                let text = browser.js_with("return line(given).text.trim()", json!(id));
                assert_eq!(text, notation(id).trim(), "the notation of {id}");
                browser.click(&format!("return button('next', '{id}')"));
                assert_drawn(browser, id, *id == "fenced");
            }
            _ => assert_eq!(still(browser, id), shown(id), "{id}"),
        }
    }
    let fences = wanted.iter().filter(|(.., is_tag)| !is_tag).count();
    assert_rest(browser, fences, name == "mdbook");
}

/// What a diagram or a recap shows: its pieces, marks and caption, or its rows.
fn still(browser: &Browser, id: &str) -> Value {
    browser.js_with(
        "const { shadowRoot } = given ? line(given) : document.querySelector('ply-diagram:not([id])');
         const all = (selector) => [...shadowRoot.querySelectorAll(selector)];
         if (all('tbody').length) return all('tbody tr').map(({ cells }) => [...cells].map(({ textContent }) => textContent).join(' => '));
         return [all('.pieces > use').length, all('.marks > *').length, all('figcaption').map((caption) => (caption.querySelector('slot') ? 'its own words' : caption.textContent)).join()]",
        json!(id),
    )
}

fn shown(id: &str) -> Value {
    match id {
        "" => json!([3, 2, "White to move"]),
        "fenced-diagram" => json!([31, 1, "after 3\u{2026}Nxd4?, White to move"]),
        "said" => json!([32, 2, "its own words"]),
        "placed" => json!([3, 0, ""]),
        "inline" => json!([32, 0, "after 3.d4, Black to move"]),
        "fenced-recap" => json!(["1.e4 e5 2.Nf3 Nc6 3.d4 => 3\u{2026}exd4"]),
        "summed" => json!(["1.d4 d5 => 2.c4Eyes d5 -- \"gently\"."]),
        other => panic!("{other} is nothing still"),
    }
}

/// Beside the fences, each of which an element replaces, with the block inside if that is more than
/// tags, the page is what the server sent. Where the page has scripts of its own, which colour its blocks and give
/// them buttons, of a block its text and outside the content nothing is compared.
#[track_caller]
fn assert_rest(browser: &Browser, fences: usize, scripted: bool) {
    let changed = browser.js_with(
        "const sent = await new Promise((done, failed) => {
           const request = new XMLHttpRequest();
           request.open('GET', location.href);
           request.responseType = 'document';
           request.onload = () => done(request.response);
           request.onerror = failed;
           request.send();
         });
         const copies = [sent, document].map((page) => page.documentElement.cloneNode(true));
         for (const code of given ? copies.flatMap((copy) => [...copy.querySelectorAll('pre, code')]) : []) {
           code.querySelectorAll('.buttons').forEach((part) => part.remove());
           code.removeAttribute('class');
           code.textContent = code.textContent;
         }
         const [before, after] = copies.map((copy) => [...copy.querySelector('main').children]);
         const changed = after.filter((part, at) => part.outerHTML !== before[at]?.outerHTML);
         const block = (part) => (part?.localName === 'pre' ? part : part?.querySelector('pre'));
         // Of a fence of tags alone nothing is left for readers; of the others the block.
         const isWhole = (part) => part.hasAttribute('for') ? part.childNodes.length === 1 && !part.textContent
           : part.children.length === 1 && part.firstElementChild.outerHTML === block(before[after.indexOf(part)])?.outerHTML;
         const kept = changed.filter((part) => part.localName.startsWith('ply-') && isWhole(part));
         copies.forEach((copy) => copy.querySelector('main').replaceChildren());
         const around = given || copies[0].outerHTML === copies[1].outerHTML;
         return [before.length === after.length, changed.length, kept.length, around]",
        json!(scripted),
    );
    assert_eq!(changed, json!([true, fences, fences, true]));
}
