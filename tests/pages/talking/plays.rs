//! A talk that its reader starts by what the page itself has for it: the demo's, and one about baked lessons.

use super::VOICE;
use crate::harness::Case::{self, Everywhere};
use crate::hosting::asleep::{open, until_heeded};
use crate::hosting::baking::{baked, pre};
use crate::support::browser::Browser;
use plyline::check::attributes::Kind;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "talk: in the demo the board follows the recording, over moves, into lines and back",
        demo,
    ),
    Everywhere(
        "talk: a baked lesson is drawn when the talk about it plays, and follows it",
        wakes,
    ),
];

/// Muted: see `media`. The seconds are those at which the captions say the moves.
fn demo(browser: &Browser) {
    browser.open("/told-by-the-tide-machine/");
    browser.until("document.getElementById('told').shadowRoot?.querySelector('.times button')");
    browser.js(
        "window.told = document.getElementById('told'); window.voice = document.getElementById('tide-voice'); voice.muted = true;
         window.moves = []; told.addEventListener('ply-moved', ({ detail }) => moves.push([detail.san, detail.by, voice.currentTime]))",
    );
    browser.click("return told.shadowRoot.querySelector('.times button')");
    browser.until("told.current.san === 'd5'");
    let first = browser.js("return moves");
    for (at, (san, second)) in [("d4", 10.0), ("d5", 11.0)].into_iter().enumerate() {
        assert_eq!([&first[at][0], &first[at][1]], [san, "talk"], "{first}");
        let when = first[at][2].as_f64().unwrap_or_default();
        assert!((second - 0.05..=second + 0.25).contains(&when), "{first}");
    }
    for (second, line) in [
        (69.0, "9. Kxd2"),
        (79.0, "5... exd5"),
        (98.5, "9. Ke2"),
        (110.0, "6... Be7"),
        (139.5, "9. Nd2"),
        (148.0, "6... Bd6"),
        (151.0, "6... c6"),
        (156.0, "9. Bd3"),
    ] {
        browser.js_with("voice.currentTime = given", json!(second));
        let (_, san) = line.split_once(' ').unwrap_or_default();
        browser.until(&format!("told.current.san === '{san}'"));
    }
    assert_eq!(
        browser.js("voice.pause(); return voice.duration > 160"),
        true
    );
}

fn wakes(browser: &Browser) {
    let text = "1. e4 {Hear: 0:02} e5 {Hear: 0:05-0:09} *";
    let lesson = |text: &str, given: &[(&str, &str)]| baked(Kind::Lesson, text, given, &pre(text));
    let named = lesson(text, &[("id", "lesson"), ("talk", "voice")]);
    let tagged = lesson(&format!("[Talk \"voice\"]\n\n{text}"), &[("id", "lesson")]);
    let other = lesson(text, &[("id", "other"), ("talk", "music")]);
    for about in [named, tagged] {
        open(browser, &format!("{about}{other}"), "");
        until_heeded(browser);
        browser.js(VOICE);
        browser.js("voice.currentTime = 5.5; await pause(300)");
        until_heeded(browser);
        browser.js("voice.play()");
        browser.until("document.getElementById('lesson').current?.san === 'e5'");
        let other = "return document.getElementById('other').current?.node ?? 0";
        assert_eq!(browser.js(other), 0);
    }
}
