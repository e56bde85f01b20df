//! A trap ends the core's one instance; it must fail one lesson and no more.

use crate::board::assert_drawn;
use crate::harness::Case::{self, Everywhere};
use crate::support::browser::Browser;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "a trap in one lesson leaves the others where they were, and they can be stepped",
        stepping,
    ),
    Everywhere(
        "a trap while a lesson is drawn costs that lesson only",
        drawing,
    ),
    Everywhere(
        "a lesson that is away while another traps goes on when it is put back",
        away,
    ),
    Everywhere("lessons that come after a trap are drawn", after),
    Everywhere(
        "after a trap in one lesson the others keep what was opened, folded and tried",
        opened,
    ),
    Everywhere(
        "after a trap in a lesson a recall goes on in the midst of its walk",
        recalled,
    ),
];

const BODY: &str = "<ply-line id=\"a\"><pre>1. d4 d5 2. c4 e6 *</pre></ply-line>
                    <ply-line id=\"b\"><pre>1. e4 e5 2. Nf3 Nc6 *</pre></ply-line>
                    <ply-line id=\"c\"><pre>1. c4 c5 (1... e5 2. g3) 2. Nc3 *</pre></ply-line>";
const HEAD: &str =
    "<script src=\"/trap.js\"></script>\n<script defer src=\"/plyline.js\"></script>";
const ARMED: &str = "<script src=\"/trap.js\"></script>\n<script src=\"/armed.js\"></script>\n\
                     <script defer src=\"/plyline.js\"></script>";

/// The lesson says that it cannot go on, and shows what was written.
#[track_caller]
fn assert_failed(browser: &Browser, id: &str) {
    let shown = browser.js_with(
        "const element = line(given);
         const words = [...element.shadowRoot.children].filter((part) => part.localName !== 'slot' && visible(part));
         return { said: words.map((part) => part.textContent).join('').length > 20,
           readable: visible(element.querySelector('pre')), board: all('svg', given).length,
           state: [element.current, element.lesson, element.findings, element.next(), element.go(1), element.flip()],
           told: told.filter((event) => event.id === given && event.type === 'ply-failed').map(({ detail }) => detail.reason) }",
        json!(id),
    );
    assert_eq!(
        shown,
        json!({ "said": true, "readable": true, "board": 0, "state": [null, null, [], false, false, false], "told": ["core"] })
    );
}

fn stepping(browser: &Browser) {
    browser.expect("plyline b: ");
    browser.show(HEAD, BODY);
    browser.js("line('a').go(3); line('a').flip(); line('c').go('line A'); told.splice(0)");
    browser.js(
        "window.seen = { a: line('a').shadowRoot.firstElementChild, next: button('next', 'c') }",
    );
    browser.js("trap.armed = true");
    browser.click("return button('next', 'b')");
    assert_eq!(
        browser.js("return [trap.armed, trap.made]"),
        json!([false, 2]),
        "it has trapped, and a new instance is there"
    );
    assert_failed(browser, "b");
    let places = "return ['a', 'c'].map((id) => [line(id).current.node, line(id).current.san])";
    assert_eq!(browser.js(places), json!([[3, "c4"], [3, "e5"]]));
    assert_drawn(browser, "a", true);
    assert_drawn(browser, "c", false);
    assert_eq!(
        browser.js("return told.map(({ type, id }) => [type, id])"),
        json!([["ply-failed", "b"]])
    );
    let kept = "return [window.seen.a === line('a').shadowRoot.firstElementChild, window.seen.next === button('next', 'c')]";
    assert_eq!(
        browser.js(kept),
        json!([true, true]),
        "their nodes were taken over"
    );
    browser.click("return button('next', 'a')");
    browser.click("return button('next', 'c')");
    assert_eq!(browser.js(places), json!([[4, "e6"], [4, "g3"]]));
    assert_drawn(browser, "a", true);
    assert_drawn(browser, "c", false);
    assert_eq!(
        browser.js("return line('c').lesson.find('line A')"),
        3,
        "a lesson asked for anew"
    );
}

fn drawing(browser: &Browser) {
    browser.expect("plyline a: ");
    browser.show(ARMED, BODY);
    assert_eq!(
        browser.js("return [trap.armed, trap.made]"),
        json!([false, 2])
    );
    assert_failed(browser, "a");
    for id in ["b", "c"] {
        browser.click(&format!("return button('next', '{id}')"));
        assert_drawn(browser, id, false);
    }
    assert_eq!(
        browser.js("return ['b', 'c'].map((id) => line(id).current.node)"),
        json!([1, 1])
    );
}

fn away(browser: &Browser) {
    browser.expect("plyline b: ");
    browser.show(HEAD, BODY);
    browser.js("const element = line('c');
         element.go(2);
         element.flip();
         const parent = element.parentElement;
         element.remove();
         trap.armed = true;
         line('b').next();
         parent.append(element)");
    assert_failed(browser, "b");
    assert_eq!(browser.js("return line('c').current?.node"), 2);
    assert_drawn(browser, "c", true);
    browser.click("return button('next', 'c')");
    assert_eq!(browser.js("return line('c').current.san"), "Nc3");
    assert_drawn(browser, "a", false);
}

fn after(browser: &Browser) {
    browser.expect("plyline a: ");
    browser.show(HEAD, BODY);
    browser.js("trap.armed = true; line('a').next()");
    assert_failed(browser, "a");
    let made = browser.js("const element = document.createElement('ply-line');
         element.id = 'new';
         element.text = '1. b3 d5 *';
         document.querySelector('main').append(element);
         await drawn(element);
         const read = await plyline.readLesson('1. e4 *');
         return [element.next(), element.current.san, read.lesson.node(1).san, trap.made]");
    assert_eq!(made, json!([true, "b3", "e4", 2]));
    assert_drawn(browser, "new", false);
    // A new text is a new lesson, also where the old one could not go on.
    browser.js("line('a').text = '1. f4 *'; await pause(0); for (let wait = 0; wait < 50 && !line('a').current; wait += 1) await pause(20)");
    assert_drawn(browser, "a", false);
}

fn opened(browser: &Browser) {
    browser.expect("plyline b: ");
    let asks = "<ply-line id=\"asks\"><pre>1. e4 {Ask: And now?} e5! (1... c5 2. Nf3) \
                2. Nf3 {Ask: And here?} Nc6! 3. Bb5 *</pre></ply-line>\n\
                <ply-quiz id=\"quiz\" at=\"1...d5\"><pre>1. d4 d5 2. c4! *</pre><p>What now?</p></ply-quiz>";
    browser.show(HEAD, &format!("{BODY}\n{asks}"));
    browser.js("const asks = line('asks');
         asks.go('2...Nc6');
         inside('[data-fold]', 'asks').click();
         asks.go(0); asks.play('a3');
         line('quiz').show()");
    let shown =
        "return [line('asks').current, all('p:not([role])', 'asks').map(({ textContent }) => textContent),
                   all('.folded', 'asks').length, line('quiz').state, line('quiz').current.moves]";
    let before = browser.js(shown);
    assert_eq!(before[0]["aside"], json!(["a3"]));
    assert_eq!((&before[2], &before[3]), (&json!(1), &json!("settled")));
    browser.js("trap.armed = true");
    browser.click("return button('next', 'b')");
    assert_failed(browser, "b");
    assert_eq!(browser.js(shown), before);
    browser.js("line('asks').back()");
    assert_drawn(browser, "asks", false);
}

fn recalled(browser: &Browser) {
    browser.expect("plyline b: ");
    let recall = "<ply-recall id=\"r\" for=\"a\"></ply-recall>";
    browser.show(HEAD, &format!("{BODY}\n{recall}"));
    browser.js("await drawn(line('r'));
         inside('[data-take=begin]', 'r').click();
         line('r').play('d4')");
    let place = "return [line('r').current.moves, inside('[role=status]', 'r').textContent]";
    let before = browser.js(place);
    assert_eq!(before[0], json!(["d4", "d5"]));
    browser.js("trap.armed = true");
    browser.click("return button('next', 'b')");
    assert_failed(browser, "b");
    assert_eq!(browser.js(place)[0], before[0]);
    let ended = "line('r').play('c4');
         const { positions, waiting } = line('r').progress;
         return [line('r').current.moves, positions, waiting, Boolean(inside('[data-take=begin]', 'r'))]";
    assert_eq!(
        browser.js(ended),
        json!([["d4", "d5", "c4", "e6"], 2, 2, true]),
        "what was recalled before the trap counts"
    );
}
