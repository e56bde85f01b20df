//! Recall: a lesson walked from memory. What is at its end: account.rs.

use crate::harness::Case::{self, Everywhere, InOne};
use crate::seeing::access::assert_clean_in_both;
use crate::support::browser::Browser;
use crate::support::browser::engine::Cap;
use crate::support::browser::keys::{DOWN, ENTER, LEFT, RIGHT, UP};
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    Everywhere(
        "a lesson is walked from memory by pointer, by keys and by typed moves",
        walk,
    ),
    InOne(
        "a slip shows the choice and the author's reason, and comes back before the walk ends",
        slip,
    ),
    InOne(
        "a fair move is accepted with a word, and an illegal one refused",
        fair,
    ),
    InOne(
        "recall of one variation begins there, and what has no choice says so to its author",
        part,
    ),
    InOne("a recall is written as a fence, and speaks German", forms),
    InOne("on paper a recall is its prompt alone", printed),
    InOne(
        "the demo's recall holds the lesson of its page, and is walked to its end",
        demo,
    ),
];

/// White has five positions to recall, four of them on the main line.
pub(super) const LESSON: &str = "1. d4 d5 2. c4 e6 (2... c6 {Solid.} 3. Nf3 {It keeps e5 in sight.} Nf6) \
    3. Nc3 {The knight looks at @d5.} (3. Nf3 {Sound too.}) (3. cxd5? {Too early.} exd5) \
    3... Nf6 4. Bg5 {The pin.} *";

pub(super) const HEAD: &str = "<link rel=\"stylesheet\" href=\"/plyline.css\">\n<link rel=\"stylesheet\" href=\"/site.css\">\n\
    <script src=\"/device.js\"></script>\n<script defer src=\"/plyline.js\"></script>";

/// Short names, and a reader who remembers all, or all but some and those never.
pub(super) const READER: &str = "
    await customElements.whenDefined('ply-recall'); const r = line('r'); await drawn(r);
    const said = () => inside('[role=status]', 'r').textContent.trim();
    const note = () => all('[role=status]', 'r').at(-1).textContent;
    const row = () => all('.try', 'r').filter((part) => !part.parentNode.closest('.try')).map((part) => part.innerText)
      .join(' ').replace(/\\s+/g, ' ').trim();
    const held = () => all('ul.held > li', 'r').map((row) => [...row.children].map((part) => part.textContent.trim()).join(', '));
    const take = (what) => inside(`[data-take=${what}]`, 'r');
    const does = (what) => all(`.try [data-do=${what}]`, 'r')[0];
    const right = { '': 'd4', 'd4 d5': 'c4', 'd4 d5 c4 e6': 'Nc3', 'd4 d5 c4 e6 Nc3 Nf6': 'Bg5', 'd4 d5 c4 c6': 'Nf3' };
    const whole = (wrong = {}) => {
      take('begin').click();
      for (let turn = 0; turn < 40 && !take('begin'); turn += 1) {
        const way = r.current.moves.join(' ');
        if (does('next')) does('next').click();
        else r.play(wrong[way] ?? right[way]);
      }
    };
    const kept = () => localStorage.getItem('plyline-recall:t');
    const count = (text) => JSON.parse(text).positions.length;";

pub(super) fn body(recall: &str) -> String {
    format!(
        "<div data-plyline-series=\"t\"><ply-line id=\"x\"><pre>{LESSON}</pre></ply-line>\n{recall}</div>"
    )
}

pub(super) fn reader(browser: &Browser, script: &str) -> Value {
    browser.js(&format!("{READER}\n{script}"))
}

/// Opens a page with a recall and an empty storage; returns its path.
pub(super) fn open(browser: &Browser, recall: &str) -> String {
    let path = browser.write(HEAD, &body(recall));
    browser.visit(&path);
    browser.js("localStorage.clear()");
    browser.visit(&path);
    reader(browser, "");
    path
}

pub(super) const WHITE: &str = "<ply-recall id=\"r\" for=\"x\" side=\"white\"></ply-recall>";
pub(super) const KEPT: &str =
    "<ply-recall id=\"r\" for=\"x\" side=\"white\" remember></ply-recall>";

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
         r.play('cxd5'); const first = [r.current.san, said(), row()];
         r.play('cxd5'); return [r.current.san, said(), row(), first]",
    );
    assert_eq!(
        told,
        json!([
            "Nc3",
            "Weaker: 3.cxd5. Too early. The answer: 3.Nc3. The knight looks at d5. \
             This position comes back before the walk ends.",
            "go on stop",
            [
                "e6",
                "Weaker: 3.cxd5. Too early. Try once more.",
                "Try once more. show me stop"
            ]
        ])
    );
    // Another try moves nothing, and the reader is told how to go on; the shown choice stays.
    browser.click("return inside('[data-square=g1]', 'r')");
    assert_eq!(
        reader(
            browser,
            "return [note(), row(), said(), getComputedStyle(all('[role=status]', 'r').at(-1)).position]"
        ),
        json!([
            "No move is expected now: \u{201c}go on\u{201d} leads on.",
            "No move is expected now: \u{201c}go on\u{201d} leads on. go on stop",
            told[1],
            "absolute"
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
    // The line ends, and both come back, the first first; one that is missed again is shown again, and that is all.
    let back = reader(
        browser,
        "const seen = []; const look = () => seen.push([r.current.moves.at(-1), row().split('. ')[0]]);
         does('next').click(); look(); does('next').click(); look(); r.play('a3'); seen.push(said()); does('next').click(); look();
         r.play('Bg5'); seen.push(Boolean(does('show'))); return seen",
    );
    assert_eq!(
        back,
        json!([
            ["Bg5", "The line ends here"],
            ["e6", "Now back to one that was missed: after 2...e6"],
            "3.a3 is not an answer of this lesson. The answer: 3.Nc3. The knight looks at d5.",
            ["Nf6", "Now back to one that was missed: after 3...Nf6"],
            false
        ])
    );
    assert_eq!(
        reader(browser, "return said()"),
        "Right: 4.Bg5. The pin. LAST\
         Positions met: 4 of 5; recalled: 2; recalled later: 1; to come again: 1."
            .replace(
                "LAST",
                if told_all(browser) {
                    "That was the last walk. "
                } else {
                    ""
                }
            )
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
            "Sound: 3.Nf3 is in the lesson too. Sound too. The lesson prefers 3.Nc3. \
             The knight looks at d5.",
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
         return [prompt, r.current.moves, held().length, line('none').progress, codes(line('none')),
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

/// A recall in a fence, on a German page.
fn show_fence(browser: &Browser) {
    let path = browser.write(
        &format!("<script src=\"/words/de.js\"></script>\n{HEAD}"),
        &format!(
            "<div lang=\"de\"><pre><code class=\"language-pgn\">[Id \"x\"]\n\n{LESSON}</code></pre>
             <pre><code class=\"language-ply-recall\">[For \"x\"] [Side \"black\"] [Remember \"yes\"] [Id \"r\"]\nSchwarz, auswendig.</code></pre></div>"
        ),
    );
    browser.visit(&path);
}

fn forms(browser: &Browser) {
    show_fence(browser);
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
                "anfangen Meinen Stand auf diesem Gerät merken Datei einlesen"
            ],
            ["d4"],
            "Du bist am Zug. zeigen aufhören"
        ])
    );
}

fn printed(browser: &Browser) {
    browser.needs(Cap::Medium);
    show_fence(browser);
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
         let conditions = 0, asked = 0;
         for (let turn = 0; turn < 500 && !take('begin'); turn += 1) {
           conditions += /This time: .* if you /.test(inside('.try', 'jump').innerText);
           asked += Boolean(does('show'));
           if (does('next')) does('next').click();
           else { // shown is played, when it comes back
             const way = r.current.moves.join(' ');
             if (!globalThis.known?.[way]) { does('show').click(); (globalThis.known ??= {})[way] = r.current.san; }
             else r.play(globalThis.known[way]);
           }
         }
         if (r.querySelector('ply-ref')) return ['read as prose'];
         return [r.text, r.progress, conditions > 0 && asked <= 2 * r.progress.positions, Boolean(take('keep')), inside('[role=status]', 'jump').textContent]",
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
