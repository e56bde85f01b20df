//! The element that plays a talk: late, replaced, failing, one of the browser's own.

use super::{LESSON, VOICE, show};
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    Everywhere(
        "talk: without anything that plays it its times are text, and can be heard when that comes",
        late,
    ),
    Everywhere(
        "talk: what plays it is replaced, and fails, and comes again",
        replaced,
    ),
    InOne(
        "talk: an element of the page's own class plays it, defined late",
        own_class,
    ),
    InOne(
        "talk: a lesson that has left the page heeds it no more, and does when it is back",
        away,
    ),
    Everywhere("talk: a recording is played and followed", recording),
    Everywhere(
        "talk: a recording that is not there leaves times as text",
        lost,
    ),
    InOne("talk: two lessons follow one talk", two),
];

/// The times in the text, and how many can be heard.
fn times(browser: &Browser) -> Value {
    browser.js("return [all('.times').map((it) => it.textContent), all('.times button').length, all('.talk').length]")
}

fn texts() -> Value {
    json!([
        "hear 0:02, 0:20",
        "hear 0:03",
        "hear 0:05",
        "hear 0:06",
        "hear 0:08"
    ])
}

fn late(browser: &Browser) {
    show(browser, SCRIPT, LESSON);
    assert_eq!(times(browser), json!([texts(), 0, 0]));
    browser.js(VOICE);
    assert_eq!(times(browser), json!([texts(), 6, 1]));
    browser.click("return all('.times button')[3]");
    assert_eq!(
        browser.js("return [line().current.san, voice.paused]"),
        json!(["d6", false])
    );
}

fn replaced(browser: &Browser) {
    show(browser, SCRIPT, LESSON);
    browser.js(VOICE);
    browser.js("line().hear(3); window.old = voice; old.remove()");
    assert_eq!(times(browser), json!([texts(), 0, 0]));
    assert_eq!(browser.js("return line().hearing"), Value::Null);
    // What is gone is not heeded, also where it still plays.
    browser.js("old.currentTime = 5.5");
    assert_eq!(browser.js("return line().current.san"), "Nf3");
    browser.js(VOICE);
    browser.js("voice.play(); voice.currentTime = 6.5");
    assert_eq!(
        browser.js("return [line().current.san, voice === old]"),
        json!(["d4", false])
    );
    browser.allow("not loaded"); // what our own ears in WebKit make of the event
    browser.js("voice.error = { code: 2 }; voice.dispatchEvent(new Event('error'))");
    assert_eq!(times(browser), json!([texts(), 0, 0]));
    assert_eq!(
        browser.js("return [line().hearing, line().hear(3)]"),
        json!([null, false])
    );
    browser.js("voice.error = null; voice.dispatchEvent(new Event('canplay'))");
    assert_eq!(times(browser), json!([texts(), 6, 1]));
    // Another one is named.
    browser.js("line().talk = 'other'; await painted()");
    assert_eq!(times(browser), json!([texts(), 0, 0]));
}

fn own_class(browser: &Browser) {
    show(browser, SCRIPT, LESSON);
    browser.js("document.querySelector('main').append(Object.assign(document.createElement('own-player'), { id: 'voice' })); await painted()");
    assert_eq!(times(browser), json!([texts(), 0, 0]));
    browser.js("customElements.define('own-player', class extends HTMLElement { currentTime = 0; paused = true; play() { this.paused = false } pause() { this.paused = true } }); await painted()");
    assert_eq!(times(browser), json!([texts(), 6, 1]));
    // It says nothing when it plays.
    browser.js("line().hear(5)");
    assert_eq!(browser.js("return line().current.san"), "d6");
    browser.js("document.getElementById('voice').currentTime = 3.5; await pause(250)");
    assert_eq!(browser.js("return line().current.san"), "Nf3");
}

fn away(browser: &Browser) {
    show(browser, SCRIPT, LESSON);
    browser.js(VOICE);
    browser.js("line().hear(3); window.kept = line(); window.place = kept.nextSibling; kept.remove(); await painted(); voice.currentTime = 5.5; await pause(200)");
    assert_eq!(browser.js("return kept.current.san"), "Nf3");
    browser.js("place.before(kept); await painted()");
    browser.until("line().current.san === 'd6'");
}

/// A WAV file of eight bits, 8,000 samples a second, mono, that is silent for so long ("Multimedia
/// Programming Interface and Data Specifications 1.0", 1991, "Waveform Audio File Format").
fn silence(seconds: u32) -> Vec<u8> {
    let length = seconds * 8000;
    let mut file = b"RIFF".to_vec();
    file.extend((36 + length).to_le_bytes());
    file.extend(b"WAVEfmt ");
    file.extend(16u32.to_le_bytes());
    file.extend([1u16, 1].map(u16::to_le_bytes).concat());
    file.extend([8000u32, 8000].map(u32::to_le_bytes).concat());
    file.extend([1u16, 8].map(u16::to_le_bytes).concat());
    file.extend(b"data");
    file.extend(length.to_le_bytes());
    file.resize(file.len() + length as usize, 128);
    file
}

/// Muted: on a machine without a device for sound Firefox plays the rest with an error.
fn recorded(browser: &Browser, address: &str) {
    let head = format!("<link rel=\"stylesheet\" href=\"/site.css\">\n{SCRIPT}");
    let body = format!(
        "<audio id=\"voice\" controls muted><source src=\"{address}\"></audio><ply-line id=\"one\"><pre>[Talk \"voice\"]\n\n{LESSON}</pre></ply-line>"
    );
    browser.show(&head, &body);
    browser.until("inside('.times')");
}

fn recording(browser: &Browser) {
    let path = format!("talk-{}/t.wav", browser.engine.name());
    browser.site.write(&path, silence(12));
    recorded(browser, &format!("/{path}"));
    browser.js(
        "line().next(); window.voice = document.getElementById('voice'); window.late = [];
         document.addEventListener('ply-moved', ({ detail }) => late.push([detail.san, detail.by, voice.currentTime]))",
    );
    assert_eq!(browser.js("return voice.paused"), true);
    browser.click("return button('hear')");
    browser.until("line().current.san === 'Nf3'");
    let late = browser.js("return late[0]");
    let when = late[2].as_f64().unwrap_or_default();
    assert!((2.95..=3.25).contains(&when), "{late}");
    browser.js("voice.currentTime = 6.5");
    browser.until("line().current.san === 'd4'");
    browser.click("return button('hear')");
    assert_eq!(browser.js("return voice.paused"), true);
    browser.js("voice.currentTime = 11.7; await voice.play()");
    browser.until("voice.ended && line().hearing === null");
    assert_eq!(
        browser.js("return [line().current.san, entries]"),
        json!(["Bb5", 0])
    );
}

fn lost(browser: &Browser) {
    for said in ["nowhere.wav", "All candidate resources failed to load"] {
        browser.allow(said);
    }
    recorded(browser, "/nowhere.wav");
    browser.until(
        "document.getElementById('voice').networkState === 3 && !all('.times button').length",
    );
    assert_eq!(times(browser), json!([texts(), 0, 0]));
}

fn two(browser: &Browser) {
    let body = format!(
        "<ply-line id=\"one\" talk=\"voice\"><pre>{LESSON}</pre></ply-line><ply-line id=\"two\" talk=\"voice\"><pre>1. d4 {{Hear: 0:05}} *</pre></ply-line>"
    );
    browser.show(SCRIPT, &body);
    browser.until("inside('.times', 'one') && inside('.times', 'two')");
    browser.js(VOICE);
    browser.js("line('one').hear(3); voice.currentTime = 5.5");
    assert_eq!(
        browser.js("return ['one', 'two'].map((id) => line(id).current.san)"),
        json!(["d6", "d4"])
    );
}
