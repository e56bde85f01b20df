//! The language of the page: the words of the nearest `lang`, on screen and spoken.

use crate::harness::Case::{self, Everywhere, InOne};
use crate::moving::hand::{hears, square};
use crate::moving::keyboard::type_in;
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use plyline::view::words::TEXTS;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    InOne(
        "words: on a German page nothing that is seen or spoken is English",
        all_german,
    ),
    InOne(
        "words: what is typed and answered is German too",
        typed_german,
    ),
    InOne(
        "words: the nearest lang wins, and its country does not matter",
        nearest,
    ),
    Everywhere(
        "words: other letters are heeded while the page is open, where the reader is",
        relettered,
    ),
    InOne(
        "words: a typed move may have the letters of the page's language or English ones",
        typed,
    ),
    InOne("words: a language that is not there gives English", unknown),
    InOne("words: what cannot be shown is said in German", failure),
    Everywhere(
        "words: moves stand in bdi, left to right on a page that runs right to left",
        isolated,
    ),
];

/// A lesson without a word of its own, so that every word on the page is the element's.
const LESSON: &str = "<pre>1. e4 e5 (1... c5!? 2. Nf3 (2. c3) 2... d6 $10) 2. Nf3! {@!e5}\n\n{@?e4-e5\n\nChoose:} Nc6 3. Bb5 a6 4. O-O Kd9 *</pre>";

fn head() -> String {
    format!("<script defer src=\"/words/de.js\"></script>{SCRIPT}")
}

/// Everything in the element that is read or heard, one text a line.
const HEARD: &str = "const texts = [];
    for (const element of [line().shadowRoot, ...all('*')]) {
      for (const node of element.childNodes) if (node.nodeType === 3) texts.push(node.data);
      for (const name of ['aria-label', 'title', 'alt', 'placeholder', 'aria-description'])
        if (element.getAttribute?.(name)) texts.push(element.getAttribute(name));
    }
    return texts.join('\\n')";

/// The English words that no German text holds.
fn english() -> Vec<String> {
    let german = include_str!("../../../www/words/de.js").to_lowercase();
    let texts = german.lines().filter_map(|line| line.split_once(": \""));
    let german: String = texts.map(|(_, text)| format!("{text} ")).collect();
    let words = TEXTS.iter().flat_map(|(_, text)| {
        let without = text.replace(['{', '}'], " ");
        let words = without.split(|letter: char| !letter.is_alphabetic());
        words.map(str::to_lowercase).collect::<Vec<_>>()
    });
    let is_german = |word: &str| {
        german
            .split(|letter: char| !letter.is_alphabetic())
            .any(|other| other == word)
    };
    let mut words: Vec<String> = words
        .filter(|word| word.chars().count() > 1 && !is_german(word))
        .collect();
    words.sort();
    words.dedup();
    words
}

#[track_caller]
fn assert_german(browser: &Browser, state: &str, english: &[String]) {
    let heard = browser.text(HEARD);
    for word in heard.split(|letter: char| !letter.is_alphanumeric()) {
        assert!(
            !english.contains(&word.to_lowercase()),
            "{state}: \u{201c}{word}\u{201d} in\n{heard}"
        );
    }
}

fn all_german(browser: &Browser) {
    browser.show(
        &head(),
        &format!("<div lang=\"de\"><ply-line>{LESSON}</ply-line></div>"),
    );
    let english = english();
    assert!(english.len() > 100, "{english:?}");
    assert_german(browser, "at the start", &english);
    browser.js("openDesk()");
    // Every place, and everything that can be asked there.
    let mut heard = Vec::new();
    let count = browser.js("return all('.move').length + 1");
    for node in 0..count.as_u64().expect("a number") {
        browser.js_with(
            "line().go(given);
             for (let turn = 0; turn < 100 && line().current.node !== given; turn += 1) await pause(10);
             await pause(0)",
            json!(node),
        );
        for ask in ["describe", "comment", "last", "moves", "where"] {
            browser.js_with("inside(`[data-ask=${given}]`).click()", json!(ask));
            assert_german(browser, &format!("{ask} at {node}"), &english);
            heard.push(browser.text("return inside('[role=status]').textContent"));
        }
    }
    assert!(
        heard.iter().any(|text| text == "Weiß rochiert kurz."),
        "{heard:?}"
    );
    assert!(
        heard
            .iter()
            .any(|text| text.contains("eigener Plan") || text.contains("starkes Feld")),
        "{heard:?}"
    );
    for ask in [
        "material",
        "what is pinned",
        "is the bishop pinned",
        "legal moves",
        "moves of the queen",
        "where is the queen",
        "what attacks e4",
        "map",
        "all lines",
        "hide board",
        "show board",
        "help",
    ] {
        type_in(browser, ask);
        assert_german(browser, ask, &english);
    }
    // A piece in hand, an aside, tries that are not legal, a pawn that becomes something.
    browser.js("line().go('start')");
    square(browser, "e2");
    hears(
        browser,
        "e2, weißer Bauer, in der Hand. Mögliche Felder: e3 und e4.",
    );
    assert_german(browser, "in hand", &english);
    square(browser, "d3");
    hears(browser, "Dort gibt es für den Bauern nichts zu schlagen.");
    browser.js("line().play('d4')");
    hears(
        browser,
        "Weißer Bauer von d2 nach d4. Nicht in der Lektion.",
    );
    assert_german(browser, "aside", &english);
    for text in [
        "Ke5", "Kxe8", "O-O", "Bh3", "Nd7", "e5", "e4", "Nd4", "--", "Qd5+", "e8", "xyz",
    ] {
        type_in(browser, text);
        assert_german(browser, text, &english);
    }
}

fn typed_german(browser: &Browser) {
    browser.show(
        &head(),
        &format!("<ply-line lang=\"de\">{LESSON}</ply-line>"),
    );
    type_in(browser, "e4");
    type_in(browser, "weiter");
    assert_eq!(browser.js("return line().current.san"), "e5");
    type_in(browser, "Zurück");
    assert_eq!(browser.js("return line().current.san"), "e4");
    for (text, answer) in [
        ("was steht auf e4?", "e4, weißer Bauer."),
        (
            "was greift f5 an",
            "f5 wird angegriffen von: weißer Bauer e4.",
        ),
        ("what is on e4", "e4, weißer Bauer."),
        ("wo steht die weiße Dame?", "Weiß: Dame d1."),
        (
            "die Züge von hier",
            "1...e5: Schwarzer Bauer von e7 nach e5. 1...c5: Schwarzer Bauer von c7 nach c5, beachtenswert.",
        ),
        (
            "sing ein Lied",
            "„sing ein Lied“ ist kein Zug und keine Frage, die sich hier beantworten lässt. „Hilfe“ sagt, welche das sind.",
        ),
        (
            "Hilfe",
            "Fragen kann man zum Beispiel: was steht auf e4, was greift f5 an, was deckt d4, \
             wo steht die weiße Dame, was ist gefesselt, Züge des Springers auf f3, Material. Eingeben kann man einen Zug wie Sf3 oder eines von diesen: \
             zurück, weiter, Anfang, zur Lektion, drehen, Karte, fragen, Brett einklappen, Brett zeigen, nur die Hauptvariante, alle Varianten, Kommentare vorlesen, die Stellung beschreiben, den Kommentar vorlesen, \
             der letzte Zug, die Züge von hier, wo das ist, Hilfe.",
        ),
    ] {
        type_in(browser, text);
        hears(browser, answer);
    }
}

/// What the button that steps on is called.
fn next(browser: &Browser, id: &str) -> Value {
    browser.js_with("return button('next', given).textContent", json!(id))
}

fn nearest(browser: &Browser) {
    let line = |id: &str, lang: &str| format!("<ply-line id=\"{id}\" {lang}>{LESSON}</ply-line>");
    browser.show(
        &head(),
        &format!(
            "<div lang=\"de-AT\">{}{}<div lang=\"en\">{}</div></div>{}",
            line("one", ""),
            line("two", "lang=\"en-GB\""),
            line("three", ""),
            line("four", "lang=\"DE\""),
        ),
    );
    for (id, word) in [
        ("one", "weiter"),
        ("two", "next"),
        ("three", "next"),
        ("four", "weiter"),
    ] {
        assert_eq!(next(browser, id), word, "{id}");
    }
}

fn typed(browser: &Browser) {
    browser.show(
        &head(),
        "<ply-line lang=\"de\"><pre>1. Nf3 d5 2. c4 *</pre></ply-line>",
    );
    type_in(browser, "Sf3");
    assert_eq!(browser.js("return line().current.san"), "Nf3");
    browser.js("line().go(0)");
    type_in(browser, "Nf3");
    assert_eq!(browser.js("return line().current.san"), "Nf3");
    // What is shown is in those letters too; what a script is told is not.
    for (attributes, wanted) in [
        ("lang=\"de\"", "Sf3"),
        ("lang=\"de\" letters=\"fr\"", "Cf3"),
        ("letters=\"figurine\"", "\u{2658}f3"),
        ("lang=\"xx\"", "Nf3"),
    ] {
        let lesson = "<pre>1. Nf3 d5 2. c4 *</pre></ply-line>";
        browser.show(&head(), &format!("<ply-line {attributes}>{lesson}"));
        browser.js("line().next()");
        let shown = browser.js(
            "return [...line().shadowRoot.querySelectorAll('.lines .move, figcaption b')]
                .filter((it) => it.textContent.endsWith('f3')).map((it) => it.textContent).join(' ')",
        );
        let wanted = format!("1.{wanted} 1.{wanted}");
        assert_eq!(shown, wanted.as_str(), "{attributes}");
        assert_eq!(browser.js("return line().current.san"), "Nf3");
    }
}

fn relettered(browser: &Browser) {
    let lesson = "<ply-line id=\"one\"><pre>1. Nf3 d5 2. Ng1 (2. Nc3 d4) d4 *</pre></ply-line>
                  <ply-quiz id=\"q\" for=\"one\" at=\"1...d5\"><p>What now?</p></ply-quiz>";
    browser.show(&head(), lesson);
    browser.until("line('q').state === 'open'");
    browser.js("line('one').go('2.Nc3'); await painted()");
    let shown = "[...line('one').shadowRoot.querySelectorAll('.lines .move')].map((it) => it.textContent.replace(/^[\\d.\u{2026}\\s]+/u, '')).join(' ')";
    for (set, wanted) in [
        ("setAttribute('letters', 'de')", "Sf3 d5 Sg1 Sc3 d4 d4"),
        ("letters = 'fr'", "Cf3 d5 Cg1 Cc3 d4 d4"),
        ("letters = null", "Nf3 d5 Ng1 Nc3 d4 d4"),
    ] {
        browser.js(&format!(
            "line('one').{set}; line('q').{set}; await painted()"
        ));
        assert_eq!(browser.js(&format!("return {shown}")), wanted, "{set}");
        assert_eq!(
            browser.js("return [line('one').current.san, told.filter(({ type }) => type === 'ply-moved').length, line('q').state]"),
            json!(["Nc3", 1, "open"])
        );
    }
    // The board, the buttons and what is typed follow as before.
    browser.js("line('one').letters = 'de'; await painted(); line('one').go(0)");
    type_in(browser, "Sf3");
    assert_eq!(browser.js("return line('one').current.san"), "Nf3");
}

fn unknown(browser: &Browser) {
    for lang in ["fr", "", "__proto__", "constructor", "den"] {
        browser.show(
            &head(),
            &format!("<ply-line id=\"one\" lang=\"{lang}\">{LESSON}</ply-line>"),
        );
        assert_eq!(next(browser, "one"), "next", "{lang:?}");
    }
    // German without its file.
    browser.show(
        SCRIPT,
        &format!("<ply-line id=\"one\" lang=\"de\">{LESSON}</ply-line>"),
    );
    assert_eq!(next(browser, "one"), "next");
}

fn failure(browser: &Browser) {
    browser.expect("plyline lesson: ");
    browser.expect("plyline gone: Die Züge konnten nicht geladen werden");
    browser.allow("404");
    browser.show(
        &head(),
        "<div lang=\"de\"><ply-line id=\"lesson\"><pre>[Variant \"Atomic\"]</pre></ply-line>
         <ply-line id=\"gone\" src=\"/no-such-file.pgn\"></ply-line></div>",
    );
    // What follows is for the author, whose language is English everywhere.
    assert_eq!(
        browser.js("return inside('[role=status]').textContent"),
        "Das Brett kann hier nicht gezeigt werden; die Züge stehen darunter, wie sie geschrieben wurden."
    );
    let gone = browser.text("return inside('.failed', 'gone').textContent");
    assert!(
        gone.starts_with("Die Züge konnten nicht geladen werden: "),
        "{gone}"
    );
}

fn isolated(browser: &Browser) {
    browser.show(
        SCRIPT,
        &format!("<div dir=\"rtl\"><ply-line>{LESSON}</ply-line></div>"),
    );
    browser.js("line().next()");
    let bare = browser.js(
        "return all('.move, .outline button, .next b, figcaption b').filter((place) =>
           ![...place.children].some((child) => child.localName === 'bdi' && child.dir === 'ltr' && /[a-h][1-8]|O-O/.test(child.textContent)))
           .map((place) => place.outerHTML)",
    );
    assert_eq!(bare, json!([]));
    assert_eq!(
        browser.js("return [getComputedStyle(inside('.move bdi')).direction, getComputedStyle(inside('.lines')).direction, getComputedStyle(inside('.plate')).direction]"),
        json!(["ltr", "rtl", "ltr"])
    );
    let order = browser.js("return ['a1', 'h1'].map((name) => inside(`[data-square=${name}]`).getBoundingClientRect().x)");
    assert!(
        order[0].as_f64() < order[1].as_f64(),
        "the board stays a to h"
    );
}
