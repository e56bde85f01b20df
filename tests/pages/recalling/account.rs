//! The summary at the end of a recall: what it says, where it leads, how it looks; and where the
//! focus is on the way there.

use super::recall::{HEAD, KEPT, LESSON, WHITE, open, reader};
use crate::harness::Case::{self, Everywhere, InOne};
use crate::seeing::access::assert_clean_in_both;
use crate::support::browser::Browser;
use crate::support::browser::keys::{ENTER, TAB};
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    InOne(
        "in the end every branch is met, and the account stands in words and on the map",
        account,
    ),
    InOne(
        "a reader who asks only to be shown comes to the end of a recall",
        shown,
    ),
    Everywhere(
        "the account of a recall leads to its lesson where that stands on the page",
        leads,
    ),
    Everywhere(
        "by keys alone the focus of a recall goes on with the walk",
        keys,
    ),
    Everywhere(
        "the account of a recall stands below its board, its counts in a column",
        columns,
    ),
    InOne(
        "axe-core finds nothing in a recall, and it fits a small phone",
        clean,
    ),
];

fn account(browser: &Browser) {
    open(browser, WHITE);
    reader(browser, "whole({ 'd4 d5 c4 e6 Nc3 Nf6': 'e3' })");
    let found = reader(
        browser,
        "return [said().split('Positions')[1], held(),
           all('.map .labels text', 'r').map((label) => label.textContent),
           all('.map .missed', 'r').map((mark) => mark.id), getComputedStyle(inside('.map .missed', 'r')).strokeDasharray !== 'none',
           row()]",
    );
    assert_eq!(
        found,
        json!([
            " met: 5 of 5; recalled: 4; to come again: 1.",
            [
                "main, 3 of 4 recalled, to come again: your move after 3\u{2026}Nf6",
                "line A 2\u{2026}c6, 1 of 1 recalled"
            ],
            ["A", "B", "C", "3/4", "1/1"],
            [found[3][0]],
            true,
            found[5]
        ])
    );
    // The mark is that of the position, after 3…Nf6.
    let node = browser.js("return line('x').lesson.find('3.Nc3 Nf6')");
    assert_eq!(found[3][0], format!("k{node}"));
    assert_eq!(found[5], "That was the last walk. again");
    // Once more, and stopped at once: nothing was met, and nothing is said about it.
    let stopped = reader(
        browser,
        "take('begin').click(); does('stop').click(); return [held(), row(), r.current.moves]",
    );
    assert_eq!(stopped, json!([[], "begin", []]));
}

fn shown(browser: &Browser) {
    open(browser, WHITE);
    // Five positions, each shown twice with a word to go on, in two walks, each with a last look.
    let found = reader(
        browser,
        "take('begin').click(); let presses = 1;
         for (; !take('begin') && presses < 99; presses += 1) (does('next') ?? does('show')).click();
         return [presses <= 1 + 2 * 2 * 5 + 1 + 2, said(), does('next') ?? null, held()]",
    );
    assert_eq!(
        found,
        json!([
            true,
            "That was the last walk. Positions met: 5 of 5; recalled: 0; to come again: 5.",
            null,
            [
                "main, 0 of 4 recalled, to come again: your move after the start; 1\u{2026}d5; 2\u{2026}e6; 3\u{2026}Nf6",
                "line A 2\u{2026}c6, 0 of 1 recalled, to come again: your move after 2\u{2026}c6"
            ]
        ])
    );
}

/// The result of a link in the summary: the lesson's moves, where its focus is, the address, and
/// whether the recall has stayed where it was.
fn led_to(browser: &Browser) -> Value {
    browser.js(
        "await pause(600); const { shadowRoot, current } = line('x'); // the address may come later
         return [current.moves, shadowRoot.activeElement?.textContent ?? null, location.hash, line('r').current.moves.length]",
    )
}

fn leads(browser: &Browser) {
    open(browser, WHITE);
    let links = reader(
        browser,
        "whole({ 'd4 d5 c4 e6': 'e3' }); line('r').scrollIntoView({ block: 'center', behavior: 'instant' });
         return [all('.held a', 'r').map((link) => [link.textContent.trim(), link.hash]), r.current.moves.length]",
    );
    let (links, length) = (&links[0], &links[1]);
    assert_eq!(
        *links,
        json!([
            ["main", "#x"],
            ["2\u{2026}e6", "#x/2...e6"],
            ["line A 2\u{2026}c6", "#x/2...c6"]
        ])
    );
    browser.click("return all('.held a', 'r')[2]");
    let sideline = json!([["d4", "d5", "c4", "c6"], "2\u{2026}c6", "#x/2...c6", length]);
    assert_eq!(led_to(browser), sideline);
    browser.js("all('.held a', 'r')[1].focus()");
    browser.press(ENTER);
    assert_eq!(
        led_to(browser),
        json!([["d4", "d5", "c4", "e6"], "e6", "#x/2...e6", length])
    );
    // With a key held it is the browser's.
    let taken = browser.js(
        "const link = all('.held a', 'r')[2];
         addEventListener('click', (event) => (globalThis.taken = event.defaultPrevented) || event.preventDefault(), { once: true });
         link.dispatchEvent(new MouseEvent('click', { ctrlKey: true, bubbles: true, composed: true, cancelable: true }));
         return [taken, line('x').current.moves.at(-1)]",
    );
    assert_eq!(taken, json!([false, "e6"]));
    // From elsewhere there is no place on the page to lead to.
    let file = format!("{}-recalled.pgn", browser.engine.name());
    browser.site.write(&file, LESSON);
    open(
        browser,
        &format!("<ply-recall id=\"r\" src=\"/{file}\" side=\"white\"></ply-recall>"),
    );
    let named = reader(
        browser,
        "whole(); return [all('.held a', 'r').length, held()]",
    );
    assert_eq!(
        named,
        json!([
            0,
            [
                "main, 4 of 4 recalled",
                "line A 2\u{2026}c6, 1 of 1 recalled"
            ]
        ])
    );
}

/// What has the focus: a square, or what a button says.
fn focused(browser: &Browser) -> String {
    browser.text(
        "const found = line('r').shadowRoot.activeElement;
         return found?.dataset.square ? 'square' : (found?.textContent ?? '')",
    )
}

fn keys(browser: &Browser) {
    open(browser, KEPT);
    let press = |wanted: &str| {
        browser.press(ENTER);
        assert_eq!(focused(browser), wanted);
    };
    browser.js("inside('[data-take=begin]', 'r').focus()");
    press("square");
    // After the board its two buttons, and then what can be done.
    for _ in 0..3 {
        browser.press(TAB);
    }
    assert_eq!(focused(browser), "show me");
    press("go on");
    press("square");
    // The end of a walk leads to the next one, and the end of the last one to the board: not to a
    // button that would begin again.
    reader(
        browser,
        "while (!inside('ul.held', 'r')) { const word = does('next') ?? does('show'); word.focus(); word.click(); }",
    );
    assert_eq!(focused(browser), "next walk");
    press("square");
    reader(
        browser,
        "while (!take('begin')) { const word = does('next') ?? does('show'); word.focus(); word.click(); }",
    );
    assert_eq!(focused(browser), "square");
    // The kept progress is announced beside its button, alone, and the focus stays.
    let listen = "window.texts = [];
        new MutationObserver((changes) => window.texts.push(...changes.map(({ target }) => (target.closest ? target : target.parentNode).closest('[role=status]')?.textContent).filter(Boolean)))
          .observe(line('r').shadowRoot, { characterData: true, childList: true, subtree: true });
        inside('[data-take=keep]', 'r').focus()";
    browser.js(listen);
    press("Remembered on this device");
    let said = browser.js("await painted(); return window.texts");
    assert_eq!(said.as_array().map(Vec::len), Some(1), "{said}");
    assert!(
        said[0]
            .as_str()
            .is_some_and(|said| said.starts_with("Kept only in this browser")),
        "{said}"
    );
    // A second press says nothing more, and keeps it.
    press("Remembered on this device");
    // Forgetting needs a confirmation, and a second press at once keeps the progress.
    browser.js("inside('[data-take=forget]', 'r').focus()");
    press("keep it");
    let asked = reader(browser, "return note()");
    assert!(
        asked
            .as_str()
            .is_some_and(|note| note.starts_with("Forget all that is kept here")),
        "{asked}"
    );
    press("forget my progress");
    assert_eq!(browser.js("return localStorage.length"), 1);
    press("keep it");
    browser.press(TAB);
    assert_eq!(focused(browser), "forget it");
    press("Remember my progress on this device");
    assert_eq!(browser.js("return localStorage.length"), 0);
    // From below the account back to the board, all of which is in sight.
    browser.phone();
    browser.js("inside('[data-take=begin]', 'r').focus()");
    press("square");
    assert_eq!(
        browser.js(
            "await painted(); const { top, bottom } = inside('.plate', 'r').getBoundingClientRect(); return top >= 0 && bottom <= innerHeight"
        ),
        true
    );
}

fn columns(browser: &Browser) {
    for (language, wide) in [("en", false), ("en", true), ("de", false), ("de", true)] {
        match wide {
            true => browser.width(Some(1280)),
            false => browser.phone(),
        }
        let head = format!("<script src=\"/words/de.js\"></script>\n{HEAD}");
        let path = browser.write(
            &head,
            &format!(
                "<div lang=\"{language}\"><ply-line id=\"x\"><pre>{LESSON}</pre></ply-line>{KEPT}</div>"
            ),
        );
        browser.visit(&path);
        let seen = reader(
            browser,
            "whole({ 'd4 d5 c4 e6': 'e3', 'd4 d5 c4 c6': 'e3' }); await painted();
             const box = (element) => element.getBoundingClientRect();
             const one = (values) => Math.max(...values) - Math.min(...values) < 1;
             const parts = ['.notice', 'ul.held', '.mapbox', '[data-take=file]'].map((part) => box(inside(part, 'r')));
             const rows = all('ul.held > li', 'r');
             const [names, counts, again] = [0, 1, 2].map((at) => rows.map((row) => row.children[at]));
             return [
               parts.every(({ top }, at) => !at || top >= parts[at - 1].bottom - 1 || top === parts[at - 1].top),
               one(counts.map((count) => box(count).right)), one(names.map((name) => box(name).left)), one(again.map((line) => box(line).left)),
               rows.every((row, at) => box(names[at]).bottom > box(counts[at]).top && box(counts[at]).left >= box(names[at]).right && box(again[at]).top >= box(counts[at]).bottom - 1),
               [...names, ...counts].every((part) => box(part).height < 40),
               box(inside('.plate', 'r')).bottom <= parts[0].top,
               document.scrollingElement.scrollWidth <= innerWidth,
             ]",
        );
        // Where there is room it is beside the board.
        assert_eq!(
            seen,
            json!([true, true, true, true, true, true, !wide, true]),
            "{language}, wide: {wide}"
        );
    }
}

fn clean(browser: &Browser) {
    for dark in [false, true] {
        browser.dark(dark);
        open(browser, KEPT);
        assert_clean_in_both(browser, "before the first walk");
        reader(browser, "take('begin').click(); r.play('d4'); r.play('e3')");
        assert_clean_in_both(browser, "after a slip");
        reader(browser, "r.play('e3')");
        assert_clean_in_both(browser, "after a second slip");
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
           all('ul.held, .held li > *, .try, .notice', 'r').filter((part) => part.getBoundingClientRect().right > innerWidth + 1).length]",
    );
    assert_eq!(wide, json!([true, 0]));
}
