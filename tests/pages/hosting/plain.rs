//! What a baked page is where its script has not come or may not run: on paper, without scripting, and
//! where there is no room for all of it.

use crate::harness::Case::{self, Everywhere};
use crate::hosting::asleep::{NOTATION, everything, lesson, open, until_heeded};
use crate::hosting::baking::{PLAIN, SHEETS, pre};
use crate::support::browser::Browser;
use crate::support::browser::engine::Cap;
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "a baked map waits for its button where there is no room for it",
        map_on_narrow_pages,
    ),
    Everywhere(
        "the paper of a baked page has its plain form until the script has come, and then the script's",
        on_paper,
    ),
    Everywhere(
        "where no script may run a baked page shows its plain form",
        without_scripting,
    ),
];

fn map_on_narrow_pages(browser: &Browser) {
    let see = "const box = inside('.mapbox'); return box !== null && visible(box)";
    open(browser, &lesson(NOTATION), "");
    assert_eq!(browser.js(see), true);
    browser.phone();
    open(browser, &lesson(NOTATION), "");
    until_heeded(browser);
    assert_eq!(browser.js(see), false);
    browser.click("return button('map')");
    browser
        .until("Number.isInteger(line().made) && inside('.mapbox') && visible(inside('.mapbox'))");
    assert_eq!(
        browser.js("return [button('map').getAttribute('aria-expanded'), baked.moved()]")[0],
        "true"
    );
    browser.click("return button('map')");
    assert_eq!(browser.js(see), false);
    // Taken over without a press it is closed, and nothing else has changed.
    open(browser, &lesson(NOTATION), "");
    browser.js("move(1).focus({ preventScroll: true })");
    browser.until("Number.isInteger(line().made)");
    let after = browser.js(
        "await painted();
         return [line().made, inside('.mapbox'), button('map').getAttribute('aria-expanded'), baked.added,
           baked.moved().filter((part) => !/^(button|div.under|div.map|svg.map|p.key|path|g|text|circle)/.test(part))]",
    );
    assert_eq!(after, json!([0, null, "false", [], []]));
}

fn on_paper(browser: &Browser) {
    let body = everything();
    open(browser, &body, "");
    until_heeded(browser);
    let plain = |tag: &str| format!("{PLAIN} {tag}.");
    let shown = "const forms = [...document.querySelectorAll('[data-plyline-baked] > [data-plyline]')].filter(visible);
         return [forms.map(({ textContent }) => textContent), visible(inside('.lesson')), visible(inside('.lesson', 'quiz'))]";
    let drawn = json!([[], true, true]);
    assert_eq!(browser.js(shown), drawn);
    if browser.engine.can(Cap::Medium) {
        browser.medium("print", "light", false);
        assert_eq!(
            browser.js(shown),
            json!([[plain("ply-line"), plain("ply-quiz")], false, false])
        );
        browser.medium("", "light", false);
    }
    if browser.engine.can(Cap::Print) {
        let text = browser.printed();
        assert!(
            text.contains(&plain("ply-line")) && text.contains(&plain("ply-quiz")),
            "{text}"
        );
        assert!(
            !text.contains("Back") && text.matches("Our comment.").count() == 1,
            "{text}"
        );
    }
    // With the script a lesson prints what it makes for that, and then is as before.
    browser.js("await import('/plyline.mjs').then(({ ready }) => ready()); await settled(); await stills()");
    assert_eq!(browser.js(shown), drawn);
    let printing = browser.js(
        "dispatchEvent(new Event('beforeprint'));
         const during = [inside('.paper slot'), inside('.paper').textContent.includes('Our comment.'), inside('.paper', 'quiz').children[0].name];
         dispatchEvent(new Event('afterprint'));
         return [...during, all('.paper *').length, inside('.paper > slot') !== null]",
    );
    assert_eq!(printing, json!([null, true, "paper", 1, true]));
    if browser.engine.can(Cap::Print) {
        let text = browser.printed();
        assert!(
            !text.contains(&plain("ply-line")) && text.contains("Our comment."),
            "{text}"
        );
        browser.until("all('.paper > slot').length === 1");
    }
    assert_eq!(browser.js(shown), drawn);
    // What is not baked has no plain form, and none of the element's own content is printed twice.
    browser.show(SCRIPT, &format!("<ply-line>{}</ply-line>", pre(NOTATION)));
    if browser.engine.can(Cap::Print) {
        let text = browser.printed();
        assert_eq!(text.matches("Our comment.").count(), 1, "{text}");
    }
}

fn without_scripting(browser: &Browser) {
    let inner = browser.write(SHEETS, &everything());
    // In a frame that may run no script, which its parent can look into.
    let body = format!(
        "<iframe sandbox=\"allow-same-origin\" src=\"{inner}\" width=\"700\" height=\"700\"></iframe>"
    );
    browser.allow("sandbox");
    browser.allow("record.js");
    browser.open(&browser.write("", &body));
    browser.until(
        "document.querySelector('iframe').contentDocument?.querySelector('ply-recap')?.shadowRoot",
    );
    browser.until("getComputedStyle(document.querySelector('iframe').contentDocument.querySelector('ply-line').shadowRoot.querySelector('.lesson')).display === 'none'");
    let shown = browser.js(
        "const inner = document.querySelector('iframe').contentDocument;
         const of = (name) => inner.querySelector(name);
         const forms = [...inner.querySelectorAll('[data-plyline-baked] > [data-plyline]')].filter(visible);
         return { forms: forms.map(({ textContent }) => textContent), notation: visible(of('ply-line > pre')), quiz: visible(of('ply-quiz').shadowRoot.querySelector('.lesson')),
           diagram: visible(of('ply-diagram').shadowRoot.querySelector('svg')), recap: visible(of('ply-recap').shadowRoot.querySelector('table')),
           links: [...inner.querySelectorAll('ply-prose a')].every(visible) }",
    );
    assert_eq!(
        shown,
        json!({ "forms": [format!("{PLAIN} ply-line."), format!("{PLAIN} ply-quiz.")], "notation": true, "quiz": false,
            "diagram": true, "recap": true, "links": true })
    );
}
