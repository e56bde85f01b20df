//! What is said to an author: slips with their place, what a paste holds, the same position elsewhere, findings; and that all of it
//! can be read, heard and reached.

use super::Author;
use crate::harness::Case::{self, InOne};
use crate::seeing::access::assert_clean;
use crate::support::browser::Browser;
use serde_json::json;

pub const CASES: &[Case] = &[
    InOne(
        "what cannot be read stays, its place selected, with near misses to choose",
        slip,
    ),
    InOne(
        "a paste of more than a move is shown before it enters",
        pasted,
    ),
    InOne(
        "sentences that are pasted enter the moves that they name",
        sentences,
    ),
    InOne(
        "the field is in sight in low windows when writing begins",
        low,
    ),
    InOne(
        "each comment of a move can be opened, the one before a line's first move too",
        several,
    ),
    InOne(
        "the same position elsewhere is said, and one word writes the link",
        same,
    ),
    InOne(
        "a finding stands at its move, and one word mends it",
        mended,
    ),
    InOne(
        "unfinished leads to what is not finished, one after another",
        unfinished,
    ),
    InOne(
        "axe-core finds nothing while a lesson is written, in any state, light and dark",
        clean,
    ),
    InOne(
        "at 320 pixels the words at the board fit, and the board keeps two fifths of the window",
        narrow,
    ),
];

const GAME: &str = "1. d4 d5 2. c4 e6 (2... Nf6 3. Nc3 e6) 3. Nc3 Nf6 4. Bg5 *\n";

fn slip(browser: &Browser) {
    let author = Author::writing(browser, "game.pgn", GAME);
    author.enter(browser, "Nf9");
    author.until(
        browser,
        "said().includes('Nf9') && words().some((it) => it.textContent === 'Nf3')",
    );
    let found = author.js(
        browser,
        "return [field().value, field().selectionStart, field().selectionEnd]",
    );
    assert_eq!(found, json!(["Nf9", 0, 3]));
    assert_eq!(author.text(), GAME);
    author.press(browser, "Nf3");
    assert_eq!(author.js(browser, "return field().value"), "Nf3");
    browser.press(crate::support::browser::keys::ENTER);
    author.until_lesson(
        browser,
        "1. d4 (1. Nf3) 1... d5 2. c4 e6 (2... Nf6 3. Nc3 e6) 3. Nc3 Nf6 4. Bg5 *",
    );
    // What comes before a word that cannot be read has entered; the rest stays.
    author.enter(browser, "Nf6 Qz9 e6");
    author.until(browser, "field().value === 'Qz9 e6' && at() === 'Nf3 Nf6'");
    let found = author.js(
        browser,
        "return [field().selectionStart, field().selectionEnd]",
    );
    assert_eq!(found, json!([0, 3]));
}

fn pasted(browser: &Browser) {
    let author = Author::writing(browser, "game.pgn", GAME);
    author.paste(browser, "1. d4 d5 2. c4 c6 3. Nf3 blah");
    author.until(browser, "desk().querySelector('.look').textContent.startsWith('5 moves: 2 new, 3 here already; 1 word unread: blah')");
    assert_eq!(author.text(), GAME, "it is only shown");
    author.js(browser, "desk().querySelector('.look button').click()");
    author.until_lesson(
        browser,
        "1. d4 d5 2. c4 e6 (2... Nf6 3. Nc3 e6) (2... c6 3. Nf3) 3. Nc3 Nf6 4. Bg5 *",
    );
}

fn sentences(browser: &Browser) {
    let author = Author::writing(browser, "game.pgn", GAME);
    author.js(browser, "line().go('2.c4')");
    author.paste(
        browser,
        "Here 2...c6 is solid; after 3.Nf3 Black has a free hand.",
    );
    author.until(browser, "desk().querySelector('.look').textContent.startsWith('2 moves named in these sentences, which stay out: 2 new, 0 here already')");
    author.js(browser, "desk().querySelector('.look button').click()");
    author.until_lesson(
        browser,
        "1. d4 d5 2. c4 e6 (2... Nf6 3. Nc3 e6) (2... c6 3. Nf3) 3. Nc3 Nf6 4. Bg5 *",
    );
}

fn low(browser: &Browser) {
    for (width, height) in [(1366, 650), (1280, 760), (390, 664)] {
        browser.size(Some([width, height]));
        let author = Author::open(browser, "game.pgn", GAME);
        author.js(browser, "scrollTo(0, 0); word('write').click()");
        author.until(
            browser,
            "(({ top, bottom }) => top >= 0 && bottom <= innerHeight)(field().getBoundingClientRect())",
        );
    }
}

fn several(browser: &Browser) {
    let text = "1. d4 d5 2. c4 e6 ({Sharper:} 2... Nf6 {gives up the centre.}) *\n";
    let author = Author::writing(browser, "game.pgn", text);
    author.js(browser, "line().go('2...Nf6')");
    author.press(browser, "comment");
    author.until(browser, "comment()?.value === 'gives up the centre.'");
    author.press(browser, "the other");
    author.until(browser, "comment()?.value === 'Sharper:'");
    browser.write_keys(" and");
    author.press(browser, "done");
    author.until_lesson(
        browser,
        "1. d4 d5 2. c4 e6 ({Sharper: and} 2... Nf6 {gives up the centre.}) *",
    );
}

fn same(browser: &Browser) {
    let author = Author::writing(browser, "game.pgn", GAME);
    author.js(browser, "line().go('3.Nc3 Nf6')");
    author.until(
        browser,
        "desk().querySelector('.same')?.textContent.includes('3...e6, line A')",
    );
    author.press(browser, "say so");
    author.until_lesson(
        browser,
        "1. d4 d5 2. c4 e6 (2... Nf6 3. Nc3 e6) 3. Nc3 Nf6 {This is the position after [3...e6](#1.d4_d5_2.c4_Nf6_3.Nc3_e6).} 4. Bg5 *",
    );
    author.until(browser, "desk().querySelector('.same') && !word('say so')");
    author.press(browser, "go there");
    author.until(browser, "at() === 'd4 d5 c4 Nf6 Nc3 e6'");
}

fn mended(browser: &Browser) {
    let author = Author::writing(
        browser,
        "game.pgn",
        "1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. cd5 exd5 *\n",
    );
    author.js(browser, "line().go('4.cxd5')");
    author.until(browser, "desk().querySelector('.finding')");
    author.press(browser, "mend");
    author.until_lesson(browser, "1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. cxd5 exd5 *");
}

fn unfinished(browser: &Browser) {
    let author = Author::writing(browser, "game.pgn", GAME);
    author.press(browser, "unfinished");
    author.until(
        browser,
        "at() === 'd4 d5 c4 Nf6 Nc3 e6' && said() === 'no reply to this move'",
    );
    author.press(browser, "unfinished");
    author.until(
        browser,
        "at().endsWith('Bg5') && said() === 'this line ends without a word'",
    );
}

fn clean(browser: &Browser) {
    let page = "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>A page</title><script src=\"plyline.js\"></script></head>\n\
        <body><main><h1>A page</h1><ply-line>\n<pre>\n1. d4 d5 2. c4 e6 (2... Nf6 3. Nc3 e6) 3. Nc3 Nf6 4. Bg5 *\n</pre>\n</ply-line></main></body></html>\n";
    let author = Author::open(browser, "page.html", page);
    for dark in [false, true] {
        browser.dark(dark);
        assert_clean(browser, "reading");
        author.press(browser, "write");
        author.js(browser, "line().go('3.Nc3 Nf6')");
        author.until(browser, "desk().querySelector('.same')");
        assert_clean(browser, "writing");
        author.press(browser, "sign");
        author.until(browser, "desk().querySelector('.signs')");
        assert_clean(browser, "signs");
        author.press(browser, "comment");
        author.until(browser, "comment()");
        assert_clean(browser, "a comment");
        author.press(browser, "done");
        author.enter(browser, "Nf9");
        author.until(browser, "said().includes('Nf9')");
        assert_clean(browser, "a slip");
        author.press(browser, "write");
        author.until(browser, "word('write').ariaPressed === 'false'");
    }
}

fn narrow(browser: &Browser) {
    let author = Author::open(browser, "game.pgn", GAME);
    browser.width(Some(320));
    author.press(browser, "write");
    author.js(browser, "line().go('3.Nc3 Nf6')");
    author.press(browser, "comment");
    author.until(browser, "comment()");
    let found = author.js(
        browser,
        "const wide = [...desk().querySelectorAll('button, input, textarea')].filter((it) => it.checkVisibility())
           .filter((it) => { const { left, right, width, height } = it.getBoundingClientRect(); return left < 0 || right > innerWidth + 1 || width < 23.9 || height < 23.9; });
         const board = inside('.board').getBoundingClientRect();
         return [wide.map((it) => it.textContent || it.localName), document.scrollingElement.scrollWidth <= innerWidth, board.height <= innerHeight * 0.42]",
    );
    assert_eq!(found, json!([[], true, true]));
}
