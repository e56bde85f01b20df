//! At seven sizes of a window: what one would press next is whole, uncovered and large enough, the
//! page is no wider than its window, and nothing moves where the reader is. The board beside an
//! article is in moving/eye.rs.

use crate::harness::Case::{self, Everywhere, InOne};
use crate::hosting::hosts::never_at_rest;
use crate::support::browser::Browser;
use crate::support::browser::engine::Engine;
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    Everywhere(
        "at every size the main line alone is a press away, and the control stays where it was pressed",
        alone,
    ),
    Everywhere(
        "at every size lessons are drawn at rest, and nothing moves where the reader is",
        at_rest,
    ),
    InOne(
        "at every size a recall has its board and its controls whole and in sight, move after move",
        recall,
    ),
    Everywhere(
        "at every size Back returns a lesson to its move, and the reader's line stays where it was",
        history,
    ),
];

const SIZES: [[u32; 2]; 7] = [
    [320, 450],
    [390, 664],
    [390, 844],
    [640, 450],
    [1024, 640],
    [1280, 900],
    [1920, 1080],
];

/// All of them in Chromium; every second one in the others, because a layout that fits in one engine at a size between
/// seldom fails in another.
pub fn sizes(browser: &Browser) -> impl Iterator<Item = [u32; 2]> {
    let step = if browser.engine == Engine::Chromium {
        1
    } else {
        2
    };
    SIZES.into_iter().step_by(step)
}

/// What the scripts below name. `unfit` says of controls which cannot be pressed as they are: a
/// word in a line of text may be lower than 24 pixels, a control of its own may not.
const NAMES: &str = "const view = document.querySelector('iframe').contentWindow;
    const { document: page, innerWidth: width, innerHeight: height } = view;
    const lesson = page.querySelector('ply-line, ply-recall');
    const within = (selector, from = lesson) => from.shadowRoot.querySelector(selector);
    const each = (selector, from = lesson) => [...from.shadowRoot.querySelectorAll(selector)].filter(visible);
    const box = (element) => element.getBoundingClientRect();
    const isIn = ({ left, right, top, bottom }) => left >= -1 && right <= width + 1 && top >= -1 && bottom <= height + 1;
    const isWide = () => page.scrollingElement.scrollWidth > width;
    const unfit = (elements) => elements.flatMap((element) => {
      const { left, top, width: wide, height: high } = box(element);
      const met = element.getRootNode().elementFromPoint(left + wide / 2, top + high / 2);
      const name = element.textContent.trim() || element.outerHTML;
      return [
        ...(isIn(box(element)) ? [] : [`${name}: not in the window`]),
        ...(element.contains(met) ? [] : [`${name}: covered`]),
        ...(wide >= 23.9 && high >= 23.9 ? [] : [`${name}: ${wide} by ${high}`]),
      ];
    });";

/// Opens a page in a frame of a size, which no engine refuses, and waits until this is true in it.
pub fn frame(browser: &Browser, [width, height]: [u32; 2], path: &str, until: &str) {
    let around = browser.write(
        "",
        &format!("<iframe title=\"a\" width={width} height={height} frameborder=0></iframe>"),
    );
    browser.allow("Layout was forced"); // Firefox, of a page that is asked while it loads
    browser.open(&around);
    browser.js_with(
        "document.querySelector('iframe').src = given",
        Value::from(path),
    );
    browser.until(&format!(
        "(({{ contentDocument: page }}) => {until})(document.querySelector('iframe'))"
    ));
    browser.js("await pause(100)");
}

fn in_frame(browser: &Browser, script: &str) -> Value {
    browser.js(&format!("{NAMES} {script}"))
}

const JUMP: &str = "/the-jump-that-must-wait/#exchange/5.Bg5";

fn alone(browser: &Browser) {
    for size in sizes(browser) {
        frame(
            browser,
            size,
            JUMP,
            "page.querySelector('ply-line')?.made > 0 && page.defaultView.scrollY > 0",
        );
        let found = in_frame(
            browser,
            "const wrong = [];
             await pause(200); // the scrolling to the linked place has ended
             const control = () => within('[data-do=alone]');
             control().scrollIntoView({ block: 'center', behavior: 'instant' });
             await pause(100);
             // On a phone it begins alone.
             const count = () => each('.lines > .sides').length;
             const began = count() > 0;
             for (const isAlone of [began, !began]) {
               wrong.push(...unfit([control()]));
               const { top } = box(control());
               control().click();
               await pause(50);
               if (Math.abs(box(control()).top - top) > 1) wrong.push(`${isAlone}: the control moved by ${box(control()).top - top}`);
               wrong.push(...unfit([control()]));
               if (count() > 0 === isAlone) wrong.push(`${isAlone}: ${count()} lists of lines`);
               if (isWide()) wrong.push(`${isAlone}: wider than the window`);
             }
             return [...wrong, ...(lesson.current.san === 'Bg5' ? [] : [lesson.current.san])]",
        );
        assert_eq!(found, json!([]), "{size:?}");
    }
}

fn at_rest(browser: &Browser) {
    let lesson = "<ply-line><pre>1. d4 d5 2. c4 e6 (2... c6 {Solid, and no bishop is shut in.} 3. Nf3) 3. Nc3 Nf6 *</pre></ply-line>";
    let part = format!(
        "<p>{}</p>{lesson}",
        "Some words before a lesson. ".repeat(200)
    );
    let path = browser.write(&never_at_rest(browser, ""), &part.repeat(9));
    for size in sizes(browser) {
        frame(
            browser,
            size,
            &path,
            "page.querySelectorAll('ply-line:defined').length === 9",
        );
        let found = in_frame(
            browser,
            "const [lines, texts] = ['ply-line', 'p'].map((name) => [...page.querySelectorAll(name)]);
             const reads = texts[5];
             for (let time = 0, top; time < 9 && (time < 3 || top !== box(reads).top); time += 1) {
               reads.scrollIntoView({ block: 'start', behavior: 'instant' });
               ({ top } = box(reads));
               await pause(60);
             }
             const undrawn = lines.filter((line) => line.made === null).length;
             const before = box(reads).top;
             const wrong = [];
             for (let turn = 0; turn < 40 && lines.some((line) => line.made === null); turn += 1) {
               view.rest?.();
               await pause(5);
               if (Math.abs(box(reads).top - before) > 1) wrong.push(`the text moved by ${box(reads).top - before}`);
             }
             await painted();
             if (Math.abs(box(reads).top - before) > 1) wrong.push('the text moved at last');
             if (isWide()) wrong.push('wider than the window');
             return [wrong, undrawn > 0, lines.filter((line) => line.made === null).length]",
        );
        assert_eq!(found, json!([[], true, 0]), "{size:?}");
    }
}

fn recall(browser: &Browser) {
    let body = "<p>Some words before it.</p><ply-recall side=\"white\"><pre>1. d4 d5 2. c4 e6 3. Nc3 {The knight looks at @d5.} Nf6 4. Bg5 {The pin.} *</pre></ply-recall><p>And after it.</p>";
    let path = browser.write(SCRIPT, body);
    for size in sizes(browser) {
        frame(
            browser,
            size,
            &path,
            "page.querySelector('ply-recall')?.made > 0",
        );
        let found = in_frame(
            browser,
            "const wrong = [];
             const controls = () => each('.try button, .try a');
             within('[data-take=begin]').scrollIntoView({ block: 'center', behavior: 'instant' });
             await pause(50);
             wrong.push(...unfit([within('[data-take=begin]')]));
             within('[data-take=begin]').click();
             within('.plate').scrollIntoView({ block: 'nearest', behavior: 'instant' });
             await pause(50);
             for (const [from, to] of [['d2', 'd4'], ['c2', 'c4'], ['b1', 'c3']]) {
               const squares = [from, to].map((name) => within(`[data-square=${name}]`));
               // In a low window the board is smaller, so that what is answered is in sight (css/quiz.css).
               const isLow = height < 608;
               wrong.push(...unfit(squares).filter((what) => !isLow || !/: 19.* by 19/.test(what)));
               const { top } = box(within('.plate'));
               squares.forEach((square) => square.click());
               await pause(50);
               if (Math.abs(box(within('.plate')).top - top) > 1) wrong.push(`${to}: the board moved by ${box(within('.plate')).top - top}`);
               for (const control of controls()) {
                 control.scrollIntoView({ block: 'nearest', behavior: 'instant' });
                 wrong.push(...unfit([control]).map((what) => `${to}: ${what}`));
               }
               within('.plate').scrollIntoView({ block: 'nearest', behavior: 'instant' });
               if (isWide()) wrong.push(`${to}: wider than the window`);
             }
             return [wrong, lesson.current.moves]",
        );
        assert_eq!(
            found,
            json!([[], ["d4", "d5", "c4", "e6", "Nc3", "Nf6"]]),
            "{size:?}"
        );
    }
}

fn history(browser: &Browser) {
    let drawn = "page.querySelector('ply-line')?.made > 0 && page.querySelectorAll('p ply-ref a').length > 20";
    for size in sizes(browser) {
        frame(browser, size, JUMP, drawn);
        let found = in_frame(
            browser,
            "const wrong = [];
             const links = [...page.querySelectorAll('p ply-ref a')];
             const until = async (wanted) => {
               for (let time = 0; time < 100 && lesson.current.san !== wanted; time += 1) await pause(20);
               if (lesson.current.san !== wanted) wrong.push(`${lesson.current.san}, not ${wanted}`);
             };
             const link = links[9];
             for (let time = 0, top; time < 9 && (time < 2 || top !== box(link).top); time += 1) {
               link.scrollIntoView({ block: 'center', behavior: 'instant' });
               ({ top } = box(link));
               await pause(100);
             }
             const before = box(link).top;
             link.click();
             await pause(100);
             const { san } = lesson.current;
             if (san === 'Bg5' || !view.location.hash.startsWith('#exchange/')) wrong.push(view.location.hash);
             // A low window has moved the line for the board above it; Back returns to where it was pressed.
             const after = box(link).top;
             const stays = (what, top) => Math.abs(box(link).top - top) > 1 && wrong.push(`${what}: the line moved by ${box(link).top - top}`);
             view.history.back();
             await until('Bg5');
             await pause(100);
             stays('Back', before);
             view.history.forward();
             await until(san);
             await pause(100);
             stays('Forward', after);
             if (!isIn(box(link))) wrong.push('the link is not in sight');
             if (isWide()) wrong.push('wider than the window');
             return wrong",
        );
        assert_eq!(found, json!([]), "{size:?}");
    }
}
