//! What a page tells a quiz and hears from it: attributes, fences, script, and lessons that come late.

use super::quiz::{LESSON, QUIZ, state, told};
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    InOne(
        "a quiz asks where it is told to, of the lesson it is told, and takes what it is told",
        attributes,
    ),
    InOne("a fence becomes a quiz, and its text the prompt", fence),
    InOne(
        "a script answers, gets hints, is shown and begins again, and each event says what came",
        script,
    ),
    InOne(
        "a quiz that cannot be asked says so once, and its words stay",
        unasked,
    ),
    InOne(
        "a quiz that cannot be asked tells its author why where they ask for it",
        told_why,
    ),
    InOne(
        "a quiz or a recall whose lesson or place is not there names it in its findings, with the way out",
        named,
    ),
    Everywhere(
        "a quiz that was settled stays so when a trap elsewhere has it mounted again",
        trapped,
    ),
    Everywhere(
        "a quiz whose lesson comes late, or is read anew, asks about that",
        late,
    ),
    Everywhere(
        "a quiz that is moved, taken out or changed asks what it says now",
        changed,
    ),
    InOne("one word opens the answers of the whole page", open_all),
    InOne(
        "two quizzes of one lesson, and the lesson, do not disturb each other",
        apart,
    ),
];

fn attributes(browser: &Browser) {
    let other = "<ply-line id=\"other\"><pre>1. e4 c5 {Ask: What next? Hint: a knight. Because: it looks at @d4.} 2. Nf3 d6 *</pre></ply-line>";
    browser.show(
        SCRIPT,
        &format!(
            "{LESSON}{other}
             <ply-quiz id=\"a\" for=\"other\" at=\"1...c5\"></ply-quiz>
             <ply-quiz id=\"b\" for=\"lesson\" at=\"2.c4\" accept=\"dxc4, 2...c6 Nf6\" side=\"white\">Words alone.</ply-quiz>
             <ply-quiz id=\"c\"><p>At the end?</p><pre>1. e4 e5 2. Qh5 Nc6 3. Bc4 Nf6?? 4. Qxf7# *</pre></ply-quiz>
             <ply-quiz id=\"d\" accept=\"Nf3\"><p>At the end.</p><pre>1. e4 c5 *</pre></ply-quiz>
             <ply-quiz id=\"e\" src=\"/two-games.pgn#1\">From a file.</ply-quiz>"
        )
        .replace("<ply-quiz id=\"c\"", "<ply-quiz id=\"c\" at=\"3...Nf6\""),
    );
    let seen = browser.js(
        "const a = line('a'), b = line('b'), c = line('c'), d = line('d');
         return [inside('.lines', 'a').textContent, all('.ring', 'a').length, a.hint() && inside('[role=status]', 'a').textContent, a.answer('Nf3'), inside('[role=status]', 'a').textContent,
           coordinates('b').join(''), b.answer('e6'), b.answer('Nf6'), b.current.aside, c.answer('Qxf7'), d.current.fen.split(' ')[1], d.answer('Nf3'),
           visible(c.querySelector('pre'))]",
    );
    assert_eq!(
        seen,
        json!([
            "What next?",
            0,
            "a knight.",
            "right",
            "Right: 2.Nf3. it looks at d4.",
            "abcdefgh87654321",
            "fair",
            "right",
            ["Nf6"],
            "right",
            "w",
            "right",
            false
        ])
    );
    assert_eq!(browser.js("return line('e').state"), "open");
}

fn fence(browser: &Browser) {
    browser.show(
        SCRIPT,
        &format!("{LESSON}<pre><code class=\"language-ply-quiz\">[Id \"q\"]\n[For \"lesson\"]\n[At \"2.c4\"]\n[Accept \"c6\"]\n\nHow does Black\nhold &lt;b&gt;?\n</code></pre>"),
    );
    let seen = browser.js(
        "const quiz = line('q');
         return [quiz.textContent.trim(), visible(quiz.firstElementChild), quiz.answer('e6'), quiz.answer('c6'), document.querySelectorAll('pre').length]",
    );
    assert_eq!(
        seen,
        json!(["How does Black\nhold <b>?", true, "fair", "right", 1])
    );
}

fn script(browser: &Browser) {
    browser.show(SCRIPT, &format!("{LESSON}{QUIZ}"));
    let before = browser.js("const early = document.createElement('ply-quiz');
         return [early.state, early.answer('e6'), early.hint(), early.show(), early.again()]");
    assert_eq!(before, json!([null, null, false, false, false]));
    let came = browser.js(
        "const quiz = line('q');
         const came = [quiz.state, quiz.hint(), quiz.answer('Ra6'), quiz.answer('Ra6'), quiz.answer('b5'), quiz.answer('e7e6'), quiz.state,
           quiz.answer('c6'), quiz.hint(), quiz.show(), quiz.again(), quiz.state, quiz.show(), quiz.state, quiz.current.san];
         await pause(20);
         return came",
    );
    assert_eq!(
        came,
        json!([
            "open", true, "illegal", "illegal", "weaker", "right", "settled", null, false, false,
            true, "open", true, "settled", "e6"
        ])
    );
    assert_eq!(
        told(browser),
        json!([
            ["q", "illegal", null, 0],
            ["q", "illegal", null, 0],
            ["q", "weaker", "b5", 1],
            ["q", "right", "e6", 2],
            ["q", "answered", null, 2],
            ["q", "shown", null, 0]
        ])
    );
    let shape = browser.js(
        "return told.filter(({ type }) => /answered|settled/.test(type)).slice(2, 5).map(({ type, bubbles, composed, detail }) =>
           [type, bubbles, composed, Object.keys(detail).join(), detail.fen ?? null])",
    );
    let fen = "rnbqkbnr/ppp1pppp/8/3p4/2PP4/8/PP2PPPP/RNBQKBNR b KQkq - 0 2";
    let answered = json!(["ply-answered", true, true, "verdict,move,fen,tries", fen]);
    assert_eq!(
        shape,
        json!([
            answered,
            answered,
            ["ply-settled", true, true, "how,tries", null]
        ])
    );
    // What moves a lesson does not move an open question.
    let stays = browser.js(
        "const quiz = line('q');
         quiz.again();
         return [quiz.go(0), quiz.go('3.Nc3'), quiz.next(), quiz.back(), quiz.current.san, quiz.current.next, quiz.current.comment, quiz.flip()]",
    );
    assert_eq!(
        stays,
        json!([false, false, false, false, "c4", [], "", true])
    );
}

fn told_why(browser: &Browser) {
    browser.expect("plyline a: ");
    browser.expect("plyline b: ");
    browser.expect("plyline c: ");
    let quiz = |id: &str, place: &str| {
        format!("<ply-quiz id=\"{id}\" {place}><p>The words.</p></ply-quiz>")
    };
    let body = format!(
        "{LESSON}<div data-plyline=\"debug\">{}{}</div>{}",
        quiz("a", "for=\"lesson\" at=\"9.Kd2\""),
        quiz("b", "for=\"nowhere\""),
        quiz("c", "for=\"nowhere\"")
    );
    browser.show(SCRIPT, &body);
    for (id, code) in [("a", "P041"), ("b", "P064")] {
        browser.until(&format!(
            "line('{id}').shadowRoot?.textContent.includes('{code}')"
        ));
    }
    // Readers see the words alone.
    assert_eq!(
        browser.js("return [...['a', 'b', 'c'].map((id) => visible(line(id).querySelector('p'))), inside('slot', 'c') !== null, line('c').shadowRoot.textContent]"),
        json!([true, true, true, true, ""])
    );
}

fn named(browser: &Browser) {
    let body = "<ply-quiz id=\"q\" for=\"nowhere\"><p>The words.</p></ply-quiz>
         <ply-recall id=\"r\" for=\"nowhere\"><p>The words.</p></ply-recall>
         <ply-quiz id=\"bare\"><p>The words.</p></ply-quiz>
         <ply-quiz id=\"at\" for=\"lesson\" at=\"9.Kd2\"><p>The words.</p></ply-quiz>
         <ply-recall id=\"from\" for=\"lesson\" at=\"9.Kd2\"><p>The words.</p></ply-recall>
         <ply-line id=\"other\"><pre>1. c4 *</pre></ply-line>";
    for words in [
        "plyline q: ",
        "plyline r: ",
        "plyline bare: ",
        "plyline at: ",
    ] {
        browser.expect(words);
    }
    browser.show(SCRIPT, &format!("{LESSON}{body}"));
    browser.until(
        "told.filter(({ type }) => type === 'ply-failed').length === 4 && line('from').progress",
    );
    let seen = browser.js(
        "return ['q', 'r', 'bare', 'at', 'from'].map((id) => {
           const { code, severity, message, help, from, to, line: row, column } = line(id).findings.at(-1);
           const failed = told.find((event) => event.type === 'ply-failed' && event.id === id)?.detail;
           return [code, severity, message, help.split(' ')[0], [from, to, row, column].join(), failed?.reason, failed?.message === message,
             visible(line(id).querySelector('p'))] })",
    );
    let lost =
        |named: &str| format!("the lesson {named} is not in this page, or could not be read");
    let row = |code: &str, message: &str, help: &str, reason: Option<&str>| {
        json!([
            code,
            "error",
            message,
            help,
            "0,0,1,1",
            reason,
            reason.is_some(),
            true
        ])
    };
    let nowhere = lost("\u{201c}nowhere\u{201d}");
    let place = "\u{201c}9.Kd2\u{201d} names no place of this lesson";
    assert_eq!(
        seen,
        json!([
            row("P064", &nowhere, "name", Some("source")),
            row("P064", &nowhere, "name", Some("source")),
            row("P064", &lost("that is meant"), "name", Some("source")),
            row("P041", place, "at", Some("notation")),
            row("P041", place, "at", None),
        ])
    );
}

fn trapped(browser: &Browser) {
    browser.expect("plyline other: ");
    let head = "<script src=\"/trap.js\"></script>\n<script defer src=\"/plyline.js\"></script>";
    let other = "<ply-line id=\"other\"><pre>1. c4 *</pre></ply-line>";
    let quiz = |id: &str| QUIZ.replace("id=\"q\"", &format!("id=\"{id}\" for=\"lesson\""));
    browser.show(head, &format!("{LESSON}{}{}{other}", quiz("q"), quiz("r")));
    browser.js("line('q').answer('e6'); line('q').next(); line('r').answer('c6'); await pause(20); told.splice(0);
         trap.armed = true; line('other').next()");
    let seen = browser.js(
        "await pause(20);
         const at = (id) => [line(id).state, line(id).current.san];
         return [at('q'), at('r'), inside('figcaption', 'q').textContent, Boolean(button('again', 'q')), line('q').next(), line('q').current.san,
           line('r').answer('e6'), line('q').again(), at('q')]",
    );
    assert_eq!(
        seen,
        json!([
            ["settled", "Nc3"],
            ["open", "c4"],
            "after 3.Nc3, Black to move",
            true,
            true,
            "Nf6",
            "right",
            true,
            ["open", "c4"]
        ])
    );
    assert_eq!(
        told(browser),
        json!([["r", "right", "e6", 1], ["r", "answered", null, 1]])
    );
}

fn unasked(browser: &Browser) {
    let cases = [
        ("for", "for=\"nowhere\""),
        ("at", "for=\"lesson\" at=\"9.Kd2\""),
        ("none", "for=\"lesson\" at=\"4.Bg5\""),
        ("accept", "for=\"lesson\" at=\"2.c4\" accept=\"Ke4\""),
        ("moves", "for=\"lesson\" at=\"2.c4\" moves=\"12\""),
    ];
    let mut body = LESSON.to_owned();
    for (id, attributes) in cases {
        body += &format!("<ply-quiz id=\"{id}\" {attributes}><p>The words.</p></ply-quiz>");
    }
    for words in [
        "plyline for: ",
        "plyline at: ",
        "plyline none: ",
        "plyline accept: ",
        "plyline moves: ",
    ] {
        browser.expect(words);
    }
    browser.show(SCRIPT, &body);
    browser.until("told.filter(({ type }) => type === 'ply-failed').length === 5");
    let seen = browser.js(
        "return ['for', 'at', 'none', 'accept', 'moves'].map((id) => [told.filter((event) => event.type === 'ply-failed' && event.id === id).map(({ detail }) => detail.reason).join(),
           line(id).state, line(id).answer('e6'), line(id).findings.filter(({ severity }) => severity !== 'hint').map(({ code }) => code).join(),
           visible(line(id).querySelector('p')), all('.board', id).length])",
    );
    let row = |reason: &str, code: &str| json!([reason, null, null, code, true, 0]);
    assert_eq!(
        seen,
        json!([
            row("source", "P064"),
            row("notation", "P041"),
            row("notation", "P048"),
            row("notation", "P012"),
            row("notation", "P066")
        ])
    );
}

fn late(browser: &Browser) {
    browser.expect("the lesson \u{201c}late\u{201d} is not in this page");
    browser.show(
        SCRIPT,
        "<ply-quiz id=\"q\" for=\"late\" at=\"1.e4\"><p>How?</p></ply-quiz>",
    );
    let add = "const late = document.createElement('ply-line');
        late.id = 'late';
        late.text = '1. e4 c5 (1... e5) *';
        document.querySelector('main').append(late);";
    browser.js(add);
    browser.until("line('q').state === 'open'");
    // After it has been given up.
    browser.js("line('late').remove();
         const again = line('q').cloneNode(true);
         line('q').replaceWith(again);");
    browser.until("told.some(({ type }) => type === 'ply-failed')");
    browser.js(add);
    browser.until("line('q').state === 'open'");
    browser.js("line('q').answer('c5')");
    assert_eq!(state(browser), "settled");
    // Read again.
    browser.js("line('late').text = '1. e4 e6 *'");
    browser.until("line('q').state === 'open'");
    assert_eq!(
        browser.js("const quiz = line('q'); return [quiz.answer('c5'), quiz.answer('e6')]"),
        json!(["other", "right"])
    );
}

fn changed(browser: &Browser) {
    browser.show(SCRIPT, &format!("{LESSON}{QUIZ}"));
    browser.js("const quiz = line('q');
         quiz.answer('b5');
         const main = quiz.parentElement;
         quiz.remove();
         main.prepend(quiz);");
    assert_eq!(
        browser.js("return [line('q').state, line('q').current.aside.length]"),
        json!(["open", 2]),
        "a move in the page changes nothing"
    );
    browser.js("line('q').setAttribute('at', '3...Nf6')");
    browser.until("line('q').current?.san === 'Nf6'");
    assert_eq!(browser.js("return line('q').answer('Bg5')"), "right");
    browser.js("const quiz = line('q'); quiz.setAttribute('accept', 'a3'); quiz.setAttribute('at', '2...e6')");
    browser.until("line('q').current?.san === 'e6'");
    assert_eq!(
        browser.js("const quiz = line('q'); return [quiz.answer('Nc3'), quiz.answer('a3')]"),
        json!(["fair", "right"])
    );
    browser.js("const quiz = line('q'); quiz.removeAttribute('accept'); quiz.removeAttribute('at'); quiz.side = 'black'");
    browser.until("line('q').current?.node === 0 && line('q').state === 'open'");
    assert_eq!(
        browser.js("return [line('q').at, line('q').side, line('q').answer('d4'), coordinates('q').join(''), all('figure', 'q').length]"),
        json!([null, "black", "right", "hgfedcba12345678", 1])
    );
}

fn open_all(browser: &Browser) {
    let asks =
        "<ply-line id=\"asks\"><pre>1. e4 e5 {Ask: How?} 2. Nf3 {Ask: And?} Nc6 *</pre></ply-line>";
    browser.show(
        SCRIPT,
        &format!("{LESSON}{asks}<ply-line id=\"more\"><pre>{{Ask: First?}} 1. c4 {{Wide.}} *</pre></ply-line>{}<ply-recap for=\"more\"></ply-recap>",
            QUIZ.replace("id=\"q\"", "id=\"q\" for=\"lesson\"")),
    );
    browser.click("return button('open', 'asks')");
    let seen = browser.js(
        "return [line('q').state, all('.move', 'asks').length, all('.move', 'more').length,
           ['asks', 'more'].map((id) => button('open', id)), line('asks').next() && line('asks').next() && line('asks').next()]",
    );
    assert_eq!(seen, json!(["settled", 4, 1, [null, null], true]));
    assert_eq!(
        told(browser),
        json!([
            ["asks", "shown", null, 0],
            ["asks", "shown", null, 0],
            ["more", "shown", null, 0],
            ["q", "shown", null, 0]
        ])
    );
    browser.until("document.querySelector('ply-recap').shadowRoot?.textContent.includes('1.c4')");
}

fn apart(browser: &Browser) {
    browser.show(
        SCRIPT,
        &format!("{LESSON}{QUIZ}{}", QUIZ.replace("\"q\"", "\"r\"")),
    );
    let seen = browser.js(
        "line('q').answer('e6');
         line('lesson').go('4.Bg5');
         return [line('q').state, line('r').state, line('lesson').current.san, line('r').current.san, location.hash]",
    );
    assert_eq!(seen, json!(["settled", "open", "Bg5", "c4", ""]));
    assert_eq!(
        browser
            .js("return told.filter(({ id, type }) => type === 'ply-moved').map(({ id }) => id)"),
        json!(["q", "lesson"])
    );
}
