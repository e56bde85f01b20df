//! Games of one text that follow a lesson of the page: what both have is folded, and each names the other.

use crate::harness::Case::{self, Everywhere, InOne};
use crate::seeing::access::assert_clean_in_both;
use crate::support::browser::Browser;
use crate::support::browser::keys::{ENTER, RIGHT, TAB};
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "a game folds the moves that it shares with a lesson, and each leads to the other",
        follows,
    ),
    Everywhere(
        "the moves that a game shares are shown by a button, and where the reader comes to them",
        opens,
    ),
    InOne(
        "another game follows another lesson, all of it, or none, and so it is when a lesson goes away",
        others,
    ),
    InOne(
        "a game that follows a lesson says so after both are drawn again",
        again,
    ),
    InOne(
        "a game does not tell what waits behind a question of the lesson",
        asked,
    ),
    InOne("a game follows a lesson with modules too", modules),
    InOne("a game follows a lesson in German words", german),
    InOne(
        "axe-core finds nothing in a game that follows a lesson",
        clean,
    ),
];

const LESSON: &str = "<ply-line id=\"exchange\"><pre>1. e4 c6 2. d4 d5 3. exd5 (3. Nc3 dxe4 4. Nxe4) cxd5 4. Bd3 {Ours.} Nc6 5. c3 *</pre></ply-line>";
const OTHER: &str = "<ply-line id=\"gambit\"><pre>1. d4 d5 2. c4 e6 3. Nc3 Nf6 *</pre></ply-line>";
const GAMES: &str = "<ply-line id=\"games\"><pre>[Event \"Club\"]\n[White \"Ada\"]\n[Black \"Bo\"]\n[Date \"2024.??.??\"]\n\n{Played in the rain.} 1. e4 c6 2. d4 {Slowly.} d5 3. exd5 cxd5 (3... Qxd5) 4. Bd3 {So far.} g6 5. Nf3 1-0\n\n\
    [Event \"Cup\"]\n[White \"Cy\"]\n[Black \"?\"]\n\n1. d4 d5 2. c4 e6 3. Nc3 1/2-1/2\n\n\
    [Event \"Rapid\"]\n\n1. e4 c6 2. d4 g6 0-1</pre></ply-line>";

/// What is said of the game, and in which lessons it is named.
const SAID: &str = "return [inside('section.follows', 'games')?.textContent ?? null,
    ...['exchange', 'gambit'].map((id) => line(id) && (inside('small.follows', id)?.textContent ?? null))]";
/// The moves of the game that are seen.
const SEEN: &str =
    "return all('.main > *', 'games').filter(visible).map((move) => move.textContent)";

#[track_caller]
fn show(browser: &Browser, head: &str) {
    browser.show(head, &format!("{LESSON}{OTHER}{GAMES}"));
    browser.until("inside('section.follows', 'games') && inside('small.follows', 'exchange')");
}

fn follows(browser: &Browser) {
    show(browser, SCRIPT);
    assert_eq!(
        browser.js(SAID),
        json!([
            "To 4.Bd3 as in the lesson, then 4\u{2026}g6. show these moves",
            "also a game: Ada \u{2013} Bo, 2024 ",
            null
        ])
    );
    assert_eq!(
        browser.js(SEEN),
        json!(["4\u{2026}g6", "5.Nf3", "1-0"]),
        "the rest of the game"
    );
    assert_eq!(
        browser.js("return all('.lines > p:not(.main, .which)', 'games').filter(visible).map((p) => p.textContent.trim())"),
        json!(["Played in the rain.", "So far."]),
        "what is said before the game and where it leaves"
    );
    let links = "return [inside('section.follows a', 'games'), inside('small.follows a', 'exchange')].map((link) => link.getAttribute('href'))";
    assert_eq!(browser.js(links), json!(["#exchange/4.Bd3", "#games"]));
    assert_eq!(
        browser.js(
            "return [...inside('small.follows', 'exchange').parentNode.children].map((it) => it.id)"
        ),
        json!(["m9", "m10", ""]),
        "after its move"
    );
}

fn opens(browser: &Browser) {
    show(browser, SCRIPT);
    browser.js("line('games').scrollIntoView(); inside('section.follows a', 'games').focus()");
    browser.press(TAB);
    let said = "const it = line('games').shadowRoot.activeElement; return [it.textContent, it.getAttribute('aria-expanded')]";
    assert_eq!(browser.js(said), json!(["show these moves", "false"]));
    browser.press(ENTER);
    assert_eq!(browser.js(said), json!(["hide these moves", "true"]));
    let count = || browser.js(&format!("{}.length", SEEN)).as_u64();
    assert_eq!(count(), Some(10));
    browser.press(ENTER);
    assert_eq!(count(), Some(3));
    // The first move that is there can be reached by Tab.
    browser.press(TAB);
    assert_eq!(
        browser.js("return line('games').shadowRoot.activeElement.textContent"),
        "4\u{2026}g6"
    );
    // A step into the moves that are folded: the focus goes there, and all of them are there.
    browser.press(RIGHT);
    assert_eq!(
        browser.js("return line('games').shadowRoot.activeElement.textContent"),
        "1.e4"
    );
    assert_eq!(count(), Some(10));
    browser.click("return inside('section.follows button', 'games')");
    assert_eq!(
        browser.js(SEEN),
        json!(["1.e4", "4\u{2026}g6", "5.Nf3", "1-0"]),
        "the reader's place is seen all the same"
    );
    // The link moves the lesson, and a second time too.
    for _ in 0..2 {
        browser.click("return inside('section.follows a', 'games')");
        assert_eq!(
            browser.js("return [line('exchange').current.san, line('exchange').shadowRoot.activeElement?.textContent]"),
            json!(["Bd3", "4.Bd3"])
        );
        // A step in the other lesson that waits to be written does not come after it.
        browser.js("await pause(600)");
        assert_eq!(browser.js("return location.hash"), "#exchange/4.Bd3");
        browser.js("line('exchange').go('start'); line('games').scrollIntoView()");
    }
    browser.click("return inside('small.follows a', 'exchange')");
    assert_eq!(browser.js("return location.hash"), "#games");
}

fn others(browser: &Browser) {
    show(browser, SCRIPT);
    let choose = |game: u32| {
        browser.click(&format!("return inside('[data-game=\"{game}\"]', 'games')"));
        browser.js("await painted()");
        browser.js(SAID)
    };
    let all = json!([
        "All of it is in the lesson. show these moves",
        null,
        "also a game: Cy "
    ]);
    assert_eq!(choose(2), all);
    assert_eq!(browser.js(SEEN), json!(["1/2-1/2"]));
    assert_eq!(
        choose(3),
        json!([null, null, null]),
        "three half-moves are few"
    );
    assert_eq!(browser.js(SEEN), json!(["1.e4", "c6", "2.d4", "g6", "0-1"]));
    let first = choose(1);
    assert_eq!(first[1], "also a game: Ada \u{2013} Bo, 2024 ");
    browser.js("window.gone = line('games'); gone.remove(); await painted()");
    assert_eq!(
        browser.js("return inside('small.follows', 'exchange')"),
        json!(null)
    );
    browser.js("document.querySelector('main').append(gone); await painted()");
    assert_eq!(browser.js(SAID), first);
    browser.js("line('exchange').remove(); await painted()");
    assert_eq!(browser.js(SAID), json!([null, null, null]));
    assert_eq!(browser.js(&format!("{SEEN}.length")), 10);
}

fn again(browser: &Browser) {
    show(browser, SCRIPT);
    let (said, seen) = (browser.js(SAID), browser.js(SEEN));
    browser.js("for (const id of ['games', 'exchange']) { line(id).flip(); button('main-only', id)?.click() } await painted()");
    assert_eq!(browser.js(SAID), said);
    assert_eq!(browser.js(SEEN), seen);
    assert_eq!(
        browser.js("return ['games', 'exchange'].map((id) => all('.follows', id).length)"),
        json!([1, 1])
    );
    browser.js("line('exchange').text = '1. e4 c6 2. d4 d5 *'; await painted()");
    browser
        .until("inside('section.follows', 'games')?.textContent.startsWith('To 2\u{2026}d5 as')");
}

fn asked(browser: &Browser) {
    let lesson = "<ply-line id=\"exchange\"><pre>1. e4 c6 2. d4 d5 {Ask: What now?} 3. exd5 cxd5 4. Bd3 *</pre></ply-line>";
    browser.show(SCRIPT, &format!("{lesson}{GAMES}"));
    let said = "inside('section.follows', 'games')?.textContent";
    browser.until(&format!("{said}?.startsWith('To 2\u{2026}d5 as')"));
    browser.js("line('exchange').go('4.Bd3')");
    browser.until(&format!("{said}?.startsWith('To 4.Bd3 as')"));
}

fn modules(browser: &Browser) {
    show(
        browser,
        "<script type=\"module\" src=\"/plyline.mjs\"></script>",
    );
    assert_eq!(browser.js(SAID)[1], "also a game: Ada \u{2013} Bo, 2024 ");
}

fn german(browser: &Browser) {
    let head = format!("<script defer src=\"/words/de.js\"></script>{SCRIPT}");
    browser.show(&head, &format!("<div lang=\"de\">{LESSON}{GAMES}</div>"));
    browser.until("inside('section.follows', 'games') && inside('small.follows', 'exchange')");
    assert_eq!(
        browser.js("return [inside('section.follows', 'games'), inside('small.follows', 'exchange')].map((it) => it.textContent)"),
        json!([
            "Bis 4.Ld3 wie in der Lektion, dann 4\u{2026}g6. diese Z\u{fc}ge zeigen",
            "auch eine Partie: Ada \u{2013} Bo, 2024 "
        ])
    );
}

fn clean(browser: &Browser) {
    for dark in [false, true] {
        browser.dark(dark);
        show(browser, SCRIPT);
        assert_clean_in_both(browser, if dark { "dark" } else { "light" });
    }
}
