//! Recall: a lesson walked from memory, what is said at its end, and what is kept of it.

use super::access::assert_clean_in_both;
use super::harness::Case;
use crate::support::browser::Browser;
use crate::support::keys::{DOWN, ENTER, LEFT, RIGHT, UP};
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    (
        "a lesson is walked from memory by pointer, by keys and by typed moves",
        walk,
    ),
    (
        "a slip shows the choice and the author's reason, and comes back before the walk ends",
        slip,
    ),
    (
        "a fair move is accepted with a word, and an illegal one refused",
        fair,
    ),
    (
        "in the end every branch is met, and the account stands in words and on the map",
        account,
    ),
    (
        "recall of one variation begins there, and what has no choice says so to its author",
        part,
    ),
    (
        "nothing is kept before the reader asks for it, and then what was recalled is",
        remember,
    ),
    (
        "positions come back on their day, and a changed choice starts again and is told",
        coming_back,
    ),
    ("lessons of a series are counted together", series),
    (
        "storage that is denied or full costs one quiet sentence and nothing else",
        refused,
    ),
    (
        "of two tabs neither loses what the other has learned, and both forget",
        two_tabs,
    ),
    (
        "what cannot be read is set aside, and what is newer is left alone",
        corrupt_and_newer,
    ),
    (
        "progress is taken along as a file, read again and forgotten",
        files,
    ),
    (
        "axe-core finds nothing in a recall, and it fits a small phone",
        clean,
    ),
    (
        "a recall is written as a fence, speaks German, and prints its prompt alone",
        forms,
    ),
    (
        "the demo's recall holds the lesson of its page, and is walked to its end",
        demo,
    ),
];

/// White has five positions to recall, four of them on the main line.
const LESSON: &str = "1. d4 d5 2. c4 e6 (2... c6 {Solid.} 3. Nf3 {It keeps e5 in sight.} Nf6) \
    3. Nc3 {The knight looks at @d5.} (3. Nf3 {Sound too.}) (3. cxd5? {Too early.} exd5) \
    3... Nf6 4. Bg5 {The pin.} *";

const HEAD: &str = "<link rel=\"stylesheet\" href=\"/plyline.css\">\n<link rel=\"stylesheet\" href=\"/site.css\">\n\
    <script src=\"/device.js\"></script>\n<script defer src=\"/plyline.js\"></script>";

/// Short names, and a reader who remembers all.
const READER: &str = "
    await customElements.whenDefined('ply-recall'); const r = line('r'); await drawn(r);
    const said = () => inside('[role=status]', 'r').textContent.trim();
    const row = () => inside('.try', 'r').innerText.replace(/\\s+/g, ' ').trim();
    const take = (what) => inside(`[data-take=${what}]`, 'r');
    const does = (what) => all(`.try [data-do=${what}]`, 'r')[0];
    const right = { '': 'd4', 'd4 d5': 'c4', 'd4 d5 c4 e6': 'Nc3', 'd4 d5 c4 e6 Nc3 Nf6': 'Bg5', 'd4 d5 c4 c6': 'Nf3' };
    const whole = (wrong = {}) => {
      take('begin').click();
      for (let turn = 0; turn < 40 && !take('begin'); turn += 1) {
        const way = r.current.moves.join(' ');
        if (does('next')) does('next').click();
        else r.play(wrong[way] ?? right[way]);
        delete wrong[way];
      }
    };
    const kept = () => localStorage.getItem('plyline-recall:t');
    const count = (text) => JSON.parse(text).positions.length;";

fn body(recall: &str) -> String {
    format!(
        "<div data-plyline-series=\"t\"><ply-line id=\"x\"><pre>{LESSON}</pre></ply-line>\n{recall}</div>"
    )
}

fn reader(browser: &Browser, script: &str) -> Value {
    browser.js(&format!("{READER}\n{script}"))
}

/// Opens a page with a recall and an empty storage; returns its path.
fn open(browser: &Browser, recall: &str) -> String {
    let path = browser.write(HEAD, &body(recall));
    browser.visit(&path);
    browser.js("localStorage.clear()");
    browser.visit(&path);
    reader(browser, "");
    path
}

const WHITE: &str = "<ply-recall id=\"r\" for=\"x\" side=\"white\"></ply-recall>";
const KEPT: &str = "<ply-recall id=\"r\" for=\"x\" side=\"white\" remember></ply-recall>";

fn walk(browser: &Browser) {
    open(browser, WHITE);
    assert_eq!(
        reader(
            browser,
            "return [inside('.lines', 'r').innerText.trim(), row(), r.current.moves, take('keep')]"
        ),
        json!([
            "White from memory; the page plays Black.",
            "begin",
            [],
            null
        ])
    );
    browser.click("return inside('[data-take=begin]', 'r')");
    assert_eq!(reader(browser, "return row()"), "Your move. show me stop");
    // By pointer.
    browser.click("return inside('[data-square=d2]', 'r')");
    browser.click("return inside('[data-square=d4]', 'r')");
    assert_eq!(
        reader(browser, "return [r.current.moves, said()]"),
        json!([["d4", "d5"], "Right: 1.d4. The reply is d5. Your move."])
    );
    // By keys.
    browser.js("inside('[data-square=c2]', 'r').focus()");
    browser.press(ENTER);
    browser.press(UP);
    browser.press(UP);
    browser.press(ENTER);
    let moves = reader(browser, "return r.current.moves");
    assert_eq!(moves[2], "c4");
    // Typed, whichever branch the page has chosen.
    let reply = if moves[3] == "e6" { "Nc3" } else { "Nf3" };
    browser.click("return button('desk', 'r')");
    browser.js("inside('.typed', 'r').focus()");
    browser.write_keys(reply);
    browser.press(ENTER);
    assert_eq!(
        reader(browser, "return r.current.moves.slice(4, 6)"),
        json!([reply, "Nf6"])
    );
    // Nothing leads out of the walk.
    browser.js("line('r').go('start'); line('r').back(); line('r').next(); line('r').go('4.Bg5')");
    assert_eq!(reader(browser, "return r.current.moves.length"), 6);
    browser.js("inside('[data-square=e1]', 'r').focus()");
    for key in [LEFT, RIGHT, DOWN] {
        browser.press(key);
    }
    assert_eq!(
        reader(browser, "return [r.current.moves.length, r.current.next]"),
        json!([6, []])
    );
    assert_eq!(
        browser.js("return tries"),
        json!([
            ["ply-answered", "right", "d4"],
            ["ply-settled", "answered", null],
            ["ply-answered", "right", "c4"],
            ["ply-settled", "answered", null],
            ["ply-answered", "right", reply],
            ["ply-settled", "answered", null]
        ])
    );
}

fn slip(browser: &Browser) {
    open(browser, WHITE);
    let told = reader(
        browser,
        "take('begin').click(); r.play('d4'); r.play('c4');
         // The page may have chosen the other branch first.
         if (r.current.san === 'c6') { r.play('Nf3'); does('next').click(); }
         r.play('cxd5'); return [r.current.san, said(), row()]",
    );
    assert_eq!(
        told,
        json!([
            "Nc3",
            "Weaker: 3.cxd5. Too early. The answer: 3.Nc3. The knight looks at d5. \
             This position comes back before the walk ends.",
            "go on stop"
        ])
    );
    let on = reader(
        browser,
        "does('next').click(); const now = [r.current.san, row()]; does('show').click();
         return [now, r.current.san, said()]",
    );
    assert_eq!(
        on,
        json!([
            ["Nf6", "Your move. show me stop"],
            "Bg5",
            "The answer: 4.Bg5. The pin. This position comes back before the walk ends."
        ])
    );
    // Both come back, the first first, and one that is missed again comes again.
    let back = reader(
        browser,
        "const seen = []; const note = () => seen.push([r.current.moves.at(-1), row().split('.')[0]]);
         does('next').click(); note(); r.play('a3'); does('next').click(); note();
         r.play('Bg5'); note(); r.play('Nc3'); seen.push(row()); return seen",
    );
    assert_eq!(
        back,
        json!([
            ["e6", "This position comes back"],
            ["Nf6", "This position comes back"],
            ["e6", "This position comes back"],
            back[3]
        ])
    );
    assert_ne!(back[3], "Your move. show me stop");
    assert_eq!(
        reader(browser, "return said()"),
        "Right: 3.Nc3. The knight looks at d5. \
         Positions met: 4 of 5; recalled: 2; to come again: 2."
            .replace(
                "met: 4",
                if told_all(browser) {
                    "met: 5"
                } else {
                    "met: 4"
                }
            )
            .replace(
                "recalled: 2",
                if told_all(browser) {
                    "recalled: 3"
                } else {
                    "recalled: 2"
                }
            )
    );
}

/// Whether both branches have been walked.
fn told_all(browser: &Browser) -> bool {
    reader(browser, "return Boolean(take('begin'))") == true
}

fn fair(browser: &Browser) {
    open(browser, WHITE);
    let said = reader(
        browser,
        "take('begin').click(); r.play('d4'); r.play('c4');
         if (r.current.san === 'c6') { r.play('Nf3'); does('next').click(); }
         r.play('Nf3'); return [r.current.san, said(), row()]",
    );
    assert_eq!(
        said,
        json!([
            "Nc3",
            "Sound: 3.Nf3 is in the lesson too, which prefers another move here. Sound too. \
             The answer: 3.Nc3. The knight looks at d5.",
            "go on stop"
        ])
    );
    let refused = reader(
        browser,
        "does('next').click(); r.play('Bxf6'); return [r.current.san, said(), tries.at(-1)]",
    );
    assert_eq!(refused[0], "Nf6");
    assert_eq!(refused[2], json!(["ply-answered", "illegal", null]));
    assert!(refused[1].as_str().is_some_and(|said| !said.is_empty()));
    // A fair move is no slip: nothing comes back.
    let end = reader(browser, "r.play('Bg5'); return said()");
    assert!(
        end.as_str()
            .is_some_and(|said| said.ends_with("to come again: 0.")),
        "{end}"
    );
}

fn account(browser: &Browser) {
    open(browser, WHITE);
    reader(browser, "whole({ 'd4 d5 c4 e6 Nc3 Nf6': 'e3' })");
    let found = reader(
        browser,
        "return [said().split('Positions')[1], all('.held li', 'r').map((item) => item.textContent),
           all('.map .labels text', 'r').map((label) => label.textContent),
           all('.map .missed', 'r').map((mark) => mark.id), getComputedStyle(inside('.map .missed', 'r')).strokeDasharray !== 'none',
           row()]",
    );
    assert_eq!(
        found,
        json!([
            " met: 5 of 5; recalled: 4; to come again: 1.",
            ["main: 3 of 4", "line A: 1 of 1"],
            ["A 1/1", "B", "C", "3/4"],
            [found[3][0]],
            true,
            found[5]
        ])
    );
    // The mark is that of the position, after 3…Nf6.
    let node = browser.js("return line('x').lesson.find('3.Nc3 Nf6')");
    assert_eq!(found[3][0], format!("k{node}"));
    // Once more, and stopped at once.
    let stopped = reader(
        browser,
        "take('begin').click(); does('stop').click(); return all('.held li', 'r').map((item) => item.textContent)",
    );
    assert_eq!(stopped, json!(["main: 0 of 4", "line A: 0 of 1"]));
}

fn part(browser: &Browser) {
    browser.expect("no move to choose");
    open(
        browser,
        "<ply-recall id=\"r\" for=\"x\" at=\"2...c6\"><p>Only the solid line.</p></ply-recall>
         <ply-recall id=\"none\" for=\"x\" at=\"4.Bg5\"></ply-recall>",
    );
    let found = reader(
        browser,
        "const prompt = inside('.lines', 'r').textContent; take('begin').click(); r.play('Nf3');
         await line('none').ready;
         return [prompt, r.current.moves, all('.held li', 'r').length, line('none').progress, codes(line('none')),
           told.filter(({ type }) => type === 'ply-failed').map(({ id }) => id)]",
    );
    assert_eq!(
        found,
        json!([
            "",
            ["d4", "d5", "c4", "c6", "Nf3", "Nf6"],
            1,
            null,
            [found[4][0]],
            ["none"]
        ])
    );
}

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
        "return [said(), localStorage.length, count(kept()), take('keep'), Boolean(take('forget'))]",
    );
    assert_eq!(after, json!([after[0], 1, 5, null, true]));
    assert!(
        after[0]
            .as_str()
            .is_some_and(|said| said.contains("a week without a visit")),
        "{after}"
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
        reader(browser, "return [row(), r.progress.waiting]"),
        json!(["begin save progress as a file read a file forget", 5])
    );
    browser.visit(&format!("{path}?days=1"));
    assert_eq!(
        reader(browser, "return [row(), r.progress]"),
        json!([
            "5 positions to come back to today. begin save progress as a file read a file forget",
            { "positions": 5, "new": 0, "due": 5, "changed": 0, "waiting": 0, "next": null }
        ])
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
    // Another choice at one position: it starts again on the same day, and is told.
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
            "const quiet = row(); whole(); const walked = [said().includes('cannot keep'), r.progress.waiting];
             take('keep').click(); return [quiet, walked, said(), Boolean(take('keep')), count(r.exportProgress())]",
        );
        assert_eq!(
            said[0],
            "begin Remember my progress on this device save progress as a file read a file"
        );
        assert_eq!(said[1], json!([false, 5]));
        assert!(
            said[2].as_str().is_some_and(|said| said.ends_with(
                "This browser cannot keep it: your progress lasts while this page is open."
            )),
            "{said}"
        );
        assert_eq!((&said[3], &said[4]), (&json!(true), &json!(5)));
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
    // One learns the main line, the other the sideline, each before it hears of the other.
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
         one.play('d4'); two.play('d4'); one.play('c4'); two.play('a3');
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
        "const first = said(); whole(); return [first, localStorage.getItem('plyline-recall:t:aside'), count(kept())]",
    );
    assert_eq!(
        found,
        json!([
            "What was kept here could not be read. It is set aside, and you start anew.",
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
        "const first = said(); whole(); return [first.split('.')[0], kept(), localStorage.length, r.progress.waiting]",
    );
    assert_eq!(
        found,
        json!([
            "A newer plyline keeps progress here, which is left as it is: yours lasts while this page is open",
            newer,
            1,
            5
        ])
    );
}

fn files(browser: &Browser) {
    let path = open(browser, KEPT);
    let text = reader(
        browser,
        "whole(); take('keep').click(); const text = r.exportProgress(); take('forget').click();
         return [text, localStorage.length, said().includes('Forgotten.'), r.progress.new]",
    );
    assert_eq!(
        (&text[1], &text[2], &text[3]),
        (&json!(0), &json!(true), &json!(5))
    );
    browser.visit(&path);
    let script = format!(
        "{READER}
         const before = r.progress.new;
         const bad = [r.importProgress('[]'), r.importProgress(''), r.importProgress('{{}}')];
         globalThis.chosen = given; r.ownerDocument.defaultView.chosen = given;
         take('keep').click(); take('load').click();
         for (let turn = 0; turn < 100 && !said().includes('nothing was lost'); turn += 1) await pause(20);
         return [before, bad, r.progress.waiting, count(kept()), r.importProgress(given)]"
    );
    assert_eq!(
        browser.js_with(&script, text[0].clone()),
        json!([5, [false, false, false], 5, 5, true])
    );
}

fn clean(browser: &Browser) {
    for dark in [false, true] {
        browser.dark(dark);
        open(browser, KEPT);
        assert_clean_in_both(browser, "before the first walk");
        reader(browser, "take('begin').click(); r.play('d4'); r.play('e3')");
        assert_clean_in_both(browser, "after a slip");
        reader(
            browser,
            "does('next').click(); does('stop').click(); take('keep').click()",
        );
        assert_clean_in_both(browser, "at the account");
    }
    browser.width(Some(if browser.engine.name() == "webkit" {
        460
    } else {
        320
    }));
    let wide = reader(
        browser,
        "await painted(); return [document.documentElement.scrollWidth <= innerWidth,
           all('.held, .try, .notice', 'r').filter((part) => part.getBoundingClientRect().right > innerWidth + 1).length]",
    );
    assert_eq!(wide, json!([true, 0]));
}

fn forms(browser: &Browser) {
    let path = browser.write(
        &format!("<script src=\"/words/de.js\"></script>\n{HEAD}"),
        &format!(
            "<div lang=\"de\"><pre><code class=\"language-pgn\">[Id \"x\"]\n\n{LESSON}</code></pre>
             <pre><code class=\"language-ply-recall\">[For \"x\"] [Side \"black\"] [Remember \"yes\"] [Id \"r\"]\nSchwarz, auswendig.</code></pre></div>"
        ),
    );
    browser.visit(&path);
    let found = reader(
        browser,
        "const { remember, side, textContent } = r; const first = [remember, side, textContent.trim(), row()];
         take('begin').click(); return [first, r.current.moves, row()]",
    );
    assert_eq!(
        found,
        json!([
            [
                true,
                "black",
                "Schwarz, auswendig.",
                "anfangen Meinen Stand auf diesem Gerät merken Stand als Datei speichern Datei einlesen"
            ],
            ["d4"],
            "Du bist am Zug. zeigen aufhören"
        ])
    );
    if browser.engine.name() == "chromium" {
        browser.medium("print", "light", false);
        assert_eq!(
            reader(
                browser,
                "return [r.innerText.trim(), visible(inside('.margin', 'r'))]"
            ),
            json!(["Schwarz, auswendig.", false])
        );
        browser.medium("", "light", false);
    }
}

fn demo(browser: &Browser) {
    browser.visit("/the-jump-that-must-wait/");
    let lesson = browser.text("return line('exchange').text");
    browser.visit("/from-memory/");
    let found = browser.js(
        "await customElements.whenDefined('ply-recall'); const r = line('jump'); await drawn(r);
         localStorage.clear();
         const does = (what) => all(`.try [data-do=${what}]`, 'jump')[0];
         const take = (what) => inside(`[data-take=${what}]`, 'jump');
         take('begin').click();
         let conditions = 0;
         for (let turn = 0; turn < 500 && !take('begin'); turn += 1) {
           conditions += /Your move: if you /.test(inside('.try', 'jump').innerText);
           if (does('next')) does('next').click();
           else { // shown is played, when it comes back
             const way = r.current.moves.join(' ');
             if (!globalThis.known?.[way]) { does('show').click(); (globalThis.known ??= {})[way] = r.current.san; }
             else r.play(globalThis.known[way]);
           }
         }
         if (r.querySelector('ply-ref')) return ['read as prose'];
         return [r.text, r.progress, conditions > 0, Boolean(take('keep')), inside('[role=status]', 'jump').textContent]",
    );
    assert_eq!(found[0].as_str().map(str::trim), Some(lesson.trim()));
    let positions = found[1]["positions"].as_u64().expect("a number");
    assert!(positions > 20, "{positions}");
    assert_eq!((&found[2], &found[3]), (&json!(true), &json!(true)));
    let said = found[4].as_str().expect("a text");
    assert!(said.contains("to come again:"), "{said}");
    for dark in [false, true] {
        browser.dark(dark);
        browser.visit("/from-memory/");
        browser.js("await drawn(line('jump'))");
        assert_clean_in_both(browser, "the demo's recall");
    }
}
