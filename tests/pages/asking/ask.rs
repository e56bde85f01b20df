//! Questions in a lesson: what follows is closed, everywhere and for every input, until it is
//! answered or shown.

use super::quiz::{hears, put, told};
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::browser::keys::{ENTER, RIGHT, SHIFT, TAB};
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    InOne(
        "what follows a question is nowhere in a lesson, its addresses, its recap or what it says",
        closed,
    ),
    Everywhere(
        "a question in a lesson is answered with the pointer, and then the lesson goes on",
        pointer,
    ),
    Everywhere(
        "a question in a lesson is met and answered with keys alone",
        keys,
    ),
    Everywhere(
        "a word in the text shows the answer, and one above it all answers",
        shown,
    ),
    InOne(
        "a script that goes past a question opens it, and what it is told names no answer",
        script,
    ),
    Everywhere(
        "an address and a reference stop at the question before their place",
        addresses,
    ),
    Everywhere(
        "a move at a question that leads elsewhere in the lesson is followed there, by pointer and by keys",
        elsewhere,
    ),
    InOne("a recap is drawn anew as answers open", recap),
    InOne(
        "a lesson whose text changes keeps its open answers, and another lesson in its place asks again",
        anew,
    ),
    Everywhere(
        "a trap in another lesson closes nothing on the way to where a reader is",
        trapped,
    ),
    InOne("questions in a lesson in German", german),
];

/// Two questions after each other, and one in a sideline. Everything after the first says so.
pub const LESSON: &str = "<ply-line id=\"lesson\"><pre>1. e4 e5 2. Nf3 {Good.} {Ask: What guards @e5? Hint: a piece on @!b8. Because: the @!c6 knight, secretly.} \
    Nc6 {Secretly *good*.} (2... d6 {Secretly passive.} 3. d4) (2... f6? {Secretly weak.} 3. Nxe5 fxe5 4. Qh5+) \
    3. Bb5 {Secretly later. See [this](#3...a6).} {Ask: And the bishop? Because: secretly it is asked.} a6 4. Ba4 (4. Bxc6 {Secretly taken.} dxc6) 4... Nf6 *</pre></ply-line>";

fn closed(browser: &Browser) {
    browser.show(SCRIPT, &format!("{LESSON}<ply-recap id=\"w\"></ply-recap><ply-recap id=\"b\" side=\"black\"></ply-recap>"));
    browser.js("line().go('2.Nf3'); await stills(); if (!inside('.map')) button('map').click(); openDesk(); await painted()");
    let seen = browser.js(
        "return [all('.move').map(({ textContent }) => textContent).join(' '), all('.question').map(({ textContent }) => textContent),
           all('.outline li').length, all('.map circle').length, all('.ring').length, button('next').getAttribute('aria-disabled'), inside('ol.next')]",
    );
    assert_eq!(
        seen,
        json!([
            "1.e4 e5 2.Nf3",
            ["Question: What guards e5?", "Your move. show me"],
            0,
            4,
            1,
            "true",
            null
        ])
    );
    let tells = browser.js(
        "const said = [];
         for (const button of all('[data-ask]')) { button.click(); await painted(); said.push(inside('[role=status]').textContent); }
         const whole = [...['lesson', 'w', 'b'].map((id) => line(id).shadowRoot.innerHTML), ...said, JSON.stringify(line().current)].join();
         return ['Nc6', 'd6', 'f6', 'Bb5', 'ecretly', 'a piece on'].filter((word) => whole.replaceAll(/data-square=\"..\"[^>]*>/g, '').includes(word))",
    );
    assert_eq!(tells, json!([]));
}

fn pointer(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    for _ in 0..4 {
        browser.click("return button('next')");
    }
    hears(
        browser,
        "lesson",
        "White knight from g1 to f3, with a comment. What guards e5? Your move.",
    );
    for (from, to, said) in [
        ("d7", "d6", "Sound: 2\u{2026}d6 is in the lesson too"),
        ("d7", "d5", "2\u{2026}d5 is not an answer of this lesson."),
        ("d7", "d3", "The pawn on d7 cannot reach d3."),
        ("f7", "f6", "Weaker: 2\u{2026}f6. Secretly weak."),
    ] {
        put(browser, "lesson", from, to);
        hears(browser, "lesson", said);
        assert_eq!(browser.js("return all('.move').length"), 3, "{to}");
    }
    assert_eq!(
        browser.text("return inside('figcaption').textContent"),
        "weaker: after 2\u{2026}f6 3.Nxe5, Black to move"
    );
    for said in [
        "Black pawn from f6 takes on e5.",
        "White queen from d1 to h5, check. The line ends here.",
    ] {
        browser.click("return button('next')");
        hears(browser, "lesson", said);
    }
    assert_eq!(
        browser.js("return [inside('figcaption').textContent, button('next').getAttribute('aria-disabled'), all('.move').length]"),
        json!(["weaker: after 2\u{2026}f6 \u{2026} 4.Qh5+, Black to move", "true", 3])
    );
    browser.click("return button('hint')");
    hears(browser, "lesson", "Back at the question. a piece on b8");
    put(browser, "lesson", "b8", "c6");
    hears(
        browser,
        "lesson",
        "Right: 2\u{2026}Nc6. the c6 knight, secretly.",
    );
    // The answer and its sidelines are in the text, up to the next question.
    assert_eq!(
        browser.js("return [line().current.san, all('.main').map(({ textContent }) => textContent.trim()).join(' '), all('.outline [data-go]').length, Boolean(button('open'))]"),
        json!(["Nc6", "1.e4 e5 2.Nf3 2\u{2026}Nc6 3.Bb5", 2, true])
    );
    browser.click("return button('next')");
    assert_eq!(browser.js("return line().current.san"), "Bb5");
    assert_eq!(
        told(browser),
        json!([
            ["lesson", "fair", "d6", 1],
            ["lesson", "other", "d5", 2],
            ["lesson", "illegal", null, 2],
            ["lesson", "weaker", "f6", 3],
            ["lesson", "right", "Nc6", 4],
            ["lesson", "answered", null, 4]
        ])
    );
}

fn keys(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    let inside = |name: &str| {
        browser.js_with(
            "return document.activeElement === line() && Boolean(line().shadowRoot.activeElement?.matches(given))",
            json!(name),
        )
    };
    let tab_to = |name: &str, back: bool| {
        for _ in 0..30 {
            if inside(name) == true {
                return;
            }
            match back {
                true => browser.press_with(SHIFT, TAB),
                false => browser.press(TAB),
            }
        }
        panic!("Tab never leads to {name}");
    };
    tab_to(".move", false);
    for _ in 0..6 {
        browser.press(RIGHT);
    }
    hears(browser, "lesson", "What guards e5? Your move.");
    assert_eq!(inside("#m3"), true);
    tab_to("[data-do=desk]", true);
    browser.press(ENTER);
    tab_to(".typed", false);
    for (text, said) in [
        ("hint", "a piece on b8"),
        ("d6", "Sound"),
        ("Nc6", "Right: 2\u{2026}Nc6."),
    ] {
        browser.write_keys(text);
        browser.press(ENTER);
        hears(browser, "lesson", said);
        assert_eq!(inside(".typed"), true, "{text}");
    }
    browser.write_keys("next");
    browser.press(ENTER);
    hears(browser, "lesson", "And the bishop? Your move.");
    // Shown by the word in the text, from where the focus is not lost.
    browser.js("inside('[data-show]').focus()");
    browser.press(ENTER);
    hears(browser, "lesson", "The answer: 3\u{2026}a6.");
    assert_eq!(inside("[data-do=next]"), true);
}

fn shown(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    // From elsewhere in the lesson.
    browser.click("return inside('[data-show]')");
    hears(browser, "lesson", "The answer: 2\u{2026}Nc6.");
    assert_eq!(
        browser
            .js("return [line().current.san, all('[data-show]').length, all('.question').length]"),
        json!(["Nc6", 1, 3])
    );
    browser.click("return button('open')");
    assert_eq!(
        browser.js("return [all('[data-show]').length, button('open'), all('.move').length, all('.outline [data-go]').length]"),
        json!([0, null, 16, 3])
    );
    assert_eq!(
        told(browser),
        json!([["lesson", "shown", null, 0], ["lesson", "shown", null, 0]])
    );
}

fn script(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    let seen = browser.js(
        "const lesson = line();
         const out = [lesson.go('2.Nf3'), lesson.current.next, lesson.current.comment, lesson.next(), lesson.next(2), lesson.play('d6'), lesson.current.san,
           lesson.play('f6'), lesson.current.aside.join(' '), lesson.back(), lesson.current.aside.length];
         lesson.go('2...f6');
         return [...out, lesson.current.san, lesson.current.next, lesson.go('3.Bb5'), lesson.current.next, lesson.go('4.Ba4'), lesson.current.san]",
    );
    assert_eq!(
        seen,
        json!([
            true,
            [],
            "What guards @e5?",
            false,
            false,
            false,
            "Nf3",
            true,
            "f6 Nxe5",
            true,
            1,
            "f6",
            ["Nxe5"],
            true,
            [],
            true,
            "Ba4"
        ])
    );
    assert_eq!(
        told(browser),
        json!([
            ["lesson", "fair", "d6", 1],
            ["lesson", "weaker", "f6", 2],
            ["lesson", "shown", null, 0],
            ["lesson", "shown", null, 0]
        ])
    );
}

fn addresses(browser: &Browser) {
    let path = browser.write(
        SCRIPT,
        &format!("{LESSON}<ply-prose for=\"lesson\"><p>Later comes 4.Ba4 and all is well.</p></ply-prose><p><a id=\"there\" href=\"#lesson/3.Bb5\">there</a></p>"),
    );
    browser.visit(&format!("{path}#lesson/4.Ba4"));
    assert_eq!(
        browser.js("return [line().current.san, line().current.aside]"),
        json!(["Nf3", []])
    );
    browser.js("line().go(0)");
    browser.click("return document.getElementById('there')");
    browser.until("line().current.san === 'Nf3'");
    browser.js("line().go(0)");
    browser.until("document.querySelector('ply-prose a, ply-prose ply-ref')");
    browser.click("return document.querySelector('ply-prose a')");
    browser.until("line().current.san === 'Nf3'");
    browser.js("line().play('Nc6')");
    browser.click("return document.getElementById('there')");
    browser.until("line().current.san === 'Bb5'");
}

fn elsewhere(browser: &Browser) {
    browser.show(SCRIPT, "<ply-line id=\"lesson\"><pre>1. Nf3 (1. d4 {Other ways.} Nf6 2. Nf3 e6) Nf6 {Ask: Where to?} 2. c4 *</pre></ply-line>");
    for by_key in [false, true] {
        browser.js("line().go('1.Nf3 Nf6'); line().play('d4')");
        hears(
            browser,
            "lesson",
            "2.d4 is not an answer of this lesson. It leads to the position after 2.Nf3.",
        );
        if by_key {
            browser.js("inside('.try ol button').focus()");
            browser.press(ENTER);
        } else {
            browser.click("return inside('.try ol button')");
        }
        browser.until("line().current.line === 'A' && line().current.san === 'Nf3'");
        assert_eq!(
            browser.js("return document.activeElement === line() && line().shadowRoot.activeElement !== null"),
            true
        );
    }
}

fn recap(browser: &Browser) {
    browser.show(
        SCRIPT,
        &format!("{LESSON}<ply-recap id=\"r\" side=\"black\"></ply-recap>"),
    );
    browser.js("await stills()");
    let text = |wanted: &str| {
        browser.until(&format!(
            "inside('tbody', 'r')?.textContent.includes('{wanted}')"
        ));
    };
    text("What guards e5?");
    assert_eq!(
        browser.js("return inside('tbody', 'r').textContent.includes('Nc6')"),
        false
    );
    browser.js("line().go('2.Nf3'); line().play('Nc6')");
    text("Nc6");
    text("And the bishop?");
    browser.click("return button('open')");
    browser.until("!inside('tbody', 'r').textContent.includes('And the bishop?')");
}

fn anew(browser: &Browser) {
    browser.show(SCRIPT, "<ply-line id=\"lesson\"><pre>{Ask: How does White begin? Because: room.} 1. e4 (1. d4) *</pre></ply-line>");
    let seen = "return [all('.move').length, all('.question').length, line().current.next, line().current.comment]";
    let closed = json!([0, 2, [], "How does White begin?"]);
    assert_eq!(browser.js(seen), closed);
    browser.js("line().play('e4')");
    assert_eq!(
        browser.js("return [all('.move').length, line().current.san]"),
        json!([2, "e4"])
    );
    browser.js("line().text = '{Ask: How does White begin? Because: room.} 1. e4 (1. d4) e5 *'");
    browser.until("all('.move').length === 3");
    assert_eq!(browser.js("return line().current.san"), "e4");
    browser.js("line().text = '{Ask: How does White begin? Because: room.} 1. c4 (1. Nf3) e5 *'");
    browser.until("line().current.node === 0 && line().current.next.length === 0");
    assert_eq!(browser.js(seen), closed);
    // Answers that a question lacks close nothing.
    browser.js("line().text = '1. d4 {Ask: And?} e5? *'");
    browser.until("all('.move').length === 2");
    assert_eq!(
        browser.js("return line().findings.filter(({ severity }) => severity !== 'hint').map(({ code }) => code)"),
        json!(["P048"])
    );
}

fn trapped(browser: &Browser) {
    browser.expect("plyline other: ");
    let head = "<script src=\"/trap.js\"></script>\n<script defer src=\"/plyline.js\"></script>";
    let other = "<ply-line id=\"other\"><pre>1. c4 *</pre></ply-line>";
    browser.show(head, &format!("{LESSON}{other}"));
    browser.js(
        "line().go('2.Nf3'); line().play('Nc6'); line().next(); trap.armed = true; line('other').next()",
    );
    assert_eq!(
        browser.js("return [line().current.san, line().current.next, line().play('a6'), line().current.san]"),
        json!(["Bb5", [], true, "a6"])
    );
}

/// The text of the printed form.
fn german(browser: &Browser) {
    let head = format!("<script src=\"/words/de.js\"></script>{SCRIPT}");
    browser.show(&head, &format!("<div lang=\"de\">{LESSON}</div>"));
    browser.js("line().go('2.Nf3')");
    put(browser, "lesson", "b8", "c6");
    hears(browser, "lesson", "Richtig: 2\u{2026}Sc6.");
    let seen = browser.js("return [all('.question')[0].textContent, inside('[data-show]').textContent, button('open').textContent]");
    assert_eq!(
        seen,
        json!([
            "Frage: What guards e5?",
            "zeigen",
            "alle Antworten \u{f6}ffnen"
        ])
    );
}
