//! Walking through a lesson: the list of next moves, outline, map, several lessons in
//! one file, and what can be taken along.

use crate::board::assert_drawn;
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::browser::engine::Cap;
use crate::support::browser::keys::{ENTER, TAB};
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    InOne(
        "walking: a step touches two moves of the text and two marks of the map, and no other",
        touches_little,
    ),
    InOne(
        "walking: where one is, the outline tells by its label and nothing else does",
        outline,
    ),
    InOne(
        "walking: the map has one mark for each node, and a mark leads to its node",
        map_marks,
    ),
    Everywhere(
        "walking: the map tells read, unread and current apart by shape, and the way so far by weight",
        map_shapes,
    ),
    Everywhere(
        "walking: a word opens the map and closes it, and says which",
        map_opens,
    ),
    Everywhere(
        "walking: the lessons of one file are chosen from a list",
        games,
    ),
    Everywhere(
        "walking: position and lesson are copied, and the page says so",
        copying,
    ),
    Everywhere("walking: what cannot be copied is said", not_copied),
    Everywhere(
        "walking: the lesson is saved as a file that reads back the same",
        saving,
    ),
    Everywhere(
        "walking: what is typed stays open where moves come and go beside it",
        desk_stays,
    ),
    Everywhere("walking: a reader who wants less motion sees none", motion),
];

const LESSON: &str = "/the-pawn-that-is-not-free/";
pub const SMALL: &str = "<ply-line><pre>1. e4 e5 (1... c5 {sharp} 2. Nf3 (2. c3 {See [the other](#1.e4_e5).}) 2... d6) \
                     2. Nf3 *</pre></ply-line>";
const TWO: &str = "<ply-line><pre>[Event \"First &amp; last\"]\n\n1. e4 e5 (1... c5) *\n\n[Event \"Second\"]\n\n1. d4 d5 2. c4 *\n\n[Event \"?\"]\n\n1. c4 *</pre></ply-line>";

fn current_rows(browser: &Browser) -> Value {
    browser.js("return all('.outline [aria-current]').map((row) => row.querySelector('.label').textContent)")
}

fn outline(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    assert_eq!(
        current_rows(browser),
        json!([]),
        "the main line has no label"
    );
    for (locator, label) in [
        ("line A", "line A"),
        ("2.c3", "line A1"),
        ("2...d6", "line A"),
    ] {
        browser.js_with("line().go(given)", json!(locator));
        assert_eq!(current_rows(browser), json!([label]), "{locator}");
        let marked = browser.js(
            "return all('[aria-current=step]').map((at) => at.id === `m${line().current.node}`)",
        );
        assert_eq!(marked, json!([true]), "{locator}: one move of the text");
    }
    browser.click("return all('.outline button')[1]");
    assert_eq!(browser.js("return line().current.san"), "c3");
    browser.click("return button('top')");
    assert_eq!(current_rows(browser), json!([]));
}

fn map_marks(browser: &Browser) {
    browser.visit(LESSON);
    let counts = browser.js(
        "let nodes = 0;
         for (const todo = [0]; todo.length; nodes += 1) todo.push(...line().lesson.node(todo.pop()).children);
         const marks = all('.map circle');
         return [nodes, marks.length, new Set(marks.map((mark) => `${mark.getAttribute('cx')} ${mark.getAttribute('cy')}`)).size]",
    );
    assert_eq!(counts[0], counts[1], "one mark for each node");
    assert_eq!(counts[1], counts[2], "each in a place of its own");
    assert!(counts[0].as_u64() > Some(50), "{counts}");
    browser.js("inside('#k30').scrollIntoView({ block: 'center' })");
    browser.click("return inside('#k30')");
    assert_eq!(browser.js("return line().current.node"), 30);
    assert_drawn(browser, "free-pawn", false);
}

fn map_shapes(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    browser.js("line().go('2...d6'); line().back()");
    let classes = browser.js("return all('.map circle').map((mark) => mark.getAttribute('class'))");
    // Nodes: 1.e4 e5 1...c5 2.Nf3 2.c3 2...d6 2.Nf3; the jump skipped 1.e4.
    assert_eq!(classes[0], "read");
    let count = |class: &str| {
        let all = classes.as_array().into_iter().flatten();
        all.filter(|found| *found == class).count()
    };
    assert_eq!((count("now"), count("read"), count("new")), (1, 2, 5));
    // Hollow, full, and full and larger, whatever the colours are.
    let looks = browser.js(
        "const look = (name) => {
           const { fill, strokeWidth } = getComputedStyle(inside(`circle.${name}`));
           return [fill, parseFloat(strokeWidth)];
         };
         const [now, read, fresh] = ['now', 'read', 'new'].map(look);
         const stroke = getComputedStyle(inside('circle.new')).stroke;
         return [fresh[0] !== stroke, read[0] === getComputedStyle(inside('circle.read')).stroke,
           now[1] > 2 * read[1], parseFloat(getComputedStyle(inside('.way')).strokeWidth) > 1.5 * parseFloat(getComputedStyle(inside('.lines-of')).strokeWidth)]",
    );
    assert_eq!(looks, json!([true, true, true, true]));
    // 1.e4, c5, Nf3: three steps of the way.
    assert_eq!(
        browser.js("return inside('#way').getAttribute('d').split('M').length - 1"),
        3
    );
}

fn map_opens(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    let state = "return [button('map').getAttribute('aria-expanded'), all('.map').length]";
    assert_eq!(browser.js(state), json!(["true", 1]));
    browser.click("return button('map')");
    assert_eq!(browser.js(state), json!(["false", 0]));
    browser.press(ENTER);
    assert_eq!(browser.js(state), json!(["true", 1]));
    browser.width(Some(500));
    browser.show(SCRIPT, SMALL);
    assert_eq!(
        browser.js(state),
        json!(["false", 0]),
        "on a phone it waits"
    );
}

fn games(browser: &Browser) {
    browser.show(SCRIPT, TWO);
    let list = "return all('.games button').map((game) => [game.textContent, game.getAttribute('aria-current')])";
    assert_eq!(
        browser.js(list),
        json!([
            ["First & last", "true"],
            ["Second", null],
            ["Lesson 3", null]
        ])
    );
    browser.js("line().go('line A'); line().flip(); told.splice(0)");
    browser.click("return all('.games button')[1]");
    assert_eq!(
        browser.js("return told.map(({ type, detail }) => [type, detail.by ?? null])"),
        json!([["ply-ready", null], ["ply-moved", "reader"]]),
        "another lesson has been read"
    );
    assert_eq!(
        browser.js(list),
        json!([
            ["First & last", null],
            ["Second", "true"],
            ["Lesson 3", null]
        ])
    );
    assert_eq!(
        browser.js("return [line().current.node, line().lesson.tags.Event ?? line().lesson.tags[0]?.[1], all('.move').length, all('.outline').length]"),
        json!([0, "Second", 3, 0])
    );
    assert_drawn(browser, "lesson", false);
    assert_eq!(
        browser.js("return line().shadowRoot.activeElement?.dataset.game"),
        "2",
        "the focus stays in the list"
    );
    browser.press(TAB);
    browser.press(ENTER);
    assert_eq!(
        browser.js("return all('.move').map((move) => move.textContent)"),
        json!(["1.c4"])
    );
    browser.click("return button('next')");
    assert_eq!(browser.js("return line().current.san"), "c4");
}

/// Opens the part where moves are typed and things are taken along.
fn open_desk(browser: &Browser) {
    browser.click("return inside('[data-do=desk]')");
}

fn copying(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    browser.js("line().next()");
    open_desk(browser);
    // What the page gives to the browser; reading the clipboard itself needs a permission.
    browser.js(
        "window.taken = []; navigator.clipboard.writeText = async (text) => void taken.push(text)",
    );
    browser.click("return inside('[data-take=fen]')");
    super::hand::hears(browser, "Copied.");
    browser.click("return inside('[data-take=pgn]')");
    browser.until("taken.length === 2");
    let taken = browser.js("return taken.concat(line().current.fen, line().lesson.toPgn())");
    assert_eq!((&taken[0], &taken[1]), (&taken[2], &taken[3]));
    assert_eq!(
        browser.js("return line().shadowRoot.activeElement?.dataset.take"),
        "pgn",
        "the focus stays"
    );
    if browser.engine.can(Cap::Clipboard) {
        real_clipboard(browser);
    }
}

/// The browser's own clipboard, where a test is allowed to use it.
fn real_clipboard(browser: &Browser) {
    browser.allow_clipboard();
    browser.js("delete navigator.clipboard.writeText");
    browser.click("return inside('[data-take=fen]')");
    let text = browser.js(
        "for (let turn = 0; turn < 50 && !(await navigator.clipboard.readText()); turn += 1) await pause(20);
         return [await navigator.clipboard.readText(), line().current.fen]",
    );
    assert_eq!(text[0], text[1]);
}

fn not_copied(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    open_desk(browser);
    browser.js("navigator.clipboard.writeText = () => Promise.reject(new Error('no'))");
    browser.click("return inside('[data-take=fen]')");
    let fen = browser.js("return line().current.fen");
    let fen = fen.as_str().expect("a lesson has a position");
    super::hand::hears(
        browser,
        &format!("The browser did not allow copying. This is the position: {fen}"),
    );
}

fn saving(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    open_desk(browser);
    browser.js(
        "window.saved = [];
         HTMLAnchorElement.prototype.click = function () { saved.push([this.download, this.href, fetchless(this.href)]); };
         const blobs = new Map();
         const make = URL.createObjectURL.bind(URL);
         URL.createObjectURL = (blob) => { const href = make(blob); blobs.set(href, blob); return href; };
         window.fetchless = (href) => blobs.get(href)?.text()",
    );
    browser.click("return inside('[data-take=save]')");
    browser.until("saved.length === 1");
    let saved = browser.js(
        "const [name, href, text] = saved[0];
         const { lesson, findings } = await plyline.readLesson(await text);
         return [name, href.startsWith('blob:'), await text === line().lesson.toPgn(), lesson.toPgn() === line().lesson.toPgn(),
           findings.filter(({ severity }) => severity === 'error').length]",
    );
    assert_eq!(saved, json!(["lesson.pgn", true, true, true, 0]));
}

fn desk_stays(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    open_desk(browser);
    browser.js("inside('.typed').focus(); window.field = inside('.typed')");
    // To the branch point, where a list of moves appears before the field, and away from it.
    for (text, count) in [("e4", 2), ("e5", 0)] {
        browser.write_keys(text);
        browser.press(ENTER);
        assert_eq!(
            browser.js("return [Boolean(inside('.typed')), line().shadowRoot.activeElement === field, all('.next li').length, field.value]"),
            json!([true, true, count, ""]),
            "after {text}"
        );
    }
}

fn touches_little(browser: &Browser) {
    browser.visit(LESSON);
    let touched = browser.js(
        "line().go('7.Bd3'); line().go('7...O-O');
         for (let turn = 0; turn < 100 && !inside('[role=status]').textContent.includes('castles'); turn += 1) await pause(20);
         const changes = [];
         const watch = new MutationObserver((list) => changes.push(...list));
         watch.observe(line().shadowRoot, { subtree: true, childList: true, attributes: true, characterData: true });
         line().next();
         changes.push(...watch.takeRecords());
         watch.disconnect();
         const beside = changes.filter(({ target }) => !(target.nodeType === 1 ? target : target.parentElement).closest('figure'));
         const made = changes.flatMap(({ addedNodes }) => [...addedNodes]);
         return [beside.map(({ target }) => target.id), beside.filter(({ type }) => type === 'childList').length, made.length, changes.length]",
    );
    let ids = touched[0].as_array().into_iter().flatten();
    let mut ids: Vec<&str> = ids.filter_map(Value::as_str).collect();
    ids.sort_unstable();
    ids.dedup();
    let marks = browser.js("const { lesson, current: { node } } = line();
         const before = lesson.node(node).parent;
         return [`k${before}`, `k${node}`, `m${before}`, `m${node}`, 'way'].sort()");
    assert_eq!(json!(ids), marks);
    assert_eq!(touched[1], 0, "nothing comes or goes in the text");
    assert!(
        touched[2].as_u64() < Some(5),
        "a quiet move makes no pieces anew: {touched}"
    );
    assert!(touched[3].as_u64() < Some(60), "{touched}");
}

fn motion(browser: &Browser) {
    browser.show(SCRIPT, SMALL);
    let step = "window.runs = 0;
                const animate = Element.prototype.animate;
                Element.prototype.animate = function (...given) { runs += 1; return animate.apply(this, given); };
                // It begins before the next frame is painted.
                const frame = () => new Promise(requestAnimationFrame);
                for (const step of ['next', 'next', 'back']) { line()[step](); await frame(); }
                const moving = line().shadowRoot.getAnimations?.() ?? document.getAnimations();
                Element.prototype.animate = animate;
                return [runs, moving.length]";
    assert_eq!(browser.js(step)[0], 3, "a step slides its piece");
    browser.until(
        "document.getAnimations().length === 0 && line().shadowRoot.getAnimations().length === 0",
    );
    browser.less_motion();
    assert_eq!(browser.js(step), json!([0, 0]));
    let transitions = browser.js("return all('*').filter((element) => parseFloat(getComputedStyle(element).transitionDuration) > 0).length");
    assert_eq!(transitions, 0);
}
