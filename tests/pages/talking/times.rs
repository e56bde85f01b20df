//! `Hear:` paragraphs: a line of times in the text, and what is loaded for them.

use super::{LESSON, VOICE, show};
use crate::harness::Case::{self, Everywhere, InOne};
use crate::seeing::access::assert_clean_in_both;
use crate::support::browser::Browser;
use crate::support::browser::keys::ENTER;
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "talk: times are buttons, also where the lesson is drawn again, and the focus stays with them",
        again,
    ),
    InOne("talk: what is no list of times stays text", unread),
    InOne(
        "talk: a passage without an end lasts to the next time that the lesson names",
        lasts,
    ),
    InOne(
        "talk: it is loaded where a lesson names times, also with modules",
        loaded,
    ),
    InOne("talk: another text has other times", other_text),
    InOne("talk: on paper the times are text", on_paper),
    InOne("talk: on a German page its words are German", german),
    InOne("talk: axe-core finds nothing in it", clean),
];

const MODULE: &str = "<script type=\"module\" src=\"/plyline.mjs\"></script>";

fn again(browser: &Browser) {
    show(browser, SCRIPT, LESSON);
    browser.js(VOICE);
    let shown =
        "return all('.times').filter(visible).map((it) => [it.textContent, it.children.length])";
    let times = json!([
        ["hear 0:02, 0:20", 2],
        ["hear 0:03", 1],
        ["hear 0:05", 1],
        ["hear 0:06", 1],
        ["hear 0:08", 1]
    ]);
    assert_eq!(browser.js(shown), times);
    // The variations are folded away, and opened again.
    browser.click("return inside('.which button')");
    browser.js("await painted()");
    let main = json!([["hear 0:02, 0:20", 2], ["hear 0:03", 1], ["hear 0:08", 1]]);
    assert_eq!(browser.js(shown), main);
    assert_eq!(browser.js("return all('.talk').length"), 1);
    browser.js("all('.times button')[1].focus()");
    browser.press(ENTER);
    assert_eq!(
        browser.js("return [voice.paused, voice.currentTime >= 20]"),
        json!([false, true])
    );
    // The voice leads into the variation, for which all of the lesson is drawn again.
    browser.js("voice.currentTime = 5.5; await painted()");
    let focus =
        "return [line().current.san, line().shadowRoot.activeElement?.getAttribute('aria-label')]";
    assert_eq!(browser.js(focus), json!(["d6", "hear 0:20, 1.e4"]));
    assert_eq!(browser.js("return inside('.voice').id"), "m5");
    browser.js("line().flip(); await painted()");
    assert_eq!(browser.js("return all('.times button').length"), 6);
    let least = browser.js("return Math.min(...all('.times button').filter(visible).flatMap((it) => [it.getBoundingClientRect().width, it.getBoundingClientRect().height]))");
    assert!(least.as_f64().is_some_and(|it| it >= 24.0), "{least}");
}

fn unread(browser: &Browser) {
    show(
        browser,
        SCRIPT,
        "1. e4 {Hear: soon} e5 {Hear: 0:09-0:05} 2. Nf3 {We hear: 0:04} Nc6 {Hear: 0:61} 3. Bb5 {Hear: 1:04:27.5 – 1:05:00,0:07} *",
    );
    browser.js(VOICE);
    assert_eq!(
        browser.js("return all('.times').map((it) => it.textContent)"),
        json!(["hear 1:04:27, 0:07"])
    );
    let text = browser.text("return inside('.lines').textContent");
    for raw in [
        "Hear: soon",
        "Hear: 0:09-0:05",
        "We hear: 0:04",
        "Hear: 0:61",
    ] {
        assert!(text.contains(raw), "{text}");
    }
    browser.js("line().hear(5)");
    assert_eq!(browser.js("return Math.floor(voice.currentTime)"), 3867);
    browser.js("voice.currentTime = 3900.5");
    assert_eq!(browser.js("return line().hearing"), json!(null));
}

fn lasts(browser: &Browser) {
    show(
        browser,
        SCRIPT,
        "{Hear: 0:01} 1. e4 {Hear: 0:10} e5 {Hear: 0:10} 2. Nf3 {Hear: 0:12-0:30} ({Hear: 0:40} 2. f4) *",
    );
    browser.js(VOICE);
    browser.js("voice.play()");
    let at = "return [0.5, 1, 9.5, 10.5, 12.5, 29.5, 31, 39.5, 40.5, 4000].map((second) => (voice.currentTime = second, line().hearing))";
    // Of two moves with one time the later is on the board. Words before a variation are about the
    // position that it leaves.
    assert_eq!(
        browser.js(at),
        json!([null, 0, 0, 2, 3, 3, null, null, 2, 2])
    );
}

fn loaded(browser: &Browser) {
    for head in [SCRIPT, MODULE] {
        let is_loaded = "return performance.getEntriesByType('resource').some(({ name }) => name.endsWith('plyline-talk.mjs'))";
        browser.show(
            head,
            "<ply-line talk=\"voice\"><pre>1. e4 *</pre></ply-line>",
        );
        browser.js("await pause(300)");
        assert_eq!(browser.js(is_loaded), false, "{head}");
        show(browser, head, LESSON);
        assert_eq!(browser.js(is_loaded), true, "{head}");
        browser.js(VOICE);
        browser.js("line().hear(3)");
        assert_eq!(browser.js("return line().current.san"), "Nf3", "{head}");
    }
}

fn other_text(browser: &Browser) {
    show(browser, SCRIPT, LESSON);
    browser.js(VOICE);
    browser.js("line().hear(3); line().text = '1. d4 {Hear: 0:03-0:09} *'");
    browser.until("line().hearing === 1 && line().current.san === 'd4'");
    browser.js("line().text = '1. c4 *'; await line().ready; await pause(100)");
    browser.until("line().hearing === null && !inside('.talk')");
}

fn on_paper(browser: &Browser) {
    show(browser, SCRIPT, LESSON);
    browser.js(VOICE);
    browser.js("dispatchEvent(new Event('beforeprint')); await null");
    let paper = browser.js(
        "return [inside('.paper').textContent.includes('hear 0:02, 0:20'), inside('.paper').textContent.includes('Hear:'), all('.paper button').length]",
    );
    browser.js("dispatchEvent(new Event('afterprint'))");
    assert_eq!(paper, json!([true, false, 0]));
}

fn german(browser: &Browser) {
    show(
        browser,
        &format!("<script defer src=\"/words/de.js\"></script>{SCRIPT}"),
        LESSON,
    );
    browser.js(VOICE);
    browser.js("document.documentElement.lang = 'de'; line().text = line().text");
    browser.until("inside('.times')?.textContent.startsWith('hören')");
    browser.js("line().hear(3)");
    assert_eq!(
        browser.js("return all('.talk button:not([hidden])').map((it) => it.textContent)"),
        json!(["Pause", "folgen"])
    );
}

fn clean(browser: &Browser) {
    for dark in [false, true] {
        browser.dark(dark);
        show(browser, SCRIPT, LESSON);
        browser.js(VOICE);
        browser.js("line().hear(3); button('back').click(); voice.currentTime = 5.5");
        assert_clean_in_both(browser, &format!("talk, dark: {dark}"));
        // Without the board's own row there is no more room than on a phone: it keeps to its share.
        browser.phone();
        let share =
            browser.js("return inside('.margin').getBoundingClientRect().height / innerHeight");
        assert!(share.as_f64().is_some_and(|it| it < 0.4), "{share}");
        browser.width(None);
    }
}
