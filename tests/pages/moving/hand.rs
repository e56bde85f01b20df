//! Moves made by hand: click and click, dragging with the mouse, and under a finger.

use crate::board::{assert_drawn, assert_shows};
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::browser::keys::{ENTER, ESCAPE, TAB};
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    Everywhere(
        "by hand: a click takes a piece and a click puts it down, where the lesson goes",
        click_click,
    ),
    Everywhere(
        "by hand: a click on another piece of one's own takes that instead, and on the same puts it back",
        another,
    ),
    Everywhere(
        "by hand: the piece in hand has a ring, and each square that it can reach a diamond",
        signs,
    ),
    Everywhere(
        "by hand: a piece is dragged with the mouse, on a turned board too",
        dragged,
    ),
    Everywhere(
        "by hand: a piece that is dropped beside the board is put back",
        dropped_outside,
    ),
    Everywhere(
        "by hand: after a drag the next click counts, by keyboard too",
        after_a_drag,
    ),
    Everywhere(
        "by hand: a finger that holds drags a piece, and the page does not scroll",
        finger_holds,
    ),
    Everywhere("by hand: a finger taps and taps", finger_taps),
    InOne(
        "by hand: a move that the lesson does not hold is an aside, labelled so, with a way home",
        aside,
    ),
    InOne(
        "by hand: back undoes moves one by one, out of an aside too",
        back_undoes,
    ),
    InOne(
        "by hand: a try that is not legal is answered with the reason, on screen and spoken",
        refused,
    ),
    Everywhere(
        "by hand: a pawn on the last rank waits for what it becomes, chosen with the mouse",
        promotion_by_mouse,
    ),
    Everywhere(
        "by hand: what a pawn becomes is chosen with keys, which stay with the board",
        promotion_by_keys,
    ),
    Everywhere(
        "by hand: where the choice of a pawn lies over the square it goes to, it has the focus",
        promotion_below,
    ),
];

const LESSON: &str =
    "<ply-line><pre>1. e4 e5 (1... c5 2. Nf3) 2. Nf3 Nc6 3. Bb5 a6 4. O-O *</pre></ply-line>";
/// Castling is the fifth half-move here and both sides have pawns that can promote.
const PAWNS: &str = "<ply-line><pre>[SetUp \"1\"]\n[FEN \"4k3/P6p/8/8/8/8/7p/4K3 w - - 0 1\"]\n\n1. a8=Q+ Kd7 *</pre></ply-line>";

/// A click on a square.
#[track_caller]
pub fn square(browser: &Browser, name: &str) {
    browser.click(&format!("return inside('[data-square={name}]')"));
}

/// The polite region says this and nothing else, within two seconds.
#[track_caller]
pub fn hears(browser: &Browser, text: &str) {
    assert_eq!(browser.js_with("return heard(given)", json!(text)), text);
}

/// The middle of a square, or of what another selector finds.
fn middle(browser: &Browser, selector: &str) -> (i64, i64) {
    let place = browser.js_with(
        "const element = inside(given);
         element.scrollIntoView({ block: 'center', behavior: 'instant' });
         const { x, y, width, height } = element.getBoundingClientRect();
         return [Math.round(x + width / 2), Math.round(y + height / 2)]",
        json!(selector),
    );
    (
        place[0].as_i64().expect("a number"),
        place[1].as_i64().expect("a number"),
    )
}

fn on(browser: &Browser, name: &str) -> (i64, i64) {
    middle(browser, &format!("[data-square={name}]"))
}

fn to((x, y): (i64, i64), milliseconds: u32) -> Value {
    json!({ "type": "pointerMove", "x": x, "y": y, "duration": milliseconds, "origin": "viewport" })
}

/// Takes at one point and lets go at another. A finger holds first.
fn drag(browser: &Browser, kind: &str, from: (i64, i64), at: (i64, i64)) {
    let halfway = ((from.0 + at.0) / 2, (from.1 + at.1) / 2);
    let hold = if kind == "touch" { 400 } else { 0 };
    browser.point(
        kind,
        &[
            to(from, 0),
            json!({ "type": "pointerDown", "button": 0 }),
            json!({ "type": "pause", "duration": hold }),
            to(halfway, 60),
            to(at, 60),
            json!({ "type": "pointerUp", "button": 0 }),
        ],
    );
}

/// The moves on the board, and those of an aside.
fn moves(browser: &Browser) -> Value {
    browser.js("const { moves, aside } = line().current; return [moves.join(' '), aside.join(' ')]")
}

fn click_click(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    square(browser, "e2");
    assert_eq!(moves(browser), json!(["", ""]));
    square(browser, "e4");
    assert_eq!(moves(browser), json!(["e4", ""]));
    assert_drawn(browser, "lesson", false);
    square(browser, "c7");
    square(browser, "c5");
    assert_eq!(
        browser.js("return line().current.line"),
        "A",
        "a move of a sideline is a move of the lesson"
    );
    let told = browser.js("return told.filter(({ type }) => type === 'ply-moved').map(({ detail }) => [detail.san, detail.by])");
    assert_eq!(told, json!([["e4", "reader"], ["c5", "reader"]]));
    // Castling by the king's two squares.
    browser.js("line().go('3...a6')");
    square(browser, "e1");
    square(browser, "g1");
    assert_eq!(browser.js("return line().current.san"), "O-O");
    assert_drawn(browser, "lesson", false);
}

/// The square in hand, as the grid tells it.
fn in_hand(browser: &Browser) -> Value {
    browser.js("return all('[aria-selected=true]').map((cell) => cell.dataset.square)")
}

fn another(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    square(browser, "e2");
    assert_eq!(in_hand(browser), json!(["e2"]));
    square(browser, "g1");
    assert_eq!(in_hand(browser), json!(["g1"]));
    square(browser, "g1");
    assert_eq!(in_hand(browser), json!([]));
    square(browser, "e7");
    assert_eq!(in_hand(browser), json!([]), "White is to move");
    square(browser, "g1");
    browser.press(ESCAPE);
    assert_eq!(in_hand(browser), json!([]), "Escape puts it back");
}

fn signs(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    let counts = "return ['held', 'reach'].map((name) => (inside(`path.${name}`)?.getAttribute('d') ?? '').split('M').length - 1)";
    assert_eq!(browser.js(counts), json!([0, 0]));
    square(browser, "g1");
    assert_eq!(browser.js(counts), json!([1, 2]));
    assert_eq!(
        browser.js(
            "return all('[aria-label*=\"can be reached\"]').map((cell) => cell.dataset.square)"
        ),
        json!(["f3", "h3"]),
        "and the grid says so"
    );
}

fn dragged(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    drag(browser, "mouse", on(browser, "e2"), on(browser, "e4"));
    assert_eq!(moves(browser), json!(["e4", ""]));
    assert_drawn(browser, "lesson", false);
    browser.click("return button('turn')");
    drag(browser, "mouse", on(browser, "c7"), on(browser, "c5"));
    assert_eq!(moves(browser), json!(["e4 c5", ""]));
    assert_drawn(browser, "lesson", true);
    assert_eq!(
        browser.js("return all('.pieces > use[transform]').length"),
        0,
        "nothing stays in the air"
    );
}

fn dropped_outside(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    let there = middle(browser, "figcaption");
    drag(browser, "mouse", on(browser, "e2"), there);
    assert_eq!(moves(browser), json!(["", ""]));
    assert_drawn(browser, "lesson", false);
    assert_eq!(
        browser.js("return all('.pieces > use[transform]').length"),
        0
    );
    drag(browser, "mouse", on(browser, "e2"), on(browser, "e2"));
    assert_eq!(moves(browser), json!(["", ""]), "nor where it came from");
}

fn after_a_drag(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    let start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";
    let there = middle(browser, "figcaption");
    drag(browser, "mouse", on(browser, "e2"), there);
    browser.js("button('next').focus()");
    browser.press(ENTER);
    assert_eq!(moves(browser), json!(["e4", ""]));
    drag(browser, "mouse", on(browser, "e7"), on(browser, "e5"));
    browser.click("return button('top')");
    assert_shows(browser, "lesson", start, false);
    // A voice that clicks for the reader has no pointer.
    drag(browser, "mouse", on(browser, "e2"), there);
    browser.js("button('next').click()");
    assert_eq!(moves(browser), json!(["e4", ""]));
}

fn finger_holds(browser: &Browser) {
    let tall = format!("{LESSON}{}", "<p>More text.</p>".repeat(200));
    browser.show(SCRIPT, &tall);
    let (from, at) = (on(browser, "e2"), on(browser, "e4"));
    let before = browser.js("return scrollY");
    drag(browser, "touch", from, at);
    assert_eq!(moves(browser), json!(["e4", ""]));
    assert_eq!(browser.js("return scrollY"), before);
    assert_drawn(browser, "lesson", false);
    // A swipe that does not hold first is none of ours.
    let (from, at) = (on(browser, "e7"), on(browser, "e5"));
    browser.point(
        "touch",
        &[
            to(from, 0),
            json!({ "type": "pointerDown", "button": 0 }),
            to(at, 40),
            json!({ "type": "pointerUp", "button": 0 }),
        ],
    );
    assert_eq!(moves(browser), json!(["e4", ""]));
    browser.js("button('next').click()");
    assert_eq!(moves(browser), json!(["e4 e5", ""]));
}

fn finger_taps(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    for name in ["g1", "f3"] {
        browser.point(
            "touch",
            &[
                to(on(browser, name), 0),
                json!({ "type": "pointerDown", "button": 0 }),
                json!({ "type": "pointerUp", "button": 0 }),
            ],
        );
    }
    browser.until("line().current.aside.length === 1");
    assert_eq!(moves(browser), json!(["Nf3", "Nf3"]));
}

fn aside(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    browser.js("line().next()");
    square(browser, "d7");
    square(browser, "d5");
    square(browser, "e4");
    square(browser, "d5");
    assert_eq!(moves(browser), json!(["e4 d5 exd5", "d5 exd5"]));
    assert_drawn(browser, "lesson", false);
    let caption = browser.text("return inside('figcaption').textContent");
    assert_eq!(
        caption,
        "not in the lesson: after 1\u{2026}d5 2.exd5, Black to move"
    );
    hears(
        browser,
        "White pawn from e4 takes on d5. Not in the lesson.",
    );
    assert_eq!(
        browser.js("return all('[aria-current=step]').map((move) => move.textContent)"),
        json!(["1.e4"]),
        "the text keeps the place"
    );
    browser.click("return button('home')");
    assert_eq!(moves(browser), json!(["e4", ""]));
    assert_drawn(browser, "lesson", false);
    assert_eq!(
        browser.js("return [button('home'), document.activeElement === line() && line().shadowRoot.activeElement !== null]"),
        json!([null, true])
    );
}

fn back_undoes(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    for name in ["e2", "e4", "d7", "d5", "e4", "d5"] {
        square(browser, name);
    }
    for left in ["e4 d5", "e4", ""] {
        browser.click("return button('back')");
        assert_eq!(moves(browser)[0], left);
        assert_drawn(browser, "lesson", false);
    }
}

fn refused(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    for (from, at, reason) in [
        (
            "f1",
            "b5",
            "The bishop on f1 cannot reach b5: the pawn on e2 stands in the way.",
        ),
        (
            "e2",
            "d3",
            "There is nothing on d3 for the pawn on e2 to take, and en passant is not possible there.",
        ),
    ] {
        square(browser, from);
        square(browser, at);
        assert_eq!(moves(browser), json!(["", ""]));
        hears(browser, reason);
        assert_eq!(
            browser.js("return inside('[role=status]').checkVisibility() && inside('[role=status]').getBoundingClientRect().height > 10"),
            true,
            "it is on screen too"
        );
    }
    // The other side's piece, carried.
    drag(browser, "mouse", on(browser, "e7"), on(browser, "e5"));
    hears(
        browser,
        "White is to move, and the pawn on e7 is Black\u{2019}s.",
    );
    square(browser, "e2");
    square(browser, "e4");
    hears(
        browser,
        "White pawn from e2 to e4. 2 moves go on from here: 1...e5 and 1...c5.",
    );
}

fn promotion_by_mouse(browser: &Browser) {
    browser.show(SCRIPT, PAWNS);
    for (becomes, fen) in [
        ("n", "N3k3/7p/8/8/8/8/7p/4K3 b - - 0 1"),
        ("q", "Q3k3/7p/8/8/8/8/7p/4K3 b - - 0 1"),
    ] {
        square(browser, "a7");
        square(browser, "a8");
        assert_eq!(moves(browser), json!(["", ""]), "it waits");
        browser.click(&format!("return inside('[data-becomes={becomes}]')"));
        assert_shows(browser, "lesson", fen, false);
        browser.click("return button('back')");
    }
    // A square instead of an answer puts the pawn back.
    square(browser, "a7");
    square(browser, "a8");
    square(browser, "c5");
    assert_eq!(browser.js("return inside('.promotion')"), Value::Null);
    drag(browser, "mouse", on(browser, "a7"), on(browser, "a8"));
    browser.click("return inside('[data-becomes=q]')");
    assert_eq!(moves(browser), json!(["a8=Q+", ""]));
}

/// What has the focus inside the element.
fn focused(browser: &Browser) -> Value {
    browser.js("const at = line().shadowRoot.activeElement; return document.activeElement === line() ? at?.dataset.becomes ?? at?.dataset.square ?? at?.outerHTML : 'outside'")
}

fn promotion_by_keys(browser: &Browser) {
    browser.show(SCRIPT, PAWNS);
    browser.js("inside('[data-square=a7]').focus()");
    browser.press(ENTER);
    browser.js("inside('[data-square=a8]').focus()");
    browser.press(ENTER);
    assert_eq!(focused(browser), "q", "the focus goes where the answer is");
    browser.press(ESCAPE);
    assert_eq!(
        (browser.js("return inside('.promotion')"), focused(browser)),
        (Value::Null, json!("a8")),
        "Escape takes the move back"
    );
    browser.js("inside('[data-square=a7]').focus()");
    browser.press(ENTER);
    browser.js("inside('[data-square=a8]').focus()");
    browser.press(' ');
    browser.press(TAB);
    assert_eq!(focused(browser), "r");
    browser.press(' ');
    assert_eq!(moves(browser), json!(["a8=R+", "a8=R+"]));
    assert_eq!(focused(browser), "a8", "and then back to the board");
}

fn promotion_below(browser: &Browser) {
    browser.show(SCRIPT, PAWNS);
    browser.js("line().play('a8=Q+'); line().play('Ke7'); line().play('Kd2')");
    browser.js("inside('[data-square=h2]').focus()");
    browser.press(ENTER);
    browser.js("inside('[data-square=h1]').focus()");
    browser.press(ENTER);
    assert_eq!(focused(browser), "q");
    browser.press(ENTER);
    assert_eq!(browser.js("return line().current.san"), "h1=Q");
}
