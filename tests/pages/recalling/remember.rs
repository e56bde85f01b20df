//! What is kept of recall: on the reader's device when they ask for it, and until another day.

use super::recall::{HEAD, KEPT, LESSON, READER, body, open, reader};
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "nothing is kept before the reader asks for it, and then what was recalled is",
        remember,
    ),
    InOne(
        "positions come back on their day, and a changed choice starts again and is told",
        coming_back,
    ),
    InOne("lessons of a series are counted together", series),
    Everywhere(
        "storage that is denied or full costs one quiet sentence and nothing else",
        refused,
    ),
    Everywhere(
        "of two tabs neither loses what the other has learned, and both forget",
        two_tabs,
    ),
    Everywhere(
        "what cannot be read is set aside, and what is newer is left alone",
        corrupt_and_newer,
    ),
    Everywhere(
        "progress is taken along as a file, read again and forgotten",
        files,
    ),
];

/// What can be done with what is kept.
const KEEPS: &str =
    "Remembered on this device save progress as a file read a file forget my progress";

fn remember(browser: &Browser) {
    open(browser, KEPT);
    let before = reader(
        browser,
        "whole(); return [localStorage.length, r.progress, row().includes('Remember my progress on this device')]",
    );
    assert_eq!(before[0], 0);
    assert_eq!(before[1]["waiting"], 5);
    assert_eq!(before[2], true);
    browser.click("return inside('[data-take=keep]', 'r')");
    let after = reader(
        browser,
        "return [note(), localStorage.length, count(kept()), take('keep').ariaDisabled, Boolean(take('forget'))]",
    );
    assert_eq!(
        after,
        json!([
            "Kept only in this browser, until you forget it here. Some browsers delete it after a week \
             without a visit: a saved file stays. Remembered: 5 of 5 positions. \
             The next ones come back tomorrow.",
            1,
            5,
            "true",
            true
        ])
    );
}

fn coming_back(browser: &Browser) {
    let path = open(browser, KEPT);
    reader(
        browser,
        "whole({ 'd4 d5 c4 e6': 'e3' }); take('keep').click()",
    );
    browser.visit(&path);
    assert_eq!(
        reader(browser, "return [row(), r.progress.waiting, note()]"),
        json!([
            format!("begin {KEEPS}"),
            5,
            "Remembered: 5 of 5 positions. The next ones come back tomorrow."
        ])
    );
    browser.visit(&format!("{path}?days=1"));
    assert_eq!(
        reader(browser, "return [row(), r.progress]"),
        json!([
            format!("5 positions to come back to today. begin {KEEPS}"),
            { "positions": 5, "new": 0, "due": 5, "changed": 0, "waiting": 0, "next": null }
        ])
    );
    // The confirmation is at its two buttons.
    let asked = reader(browser, "take('forget').click(); return row()");
    assert!(
        asked
            .as_str()
            .is_some_and(|row| row.starts_with("Forget all that is kept here")
                && row.ends_with("keep it forget it")),
        "{asked}"
    );
    // What was missed is met in the first walk; all are recalled and wait two days, or one.
    let walked = reader(
        browser,
        "take('begin').click(); r.play('d4'); r.play('c4'); const first = r.current.san;
         does('stop').click(); whole(); return [first, r.progress]",
    );
    assert_eq!(walked[0], "e6");
    assert_eq!(walked[1]["due"], 0);
    assert!(walked[1]["next"].is_string());
    // Another choice at one position: it starts again on the same day, and the reader is told.
    let changed = LESSON.replace("4. Bg5 {The pin.}", "4. e3 {Quiet.} (4. Bg5)");
    let text = body(KEPT).replace(LESSON, &changed);
    let other = browser.write(HEAD, &text);
    browser.visit(&format!("{other}?days=1"));
    let told = reader(browser, "return row()");
    assert!(
        told.as_str().is_some_and(|row| row.starts_with(
            "1 position to come back to today. The author has changed the choice at 1 of them: they start again. begin"
        )),
        "{told}"
    );
}

fn series(browser: &Browser) {
    open(browser, KEPT);
    reader(browser, "whole(); take('keep').click()");
    let other = browser.write(
        HEAD,
        "<div data-plyline-series=\"t\"><ply-line id=\"x\"><pre>1. e4 e5 2. Nf3 *</pre></ply-line>
         <ply-recall id=\"r\" for=\"x\" remember></ply-recall></div>",
    );
    browser.visit(&format!("{other}?days=3"));
    let row = reader(browser, "return row()");
    // The start is a position of both lessons, and its choice is another one here.
    assert!(
        row.as_str().is_some_and(|row| row.starts_with(
            "1 position to come back to today. In all lessons together: 5. The author has changed"
        )),
        "{row}"
    );
}

fn refused(browser: &Browser) {
    let path = open(browser, KEPT);
    for storage in ["denied", "full"] {
        browser.visit(&format!("{path}?storage={storage}"));
        let said = reader(
            browser,
            "const quiet = row(); whole(); const walked = [note(), r.progress.waiting];
             take('keep').click(); return [quiet, walked, note(), take('keep').ariaDisabled, count(r.exportProgress())]",
        );
        assert_eq!(
            said[0],
            "begin Remember my progress on this device read a file"
        );
        assert_eq!(said[1], json!(["", 5]));
        assert_eq!(
            said[2],
            "This browser cannot keep it: your progress lasts while this page is open."
        );
        assert_eq!((&said[3], &said[4]), (&json!(null), &json!(5)));
    }
}

fn two_tabs(browser: &Browser) {
    let path = open(browser, KEPT);
    reader(browser, "take('keep').click()");
    let frames = browser.write(
        "",
        &format!("<iframe width=900 height=900 src=\"{path}\"></iframe><iframe width=900 height=900 src=\"{path}\"></iframe>"),
    );
    browser.open(&frames);
    // One learns the main line, the other the sideline, each before it knows of the other.
    let counts = browser.js(
        "const frames = [...document.querySelectorAll('iframe')];
         const recalls = [];
         for (const { contentWindow, contentDocument } of frames) {
           for (let turn = 0; turn < 300; turn += 1) {
             const found = frames.at(recalls.length).contentDocument?.querySelector('ply-recall');
             if (found?.shadowRoot?.querySelector('[data-take=begin]')) { recalls.push(found); break; }
             found?.scrollIntoView(); await pause(20);
           }
         }
         const [one, two] = recalls;
         const inner = (recall, selector) => recall.shadowRoot.querySelector(selector);
         inner(one, '[data-take=begin]').click(); inner(two, '[data-take=begin]').click();
         one.play('d4'); two.play('d4'); one.play('c4'); two.play('a3'); two.play('a3');
         inner(two, '.try .try [data-do=next]').click(); two.play(two.current.san === 'e6' ? 'Nc3' : 'Nf3');
         const kept = JSON.parse(localStorage.getItem('plyline-recall:t')).positions.length;
         for (let turn = 0; turn < 100 && one.progress.new !== two.progress.new; turn += 1) await pause(20);
         const both = [one.progress.new, two.progress.new];
         one.forget();
         for (let turn = 0; turn < 100 && two.progress.new < 5; turn += 1) await pause(20);
         return [kept, both, two.progress.new, localStorage.length]",
    );
    assert_eq!(counts, json!([3, [2, 2], 5, 0]));
}

fn corrupt_and_newer(browser: &Browser) {
    let path = open(browser, KEPT);
    browser.js("localStorage.setItem('plyline-recall:t', '{\"plyline\":\"progress\",\"ver')");
    browser.visit(&path);
    let found = reader(
        browser,
        "const first = note(); whole(); return [first, localStorage.getItem('plyline-recall:t:aside'), count(kept())]",
    );
    assert_eq!(
        found,
        json!([
            "What was kept here could not be read. It is set aside, and you start again.",
            "{\"plyline\":\"progress\",\"ver",
            5
        ])
    );
    // A second one is set aside beside it.
    browser.js("localStorage.setItem('plyline-recall:t', 'nothing')");
    browser.visit(&path);
    assert_eq!(
        reader(
            browser,
            "return [localStorage.getItem('plyline-recall:t:aside'), localStorage.getItem('plyline-recall:t:aside+')]"
        ),
        json!(["{\"plyline\":\"progress\",\"ver", "nothing"])
    );
    let newer = "{\"plyline\":\"progress\",\"version\":2,\"more\":[]}";
    browser.js_with(
        "localStorage.clear(); localStorage.setItem('plyline-recall:t', given)",
        json!(newer),
    );
    browser.visit(&path);
    let found = reader(
        browser,
        "const first = note(); whole(); return [first.split('.')[0], kept(), localStorage.length, r.progress.waiting]",
    );
    assert_eq!(
        found,
        json!([
            "Progress of a newer plyline is stored here and not changed: yours lasts while this page is open",
            newer,
            1,
            5
        ])
    );
}

fn files(browser: &Browser) {
    let path = open(browser, KEPT);
    // With nothing kept there is nothing to save.
    let text = reader(
        browser,
        "const empty = [take('file')]; whole(); empty.push(take('file') !== null); take('keep').click();
         const text = r.exportProgress(); take('forget').click(); take('erase').click();
         return [text, localStorage.length, note() === 'Forgotten.', r.progress.new, empty]",
    );
    assert_eq!(
        (&text[1], &text[2], &text[3], &text[4]),
        (&json!(0), &json!(true), &json!(5), &json!([null, true]))
    );
    browser.visit(&path);
    let script = format!(
        "{READER}
         const before = r.progress.new;
         const bad = [r.importProgress('[]'), r.importProgress(''), r.importProgress('{{}}')];
         globalThis.chosen = given; r.ownerDocument.defaultView.chosen = given;
         take('keep').click(); take('load').click();
         for (let turn = 0; turn < 100 && !note().includes('Positions read: 5. Nothing was lost.'); turn += 1) await pause(20);
         return [before, bad, r.progress.waiting, count(kept()), note().split('. R')[0], r.importProgress(given)]"
    );
    assert_eq!(
        browser.js_with(&script, text[0].clone()),
        json!([
            5,
            [false, false, false],
            5,
            5,
            "Positions read: 5. Nothing was lost",
            true
        ])
    );
}
