//! The findings about attributes and prompts that are not as they are meant.

use crate::asking::quiz::LESSON;
use crate::harness::Case::{self, InOne};
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    InOne(
        "a side that is none is told of every element that has a side, and counts as if it were not there",
        sides,
    ),
    InOne(
        "an id that addresses cannot show is told of a lesson once, as a tag or as an attribute",
        ids,
    ),
    InOne(
        "a prompt that names its answer is told of a quiz, as its element or its fence",
        prompts,
    ),
    InOne(
        "a quiz that cannot be asked names its position, and where its notation asks",
        unanswered,
    ),
    InOne(
        "a locator that names no place, or several, is told with what the lesson has",
        locators,
    ),
    InOne(
        "what is told in the page names the attribute, and a line only where there is one",
        places,
    ),
    InOne(
        "an element that names no lesson of the page is told which there are",
        lessons,
    ),
    InOne(
        "a diagram of a position after an open question is told to show another",
        hidden,
    ),
];

/// The code, the message and the help of each finding of an element that is not about moves.
fn found(browser: &Browser, id: &str) -> Value {
    let ready = format!("line('{id}').findings?.length !== undefined");
    browser.until(&ready);
    browser.js_with(
        "const element = line(given[0]);
         await element.ready;
         return element.findings.filter(({ code }) => code !== 'P060').map(({ code, message, help }) => [code, message, help ?? null])",
        json!([id]),
    )
}

fn side(written: &str, whose: &str) -> Value {
    let message = format!("\u{201c}{written}\u{201d} is no value of the {whose}");
    let values = "its values are white and black";
    let help = match written {
        "blue" => values.to_owned(),
        _ => format!("did you mean black; {values}"),
    };
    json!(["P070", message, help])
}

fn sides(browser: &Browser) {
    let body = "<ply-line id=\"black\" side=\"black\"><pre>1. e4 e5 2. Nf3 Nc6 {x} *</pre></ply-line>
         <ply-line id=\"line\" side=\"Black\"><pre>[Side \"black\"]\n1. e4 {x} *</pre></ply-line>
         <pre><code class=\"language-pgn\">[Id \"fence\"]\n[Side \"Blak\"]\n1. e4 {x} *</code></pre>
         <ply-quiz id=\"quiz\" for=\"black\" at=\"1.e4\" side=\"blue\"><p>How?</p></ply-quiz>
         <ply-recall id=\"recall\" for=\"black\" side=\"Black\"></ply-recall>
         <ply-diagram id=\"diagram\" for=\"black\" side=\"blak\"></ply-diagram>
         <ply-recap id=\"recap\" for=\"black\" side=\"blue\"></ply-recap>
         <pre><code class=\"language-ply-recall\">[Id \"from-fence\"]\n[For \"black\"]\n[Side \"BLACK\"]</code></pre>";
    browser.show(SCRIPT, body);
    for (id, written, whose) in [
        ("line", "Black", "attribute side"),
        ("fence", "Blak", "tag Side"),
        ("quiz", "blue", "attribute side"),
        ("recall", "Black", "attribute side"),
        ("diagram", "blak", "attribute side"),
        ("recap", "blue", "attribute side"),
        ("from-fence", "BLACK", "attribute side"),
    ] {
        assert_eq!(found(browser, id), json!([side(written, whose)]), "{id}");
    }
    assert_eq!(found(browser, "black"), json!([]));
    // Below is who the tag, the lesson or the question says.
    for id in ["line", "quiz", "recall", "from-fence"] {
        browser.js(&format!("line('{id}').scrollIntoView()"));
        browser.until(&format!("coordinates('{id}').length === 2"));
        let below = browser.js(&format!("return coordinates('{id}').join('')"));
        assert_eq!(below, "hgfedcba12345678", "{id}");
    }
    // A known one is used without a finding.
    browser.js("line('recall').side = 'white'");
    assert_eq!(
        found(browser, "line"),
        json!([side("Black", "attribute side")])
    );
    let place = browser.js("const { from, to, line: row, column, fix } = line('fence').findings.find(({ code }) => code === 'P070');
         return [row, column, line('fence').text.slice(from, to), fix ?? null]");
    assert_eq!(place, json!([2, 7, "\"Blak\"", null]));
}

fn ids(browser: &Browser) {
    let body = "<ply-line id=\"my lesson\"><pre>1. e4 {x} *</pre></ply-line>
         <ply-line id=\"good\"><pre>1. e4 {x} *</pre></ply-line>
         <pre><code class=\"language-pgn\">[Id \"the centre\"]\n1. d4 {x} *</code></pre>
         <ply-quiz id=\"a quiz\" for=\"good\"><p>How?</p></ply-quiz>";
    browser.show(SCRIPT, body);
    let amiss = |id: &str, near: &str| {
        let help = format!(
            "write letters, digits, - and _ alone, such as {near}; then page.html#{near}/1.e4 is an address"
        );
        json!([[
            "P070",
            format!("\u{201c}{id}\u{201d} is no id for addresses"),
            help
        ]])
    };
    assert_eq!(found(browser, "my lesson"), amiss("my lesson", "my-lesson"));
    assert_eq!(
        found(browser, "the centre"),
        amiss("the centre", "the-centre")
    );
    assert_eq!(found(browser, "good"), json!([]));
    assert_eq!(found(browser, "a quiz"), json!([]));
}

fn prompts(browser: &Browser) {
    let body = "<ply-quiz id=\"choice\" at=\"2.c4\"><p>Is <b>2...e6</b> good?</p></ply-quiz>
         <ply-quiz id=\"accepted\" at=\"2.c4\" accept=\"Nf6\">After Nf6 all is well?</ply-quiz>
         <ply-quiz id=\"other\" at=\"2.c4\" accept=\"Nf6\"><p>Not e6, but?</p></ply-quiz>
         <pre><code class=\"language-ply-quiz\">[Id \"fence\"]\n[At \"2.c4\"]\n\nShould Black play e6 here?</code></pre>";
    browser.show(SCRIPT, &format!("{LESSON}{body}"));
    let tells = |san: &str| {
        let message = format!("the prompt names its answer, {san}");
        json!([["P049", message, null]])
    };
    for (id, wanted) in [
        ("choice", tells("e6")),
        ("accepted", tells("Nf6")),
        ("other", json!([])),
        ("fence", tells("e6")),
    ] {
        assert_eq!(found(browser, id), wanted, "{id}");
        assert_eq!(browser.js(&format!("return line('{id}').state")), "open");
    }
}

fn unanswered(browser: &Browser) {
    let body = "<ply-quiz id=\"own\"><pre>1. e4 e5 {Ask: How?} 2. Nf3 *</pre></ply-quiz>
         <ply-quiz id=\"end\"><pre>1. e4 e5 2. Nf3 {x} *</pre></ply-quiz>
         <ply-quiz id=\"weak\" at=\"1...e5\"><pre>1. e4 e5 2. Qh5? {x} *</pre></ply-quiz>
         <ply-quiz id=\"accept\" accept=\"Nf3\"><pre>1. e4 e5 2. Nc3 {x} *</pre></ply-quiz>";
    for words in [
        "plyline own: ",
        "plyline end: ",
        "plyline weak: ",
        "plyline accept: ",
    ] {
        browser.expect(words);
    }
    browser.show(SCRIPT, body);
    let accept = "name the right moves with `accept`";
    let no_answer = |what: &str, help: &str| {
        let message = format!("this question has no answer: {what}");
        json!([["P048", message, help]])
    };
    let end = "after 2.Nf3, at the end of the main line, no move follows";
    let asks = format!("{accept}, or name the place where a comment asks: at=\"1...e5\"");
    assert_eq!(found(browser, "own"), no_answer(end, &asks));
    assert_eq!(found(browser, "end"), no_answer(end, accept));
    let weak = "after 1...e5 only weak moves follow";
    assert_eq!(found(browser, "weak"), no_answer(weak, accept));
    let illegal = found(browser, "accept");
    let says = "the accepted move Nf3 cannot be played after 2.Nc3: no black knight can reach f3";
    assert_eq!(illegal[0][1], says);
}

fn locators(browser: &Browser) {
    let lesson = "<ply-line id=\"two\"><pre>1. e4 e5 (1... c5 2. Nf3 d6 {x}) 2. Nf3 Nc6 {x} *</pre></ply-line>";
    let mut body = lesson.to_owned();
    for (id, at) in [("none", "2.d4"), ("several", "2.Nf3")] {
        body += &format!(
            "<ply-line id=\"{id}-line\" at=\"{at}\"><pre>1. e4 e5 (1... c5 2. Nf3 d6 {{x}}) 2. Nf3 Nc6 {{x}} *</pre></ply-line>
             <ply-quiz id=\"{id}-quiz\" for=\"two\" at=\"{at}\"><p>How?</p></ply-quiz>
             <ply-diagram id=\"{id}-diagram\" for=\"two\" at=\"{at}\"><p>Words.</p></ply-diagram>"
        );
    }
    for words in [
        "plyline none-quiz: ",
        "plyline none-diagram: ",
        "plyline several-quiz: ",
        "plyline several-diagram: ",
    ] {
        browser.expect(words);
    }
    browser.show(SCRIPT, &body);
    let none = json!([[
        "P041",
        "\u{201c}2.d4\u{201d} names no place of this lesson",
        "at move 2 the lesson has 2.Nf3"
    ]]);
    let several = json!([[
        "P042",
        "\u{201c}2.Nf3\u{201d} names 2 places of this lesson",
        "write 1...c5_2.Nf3 or 1...e5_2.Nf3"
    ]]);
    for kind in ["line", "quiz", "diagram"] {
        assert_eq!(found(browser, &format!("none-{kind}")), none, "{kind}");
        assert_eq!(
            found(browser, &format!("several-{kind}")),
            several,
            "{kind}"
        );
    }
}

fn places(browser: &Browser) {
    let body = format!(
        "<div data-plyline=\"debug\">
         <ply-line id=\"attribute\" at=\"7.Kd2\"><pre>1. e4 {{x}} *</pre></ply-line>
         <pre><code class=\"language-pgn\">[Id \"tag\"]\n\n[At \"7.Kd2\"]\n1. e4 {{x}} *</code></pre>
         <ply-quiz id=\"accept\" for=\"lesson\" at=\"2.c4\" accept=\"Ke4\"><p>How?</p></ply-quiz>
         <ply-recap id=\"side\" for=\"lesson\" side=\"left\"></ply-recap>
         <ply-quiz id=\"lost\" for=\"nowhere\"><p>How?</p></ply-quiz>
         <ply-line id=\"line\"><pre>1. e4 e5\n2. Ke3 *</pre></ply-line></div>{LESSON}"
    );
    browser.expect("plyline accept: ");
    browser.expect("plyline lost: ");
    browser.show(SCRIPT, &body);
    for (id, begins) in [
        ("attribute", "error P041, in at: "),
        ("tag", "error P041, in At: "),
        ("accept", "error P012, in accept: "),
        ("side", "warning P070, in side: "),
        ("lost", "error P064: "),
        ("line", "error P012, line 2, column 4: "),
    ] {
        let notes = format!("[...line('{id}').shadowRoot?.querySelectorAll('.notes li') ?? []]");
        browser.js(&format!("line('{id}').scrollIntoView()"));
        browser.until(&format!("{notes}.length > 0"));
        let said = browser.js(&format!("return {notes}.map((item) => item.textContent)"));
        let said: Vec<&str> = said
            .as_array()
            .map(|list| list.iter().filter_map(Value::as_str).collect())
            .unwrap_or_default();
        let is_said = said.iter().any(|note| note.starts_with(begins));
        assert!(is_said, "{id}: {said:?}");
    }
}

fn lessons(browser: &Browser) {
    let body = "<ply-line id=\"other\"><pre>1. c4 {x} *</pre></ply-line>
         <ply-quiz id=\"quiz\"><p>How?</p></ply-quiz>
         <ply-recall id=\"recall\" for=\"othr\"><p>How?</p></ply-recall>
         <ply-diagram id=\"diagram\" at=\"1.c4\"><p>Words.</p></ply-diagram>
         <ply-recap id=\"recap\"><p>Words.</p></ply-recap>";
    for words in [
        "plyline quiz: ",
        "plyline recall: ",
        "plyline diagram: ",
        "plyline recap: ",
    ] {
        browser.expect(words);
    }
    browser.show(SCRIPT, &format!("{LESSON}{body}"));
    browser.until("told.filter(({ type }) => type === 'ply-failed').length === 4");
    for id in ["quiz", "recall", "diagram", "recap"] {
        let said = found(browser, id);
        assert_eq!(said[0][0], "P064", "{id}");
        let help = "name one of this page by `for`: lesson, other";
        assert_eq!(said[0][2], help, "{id}");
    }
}

fn hidden(browser: &Browser) {
    let body = "<ply-line id=\"asks\"><pre>1. e4 e5 {Ask: How?} 2. Nf3 Nc6 {x} *</pre></ply-line>
         <ply-diagram id=\"after\" at=\"2...Nc6\"></ply-diagram>
         <ply-diagram id=\"there\" at=\"1...e5\"></ply-diagram>";
    browser.show(SCRIPT, body);
    let message = "2...Nc6 comes after an open question, so this diagram shows the place of the question: 1...e5";
    assert_eq!(found(browser, "after"), json!([["P075", message, null]]));
    assert_eq!(found(browser, "there"), json!([]));
    browser.until("all('.board', 'after').length === 1");
    assert_eq!(browser.js("return all('.failed', 'after').length"), 0);
}
