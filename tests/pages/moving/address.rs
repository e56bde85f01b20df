//! Places of lessons in the page's address: opened, written as the reader moves, gone back to.

use crate::harness::Case::{self, Everywhere};
use crate::hosting::hosts::with_sheet;
use crate::support::browser::Browser;
use crate::support::browser::engine::Cap;
use crate::support::site::{SCRIPT, overhear, page};
use serde_json::{Value, json};
use std::fs;

pub const CASES: &[Case] = &[
    Everywhere(
        "an address opens its lesson at its place, in sight and without the focus",
        opened,
    ),
    Everywhere(
        "an address that goes on after the lesson opens an aside",
        aside,
    ),
    Everywhere(
        "fragments that are not ours, or name nothing, change nothing",
        foreign,
    ),
    Everywhere(
        "a step is written soon and makes no entry of the history",
        steps,
    ),
    Everywhere(
        "a held key writes at most twice a second, and where it ended",
        held,
    ),
    Everywhere("jumps that come quickly make few entries", flood),
    Everywhere(
        "a jump makes an entry, and back and forward move the lesson",
        jumps,
    ),
    Everywhere("a link of a recap makes an entry", recap),
    Everywhere(
        "back finds each of several lessons where it was, with the address of one",
        several,
    ),
    Everywhere(
        "a link to a place of a lesson moves it, and so does a page's script that changes the fragment",
        links,
    ),
    Everywhere(
        "what a script does and what is loaded is not written",
        scripts,
    ),
    Everywhere(
        "an address is switched off on the element or around it",
        switched_off,
    ),
    Everywhere("under a base address the page keeps its own", base),
    Everywhere("a page keeps the state of its history", state),
    Everywhere("a history that refuses is left alone", refused),
    Everywhere("the address works on pages from disk", from_disk),
    Everywhere(
        "an id is encoded where an address needs it, and read so",
        encoded,
    ),
];

const LESSON: &str = "<ply-line id=\"lesson\" at=\"2...e6\"><pre>1. d4 d5 2. c4 e6 (2... dxc4 3. e4 b5 4. a4) (2... c6 3. Nf3) 3. Nc3 Nf6 4. Bg5 Be7 *</pre></ply-line>";
/// Where the lesson is and what the address says.
const NOW: &str = "const { node, aside } = line('lesson').current; return [node, aside.join(' '), decodeURIComponent(location.hash)]";
/// Longer than the delay before a step is written.
const SOON: &str = "await pause(700);";

#[track_caller]
fn open(browser: &Browser, head: &str, body: &str, fragment: &str) {
    let path = browser.write(head, body);
    // Firefox's driver does not wait for a page whose fragment is that of the page before.
    browser.open("about:blank");
    browser.open(&format!("{path}{fragment}"));
    browser.js("await settled()");
}

#[track_caller]
fn assert_now(browser: &Browser, node: u32, address: &str) {
    assert_eq!(browser.js(NOW), json!([node, "", address]));
}

fn entries(browser: &Browser) -> Value {
    browser.js("return entries")
}

/// Goes through the history, which takes the browser a moment.
#[track_caller]
fn travel(browser: &Browser, steps: i32, until: &str) {
    browser.js_with("history.go(given)", json!(steps));
    browser.until(until);
}

fn opened(browser: &Browser) {
    let head = with_sheet(browser, ".gap { height: 9000px }");
    let path = browser.write(
        &head,
        &format!("<div class=\"gap\"></div>{LESSON}<div class=\"gap\"></div>"),
    );
    browser.open(&format!("{path}#lesson/3.Nf3"));
    browser.until("line().made && line().current.node === 10");
    browser.until("scrollY > 0");
    let there = browser.js(
        "await pause(100);
         const { top, bottom } = move(10).getBoundingClientRect();
         return [top >= 0 && bottom <= innerHeight, document.activeElement === document.body, location.hash, told.map(({ type, detail }) => [type, detail.node, detail.by])]",
    );
    assert_eq!(
        there,
        json!([
            true,
            true,
            "#lesson/3.Nf3",
            [["ply-ready", null, null], ["ply-moved", 10, "address"]]
        ])
    );
}

fn aside(browser: &Browser) {
    open(browser, SCRIPT, LESSON, "#lesson/3.Nc3_Be7_4.e4");
    assert_eq!(
        browser.js(NOW),
        json!([11, "Be7 e4", "#lesson/3.Nc3_Be7_4.e4"])
    );
    browser.click("return button('back')");
    browser.js(SOON);
    assert_eq!(browser.js(NOW), json!([11, "Be7", "#lesson/3.Nc3_Be7"]));
    // A move that the lesson does not hold, played by the reader.
    browser.click("return button('home')");
    browser.js("openDesk(); await painted(); inside('.typed').focus()");
    browser.write_keys("h5");
    browser.press('\u{E007}');
    browser.js(SOON);
    assert_eq!(browser.js(NOW), json!([11, "h5", "#lesson/3.Nc3_h5"]));
}

fn foreign(browser: &Browser) {
    for fragment in [
        "#elsewhere",
        "#elsewhere/1.d4",
        "#lesson/9.Qh5",
        "#lesson/3.Nc3_Ke5",
        "#%E0%A4%A",
        "#/1.d4",
        "#",
    ] {
        open(browser, SCRIPT, LESSON, fragment);
        let found = browser.js(&format!(
            "return [line().current.node, location.href.endsWith({fragment:?}), told.filter(({{ type }}) => type !== 'ply-ready').length]"
        ));
        assert_eq!(found, json!([4, true, 0]), "{fragment}");
    }
}

fn steps(browser: &Browser) {
    open(browser, SCRIPT, LESSON, "?query=1");
    let before = entries(browser);
    browser.click("return button('next')");
    browser.click("return button('next')");
    browser.js(SOON);
    assert_now(browser, 12, "#lesson/3...Nf6");
    browser.click("return button('back')");
    browser.js(SOON);
    assert_now(browser, 11, "#lesson/3.Nc3");
    // The start needs no run.
    browser.js("line().go(1)");
    browser.click("return button('back')");
    browser.js(SOON);
    assert_now(browser, 0, "#lesson");
    assert_eq!(entries(browser), before);
    assert_eq!(browser.js("return location.search"), "?query=1");
}

fn held(browser: &Browser) {
    open(browser, SCRIPT, LESSON, "");
    let found = browser.js(
        "const times = [];
         const { replaceState, pushState } = history;
         history.replaceState = (...given) => { times.push(performance.now()); replaceState.apply(history, given) };
         history.pushState = (...given) => { times.push(performance.now()); pushState.apply(history, given) };
         const press = (key) => inside('.move').dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, composed: true }));
         const began = performance.now();
         for (let turn = 0; performance.now() - began < 2200; turn += 1) { press(turn % 2 ? 'ArrowLeft' : 'ArrowRight'); await pause(20); }
         line('lesson').go(4);
         press('ArrowRight');
         await pause(700);
         const gaps = times.slice(1).map((time, at) => time - times[at]);
         return [times.length >= 2 && times.length <= 6, gaps.every((gap) => gap > 450)]",
    );
    assert_eq!(found, json!([true, true]));
    assert_now(browser, 11, "#lesson/3.Nc3");
}

fn flood(browser: &Browser) {
    open(browser, SCRIPT, LESSON, "");
    let found = browser.js(
        "let calls = 0;
         for (const name of ['replaceState', 'pushState']) {
           const call = history[name];
           history[name] = (...given) => { calls += 1; call.apply(history, given) };
         }
         const [one, other] = all('.outline [data-go]');
         const before = history.length;
         const began = performance.now();
         for (let turn = 0; performance.now() - began < 2200; turn += 1) { (turn % 2 ? one : other).click(); await pause(30); }
         one.click();
         await pause(700);
         return [calls >= 5 && calls <= 16, history.length - before <= 5, line().current.node, location.hash]",
    );
    assert_eq!(found, json!([true, true, 5, "#lesson/2...dxc4"]));
}

fn jumps(browser: &Browser) {
    open(browser, SCRIPT, LESSON, "");
    let before = entries(browser).as_u64().expect("a number");
    browser.click("return button('next')");
    // At once: the step before it is written into the entry that is left.
    browser.click("return inside('.outline [data-go]')");
    assert_now(browser, 5, "#lesson/2...dxc4");
    assert_eq!(entries(browser), before + 1);
    travel(browser, -1, "line().current.node === 11");
    assert_now(browser, 11, "#lesson/3.Nc3");
    travel(browser, 1, "line().current.node === 5");
    assert_now(browser, 5, "#lesson/2...dxc4");
    let by = browser.js("return told.filter(({ type }) => type === 'ply-moved').map(({ detail }) => [detail.node, detail.by])");
    assert_eq!(
        by,
        json!([
            [11, "reader"],
            [5, "reader"],
            [11, "address"],
            [5, "address"]
        ])
    );
    // A line that the reader chooses, from the list and by a move of the text.
    browser.js(&format!("line().go(3); {SOON}"));
    browser.click("return all('.next [data-go]')[2]");
    assert_now(browser, 9, "#lesson/2...c6");
    browser.js(SOON);
    browser.click("return move(13)");
    assert_now(browser, 13, "#lesson/4.Bg5");
    assert_eq!(entries(browser), before + 3);
}

fn recap(browser: &Browser) {
    let body = format!("{LESSON}<ply-recap id=\"a\" side=\"black\"></ply-recap>");
    open(browser, SCRIPT, &body, "");
    browser.js("await stills()");
    let before = entries(browser).as_u64().expect("a number");
    browser.click("return all('a', 'a').at(-1)");
    let found = browser.js("return [line().current.node, location.hash === all('a', 'a').at(-1).hash, line().current.node !== 4]");
    assert_eq!(found[1], true, "{found}");
    assert_eq!(found[2], true, "{found}");
    assert_eq!(entries(browser), before + 1);
    travel(browser, -1, "line().current.node === 4");
    assert_eq!(browser.js("return location.hash"), "");
}

fn several(browser: &Browser) {
    let other = "<ply-line id=\"other\"><pre>1. e4 e5 (1... c5 2. Nf3) 2. Nf3 *</pre></ply-line>";
    open(
        browser,
        SCRIPT,
        &format!("{LESSON}{other}"),
        "#other/1...e5",
    );
    let both = || {
        browser
            .js("return [line('lesson').current.node, line('other').current.node, location.hash]")
    };
    assert_eq!(both(), json!([4, 2, "#other/1...e5"]));
    browser.click("return inside('.outline [data-go]', 'lesson')");
    browser.js(SOON);
    browser.click("return inside('.outline [data-go]', 'other')");
    assert_eq!(both(), json!([5, 3, "#other/1...c5"]));
    travel(browser, -1, "line('other').current.node === 2");
    assert_eq!(both(), json!([5, 2, "#lesson/2...dxc4"]));
    travel(browser, -1, "line('lesson').current.node === 4");
    assert_eq!(both(), json!([4, 2, "#other/1...e5"]));
    travel(browser, 2, "line('other').current.node === 3");
    assert_eq!(both(), json!([5, 3, "#other/1...c5"]));
    // A step of one does not take what waits to be written from the other.
    browser.js(SOON);
    browser.click("return button('next', 'lesson')");
    browser.click("return button('next', 'other')");
    browser.js(SOON);
    assert_eq!(both(), json!([6, 4, "#other/1...c5_2.Nf3"]));
    assert_eq!(
        browser.js("return history.state.plyline"),
        json!({ "lesson": "3.e4", "other": "1...c5_2.Nf3" })
    );
}

fn links(browser: &Browser) {
    let head = with_sheet(browser, ".gap { height: 9000px }");
    let body = format!(
        "<p><a id=\"to\" href=\"#lesson/4.Bg5\">a link</a></p><div class=\"gap\"></div>{LESSON}"
    );
    open(browser, &head, &body, "");
    browser.click("return line('to')");
    browser.until("line('lesson').current.node === 13");
    browser.until("move(13).getBoundingClientRect().bottom <= innerHeight");
    browser.js("location.hash = '#lesson/2...c6'");
    browser.until("line('lesson').current.node === 9");
    let by = browser.js("return told.filter(({ type }) => type === 'ply-moved').map(({ detail }) => [detail.node, detail.by])");
    assert_eq!(by, json!([[13, "address"], [9, "address"]]));
    travel(browser, -1, "line('lesson').current.node === 13");
}

fn scripts(browser: &Browser) {
    open(browser, SCRIPT, LESSON, "#elsewhere");
    let before = entries(browser);
    browser.js(&format!(
        "line().next(); line().go('2...c6'); line().play('a6'); line().flip(); {SOON}"
    ));
    assert_eq!(browser.js("return location.hash"), "#elsewhere");
    assert_eq!(entries(browser), before);
    assert_eq!(browser.js("return history.state"), Value::Null);
}

fn switched_off(browser: &Browser) {
    let own = LESSON.replace("<ply-line", "<ply-line data-plyline-address=\"off\"");
    for body in [
        own,
        format!("<div data-plyline-address=\"off\">{LESSON}</div>"),
    ] {
        open(browser, SCRIPT, &body, "#lesson/3.Nc3");
        let before = entries(browser);
        browser.click("return button('next')");
        browser.click("return inside('.outline [data-go]')");
        browser.js(SOON);
        assert_now(browser, 5, "#lesson/3.Nc3");
        assert_eq!(entries(browser), before);
    }
}

fn base(browser: &Browser) {
    let head = format!("<base href=\"/somewhere/else.html\">{SCRIPT}");
    let body = format!("{LESSON}<ply-recap id=\"a\" side=\"black\"></ply-recap>");
    open(browser, &head, &body, "?a=b");
    let path = browser.text("return location.pathname");
    browser.click("return button('next')");
    browser.js(SOON);
    browser.click("return inside('.outline [data-go]')");
    assert_now(browser, 5, "#lesson/2...dxc4");
    assert_eq!(
        browser
            .js("await stills(); return [location.pathname, location.search, all('a', 'a')[0].href.replace(/#.*/, '') === location.href.replace(/#.*/, '')]"),
        json!([path, "?a=b", true])
    );
}

fn state(browser: &Browser) {
    open(browser, SCRIPT, LESSON, "");
    browser.js("history.replaceState({ own: 1 }, '')");
    browser.click("return inside('.outline [data-go]')");
    let kept = "return [history.state.own, location.hash]";
    assert_eq!(browser.js(kept), json!([1, "#lesson/2...dxc4"]));
    travel(browser, -1, "location.hash === ''");
    assert_eq!(browser.js(kept), json!([1, ""]));
    // One that is no object is the page's alone.
    browser.js("history.replaceState('own', '')");
    browser.click("return button('next')");
    browser.js(SOON);
    assert_eq!(
        browser.js("return [history.state, location.hash]"),
        json!(["own", "#lesson/3.Nc3"])
    );
}

fn refused(browser: &Browser) {
    open(browser, SCRIPT, LESSON, "");
    browser.js("history.pushState = history.replaceState = () => { throw new DOMException('no', 'SecurityError') }");
    browser.click("return button('next')");
    browser.js(SOON);
    browser.click("return inside('.outline [data-go]')");
    assert_now(browser, 5, "");
}

fn from_disk(browser: &Browser) {
    let folder = format!("address-{}", browser.engine.name());
    let bytes = fs::read(browser.site.dist.join("plyline.js")).expect("the built script");
    browser.site.write(&format!("{folder}/plyline.js"), bytes);
    let text =
        page("<script defer src=\"plyline.js\"></script>", LESSON).replace("/icon.svg", "icon.svg");
    let text = match browser.engine.can(Cap::Console) {
        true => text,
        false => {
            let script = fs::read("tests/pages/site/overhear.js").expect("a file of the tests");
            browser.site.write(&format!("{folder}/overhear.js"), script);
            overhear(&text).replace("=\"/", "=\"./")
        }
    };
    let icon = fs::read("demo-site/pages/icon.svg").expect("a file of the demo");
    browser.site.write(&format!("{folder}/icon.svg"), icon);
    let file = browser.site.write(&format!("{folder}/page.html"), text);
    browser.visit(&format!("file://{}#lesson/3.Nc3", file.display()));
    assert_now(browser, 11, "#lesson/3.Nc3");
    browser.click("return button('next')");
    browser.js(SOON);
    assert_now(browser, 12, "#lesson/3...Nf6");
    browser.click("return inside('.outline [data-go]')");
    assert_now(browser, 5, "#lesson/2...dxc4");
    travel(browser, -1, "line().current.node === 12");
}

fn encoded(browser: &Browser) {
    let body = LESSON.replace("id=\"lesson\"", "id=\"a/b \u{e9}\"");
    open(browser, SCRIPT, &body, "#a%2Fb%20%C3%A9/3.Nc3");
    assert_eq!(browser.js("return line().current.node"), 11);
    browser.click("return line().shadowRoot.querySelector('[data-do=next]')");
    browser.js(SOON);
    assert_eq!(
        browser.js("return location.hash"),
        "#a%2Fb%20%C3%A9/3...Nf6"
    );
}
