//! A lesson from an empty fence to the file: by the pointer alone, and by keys alone.

use super::Author;
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::browser::keys::{CONTROL, ENTER, ESCAPE};
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "by pointer: ten moves with a sideline, a comment, a mark and a question come from an empty fence into the file",
        by_pointer,
    ),
    Everywhere(
        "by keys: the same is typed, and the same file comes of it",
        by_keys,
    ),
    InOne(
        "an aside is kept by one word, and without it nothing is written",
        kept,
    ),
    InOne(
        "undo and redo go through all that was done, by words and by keys, and back to the first byte",
        undone,
    ),
    InOne("moves may be played faster than they are written", fast),
    InOne(
        "change, lift and drop do what they say, and say what they did",
        changed,
    ),
];

const EMPTY: &str = "# A page\n\nBefore the lesson.\n\n```pgn\n```\n\nAfter it.\n";
const WHOLE: &str = "1. d4 d5 2. c4 e6 (2... c6 3. Nf3) 3. Nc3 Nf6 4. cxd5 exd5 {Black keeps a pawn on @!d5.} 5. Bg5 Be7 {Ask: What now?} *";

#[track_caller]
fn is_whole(browser: &Browser, author: &Author) {
    author.until_lesson(browser, WHOLE);
    let text = author.text();
    assert!(
        text.starts_with("# A page\n\nBefore the lesson.\n\n```pgn\n"),
        "{text}"
    );
    assert!(text.ends_with("*\n```\n\nAfter it.\n"), "{text}");
    let (is_clean, said) = author.program(&["check"]);
    assert!(is_clean, "{said}");
    let baked = author.baked();
    for wanted in ["<ply-line", "cxd5", "Black keeps a pawn on", "What now?"] {
        assert!(baked.contains(wanted), "no {wanted}: {baked}");
    }
}

fn by_pointer(browser: &Browser) {
    // The element says that it is empty.
    browser.allow("There is no lesson here yet");
    let author = Author::open(browser, "post.md", EMPTY);
    for [from, to] in [["d2", "d4"], ["d7", "d5"], ["c2", "c4"], ["e7", "e6"]] {
        author.play(browser, from, to);
    }
    browser.click("return button('back')");
    author.play(browser, "c7", "c6");
    author.play(browser, "g1", "f3");
    browser.click("return inside('#m4')");
    for [from, to] in [["b1", "c3"], ["g8", "f6"], ["c4", "d5"], ["e6", "d5"]] {
        author.play(browser, from, to);
    }
    author.press(browser, "comment");
    author.until(browser, "comment()");
    browser.write_keys("Black keeps a pawn on ");
    author.press(browser, "point");
    browser.click("return inside('[data-square=d5]')");
    author.press(browser, "strong");
    browser.write_keys(".");
    author.press(browser, "done");
    author.until(browser, "!comment()");
    author.play(browser, "c1", "g5");
    author.play(browser, "f8", "e7");
    author.press(browser, "question");
    author.until(browser, "comment()");
    browser.write_keys("What now?");
    author.press(browser, "done");
    is_whole(browser, &author);
}

fn by_keys(browser: &Browser) {
    // The element says that it is empty.
    browser.allow("There is no lesson here yet");
    let author = Author::open(browser, "post.md", EMPTY);
    author.enter(browser, "d4 d5 c4 e6 (c6 Nf3)");
    author.until(browser, "line().lesson.node(6)");
    author.enter(browser, "go 2.c4 e6");
    author.until(browser, "at() === 'd4 d5 c4 e6'");
    author.enter(browser, "Nc3 Nf6 cxd5 exd5");
    author.until(browser, "at().endsWith('cxd5 exd5')");
    author.js(browser, "field().focus()");
    browser.write_keys("{");
    author.until(browser, "comment()");
    // A brace ends it, and the field has the focus again.
    browser.write_keys("Black keeps a pawn on @!d5.}");
    author.until(browser, "!comment() && desk().activeElement === field()");
    browser.write_keys("Bg5 Be7");
    browser.press(ENTER);
    author.until(browser, "at().endsWith('Bg5 Be7')");
    author.enter(browser, "question");
    author.until(browser, "comment()");
    browser.write_keys("What now?");
    browser.press(ESCAPE);
    is_whole(browser, &author);
    // A character typed on the board comes into the field.
    author.js(browser, "inside('[role=gridcell][tabindex=\"0\"]').focus()");
    browser.write_keys("b");
    author.until(
        browser,
        "field().value === 'b' && desk().activeElement === field()",
    );
}

const SHORT: &str = "1. d4 d5 2. c4 e6 *\n";

fn kept(browser: &Browser) {
    let author = Author::open(browser, "game.pgn", SHORT);
    for square in ["e2", "e4", "e7", "e5"] {
        browser.click(&format!("return inside('[data-square={square}]')"));
    }
    author.until(browser, "line().current.aside.length === 2");
    assert_eq!(author.text(), SHORT, "reading writes nothing");
    author.press(browser, "keep");
    author.until_lesson(browser, "1. d4 (1. e4 e5) 1... d5 2. c4 e6 *");
    assert_eq!(
        author.js(
            browser,
            "return [at(), line().current.aside, word('write').ariaPressed]"
        ),
        json!(["e4 e5", [], "false"])
    );
}

fn undone(browser: &Browser) {
    let author = Author::writing(browser, "game.pgn", SHORT);
    author.enter(browser, "go 2.c4 e6");
    author.enter(browser, "Nc3!? (Nf3 {The other knight.})");
    author.until_lesson(
        browser,
        "1. d4 d5 2. c4 e6 3. Nc3!? (3. Nf3 {The other knight.}) *",
    );
    author.enter(browser, "sign");
    author.until(browser, "desk().querySelector('.signs')");
    author.press(browser, "!");
    author.until_lesson(
        browser,
        "1. d4 d5 2. c4 e6 3. Nc3! (3. Nf3 {The other knight.}) *",
    );
    author.press(browser, "undo");
    author.until_lesson(
        browser,
        "1. d4 d5 2. c4 e6 3. Nc3!? (3. Nf3 {The other knight.}) *",
    );
    author.js(browser, "inside('[role=gridcell][tabindex=\"0\"]').focus()");
    browser.press_with(CONTROL, 'z');
    author.until(browser, "said().startsWith('took back')");
    for _ in 0..200 {
        if author.text() == SHORT {
            break;
        }
        browser.js("await pause(20)");
    }
    assert_eq!(author.text(), SHORT);
    author.press(browser, "redo");
    author.until_lesson(
        browser,
        "1. d4 d5 2. c4 e6 3. Nc3!? (3. Nf3 {The other knight.}) *",
    );
}

fn fast(browser: &Browser) {
    let author = Author::writing(browser, "game.pgn", SHORT);
    author.js(
        browser,
        "line().go('2.c4 e6');
         for (const name of ['b1', 'c3', 'g8', 'f6', 'c1', 'g5', 'f8', 'e7']) inside(`[data-square=${name}]`).click()",
    );
    author.until_lesson(browser, "1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Bg5 Be7 *");
    author.until(
        browser,
        "at().endsWith('Bg5 Be7') && !line().current.aside.length",
    );
    // A comment that is written between the two clicks of a move leaves the piece in hand.
    author.press(browser, "comment");
    author.until(browser, "comment()");
    browser.write_keys("Quiet.");
    browser.click("return inside('[data-square=e2]')");
    author.until_lesson(
        browser,
        "1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Bg5 Be7 {Quiet.} *",
    );
    browser.js("await pause(100)");
    browser.click("return inside('[data-square=e3]')");
    author.until_lesson(
        browser,
        "1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Bg5 Be7 {Quiet.} 5. e3 *",
    );
}

fn changed(browser: &Browser) {
    let author = Author::writing(
        browser,
        "game.pgn",
        "1. d4 d5 2. c4 e6 (2... c6 3. Nf3) 3. Nc3 *\n",
    );
    author.enter(browser, "line A");
    author.until(browser, "at().endsWith('c6')");
    author.press(browser, "lift");
    author.until_lesson(browser, "1. d4 d5 2. c4 c6 (2... e6 3. Nc3) 3. Nf3 *");
    author.until(browser, "said().includes('now prefers 2...c6')");
    author.press(browser, "change");
    author.play(browser, "g8", "f6");
    author.until_lesson(browser, "1. d4 d5 2. c4 Nf6 (2... e6 3. Nc3) 3. Nf3 *");
    author.press(browser, "change");
    author.enter(browser, "c5");
    author.until_lesson(browser, "1. d4 d5 2. c4 c5 (2... e6 3. Nc3) 3. Nf3 *");
    // With the focus in the empty field.
    author.until(browser, "field().value === ''");
    browser.press_with(CONTROL, 'z');
    author.until_lesson(browser, "1. d4 d5 2. c4 Nf6 (2... e6 3. Nc3) 3. Nf3 *");
    // The signs that are open are those of the move on the board.
    author.press(browser, "sign");
    author.until(browser, "desk().querySelector('.signs')");
    author.js(browser, "line().go('2.c4')");
    author.until(browser, "!desk().querySelector('.signs')");
    author.enter(browser, "go 2...Nf6");
    author.until(browser, "at().endsWith('c4 Nf6')");
    author.press(browser, "drop 2 moves");
    author.until(browser, "said().includes('dropped 2 moves')");
    author.until_lesson(browser, "1. d4 d5 2. c4 e6 3. Nc3 *");
}
