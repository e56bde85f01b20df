//! A question in an element of its own: answered by each hand, kind in each answer, and told to
//! the page's script.

use super::harness::Case;
use crate::support::browser::Browser;
use crate::support::keys::{DOWN, ENTER, TAB, UP};
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    (
        "a quiz is answered with the pointer, and each verdict is seen and said",
        pointer,
    ),
    (
        "a quiz is answered with keys alone, and the focus stays",
        keys,
    ),
    ("a quiz is answered by what is typed, hints and all", typed),
    (
        "a weaker move is played out, and the way back is a word or step by step",
        weaker,
    ),
    (
        "moves in a row are answered by replies that vary, in any order that leads there",
        in_a_row,
    ),
    (
        "a quiz asks where it is told to, of the lesson it is told, and takes what it is told",
        attributes,
    ),
    ("a fence becomes a quiz, and its text the prompt", fence),
    (
        "a script answers, gets hints, is shown and begins again, and each event says what came",
        script,
    ),
    (
        "a quiz that cannot be asked says so once, and its words stay",
        unasked,
    ),
    (
        "a quiz whose lesson comes late, or is read anew, asks about that",
        late,
    ),
    (
        "a quiz that is moved, taken out or changed asks what it says now",
        changed,
    ),
    ("one word opens the answers of the whole page", open_all),
    ("a quiz speaks German", german),
    (
        "two quizzes of one lesson, and the lesson, do not disturb each other",
        apart,
    ),
];

pub const LESSON: &str = "<ply-line id=\"lesson\"><pre>1. d4 d5 2. c4 {Our gambit.} e6 {*Solid*, and @!d5 is held.} \
    (2... c6 {just as sound}) (2... b5? {gives a pawn.} 3. cxb5 a6 4. bxa6) 3. Nc3 Nf6 4. Bg5 *</pre></ply-line>";
pub const QUIZ: &str =
    "<ply-quiz id=\"q\" at=\"2.c4\"><p>How does Black hold the centre?</p></ply-quiz>";

/// What the region says, once it says this.
#[track_caller]
pub fn hears(browser: &Browser, id: &str, wanted: &str) {
    let said = browser.js_with(
        "return await heard(given[1], given[0])",
        json!([id, wanted]),
    );
    let said = said.as_str().unwrap_or_default();
    assert!(said.contains(wanted), "{wanted:?} is not said but {said:?}");
}

/// Clicks on one square and then on another.
#[track_caller]
pub fn put(browser: &Browser, id: &str, from: &str, to: &str) {
    for square in [from, to] {
        browser.click(&format!("return inside('[data-square={square}]', '{id}')"));
    }
}

#[track_caller]
fn types(browser: &Browser, text: &str) {
    browser.js("openDesk('q'); inside('.typed', 'q').focus()");
    browser.write_keys(text);
    browser.press(ENTER);
}

#[track_caller]
fn state(browser: &Browser) -> Value {
    browser.js("return line('q').state")
}

/// The events of questions so far, in short.
#[track_caller]
pub fn told(browser: &Browser) -> Value {
    browser.js(
        "return told.filter(({ type }) => /answered|settled/.test(type)).map(({ id, detail: { verdict, move, how, tries } }) =>
           [id, how ?? verdict, move ?? null, tries])",
    )
}

fn pointer(browser: &Browser) {
    browser.show(SCRIPT, &format!("{LESSON}{QUIZ}"));
    // Prompt, board with Black below, and what can be done.
    let seen = browser.js(
        "return [visible(line('q').querySelector('p')), inside('figcaption', 'q').textContent, coordinates('q').join(''),
           [...inside('.try', 'q').children].map(({ textContent }) => textContent), inside('[role=status]', 'q').textContent]",
    );
    assert_eq!(
        seen,
        json!([
            true,
            "after 2.c4, Black to move",
            "hgfedcba12345678",
            ["Your move.", "hint", "show me"],
            "White pawn from c2 to c4. There is a comment. Your move."
        ])
    );
    let at_rest = picture(browser);
    for (from, to, said) in [
        (
            "a8",
            "a6",
            "The rook on a8 cannot reach a6: the pawn on a7 stands in the way.",
        ),
        ("a7", "a6", "2\u{2026}a6 is legal, but not covered here."),
        (
            "c7",
            "c6",
            "Sound: 2\u{2026}c6 is in the lesson too, which prefers another move here. just as sound",
        ),
    ] {
        put(browser, "q", from, to);
        hears(browser, "q", said);
        assert_eq!(browser.js("return visible(inside('.notice', 'q'))"), true);
        assert_eq!(picture(browser), at_rest, "{to} is taken back");
        assert_eq!(state(browser), "open");
    }
    put(browser, "q", "e7", "e6");
    hears(
        browser,
        "q",
        "Right: 2\u{2026}e6. Solid, and d5, strong square is held.",
    );
    assert_eq!(state(browser), "settled");
    assert_eq!(
        told(browser),
        json!([
            ["q", "illegal", null, 0],
            ["q", "other", "a6", 1],
            ["q", "fair", "c6", 2],
            ["q", "right", "e6", 3],
            ["q", "answered", null, 3]
        ])
    );
    // And then the lesson is walked.
    browser.click("return button('next', 'q')");
    hears(browser, "q", "White knight from b1 to c3.");
    browser.click("return button('again', 'q')");
    assert_eq!((state(browser), picture(browser)), (json!("open"), at_rest));
}

fn picture(browser: &Browser) -> Value {
    browser.js("return picture('q')")
}

fn keys(browser: &Browser) {
    browser.show(SCRIPT, &format!("{QUIZ}{LESSON}"));
    let focus = || {
        browser.text(
            "const at = document.activeElement === line('q') && line('q').shadowRoot.activeElement;
             return at ? at.dataset.square ?? at.dataset.do ?? at.className : 'elsewhere'",
        )
    };
    let mut left = 20;
    while focus() != "e5" {
        browser.press(TAB);
        left -= 1;
        assert!(left > 0, "Tab never leads to the board");
    }
    // Black is below: down is towards Black's own men.
    for key in [DOWN, DOWN, ENTER, UP, UP, ENTER] {
        browser.press(key);
    }
    hears(browser, "q", "2\u{2026}e5 is legal");
    assert_eq!(focus(), "e5");
    for key in [DOWN, DOWN, ENTER, UP, ENTER] {
        browser.press(key);
    }
    hears(browser, "q", "Right: 2\u{2026}e6.");
    assert_eq!(focus(), "e6");
    // Begun anew and shown, by the words beside the board.
    for (word, said) in [
        ("again", "Your move."),
        ("hint", "The pawn on e7"),
        ("show", "The answer"),
    ] {
        let mut left = 20;
        while focus() != word {
            browser.press(TAB);
            left -= 1;
            assert!(left > 0, "Tab never leads to {word}: {}", focus());
        }
        browser.press(ENTER);
        hears(browser, "q", said);
        assert_ne!(focus(), "elsewhere", "{word}");
        browser.js("inside('.grid [tabindex=\"0\"]', 'q').focus()");
    }
}

fn typed(browser: &Browser) {
    browser.show(SCRIPT, &format!("{LESSON}{QUIZ}"));
    for (text, said) in [
        ("hint", "The pawn on e7 moves."),
        ("hint", "It goes to e6."),
        ("Hint", "The move is 2\u{2026}e6."),
        ("what guards d5", "d5 is guarded by black queen d8."),
        ("read the comment", "Your move."),
        ("the moves from here", "Your move."),
        (
            "Ke9",
            "or one of these: to the question, hint, show me, again, back",
        ),
        ("Ke4", "king"),
        ("c6", "Sound"),
        ("show me", "The answer: 2\u{2026}e6. Solid"),
        ("again", "Your move."),
        ("2...e6", "Right: 2\u{2026}e6."),
    ] {
        types(browser, text);
        hears(browser, "q", said);
        assert_eq!(
            browser.js("return inside('.typed', 'q') === line('q').shadowRoot.activeElement"),
            true,
            "{text}"
        );
    }
    assert_eq!(state(browser), "settled");
}

fn weaker(browser: &Browser) {
    browser.show(SCRIPT, &format!("{LESSON}{QUIZ}"));
    put(browser, "q", "b7", "b5");
    hears(
        browser,
        "q",
        "Weaker: 2\u{2026}b5. gives a pawn. The board shows what the lesson holds against it.",
    );
    let seen = "return [inside('figcaption', 'q').textContent, line('q').state, Boolean(button('home', 'q')),
      line('q').current.aside.join(' '), all('.try > *', 'q').map(({ textContent }) => textContent).join()]";
    assert_eq!(
        browser.js(seen),
        json!([
            "weaker: after 2\u{2026}b5 3.cxb5 a6 4.bxa6, Black to move",
            "open",
            true,
            "b5 cxb5 a6 bxa6",
            "hint,show me"
        ])
    );
    browser.click("return button('back', 'q')");
    assert_eq!(
        browser.js("return line('q').current.aside.length"),
        3,
        "one step"
    );
    browser.click("return button('home', 'q')");
    assert_eq!(
        browser.js(seen),
        json!([
            "after 2.c4, Black to move",
            "open",
            false,
            "",
            "Your move.,hint,show me"
        ])
    );
    // No further than the question.
    assert_eq!(
        browser.js("return ['back', 'next', 'top'].map((name) => button(name, 'q').getAttribute('aria-disabled')).join()"),
        "true,true,true"
    );
}

const ROW: &str = "<ply-quiz id=\"q\" at=\"1...d5\" moves=\"3\"><p>Three moves.</p><pre>1. d4 d5 \
    2. Nf3 Nf6 (2... e6 3. e3 c6 4. Bd3) 3. e3 e6 (3... c5 4. c3) 4. Bd3 *</pre></ply-quiz>";

fn in_a_row(browser: &Browser) {
    browser.show(SCRIPT, ROW);
    let replies = browser.js("const replies = new Set();
         for (let round = 0; round < 4; round += 1) {
           const quiz = line('q');
           quiz.answer('Nf3');
           quiz.answer('e3');
           const reply = quiz.current.moves.at(-1);
           quiz.answer(reply === 'c5' ? 'c3' : 'Bd3');
           replies.add(quiz.current.moves.filter((_, at) => at % 2).join(' '));
           if (quiz.state !== 'settled') return [round, quiz.current.moves];
           quiz.again();
         }
         return [...replies].sort()");
    assert_eq!(replies, json!(["d5 Nf6 c5", "d5 Nf6 e6", "d5 e6 c6"]));
    // By hand, with what is said on the way.
    put(browser, "q", "g1", "f3");
    hears(browser, "q", "Your move.");
    let seen = browser.js(
        "return [line('q').state, /^Right: 2\\.Nf3\\. The reply is (Nf6|e6)\\. Your move\\.$/.test(inside('[role=status]', 'q').textContent.trim()),
           inside('figcaption', 'q').textContent.startsWith('after 2\u{2026}'), button('back', 'q').getAttribute('aria-disabled')]",
    );
    assert_eq!(seen, json!(["open", true, true, "true"]));
    // Another order: the knight last.
    browser.js(
        "line('q').text = '1. d4 d5 2. Nf3 Nf6 3. e3 e6 4. Bd3 *'; await pause(300); told.splice(0)",
    );
    let found = browser.js(
        "const quiz = line('q');
         return [quiz.answer('e3'), quiz.answer('a3'), quiz.answer('Bd3'), quiz.back(), quiz.answer('Nf3'), quiz.state]",
    );
    assert_eq!(
        found,
        json!(["right", "other", "right", false, "right", "settled"])
    );
}

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
            row("source", ""),
            row("notation", "P041"),
            row("notation", "P048"),
            row("notation", "P012"),
            row("notation", "P066")
        ])
    );
}

fn late(browser: &Browser) {
    browser.expect("The lesson that this question is about");
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
    // Read anew.
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
        json!(["open", 4]),
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

fn german(browser: &Browser) {
    let head = format!("<script src=\"/words/de.js\"></script>{SCRIPT}");
    browser.show(&head, &format!("<div lang=\"de\">{LESSON}{QUIZ}</div>"));
    put(browser, "q", "c7", "c6");
    hears(browser, "q", "Gut spielbar: 2\u{2026}c6");
    put(browser, "q", "b7", "b5");
    hears(browser, "q", "Schw\u{e4}cher: 2\u{2026}b5.");
    assert_eq!(
        browser.text("return button('home', 'q').textContent"),
        "zur Frage"
    );
    browser.js("button('hint', 'q').click()");
    hears(browser, "q", "Es zieht: Bauer auf e7.");
    // In German letters.
    types(browser, "Sf6");
    hears(browser, "q", "regelgerecht");
    browser.js("button('show', 'q').click()");
    hears(browser, "q", "Die Antwort: 2\u{2026}e6.");
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
