//! The board follows the voice until its reader takes a step.

use super::{LESSON, MOVED, VOICE, show};
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::browser::keys::{ENTER, RIGHT};
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    Everywhere(
        "talk: the word under the board plays the passage about its position, and the board follows within 250 ms",
        follows,
    ),
    Everywhere(
        "talk: the board follows a voice that is elsewhere at once, into the shortest passage, and makes no entry of the history",
        seeks,
    ),
    Everywhere(
        "talk: a step by pointer lets go, and a click takes up again",
        by_pointer,
    ),
    Everywhere(
        "talk: a step by keys lets go, and a key takes up again",
        by_keys,
    ),
    InOne(
        "talk: nothing plays by itself, and steps while it is paused do not let go",
        paused,
    ),
    Everywhere(
        "talk: what it passes is not spoken, and where it pauses is",
        silent,
    ),
    Everywhere("talk: it does not move the page", in_place),
    InOne(
        "talk: it opens no question, and goes on after it with its reader",
        asked,
    ),
    InOne("talk: a piece in the hand stays there", in_hand),
    InOne(
        "talk: a page's script plays it, asks where it is and lets go",
        scripted,
    ),
];

#[track_caller]
fn start(browser: &Browser) {
    show(browser, SCRIPT, LESSON);
    browser.js(VOICE);
}

/// What the words under the board are, and which is pressed.
fn words(browser: &Browser) -> Value {
    browser.js("return all('.talk button').filter(visible).map((it) => [it.textContent, it.getAttribute('aria-pressed')])")
}

fn follows(browser: &Browser) {
    start(browser);
    assert_eq!(words(browser), json!([]));
    browser.js("voice.rate = 1; line().next(); window.late = []; document.addEventListener('ply-moved', ({ detail }) => late.push([detail.san, detail.by, voice.currentTime]))");
    assert_eq!(words(browser), json!([["hear", null]]));
    browser.click("return button('hear')");
    let (first, now) = (
        "return [line().hearing, line().current.san, voice.paused]",
        json!([1, "e4", false]),
    );
    assert_eq!(browser.js(first), now);
    assert_eq!(words(browser), json!([["pause", null], ["follow", "true"]]));
    browser.until("line().current.san === 'Nf3'");
    browser.until("line().current.san === 'd6'");
    browser.until("line().current.san === 'd4'");
    let late = browser.js("return late");
    for (at, (san, second)) in [("Nf3", 3.0), ("d6", 5.0), ("d4", 6.0)]
        .into_iter()
        .enumerate()
    {
        assert_eq!([&late[at][0], &late[at][1]], [san, "talk"], "{late}");
        let when = late[at][2].as_f64().unwrap_or_default();
        assert!(
            (second - 0.05..=second + 0.25).contains(&when),
            "{san} at {when}"
        );
    }
    let marked = "const [it, ...more] = all('.voice'); return [it.id, it.getAttribute('aria-description'), it.ariaCurrent, more.length]";
    assert_eq!(
        browser.js(marked),
        json!(["m6", "the talk is here", "step", 0])
    );
    // And after a pause it goes on from there.
    browser.click("return button('hear')");
    assert_eq!(browser.js("return voice.paused"), true);
    let second = browser.js("return voice.currentTime");
    browser.js("await pause(300)");
    assert_eq!(browser.js("return voice.currentTime"), second);
    browser.click("return button('hear')");
    let goes_on =
        "return [voice.paused, voice.currentTime >= given && voice.currentTime < given + 1.5]";
    assert_eq!(browser.js_with(goes_on, second), json!([false, true]));
}

fn seeks(browser: &Browser) {
    start(browser);
    browser.js("voice.play()");
    let mut seen = Vec::new();
    for second in [5.5, 6.5, 3.5, 7.5, 9.0, 19.0, 3000.0, 2.5] {
        let now = "voice.currentTime = given; return [line().current.san, line().hearing]";
        seen.push(browser.js_with(now, json!(second)));
    }
    let wanted = json!([
        ["d6", 5],
        ["d4", 6],
        ["Nf3", 3],
        ["Nf3", null],
        ["Bb5", 7],
        ["Bb5", null],
        ["e4", 1],
        ["e4", 1]
    ]);
    assert_eq!(json!(seen), wanted);
    browser.js("await pause(700)");
    assert_eq!(
        browser.js("return [entries, location.hash]"),
        json!([0, ""])
    );
    let by = browser.js(MOVED);
    let by = by.as_array().expect("a list");
    assert!(by.iter().all(|it| it[0] == "talk"), "{by:?}");
}

fn by_pointer(browser: &Browser) {
    start(browser);
    browser.js("line().hear(3)");
    browser.click("return button('back')");
    let now = "return [line().current.san, line().hearing, line().following]";
    assert_eq!(browser.js(now), json!(["e5", 3, false]));
    assert_eq!(
        words(browser),
        json!([["pause", null], ["follow", "false"]])
    );
    // It stays where the reader is, and the text shows where the voice is.
    browser.js("voice.currentTime = 5.5; await pause(300)");
    assert_eq!(browser.js(now), json!(["e5", 5, false]));
    assert_eq!(browser.js("return inside('.voice').id"), "m5");
    browser.click("return button('follow')");
    assert_eq!(browser.js(now), json!(["d6", 5, true]));
    assert_eq!(words(browser), json!([["pause", null], ["follow", "true"]]));
    // A click on a move of the text lets go too; of what is there the word plays the passage. The voice, which is elsewhere,
    // can be paused.
    browser.click("return move(1)");
    assert_eq!(browser.js(now), json!(["e4", 5, false]));
    assert_eq!(
        words(browser),
        json!([["hear", null], ["pause", null], ["follow", "false"]])
    );
    browser.click("return button('hush')");
    assert_eq!(browser.js("return voice.paused"), true);
    assert_eq!(words(browser), json!([["hear", null], ["follow", "false"]]));
    browser.click("return button('hear')");
    assert_eq!(browser.js(now), json!(["e4", 1, true]));
}

fn by_keys(browser: &Browser) {
    start(browser);
    browser.js("line().hear(3); move(3).focus()");
    browser.press(RIGHT);
    assert_eq!(
        browser.js("return [line().current.san, line().following]"),
        json!(["Nc6", false])
    );
    browser.js("button('follow').focus()");
    browser.press(ENTER);
    assert_eq!(
        browser.js("return [line().current.san, line().following, line().shadowRoot.activeElement.dataset.do]"),
        json!(["Nf3", true, "follow"])
    );
    browser.js("button('hear').focus()");
    browser.press(ENTER);
    assert_eq!(
        browser.js("return [voice.paused, line().shadowRoot.activeElement.dataset.do]"),
        json!([true, "hear"])
    );
    // Where the focus is on a move that is drawn again, or on a next move that has gone, it stays in the lesson.
    browser.js("line().hear(3); inside('.next button').focus(); voice.currentTime = 6.5");
    assert_eq!(
        browser.js("return line().shadowRoot.activeElement?.isConnected"),
        true
    );
}

fn paused(browser: &Browser) {
    start(browser);
    browser.js("voice.currentTime = 5.5; await pause(300)");
    let now = "return [line().current.node, line().hearing, line().following, voice.paused]";
    assert_eq!(browser.js(now), json!([0, null, true, true]));
    browser.js("button('next').click()");
    assert_eq!(browser.js(now), json!([1, null, true, true]));
    browser.js("voice.play()");
    assert_eq!(browser.js(now), json!([5, 5, true, false]));
    browser.js("voice.pause(); button('top').click()");
    assert_eq!(browser.js(now), json!([0, 5, true, true]));
    browser.js("voice.play()");
    assert_eq!(browser.js(now), json!([5, 5, true, false]));
    // At its end it is nowhere.
    browser.js("voice.pause(); voice.dispatchEvent(new Event('ended'))");
    assert_eq!(browser.js(now), json!([5, null, true, true]));
}

fn silent(browser: &Browser) {
    start(browser);
    browser.js("line().next()");
    let first = browser.text("return heard('e4')");
    assert!(first.contains("e4"), "{first}");
    browser.js("line().hear(3); await pause(400)");
    let now = "return [line().current.san, inside('[role=status]').textContent]";
    assert_eq!(browser.js(now), json!(["Nf3", first]));
    browser.js("voice.pause()");
    let last = browser.text("return heard('f3')");
    assert!(last.starts_with("White knight"), "{last}");
    // A step of the reader's is spoken as ever.
    browser.js("voice.play(); voice.currentTime = 5.5; button('next').click()");
    let step = browser.text("return heard('d4')");
    assert!(step.starts_with("White pawn from d2 to d4"), "{step}");
}

fn in_place(browser: &Browser) {
    start(browser);
    browser.js("for (let at = 0; at < 60; at += 1) document.querySelector('main').append(Object.assign(document.createElement('p'), { textContent: 'More.' })); scrollTo({ top: 500, behavior: 'instant' }); await painted(); line().hear(3); await painted(); voice.currentTime = 6.5; await pause(300)");
    assert_eq!(
        browser.js("return [scrollY, line().current.san]"),
        json!([500, "d4"])
    );
}

fn asked(browser: &Browser) {
    let text =
        "1. e4 {Ask: What now?\n\nHear: 0:02} e5 {Of course.\n\nHear: 0:04} 2. Nf3 {Hear: 0:06} *";
    show(browser, SCRIPT, text);
    browser.js(VOICE);
    browser.js("line().hear('1.e4')");
    let now = "return [line().current.san, line().current.next.length]";
    assert_eq!(browser.js(now), json!(["e4", 0]));
    browser.js("voice.currentTime = 6.5");
    assert_eq!(browser.js(now), json!(["e4", 0]));
    assert_eq!(browser.js("return line().hearing"), 3);
    browser.js("button('show').click(); line().following = true");
    assert_eq!(browser.js("return line().current.san"), "Nf3");
}

fn in_hand(browser: &Browser) {
    start(browser);
    browser.js("voice.play(); line().go('1.e4'); line().following = true; voice.currentTime = 2.5");
    browser.click("return inside('[data-square=e7]')");
    assert_eq!(
        browser.js("return inside('[aria-selected]')?.dataset.square"),
        "e7"
    );
    browser.js("voice.currentTime = 5.5; await pause(300)");
    assert_eq!(
        browser.js("return [inside('[aria-selected]')?.dataset.square, line().current.san]"),
        json!(["e7", "e4"])
    );
    browser.click("return inside('[data-square=e7]')");
    browser.until("line().current.san === 'd6'");
}

fn scripted(browser: &Browser) {
    show(browser, SCRIPT, LESSON);
    let hears = "return [line().hear(), line().hear(3), line().hearing, line().following]";
    assert_eq!(browser.js(hears), json!([false, false, null, true]));
    browser.js(VOICE);
    browser.js("line().talk = 'voice'");
    // At the start there is none; a move without one; no move; and by number and by name.
    let hears = "return [line().hear(), line().hear(2), line().hear('9.Qh8'), line().hear(99), line().hear(3), line().hearing, line().hear('3.Bb5'), line().hearing, line().hear(), line().current.san]";
    assert_eq!(
        browser.js(hears),
        json!([false, false, false, false, true, 3, true, 7, true, "Bb5"])
    );
    browser.js("line().following = false; voice.currentTime = 5.5");
    let now = "return [line().current.san, line().hearing, line().following]";
    assert_eq!(browser.js(now), json!(["Bb5", 5, false]));
    browser.js("line().following = true");
    assert_eq!(browser.js(now), json!(["d6", 5, true]));
    browser.js("line().go('2.Nf3'); await pause(200)");
    assert_eq!(browser.js(now), json!(["Nf3", 5, false]));
    // What the lesson does not hold is in no passage.
    browser.js("line().play('d5')");
    assert_eq!(
        browser.js("return [line().current.aside, line().hear()]"),
        json!([["d5"], false])
    );
}
