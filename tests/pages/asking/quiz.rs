//! A question in an element of its own: answered by each input, kind in each answer, and reported
//! to the page's script.

use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::browser::keys::{DOWN, ENTER, TAB, UP};
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    Everywhere(
        "a quiz is answered with the pointer, and each verdict is seen and said",
        pointer,
    ),
    Everywhere(
        "a quiz is answered with keys alone, and the focus stays",
        keys,
    ),
    InOne("a quiz is answered by what is typed, hints and all", typed),
    Everywhere(
        "a quiz is answered with a finger on a phone, a weaker move played out too",
        touch,
    ),
    Everywhere(
        "a move that leads elsewhere in the lesson is followed there from a quiz, by pointer and by keys",
        elsewhere,
    ),
    InOne(
        "moves in a row are answered by replies that vary, in any order that leads there",
        in_a_row,
    ),
    InOne("a quiz speaks German", german),
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
pub fn types(browser: &Browser, text: &str) {
    browser.js("openDesk('q'); inside('.typed', 'q').focus()");
    browser.write_keys(text);
    browser.press(ENTER);
}

#[track_caller]
pub fn state(browser: &Browser) -> Value {
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
            ""
        ])
    );
    let at_rest = picture(browser);
    for (from, to, said) in [
        (
            "a8",
            "a6",
            "The rook on a8 cannot reach a6: the pawn on a7 stands in the way.",
        ),
        ("a7", "a6", "2\u{2026}a6 is not an answer of this lesson."),
        (
            "c7",
            "c6",
            "Sound: 2\u{2026}c6 is in the lesson too. just as sound The lesson prefers 2\u{2026}e6. Solid, and d5",
        ),
    ] {
        put(browser, "q", from, to);
        hears(browser, "q", said);
        assert_eq!(browser.js("return visible(inside('.notice', 'q'))"), true);
        assert_eq!(picture(browser), at_rest, "{to} is taken back");
        assert_eq!(state(browser), "open");
    }
    put(browser, "q", "e7", "e6");
    hears(browser, "q", "Right: 2\u{2026}e6. Solid, and d5 is held.");
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
    // And then the lesson is stepped through.
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
    tab_to(browser, "e5");
    // Black is below: down is towards Black's own men.
    for key in [DOWN, DOWN, ENTER, UP, UP, ENTER] {
        browser.press(key);
    }
    hears(browser, "q", "2\u{2026}e5 is not an answer");
    assert_eq!(focus(browser), "e5");
    for key in [DOWN, DOWN, ENTER, UP, ENTER] {
        browser.press(key);
    }
    hears(browser, "q", "Right: 2\u{2026}e6.");
    assert_eq!(focus(browser), "e6");
    // Begun again and shown, by the words beside the board.
    for (word, said) in [
        ("again", "Your move."),
        ("hint", "The pawn on e7"),
        ("show", "The answer"),
    ] {
        tab_to(browser, word);
        browser.press(ENTER);
        hears(browser, "q", said);
        assert_ne!(focus(browser), "elsewhere", "{word}");
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
        ("read the comment", "There is no comment here."),
        ("the moves from here", "Your move."),
        ("Ke9", "\u{201c}help\u{201d} says what is."),
        (
            "help",
            "or: hint, show me, again, flip, ask, describe the position",
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

pub fn focus(browser: &Browser) -> String {
    browser.text(
        "const at = document.activeElement === line('q') && line('q').shadowRoot.activeElement;
         return at ? at.dataset.square ?? at.dataset.do ?? at.className : 'elsewhere'",
    )
}

/// Presses Tab until it leads to this.
#[track_caller]
pub fn tab_to(browser: &Browser, wanted: &str) {
    for _ in 0..20 {
        if focus(browser) == wanted {
            return;
        }
        browser.press(TAB);
    }
    panic!("Tab never leads to {wanted} but {}", focus(browser));
}

fn touch(browser: &Browser) {
    browser.phone();
    browser.show(SCRIPT, &format!("{QUIZ}{LESSON}"));
    let tap = |script: &str| {
        let place = browser.js(&format!(
            "const element = {script};
             element.scrollIntoView({{ block: 'nearest', behavior: 'instant' }});
             await painted();
             const {{ left, top, width, height }} = element.getBoundingClientRect();
             return [Math.round(left + width / 2), Math.round(top + height / 2)]"
        ));
        let at = json!({ "type": "pointerMove", "duration": 0, "x": place[0], "y": place[1] });
        let down = json!({ "type": "pointerDown", "button": 0 });
        let up = json!({ "type": "pointerUp", "button": 0 });
        browser.point("touch", &[at, down, up]);
    };
    let put = |from: &str, to: &str| {
        for square in [from, to] {
            tap(&format!("inside('[data-square={square}]', 'q')"));
        }
    };
    put("b7", "b5");
    hears(browser, "q", "Weaker: 2\u{2026}b5.");
    tap("button('next', 'q')");
    hears(browser, "q", "Black pawn from a7 to a6.");
    // The board, its spoken text and its step buttons are in sight together.
    let seen = browser.js(
        "await painted();
         return ['.plate', '.notice', '[data-do=next]', '[data-do=home]', '.try'].map((selector) => {
           const { top, bottom, left, right } = inside(selector, 'q').getBoundingClientRect();
           return top >= 0 && bottom <= innerHeight && left >= 0 && right <= innerWidth })",
    );
    assert_eq!(seen, json!([true, true, true, true, true]));
    tap("button('home', 'q')");
    tap("button('hint', 'q')");
    hears(browser, "q", "The pawn on e7 moves.");
    put("e7", "e6");
    hears(browser, "q", "Right: 2\u{2026}e6.");
    tap("button('next', 'q')");
    hears(browser, "q", "White knight from b1 to c3.");
    assert_eq!(state(browser), "settled");
}

fn elsewhere(browser: &Browser) {
    let pgn = "1. Nf3 (1. d4 {Other ways.} Nf6 2. Nf3 e6) Nf6 {Ours.} 2. c4 *";
    let lesson = format!("<ply-line id=\"lesson\"><pre>{pgn}</pre></ply-line>");
    let quiz = "<ply-quiz id=\"q\" for=\"lesson\" at=\"1.Nf3 Nf6\"><p>Where to?</p></ply-quiz>";
    let own = format!(
        "<ply-quiz id=\"own\" at=\"1.Nf3 Nf6\"><p>Where to?</p><pre>{pgn}</pre></ply-quiz>"
    );
    browser.show(SCRIPT, &format!("{quiz}{own}{lesson}"));
    let there = "inside('.try ol a', 'q')";
    for by_key in [false, true] {
        browser.js("line('lesson').go(0); line('q').answer('d4')");
        hears(
            browser,
            "q",
            "2.d4 is not an answer of this lesson. It leads to the position after 2.Nf3.",
        );
        if by_key {
            browser.js(&format!("{there}.focus()"));
            browser.press(ENTER);
        } else {
            browser.click(&format!("return {there}"));
        }
        browser.until("line('lesson').current.san === 'Nf3'");
        assert_eq!(
            browser.js("return [line('lesson').current.line, document.activeElement === line('lesson'), line('q').state, line('q').current.san]"),
            json!(["A", true, "open", "Nf6"])
        );
    }
    // A lesson of its own is nowhere else.
    browser.js("line('own').answer('d4')");
    hears(browser, "own", "It leads to the position after 2.Nf3.");
    assert_eq!(browser.js("return inside('.try ol', 'own')"), Value::Null);
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
        "return [line('q').state, /^Right: 2\\.Nf3\\. The reply is (Nf6|e6)\\. 1 of 3 found\\. Your move\\.$/.test(inside('[role=status]', 'q').textContent.trim()),
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
    hears(browser, "q", "keine Antwort");
    browser.js("button('show', 'q').click()");
    hears(browser, "q", "Die Antwort: 2\u{2026}e6.");
}
