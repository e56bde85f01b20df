//! The file has other writers, and the page may be loaded again or left by its program: nothing that was typed is lost.

use super::Author;
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "what another program saves comes into the page, where focus, caret, half a word and the place stay",
        in_place,
    ),
    Everywhere(
        "a page that is loaded again is at the same move, is still writing, and has the words that were not written",
        again,
    ),
    InOne(
        "where another program has changed the same comment both are shown, and one word decides",
        both,
    ),
    InOne(
        "edits that another program has saved over are put back by one word",
        put_back,
    ),
    InOne(
        "when the program has ended the page says so, and what is typed stays",
        ended,
    ),
    InOne(
        "without the key the page is as readers see it, and nothing is said of writing",
        no_key,
    ),
];

const POST: &str = "# A page\n\nBefore the lesson.\n\n```pgn\n1. d4 d5 2. c4 e6 (2... c6) 3. Nc3 {Ours.} *\n```\n\nAfter it.\n";

fn in_place(browser: &Browser) {
    let author = Author::writing(browser, "post.md", POST);
    author.js(browser, "line().go('2.c4 e6')");
    author.press(browser, "comment");
    author.until(browser, "comment()");
    browser.write_keys("Half a wo");
    author.js(
        browser,
        "comment().setSelectionRange(4, 6); window.same = true",
    );
    let text = author.text();
    author.save(
        &text
            .replace("After it.", "After it, and more.\n\nAnother paragraph.")
            .replace("1. d4", "1. d4 (1. e4 e5)"),
    );
    author.until(browser, "document.body.textContent.includes('Another paragraph.') && line().lesson.node(0).children.length === 2");
    let found = author.js(
        browser,
        "return [window.same, comment().value, comment().selectionStart, comment().selectionEnd, document.activeElement === host(),
           desk().activeElement === comment(), at()]",
    );
    assert_eq!(
        found,
        json!([true, "Half a wo", 4, 6, true, true, "d4 d5 c4 e6"])
    );
}

fn again(browser: &Browser) {
    let author = Author::writing(browser, "post.md", POST);
    author.js(browser, "line().go('2.c4 e6')");
    author.press(browser, "comment");
    author.until(browser, "comment()");
    browser.write_keys("Not written ye");
    browser.open("about:blank");
    browser.open(&format!("{}/post.md", author.address));
    author.begin(browser);
    author.until(
        browser,
        "comment()?.value === 'Not written ye' && at() === 'd4 d5 c4 e6'",
    );
    assert_eq!(
        author.js(browser, "return word('write').ariaPressed"),
        "true"
    );
    author.press(browser, "done");
    author.until_lesson(
        browser,
        "1. d4 d5 2. c4 e6 {Not written ye} (2... c6) 3. Nc3 {Ours.} *",
    );
}

fn both(browser: &Browser) {
    let author = Author::writing(browser, "post.md", POST);
    author.js(browser, "line().go('3.Nc3')");
    author.press(browser, "comment");
    author.until(browser, "comment()?.value === 'Ours.'");
    author.save(&POST.replace("Ours.", "Theirs."));
    author.until(browser, "line().text.includes('Theirs.')");
    browser.write_keys(" And more.");
    author.press(browser, "done");
    author.until(browser, "desk().querySelector('blockquote')?.textContent === 'Theirs.' && comment().value === 'Ours. And more.'");
    assert!(
        author.text().contains("{Theirs.}"),
        "nothing is written over"
    );
    author.press(browser, "write mine");
    author.press(browser, "done");
    author.until_lesson(
        browser,
        "1. d4 d5 2. c4 e6 (2... c6) 3. Nc3 {Ours. And more.} *",
    );
}

fn put_back(browser: &Browser) {
    let author = Author::writing(browser, "post.md", POST);
    author.enter(browser, "go 3.Nc3");
    author.enter(browser, "Nf6 Bg5");
    author.until_lesson(
        browser,
        "1. d4 d5 2. c4 e6 (2... c6) 3. Nc3 {Ours.} 3... Nf6 4. Bg5 *",
    );
    // From a buffer that is older than the edit.
    author.save(&POST.replace("Before", "Long before"));
    author.until(browser, "word('restore')");
    author.press(browser, "restore");
    author.until_lesson(
        browser,
        "1. d4 d5 2. c4 e6 (2... c6) 3. Nc3 {Ours.} 3... Nf6 4. Bg5 *",
    );
    assert!(author.text().contains("Long before"));
}

fn ended(browser: &Browser) {
    browser.allow("plyline preview does not answer");
    browser.allow("ERR_");
    browser.allow("Failed to load");
    let mut author = Author::writing(browser, "post.md", POST);
    author.end();
    author.enter(browser, "Nf3");
    author.until(
        browser,
        "said().includes('does not answer') && field().value === 'Nf3'",
    );
}

fn no_key(browser: &Browser) {
    let author = Author::open(browser, "post.md", POST);
    browser.js("sessionStorage.clear()");
    browser.open(&format!("{}/post.md", author.address));
    browser.js("for (let turn = 0; turn < 200 && !line()?.lesson; turn += 1) await pause(20)");
    assert_eq!(browser.js("return document.querySelectorAll('[data-plyline=writing], [data-plyline=findings]').length"), 0);
    browser.open("about:blank");
    browser.open(&author.with_key());
    author.begin(browser);
}
