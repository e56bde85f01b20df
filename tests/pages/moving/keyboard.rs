//! Everything with keys alone: through the element by Tab, in the grid by arrows, and typed.

use super::hand::hears;
use crate::board::assert_drawn;
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::browser::keys::{
    CONTROL, DOWN, END, ENTER, ESCAPE, HOME, LEFT, RIGHT, SHIFT, TAB, UP,
};
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    Everywhere(
        "keyboard: on a narrow page too the focus is somewhere in the element after each step",
        never_lost_narrow,
    ),
    Everywhere(
        "keyboard: Tab leads through every part and out again, the focus seen and never covered",
        through,
    ),
    Everywhere(
        "keyboard: the same on a narrow page, where the board stays over the text, and backwards",
        through_narrow,
    ),
    Everywhere(
        "keyboard: the grid is one tab stop, and arrows, Home and End move in it without wrapping",
        grid,
    ),
    Everywhere(
        "keyboard: on a turned board the arrows go as they are seen",
        grid_turned,
    ),
    Everywhere(
        "keyboard: Enter and Space take a piece and put it down",
        moves,
    ),
    InOne(
        "keyboard: after each step the focus is somewhere in the element",
        never_lost,
    ),
    Everywhere(
        "keyboard: typed moves and typed steps are played",
        typed_moves,
    ),
    Everywhere(
        "keyboard: the field for questions takes the focus as it opens, and Escape closes it and gives the focus back",
        desk_focus,
    ),
    Everywhere(
        "keyboard: the switch that reads comments keeps the focus, and each is heard after its move",
        aloud,
    ),
    InOne(
        "keyboard: typed questions are answered in words, twice too",
        typed_questions,
    ),
    InOne(
        "keyboard: words that are not known are answered with all that can be typed",
        typed_nonsense,
    ),
    InOne(
        "keyboard: a pawn's move that does not say what it becomes is answered with how to say it",
        typed_promotion,
    ),
    Everywhere(
        "keyboard: a key that the lesson takes does not reach the page's own keys, and others do",
        pages_own,
    ),
    Everywhere(
        "keyboard: a key that chooses among an input method's characters plays nothing",
        composing,
    ),
];

const LESSON: &str = "/the-pawn-that-is-not-free/";
const SMALL: &str =
    "<ply-line><pre>1. e4 e5 (1... c5 {sharp}) 2. Nf3 {develops} Nc6 3. Bb5 *</pre></ply-line>";

/// What has the focus in the element: a short name, and what is wrong with it, if anything.
const FOCUS: &str = "
    if (document.activeElement !== line()) return ['outside', null];
    const at = line().shadowRoot.activeElement;
    if (!at) return ['the element itself', 'nothing inside has the focus'];
    await painted();
    const name = at.matches('.move') ? 'move' : at.matches('button.to') ? 'link' : ['data-do', 'data-square', 'data-fold', 'data-go', 'data-find', 'data-ask', 'data-take', 'class']
      .filter((name) => at.hasAttribute(name)).map((name) => `${name.replace('data-', '')} ${at.getAttribute(name)}`)[0] ?? at.localName;
    const { x, y, width, height } = at.getBoundingClientRect();
    const hit = line().shadowRoot.elementFromPoint(x + width / 2, y + height / 2);
    // In a paragraph that breaks, the middle of an inline link may lie between its lines.
    const boxes = [...at.getClientRects()].map((box) => line().shadowRoot.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2));
    const over = [hit, ...boxes].some((found) => found && (at === found || at.contains(found)));
    const { outlineStyle, outlineWidth } = getComputedStyle(at);
    const wrong = !over ? `covered by ${hit?.outerHTML.slice(0, 80)}`
      : !at.matches(':focus-visible') || outlineStyle === 'none' || parseFloat(outlineWidth) < 2 ? 'the focus is not seen' : null;
    return [name, wrong]";

/// Presses Tab until the element is left, and says what had the focus.
#[track_caller]
fn tab_through(browser: &Browser, backwards: bool) -> Vec<String> {
    let mut names = Vec::new();
    loop {
        match backwards {
            true => browser.press_with(SHIFT, TAB),
            false => browser.press(TAB),
        }
        let found = browser.js(FOCUS);
        let name = found[0].as_str().expect("a name").to_owned();
        assert_eq!(found[1], Value::Null, "{name}, after {names:?}");
        if name == "outside" {
            return names;
        }
        names.push(name);
        assert!(
            names.len() < 200,
            "Tab does not leave the element: {names:?}"
        );
    }
}

/// Puts the focus just before the element, or after it.
fn outside(browser: &Browser, after: bool) {
    browser.js_with(
        "const stop = document.createElement('button');
         stop.textContent = 'beside the lesson';
         line()[given](stop);
         stop.focus()",
        json!(if after { "after" } else { "before" }),
    );
}

fn through(browser: &Browser) {
    browser.visit(LESSON);
    browser.js("line().go('4.Bg5'); openDesk()");
    outside(browser, false);
    let names = tab_through(browser, false);
    let count = |start: &str| names.iter().filter(|name| name.starts_with(start)).count();
    assert_eq!(count("square"), 1, "one stop for the grid: {names:?}");
    assert_eq!(count("move"), 1, "one stop for the moves: {names:?}");
    for part in [
        "do back",
        "do next",
        "do top",
        "do turn",
        "do map",
        "do enter",
        "class typed",
        "fold ",
        "link",
        "ask ",
        "take ",
        "class mapbox",
    ] {
        assert!(count(part) > 0, "{part}: {names:?}");
    }
}

fn through_narrow(browser: &Browser) {
    browser.width(Some(500));
    browser.visit(LESSON);
    browser.js("line().go('4.Bg5'); openDesk()");
    outside(browser, true);
    let backwards = tab_through(browser, true);
    outside(browser, false);
    let mut forwards = tab_through(browser, false);
    forwards.reverse();
    assert_eq!(backwards, forwards);
}

/// The square that has the focus.
fn cell(browser: &Browser) -> Value {
    browser.js("return line().shadowRoot.activeElement?.dataset.square")
}

fn grid(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    assert_eq!(
        browser.js("return all('[role=gridcell][tabindex=\"0\"]').length"),
        1
    );
    browser.js("inside('[role=gridcell][tabindex=\"0\"]').focus()");
    assert_eq!(cell(browser), "e4");
    for (key, square) in [
        (UP, "e5"),
        (RIGHT, "f5"),
        (DOWN, "f4"),
        (LEFT, "e4"),
        (HOME, "a4"),
        (LEFT, "a4"),
        (END, "h4"),
        (RIGHT, "h4"),
    ] {
        browser.press(key);
        assert_eq!(cell(browser), square, "{key:?}");
        assert_eq!(
            browser.js(
                "return all('[role=gridcell][tabindex=\"0\"]').map((cell) => cell.dataset.square)"
            ),
            json!([square])
        );
    }
    browser.press_with(CONTROL, HOME);
    browser.press(UP);
    assert_eq!(cell(browser), "a8");
    browser.press_with(CONTROL, END);
    browser.press(DOWN);
    assert_eq!(cell(browser), "h1");
    assert_eq!(
        browser.js("return line().current.node"),
        0,
        "no step was made"
    );
    // After coming back, Tab finds the square again.
    browser.press_with(SHIFT, TAB);
    browser.press(TAB);
    assert_eq!(cell(browser), "h1");
}

fn grid_turned(browser: &Browser) {
    browser.show(
        SCRIPT,
        &SMALL.replace("<ply-line", "<ply-line side=\"black\""),
    );
    browser.js("inside('[role=gridcell][tabindex=\"0\"]').focus()");
    assert_eq!(cell(browser), "e5");
    for (key, square) in [(UP, "e4"), (RIGHT, "d4"), (HOME, "h4"), (END, "a4")] {
        browser.press(key);
        assert_eq!(cell(browser), square, "{key:?}");
    }
    browser.press_with(CONTROL, HOME);
    assert_eq!(cell(browser), "h1");
}

fn moves(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    browser.js("inside('[data-square=e4]').focus()");
    browser.press(DOWN);
    browser.press(DOWN);
    browser.press(ENTER);
    hears(browser, "e2, white pawn, in hand. It can go to e3 and e4.");
    browser.press(UP);
    browser.press(UP);
    browser.press(' ');
    assert_eq!(browser.js("return line().current.san"), "e4");
    assert_eq!(cell(browser), "e4", "the focus stays with the piece");
    assert_drawn(browser, "lesson", false);
    assert_eq!(
        browser.js("return scrollY"),
        0,
        "Space does not scroll the page"
    );
}

fn never_lost_narrow(browser: &Browser) {
    browser.width(Some(500));
    never_lost(browser);
}

fn never_lost(browser: &Browser) {
    browser.visit(LESSON);
    // With all lines, on narrow pages too.
    browser.js("window.allLines = () => { if (inside('.gist')) button('alone').click(); };
         line().go('4.Bg5'); openDesk(); allLines(); all('details').forEach((part) => (part.open = true))");
    // Things that can be activated, from a fresh focus on them; of one kind the first four and then every fourth.
    let indices = browser.js("const met = {};
         return all('button, input, [role=gridcell][tabindex=\"0\"]').flatMap((at, index) => {
           const kind = at.getAttributeNames().filter((name) => name !== 'id').join();
           met[kind] = (met[kind] ?? 0) + 1;
           return at.dataset.do || met[kind] <= 4 || met[kind] % 4 === 0 ? [index] : [];
         })");
    for index in indices.as_array().expect("a list") {
        let name = browser.js_with(
            "line().go('4.Bg5'); openDesk(); allLines();
             all('[aria-expanded=false][data-fold]').forEach((label) => label.click());
             const at = all('button, input, [role=gridcell][tabindex=\"0\"]')[given];
             if (at.dataset.take || at.matches('.move')) return null;
             at.focus();
             return at.outerHTML.slice(0, 90)",
            index.clone(),
        );
        if name.is_null() {
            continue;
        }
        browser.press(ENTER);
        let found = browser.js(FOCUS);
        assert_eq!(found[1], Value::Null, "{name} leads to {found}");
        assert_ne!(found[0], "outside", "{name}");
        browser.press(RIGHT);
        let found = browser.js(FOCUS);
        assert_eq!(
            found[1],
            Value::Null,
            "a step after {name} leads to {found}"
        );
        assert_ne!(found[0], "outside", "{name}");
    }
}

/// Types a line into the field.
#[track_caller]
pub fn type_in(browser: &Browser, text: &str) {
    browser.js("openDesk(); inside('.typed').focus()");
    browser.write_keys(text);
    browser.press(ENTER);
    assert_eq!(browser.js("return inside('.typed').value"), "", "{text}");
}

fn typed_moves(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    for (text, moves, aside) in [
        ("e4", "e4", ""),
        ("c7c5", "e4 c5", ""),
        ("back", "e4", ""),
        ("next", "e4 e5", ""),
        ("Bc4", "e4 e5 Bc4", "Bc4"),
        ("Back", "e4 e5", ""),
        ("Nf3", "e4 e5 Nf3", ""),
        ("nf6", "e4 e5 Nf3 Nf6", "Nf6"), // capitals take time on many keyboards
        ("to the lesson", "e4 e5 Nf3", ""),
        ("start", "", ""),
    ] {
        type_in(browser, text);
        let at = browser.js(
            "const { moves, aside } = line().current; return [moves.join(' '), aside.join(' ')]",
        );
        assert_eq!(at, json!([moves, aside]), "after {text}");
        assert_drawn(browser, "lesson", false);
    }
    browser.write_keys("d4");
    browser.click("return button('enter')");
    assert_eq!(
        browser.js("return line().current.san"),
        "d4",
        "the button does the same"
    );
}

fn desk_focus(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    browser.js("button('desk').focus()");
    browser.press(ENTER);
    assert_eq!(browser.js(FOCUS), json!(["class typed", null]));
    browser.write_keys("what is pinned");
    browser.press(ENTER);
    hears(browser, "Nothing is pinned.");
    assert_eq!(browser.js(FOCUS), json!(["class typed", null]));
    browser.press(TAB);
    assert_eq!(browser.js(FOCUS), json!(["do enter", null]));
    browser.press(ESCAPE);
    assert_eq!(browser.js(FOCUS), json!(["do desk", null]));
    assert_eq!(browser.js("return inside('.typed')"), Value::Null);
    // By the pointer, and from the field itself.
    browser.click("return button('desk')");
    assert_eq!(browser.js(FOCUS)[0], "class typed");
    browser.press(ESCAPE);
    assert_eq!(browser.js(FOCUS), json!(["do desk", null]));
}

fn aloud(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    browser.js("line().go('1...e5'); openDesk(); button('aloud').focus()");
    browser.press(ENTER);
    hears(
        browser,
        "Comments are read after each move, until \u{201c}comments on request\u{201d}.",
    );
    assert_eq!(browser.js(FOCUS), json!(["do quiet", null]));
    browser.js("button('next').click()");
    hears(browser, "White knight from g1 to f3. develops.");
    type_in(browser, "comments on request");
    hears(browser, "Comments are read on request.");
    browser.js("button('back').click(); button('next').click()");
    hears(browser, "White knight from g1 to f3, with a comment.");
    type_in(browser, "comment");
    hears(browser, "develops");
}

fn typed_questions(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    browser.js("line().go('2.Nf3')");
    for (text, answer) in [
        ("what is on e4", "e4, white pawn."),
        ("What is on e4?", "e4, white pawn."),
        ("what is on Eva six", "e6, empty."),
        (
            "what attacks e5",
            "e5 is attacked by white knight f3. Nothing guards e5.",
        ),
        ("what defends e4", "Nothing guards e4."),
        (
            "what guards f3",
            "f3 is guarded by white queen d1 and white pawn g2.",
        ),
        ("what attacks f5", "f5 is attacked by white pawn e4."),
        ("what attacks a5", "Nothing attacks a5."),
        ("where is the white queen", "White: queen d1."),
        ("e5", "A black pawn stands on e5 already. e5, black pawn."),
        (
            "moves of the bishop on f8",
            "f8, black bishop. It can go to a3, b4, c5, d6 and e7.",
        ),
        ("comment", "develops"),
        ("last", "White knight from g1 to f3."),
        ("where", "On the main line, after 2.Nf3, Black to move."),
        ("moves", "2...Nc6: Black knight from b8 to c6."),
        (
            "describe",
            "White: king e1, queen d1, rook a1, rook h1, bishop c1, bishop f1, knight b1, knight f3, pawn a2, pawn b2, pawn c2, pawn d2, pawn f2, pawn g2, pawn h2, pawn e4; Black: king e8, queen d8, rook a8, rook h8, bishop c8, bishop f8, knight b8, knight g8, pawn e5, pawn a7, pawn b7, pawn c7, pawn d7, pawn f7, pawn g7, pawn h7, Black to move.",
        ),
    ] {
        type_in(browser, text);
        hears(browser, answer);
        assert_eq!(
            browser.js("return line().current.san"),
            "Nf3",
            "{text} is no step"
        );
    }
    // A region that does not change is not read out again.
    browser.js("window.texts = []; new MutationObserver((changes) => texts.push(...changes)).observe(inside('[role=status]'), { characterData: true, subtree: true, childList: true })");
    type_in(browser, "describe");
    browser.until("texts.length === 1");
    browser.click("return inside('[data-ask=describe]')");
    browser.until("texts.length === 2");
}

fn typed_nonsense(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    type_in(browser, "sing a song");
    hears(
        browser,
        "\u{201c}sing a song\u{201d} is no move, and no question that can be answered here. \u{201c}help\u{201d} says what is.",
    );
    type_in(browser, "help");
    hears(
        browser,
        "Ask for example: what is on e4, what attacks f5, what guards d4, where is the white queen, what is pinned, moves of the knight on f3, material. Type a move such as Nf3, or: \
         back, next, start, to the lesson, flip, map, ask, hide board, show board, main line only, all lines, read comments, describe the position, read the comment, the last move, \
         the moves from here, where this is, help.",
    );
    type_in(browser, "Nd5");
    hears(browser, "No white knight can reach d5.");
    assert_eq!(browser.js("return line().current.node"), 0);
}

fn typed_promotion(browser: &Browser) {
    browser.show(
        SCRIPT,
        "<ply-line><pre>[SetUp \"1\"]\n[FEN \"4k3/P6p/8/8/8/8/7p/4K3 w - - 0 1\"]\n\n1. a8=Q+ *</pre></ply-line>",
    );
    type_in(browser, "a8");
    hears(
        browser,
        "Say what the pawn becomes: write =Q, =R, =B or =N after the move.",
    );
    type_in(browser, "a8=N");
    assert_eq!(browser.js("return line().current.aside"), json!(["a8=N"]));
}

fn composing(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    browser.js(
        "openDesk(); const field = inside('.typed');
         field.value = 'e4';
         field.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', isComposing: true, bubbles: true, composed: true }))",
    );
    assert_eq!(
        browser.js("return [line().current.node, inside('.typed').value]"),
        json!([0, "e4"])
    );
}

fn pages_own(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    browser.js("window.reached = [];
         document.addEventListener('keydown', ({ key }) => reached.push(key));
         line().next();
         move(1).focus()");
    browser.press(RIGHT);
    browser.press('q');
    assert_eq!(
        browser.js("return [line().current.ply, reached]"),
        json!([2, ["q"]])
    );
}
