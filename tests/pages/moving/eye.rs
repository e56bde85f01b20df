//! The board is where the eye is: at every size of a window, beside the article or at the window's edge.

use super::hand::hears;
use crate::harness::Case::{self, Everywhere};
use crate::seeing::sizes;
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    Everywhere(
        "at every size a move followed in an article shows its board, over no link that one would press next",
        followed,
    ),
    Everywhere(
        "at every size an address shows its board at once, and one that names nothing says so there",
        addressed,
    ),
    Everywhere(
        "at every size a square is pressed where it is drawn",
        squares,
    ),
    Everywhere(
        "in low windows a lesson's board and its move are in sight at every step",
        low,
    ),
    Everywhere(
        "with room in the margin the board is beside the article, and the lesson is as wide as that",
        beside,
    ),
    Everywhere(
        "what already is in the margin keeps the board out of it",
        taken,
    ),
    Everywhere(
        "no text moves when a page is opened or a move is followed",
        still,
    ),
    Everywhere(
        "the moves of one paragraph share an entry of the history",
        entry,
    ),
    Everywhere(
        "a word under the board copies the link to the position, or shows it",
        link,
    ),
];

const PAGE: &str = "/the-jump-that-must-wait/";
/// What the scripts below name.
const NAMES: &str = "const view = document.querySelector('iframe').contentWindow;
    const { document: page, innerWidth: width, innerHeight: height } = view;
    const lesson = page.querySelector('ply-line');
    const within = (selector) => lesson.shadowRoot.querySelector(selector);
    const box = (element) => element.getBoundingClientRect();
    const isIn = ({ left, right, top, bottom }) => left >= -1 && right <= width + 1 && top >= -1 && bottom <= height + 1;
    const meet = (one, other) => one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom;";

/// Opens a page in a frame of a size and waits until its article is read.
fn frame(browser: &Browser, size: [u32; 2], path: &str) {
    let is_read = "page?.querySelectorAll('p ply-ref a').length > 20 && page.querySelector('ply-line').current";
    sizes::frame(browser, size, path, is_read);
}

fn in_frame(browser: &Browser, script: &str) -> Value {
    browser.js(&format!("{NAMES} {script}"))
}

fn followed(browser: &Browser) {
    for size in sizes::sizes(browser) {
        frame(browser, size, PAGE);
        let wrong = in_frame(
            browser,
            "const wrong = [];
             const refs = [...page.querySelectorAll('p ply-ref')];
             for (const at of [0, 5, 9, 14, 20, refs.length - 1]) {
               const link = refs[at].querySelector('a');
               // What nears the view is drawn, and takes its room.
               for (let time = 0, top; time < 9 && (time < 2 || top !== box(link).top); time += 1) {
                 link.scrollIntoView({ block: 'center', behavior: 'instant' });
                 ({ top } = box(link));
                 await pause(200);
               }
               link.focus({ preventScroll: true });
               link.click();
               await pause(100);
               const margin = within('.margin');
               const says = (what) => wrong.push([at, link.textContent, what]);
               if (!isIn(box(within('.plate')))) says('the board is not in the window');
               if (page.activeElement !== link) says('the focus has gone');
               if (margin.matches(':popover-open') && box(margin).height > height * 0.4 + 1) says('the board is too high');
               const links = [...link.closest('p').querySelectorAll('a')];
               const next = links.slice(links.indexOf(link));
               const free = next.filter((other) => !meet(box(other), box(margin)));
               // What cannot be above the board with the link that was pressed is not, and then that is at the top.
               const top = link.getClientRects()[0].top;
               if (free.length < next.length && (top > 10 || free.length < Math.min(2, next.length))) says('a link is covered');
               if (!isIn(link.getClientRects()[0])) says('the link is not in sight');
             }
             return wrong",
        );
        assert_eq!(wrong, json!([]), "{size:?}");
    }
}

/// The parts of the picture that the squares take: its numbers and letters are beside them.
fn squares(browser: &Browser) {
    for size in sizes::sizes(browser) {
        frame(browser, size, &format!("{PAGE}#exchange/5.Bg5"));
        let wrong = in_frame(
            browser,
            "const wrong = [];
             // A caption of one line, of several, and with choices below it.
             for (const at of ['start', '5.Bg5', '4.cxd5 exd5']) {
               lesson.go(at);
               await painted();
               const [board, grid] = [box(within('.board')), box(within('.grid'))];
               const off = Math.abs(grid.height / board.height - 0.9377) + Math.abs(grid.width / board.width - 0.9429);
               if (off > 0.02) wrong.push([at, grid.height, board.height, grid.width, board.width]);
             }
             return wrong",
        );
        assert_eq!(wrong, json!([]), "{size:?}");
    }
}

fn addressed(browser: &Browser) {
    for size in sizes::sizes(browser) {
        frame(browser, size, &format!("{PAGE}#exchange/5.Bg5"));
        browser.js("await pause(200)");
        let seen = in_frame(
            browser,
            "return [lesson.current.san, isIn(box(within('.plate'))), isIn(box(within('[aria-current=step]')))]",
        );
        assert_eq!(seen, json!(["Bg5", true, true]), "{size:?}");
        frame(browser, size, &format!("{PAGE}#exchange/99.Qh5"));
        browser.js("await pause(200)");
        let said = in_frame(
            browser,
            "const said = within('.notice [role=status]');
             return [said.textContent, isIn(box(within('.plate'))), isIn(box(said)), view.location.hash]",
        );
        assert_eq!(
            said,
            json!([
                "The address names \u{201c}99.Qh5\u{201d}, which is no place in this lesson.",
                true,
                true,
                "#exchange/99.Qh5"
            ]),
            "{size:?}"
        );
    }
}

fn low(browser: &Browser) {
    for size in [[320, 450], [640, 450], [375, 553], [320, 640], [844, 390]] {
        frame(browser, size, &format!("{PAGE}#exchange/5.Bg5"));
        browser.js("await pause(200)");
        let wrong = in_frame(
            browser,
            "const wrong = [];
             for (let step = 0; step < 8; step += 1) {
               within('[data-do=next]').click();
               await pause(50);
               const [board, move] = [box(within('.plate')), box(within('[aria-current=step]'))];
               if (!isIn(board) || !isIn(move) || meet(move, box(within('.margin')))) wrong.push([lesson.current.san, board.top, move.top]);
             }
             return wrong",
        );
        assert_eq!(wrong, json!([]), "{size:?}");
    }
}

fn beside(browser: &Browser) {
    let mut boards = Vec::new();
    for size in [[1024, 640], [1280, 900], [1920, 1080]] {
        frame(browser, size, PAGE);
        browser.until(
            "document.querySelector('iframe').contentDocument.querySelector('ply-line').shadowRoot",
        );
        let found = in_frame(
            browser,
            "const paragraph = page.querySelector('ply-ref').closest('p');
             const [text, lines, board] = [box(paragraph), box(within('.lines')), box(within('.plate'))];
             const begins = Math.abs(board.top - text.top) < 20;
             const last = page.querySelectorAll('p ply-ref a')[16];
             last.scrollIntoView({ block: 'center', behavior: 'instant' });
             last.click();
             await pause(100);
             const before = view.scrollY;
             within('[data-do=back]').click();
             await pause(100);
             return [board.width, [begins, board.left >= text.right, Math.abs(lines.width - text.width) < 1, view.scrollY === before,
               isIn(box(within('.plate'))), within('.margin').popover, page.scrollingElement.scrollWidth <= width]]",
        );
        assert_eq!(
            found[1],
            json!([true, true, true, true, true, null, true]),
            "{size:?}"
        );
        boards.push(found[0].as_f64().unwrap_or_default());
    }
    assert!(boards.is_sorted() && boards[2] > 430.0, "{boards:?}");
}

fn taken(browser: &Browser) {
    let body = |more: &str| {
        format!(
            "<article><p>Take 4.cxd5 at once.</p>{more}<ply-line id=\"lesson\"><pre>[Prose \"yes\"]\n\n1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. cxd5 *</pre></ply-line></article>"
        )
    };
    let sheet = "article { width: 600px; position: relative } aside { position: absolute; left: 640px; top: 0; width: 300px }";
    let head = crate::hosting::hosts::with_sheet(browser, sheet);
    let is_beside = "return inside('.margin').getBoundingClientRect().top < line().getBoundingClientRect().top - 20";
    for (more, wanted) in [
        ("", true),
        (
            "<aside><p>A note in the margin.</p><p>And more of it, line for line, as long as the text beside it.</p></aside>",
            false,
        ),
    ] {
        browser.show(&head, &body(more));
        browser.until("document.querySelector('ply-ref a') && line().made");
        browser.js("await pause(100)");
        assert_eq!(browser.js(is_beside), wanted, "{more}");
    }
}

fn still(browser: &Browser) {
    if browser.js("return PerformanceObserver.supportedEntryTypes.includes('layout-shift')") != true
    {
        return; // the engine does not measure it
    }
    for size in sizes::sizes(browser) {
        for path in [PAGE.to_owned(), format!("{PAGE}#exchange/5.Bg5")] {
            frame(browser, size, &path);
            let shifts = in_frame(
                browser,
                "const link = page.querySelectorAll('p ply-ref a')[9];
                 if (!view.location.hash) {
                   link.scrollIntoView({ block: 'center', behavior: 'instant' });
                   await pause(50);
                   link.click();
                 }
                 await pause(200);
                 const shifts = [];
                 new view.PerformanceObserver((list) => shifts.push(...list.getEntries())).observe({ type: 'layout-shift', buffered: true });
                 await pause(100);
                 return shifts.map(({ value, sources }) => [value, ...sources.map(({ node }) => node?.className || node?.localName || node?.data)])",
            );
            assert_eq!(shifts, json!([]), "{size:?} {path}");
        }
    }
}

const LESSON: &str =
    "<ply-line id=\"lesson\"><pre>1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. Bg5 Be7 *</pre></ply-line>";

fn entry(browser: &Browser) {
    browser.show(
        SCRIPT,
        &format!(
            "{LESSON}<ply-prose><p>First 2.c4, then 3.Nc3 Nf6.</p><p>At last 4.Bg5.</p></ply-prose>"
        ),
    );
    browser.until("document.querySelectorAll('ply-ref a').length === 4");
    let mut count = browser.js("return entries").as_u64().unwrap_or_default();
    for (at, makes_one, address) in [
        (0, true, "2.c4"),
        (1, false, "3.Nc3"),
        (2, false, "3...Nf6"),
        (3, true, "4.Bg5"),
        (0, true, "2.c4"),
    ] {
        browser.click(&format!(
            "return document.querySelectorAll('ply-ref a')[{at}]"
        ));
        browser.until(&format!("location.hash === '#lesson/{address}'"));
        browser.js("await pause(600)");
        count += u64::from(makes_one);
        assert_eq!(browser.js("return entries"), count, "{address}");
    }
    browser.js("history.back()");
    browser.until("line('lesson').current.san === 'Bg5'");
    browser.js("history.back()");
    browser.until("line('lesson').current.san === 'Nf6'");
    // What is followed after that is an entry of its own.
    browser.click("return document.querySelectorAll('ply-ref a')[0]");
    browser.until("location.hash === '#lesson/2.c4'");
    browser.js("history.back()");
    browser.until("line('lesson').current.san === 'Nf6'");
}

fn link(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    browser.js("line().go('3.Nc3'); navigator.clipboard.writeText = async (text) => { window.copied = text }");
    browser.click("return inside('[data-take=link]')");
    hears(browser, "Copied.");
    let address = browser.js("return location.href.replace(/#.*/, '') + '#lesson/3.Nc3'");
    assert_eq!(browser.js("return copied"), address);
    browser.js("navigator.clipboard.writeText = () => Promise.reject(new Error('no'))");
    browser.click("return inside('[data-take=link]')");
    let address = address.as_str().unwrap_or_default();
    hears(
        browser,
        &format!("The browser did not allow copying. This is the link: {address}"),
    );
}
