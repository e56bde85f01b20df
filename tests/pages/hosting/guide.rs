//! The guide as the demo site has it: every live snippet is drawn, and the snippets for scripts run.

use crate::harness::Case::{self, InOne};
use crate::support::browser::Browser;
use serde_json::json;
use std::fs;

#[allow(dead_code)] // the native tests use the rest
#[path = "../../../demo-site/guide.rs"]
mod pages;

pub const CASES: &[Case] = &[
    InOne(
        "guide: every live snippet is drawn, without a finding",
        drawn,
    ),
    InOne(
        "guide: a live snippet that is not drawn, and one with a finding, are found",
        spoiled,
    ),
    InOne(
        "guide: the snippets for scripts run in their pages",
        scripts,
    ),
];

/// What is wrong on the page that is open.
const AMISS: &str = "
    const parts = { 'ply-line': '[part=lines] .move', 'ply-diagram': 'svg', 'ply-recap': '[part=table] tr',
                    'ply-quiz': '[part=figure] svg', 'ply-recall': '[part=figure] svg', 'ply-prose': '', 'ply-ref': '' };
    const names = Object.keys(parts);
    const wrong = [];
    for (const box of document.querySelectorAll('.live')) {
      // A fence becomes an element when it comes near the view.
      for (let times = 0; times < 100 && box.querySelector(':scope > pre > code'); times += 1) {
        box.scrollIntoView({ behavior: 'instant' });
        await pause(20);
      }
      if (!box.querySelector(`${names}, a`)) wrong.push(`nothing is made of ${box.textContent.trim()}`);
    }
    if (document.querySelector('.live ply-line')) await settled();
    await stills();
    for (const element of document.querySelectorAll(names.map((name) => `.live ${name}`))) {
      const told = element.outerHTML.slice(0, 200);
      const part = parts[element.localName];
      if (part) await drawn(element);
      // An article is read while the page rests.
      for (let turn = 0; !part && turn < 150 && !element.querySelector('a'); turn += 1) await pause(20);
      if (!part && !element.querySelector('a')) wrong.push(`no link in ${told}`);
      if (part && !element.shadowRoot?.querySelector(part)) wrong.push(`not drawn: ${told}`);
      if (element.shadowRoot?.querySelector('.failed')) wrong.push(`failed: ${told}`);
      for (const { code, message } of element.findings ?? []) wrong.push(`${code} ${message} in ${told}`);
    }
    return wrong;";

/// Writes the guide where the pages are served from, and returns the pages with their Markdown.
fn written(browser: &Browser) -> Vec<(String, String)> {
    let folder = format!("guide-{}", browser.engine.name());
    pages::write(&browser.site.folder.join(&folder)).expect("the guide can be written");
    let pages = pages::pages().expect("the guide");
    let read = |(name, path)| {
        let text = fs::read_to_string(path).expect("a page of the guide");
        (format!("{folder}/{name}"), text)
    };
    pages.into_iter().map(read).collect()
}

fn drawn(browser: &Browser) {
    let mut count = 0;
    for (path, text) in written(browser) {
        let live = pages::snippets(&text)
            .iter()
            .filter(|it| it.is_live)
            .count();
        count += live;
        browser.open(&format!("/{path}/"));
        let found = browser.js("return document.querySelectorAll('.live').length");
        assert_eq!(found, live, "{path}");
        assert_eq!(browser.js(AMISS), json!([]), "{path}");
    }
    assert!(count > 15, "only {count} live snippets");
}

fn spoiled(browser: &Browser) {
    let text = "# A\n\n```pgn live\n1. e4 e5 2. Nf4 {No.} *\n```\n\n```html live\n<p>Nothing of ours</p>\n```\n";
    let page = pages::page(text, "www/guide/a.md");
    browser.allow("P012");
    browser.show(
        "<script type=\"module\" src=\"/plyline.mjs\"></script>",
        &page.body,
    );
    let found = browser.js(AMISS).to_string();
    for wanted in ["P012", "nothing is made of"] {
        assert!(found.contains(wanted), "{found}");
    }
}

fn scripts(browser: &Browser) {
    let mut count = 0;
    for (path, text) in written(browser) {
        let snippets = pages::snippets(&text);
        let scripts: Vec<&str> = snippets
            .iter()
            .filter(|it| it.language == "js")
            .map(|it| it.text.as_str())
            .collect();
        if scripts.is_empty() {
            continue;
        }
        count += scripts.len();
        // The form that has a global name.
        let file = format!("{path}/index.html");
        let page = fs::read_to_string(browser.site.folder.join(&file)).expect("its page");
        let module = "<script type=\"module\" src=\"/plyline.mjs\"></script>";
        assert!(page.contains(module), "{path} loads the script otherwise");
        let script = "<script defer src=\"/plyline.js\"></script>";
        browser.site.write(&file, page.replace(module, script));
        browser.open(&format!("/{path}/"));
        browser.js("for (const voice of document.querySelectorAll('audio')) voice.muted = true; await settled()");
        for text in scripts {
            assert_eq!(thrown(browser, text), "", "{path}: {text}");
            let spoiled = text.replace(".ready", ".raedy.then");
            assert_ne!(thrown(browser, &spoiled), "", "{path}: {spoiled}");
        }
    }
    assert!(count >= 3, "only {count} snippets for scripts");
}

/// What a script throws, as text.
fn thrown(browser: &Browser, script: &str) -> String {
    browser.text(&format!(
        "try {{ await (async () => {{\n{script}\n}})(); return '' }} catch (error) {{ return String(error) }}"
    ))
}
