//! Notation that is wrong, and text that is no notation: a finding or a clear message, never a
//! blank box, and the rest of the page stays.

use crate::board::assert_drawn;
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "a wrong move leaves the rest of the lesson, with a quiet mark and a finding at its place",
        wrong_move,
    ),
    Everywhere(
        "findings are on the page and in the console where the author asks for them",
        debug,
    ),
    InOne(
        "bad input gets a finding or a message, and the lesson beside it still works",
        bad_input,
    ),
    InOne(
        "an element that shows one game of a file carries the findings of that game alone",
        findings_of_one_game,
    ),
    InOne(
        "of two elements with one id the second has a finding, and both are drawn",
        one_id,
    ),
];

fn findings_of_one_game(browser: &Browser) {
    let body = "<ply-line id=\"one\" src=\"/wrong-games.pgn\"></ply-line>
                <ply-line id=\"two\" src=\"/wrong-games.pgn#2\"></ply-line>
                <ply-line id=\"three\" src=\"/wrong-games.pgn#3\"></ply-line>
                <ply-line id=\"four\" src=\"/wrong-games.pgn#4\"></ply-line>";
    browser.expect("plyline four:");
    browser.show(SCRIPT, body);
    let found = browser.js("return ['one', 'two', 'three', 'four'].map((id) => codes(line(id)))");
    let wanted = json!([["P012"], ["P005"], [], ["P043", "P005"]]);
    assert_eq!(
        found, wanted,
        "of a game that is not there the text's own findings may say why"
    );
    let place =
        browser.js("const [{ line: row, column }] = line('two').findings; return [row, column]");
    assert_eq!(place, json!([7, 7]), "places are those of the file");
    let written =
        browser.js("return ['one', 'two', 'three'].map((id) => line(id).lesson.toPgn() !== null)");
    assert_eq!(
        written,
        json!([false, true, true]),
        "what lost moves is not written, what lost a stray sign is"
    );
}

fn wrong_move(browser: &Browser) {
    // The sign before it takes two UTF-16 units and four bytes.
    let body = "<ply-line><pre>1. d4 d5 {\u{1F600} caf\u{e9}} 2. c4 e6 3. Nh4\n\
                (3. Nc3 Nf6 {still read}) 3... Nf6 4. Bg5 *</pre></ply-line>";
    browser.show(SCRIPT, body);
    let findings =
        browser.js("return line().findings.filter(({ severity }) => severity !== 'hint')");
    assert_eq!(findings.as_array().map(Vec::len), Some(1), "{findings}");
    assert_eq!(findings[0]["code"], "P012");
    assert_eq!(findings[0]["severity"], "error");
    let place = browser.js("const [{ from, to, line: row, column }] = line().findings;
         return [line().querySelector('pre').textContent.slice(from, to), row, column]");
    assert_eq!(place, json!(["Nh4", 1, 31]));
    let message = findings[0]["message"].as_str().unwrap_or_default();
    assert!(
        message.contains("knight") && message.contains("h4"),
        "{message}"
    );

    let marks =
        browser.js("return all('.unread').map((mark) => [mark.textContent.trim(), visible(mark)])");
    assert_eq!(marks, json!([["3. Nh4", true], ["3... Nf6 4. Bg5", true]]));
    assert_eq!(
        browser.js("return all('.notes, [role=alert]').length"),
        0,
        "readers get no findings"
    );
    browser.click("return move(line().lesson.find('3.Nc3 Nf6'))");
    assert_eq!(
        browser.js("return line().current.moves"),
        json!(["d4", "d5", "c4", "e6", "Nc3", "Nf6"])
    );
    assert_drawn(browser, "lesson", false);
    browser.js("line().go('2.c4 e6')");
    assert_eq!(
        browser.js("return line().current.next"),
        json!(["Nc3"]),
        "what was not read is no node"
    );
}

fn debug(browser: &Browser) {
    let body = "<div data-plyline=\"debug\"><ply-line id=\"noted\"><pre>1. e4 e5 2. Ke3 *</pre></ply-line></div>";
    browser.show(SCRIPT, body);
    let notes = browser.text("return inside('.notes', 'noted').textContent");
    assert!(notes.contains("P012"), "{notes}");
    let console = browser.console();
    assert!(
        console
            .iter()
            .any(|message| message.level == "info" && message.text.contains("P012")),
        "{console:?}"
    );
}

fn bad_input(browser: &Browser) {
    browser.show(SCRIPT, "<ply-line id=\"good\"><pre>1. e4 e5 (1... c5) 2. Nf3 *</pre></ply-line><p id=\"rest\">The rest.</p>");
    // The last of each row: whether the text still holds a lesson, by design section 4.
    let shown = browser.js(
        r#"const far = 100000;
        const inputs = {
          empty: "",
          blank: " \n\t ",
          words: "Dear reader, this letter is about the weather. It was fine.",
          page: "<!doctype html><html><body><script>alert(1)</script></body></html>",
          variant: '[Variant "Atomic"]\n\n1. e4 e5 *',
          chess960: '[Variant "Chess960"]\n[SetUp "1"]\n[FEN "nrkbbqrn/pppppppp/8/8/8/8/PPPPPPPP/NRKBBQRN w GBgb - 0 1"]\n\n1. e4 *',
          start960: '[SetUp "1"]\n[FEN "nrkbbqrn/pppppppp/8/8/8/8/PPPPPPPP/NRKBBQRN w KQkq - 0 1"]\n\n1. e4 *',
          fen: '[SetUp "1"]\n[FEN "not a position"]\n\n1. e4 *',
          kings: '[SetUp "1"]\n[FEN "8/8/8/8/8/8/8/8 w - - 0 1"]\n\n*',
          nested: `1. e4 ${"(".repeat(far)}${")".repeat(far)} e5 *`,
          open: `1. e4 ${"(1. d4 ".repeat(20000)}`,
          comment: `1. e4 {${"x".repeat(17e6)}} e5 *`,
          unclosed: "1. e4 {and so on",
          nul: "1. e4 \0 e5 {a\0b} *",
          surrogates: "1. e4 {\ud800 and \udc00} e5 \ud83d *",
          noise: String.fromCharCode(...Array.from({ length: 5000 }, (_, index) => (index * 7919) % 65536)),
        };
        const rows = {};
        for (const [id, text] of Object.entries(inputs)) {
          const element = document.createElement("ply-line");
          element.id = id;
          element.text = text;
          document.getElementById("rest").before(element);
          await drawn(element);
          const parts = [...element.shadowRoot.children].filter((part) => part.localName !== "slot");
          rows[id] = {
            text: parts.map((part) => part.textContent).join("").trim().length > 0,
            seen: parts.some(visible),
            codes: [...new Set(codes(element))],
            failed: told.filter((event) => event.type === "ply-failed" && event.id === id).map(({ detail }) => detail.reason),
            lesson: element.lesson !== null,
            current: element.current !== null,
            moves: element.next(),
          };
        }
        return rows"#,
    );
    for (id, codes, lesson) in [
        ("empty", &["P001"][..], false),
        ("blank", &["P001"], false),
        ("words", &[], false),
        ("page", &[], false),
        ("variant", &["P021"], false),
        ("chess960", &["P021"], false),
        ("start960", &[], false),
        ("fen", &["P019"], false),
        ("kings", &["P020"], false),
        ("nested", &[], true),
        ("open", &["P009"], true),
        ("comment", &["P002"], false),
        ("unclosed", &["P007"], true),
        ("nul", &["P005"], true),
        ("surrogates", &["P005"], true),
        ("noise", &[], false),
    ] {
        let row = &shown[id];
        assert!(
            row["text"] == true && row["seen"] == true,
            "{id} is a blank box: {row}"
        );
        let found = row["codes"].as_array().expect("codes");
        assert!(!found.is_empty(), "{id} has no finding: {row}");
        assert!(
            codes.iter().all(|code| found.contains(&json!(code))),
            "{id}: {row}"
        );
        if id != "words" && id != "page" && id != "noise" {
            assert_eq!(row["lesson"], lesson, "{id}: {row}");
        }
        // Only what holds no lesson has failed.
        let failed = if row["lesson"] == true {
            json!([])
        } else {
            json!(["notation"])
        };
        assert_eq!(
            (&row["failed"], &row["current"]),
            (&failed, &row["lesson"]),
            "{id}"
        );
    }
    browser.allow("plyline "); // `ply-failed` comes with a console.error
    assert_eq!(
        browser.js("return visible(document.getElementById('rest'))"),
        true
    );
    browser.click("return button('next', 'good')");
    assert_eq!(browser.js("return line('good').current.san"), "e4");
    assert_drawn(browser, "good", false);
}

fn one_id(browser: &Browser) {
    let body = "<ply-line id=\"twin\"><pre>1. e4 *</pre></ply-line><ply-line id=\"twin\"><pre>1. d4 *</pre></ply-line>";
    browser.show(SCRIPT, body);
    let codes = browser
        .js("return [...document.querySelectorAll('ply-line')].map((element) => codes(element))");
    assert_eq!(codes, json!([[], ["P040"]]));
    let moved = browser.js("return [...document.querySelectorAll('ply-line')].map((element) => element.next() && element.current.san)");
    assert_eq!(moved, json!(["e4", "d4"]));
}
