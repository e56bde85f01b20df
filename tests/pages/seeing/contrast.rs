//! Contrast by the formula of WCAG 2.2, computed here from the colours that the browser uses,
//! for pages of several papers and inks: 4.5 for text (success criterion 1.4.3), and for the small
//! corners at the last move; 3 for what else is drawn (1.4.11).

use crate::harness::Case::{self, Everywhere, InOne};
use crate::hosting::hosts::with_sheet;
use crate::support::browser::Browser;
use serde::Deserialize;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "on white paper everything can be told from its ground",
        white,
    ),
    Everywhere(
        "on cream paper everything can be told from its ground",
        cream,
    ),
    Everywhere("on dark paper everything can be told from its ground", dark),
    Everywhere(
        "on black paper everything can be told from its ground",
        black,
    ),
    Everywhere(
        "on a page for both schemes everything can be told from its ground",
        both,
    ),
    Everywhere(
        "dark squares are the darker ones, and a1 is one, on light and dark pages",
        squares,
    ),
    InOne(
        "marks are a light coral on dark pages, wider than their edges, and dark without an edge on light ones",
        marks,
    ),
    Everywhere(
        "in forced colours pieces, squares, signs and focus can still be told apart",
        forced,
    ),
    Everywhere(
        "in forced colours only the current move is framed",
        forced_moves,
    ),
];

const TEXT: f64 = 4.5;
const DRAWN: f64 = 3.0;

/// Every sign on one board, quiet words, labels, a notice, a choice, unread words, the map.
const LESSON: &str = "<ply-line id=\"lesson\" data-plyline=\"debug\"><pre>1. d4 {Choose: this, and [look](#1.d4).} d5 \
    2. c4 {Marks @e4 @!c5 @?d5 and @b1-c3 @!g1-f3 @?d1-a4.} e6 (2... dxc4 {takes the pawn} 3. e4) 3. Nc3 Nd9 *</pre></ply-line>";

/// Something to be seen on its background: a name, how much contrast it needs, and both colours as
/// they come out over the paper.
#[derive(Deserialize)]
struct Pair {
    what: String,
    is_text: bool,
    fore: [u8; 3],
    back: [u8; 3],
}

/// Relative luminance, WCAG 2.2.
fn luminance(color: [u8; 3]) -> f64 {
    let [red, green, blue] = color.map(|channel| {
        let part = f64::from(channel) / 255.0;
        match part <= 0.04045 {
            true => part / 12.92,
            false => ((part + 0.055) / 1.055).powf(2.4),
        }
    });
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// Contrast ratio, WCAG 2.2.
fn ratio(one: [u8; 3], other: [u8; 3]) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

/// Everything of a question or a recall that has a colour of its own.
const QUESTIONS: &str = "<ply-line id=\"asks\"><pre>1. d4 {Choose: always.} d5 {Ask: What is asked of d5? Hint: A pawn. Because: c4.} \
    2. c4 e6 (2... c6 {Solid.} 3. Nf3) 3. Nc3 (3. Nf3 {Sound too.}) *</pre></ply-line>
    <ply-quiz id=\"quiz\" for=\"asks\" at=\"2.c4\"></ply-quiz><ply-recall id=\"recall\" for=\"asks\" side=\"white\" remember></ply-recall>";

/// Colours are laid over each other on a canvas, which knows every way of writing them.
const COLOURS: &str = "const canvas = Object.assign(document.createElement('canvas'), { width: 1, height: 1 }).getContext('2d', { willReadFrequently: true });
    const mix = (...colors) => {
      for (const color of ['white', ...colors]) { canvas.fillStyle = '#f0f'; canvas.fillStyle = color; canvas.fillRect(0, 0, 1, 1); }
      return [...canvas.getImageData(0, 0, 1, 1).data].slice(0, 3);
    };
    const style = (selector, id) => { if (!inside(selector, id)) throw Error(`no ${selector}`); return getComputedStyle(inside(selector, id)); };
    const page = ['html', 'body'].map((name) => getComputedStyle(document.querySelector(name)).backgroundColor);
    const paper = given ? [given] : page;
    const pairs = [];
    const add = (what, is_text, fore, back, under = back) => pairs.push({ what, is_text, fore: mix(...under, fore), back: mix(...back) });";

/// Of a lesson. Pieces are drawn by reference, so their ink is read from a piece's own strokes
/// beside them.
const PAIRS: &str = "button('top').setAttribute('aria-disabled', 'true'); // as at the start
    const light = [...paper, style('.light').fill];
    const dark = [...light, style('.dark').fill];
    const texts = { text: '.lines p:not(.main)', moves: '.move', 'quiet words': '.outline .words', labels: '.outline .label', 'labels of sidelines': '.sides .label',
      'words of marks': '.mark', links: '.to', caption: 'figcaption', controls: '[data-do=turn]', 'controls that do nothing': '[aria-disabled=true]',
      'next moves': '.next b', 'words of next moves': '.next .words', desk: '[data-do=desk]', 'what is typed': '.typed', notice: '.notice', unread: '.unread', notes: '.notes li' };
    for (const [what, selector] of Object.entries(texts)) add(what, true, style(selector).color, paper);
    add('coordinates', true, style('.names').fill, paper);
    add('frame', false, style('.frame').stroke, paper);
    add('frame of the current move', false, style('.move[aria-current]').borderTopColor, paper);
    add('words of a choice', true, style('.choice em').color, paper);
    add('edge of the field', false, style('.typed').borderTopColor, paper);
    add('marks of the map', false, style('.map circle.new').stroke, paper);
    add('lines of the map', false, style('.lines-of').stroke, paper);
    add('arcs of the map', false, style('.arcs').stroke, paper);
    add('the way on the map', false, style('.way').stroke, paper);
    add('the place on the map', false, style('.now').fill, paper);
    button('next').focus({ focusVisible: true });
    add('focus', false, getComputedStyle(button('next')).outlineColor, paper);
    const cell = inside('[data-square=e4]');
    cell.focus({ focusVisible: true });
    const svg = (name, kind) => { const made = document.createElementNS('http://www.w3.org/2000/svg', name); made.setAttribute('class', kind); return made; };
    const piece = (side) => {
      const group = svg('g', side);
      const parts = Object.fromEntries(['b', 'd', 'e'].map((kind) => [kind, svg('path', kind)]));
      group.append(...Object.values(parts));
      inside('.board').append(group);
      const { fill: body, stroke: outline } = getComputedStyle(parts.b);
      const found = { body, outline, line: getComputedStyle(parts.d).stroke, spot: getComputedStyle(parts.e).fill };
      group.remove();
      return found;
    };
    const [white, black] = [piece('w'), piece('s')];
    for (const [name, square] of [['light', light], ['dark', dark]]) {
      add(`white pieces' outline on ${name} squares`, false, white.outline, square);
      add(`black pieces on ${name} squares`, false, black.body, square);
      add(`last on ${name} squares`, true, style('.last').stroke, square);
      // What is drawn in a light accent has a dark edge: that is told from the square, and the accent from it.
      const edge = style('.edge').stroke;
      const has_edge = mix('white', edge).join() !== mix('white').join();
      if (has_edge) add(`edges on ${name} squares`, false, edge, square);
      const ground = has_edge ? [...square, edge] : square;
      for (const sign of ['check', 'held', 'reach', 'ring', 'shaft']) add(`${sign} on ${name} squares`, false, style(`.${sign}`).stroke, ground);
      add(`arrows on ${name} squares`, false, style('.arrow').fill, ground);
      add(`focus on ${name} squares`, false, getComputedStyle(cell).outlineColor, square);
    }
    add('white pieces and black pieces', false, white.body, [black.body]);
    for (const [name, { body, line, spot }] of Object.entries({ white, black })) {
      add(`lines in ${name} pieces`, false, line, [body]);
      add(`spots in ${name} pieces`, false, spot, [body]);
    }
    return pairs";

/// Of questions and recalls, in the states in which they can be seen.
const ASKED: &str = "const texts = (of, id, selectors) => {
      for (const [what, selector] of Object.entries(selectors)) add(`${what} ${of}`, true, style(selector, id).color, paper);
    };
    const row = { 'your move': '.try span', 'a word': '.try button' };
    const said = { 'what is said': '.notice p', 'close': '.notice button' };
    line('asks').go('1...d5');
    texts('of a question in a lesson', 'asks', { prompt: '.question', 'a button': '.question button', 'open all': '[data-do=open]', ...row });
    add('edge of a question', false, style('.question', 'asks').borderInlineStartColor, paper);
    button('hint', 'asks').click();
    texts('with a hint in a lesson', 'asks', { ...row, ...said });
    line('asks').play('Nf3');
    texts('of a verdict in a lesson', 'asks', said);
    texts('of a quiz', 'quiz', { prompt: '.lines', ...row });
    line('quiz').hint();
    texts('with a hint', 'quiz', said);
    line('quiz').answer('c6');
    texts('of a verdict', 'quiz', { ...said, ...row });
    line('quiz').show();
    texts('of a settled quiz', 'quiz', { ...said, again: '[data-do=again]' });
    add('edge of a verdict', false, style('.notice', 'quiz').borderInlineStartColor, paper);
    texts('before a recall', 'recall', { prompt: '.lines p', begin: '.try button', keep: '[data-take=keep]' });
    inside('[data-take=begin]', 'recall').click();
    texts('of a recall', 'recall', row);
    line('recall').play('d4');
    button('show', 'recall').click();
    texts('of a slip', 'recall', { ...said, 'a word': '.try button' });
    button('stop', 'recall').click();
    inside('[data-take=keep]', 'recall').click();
    texts('of the account', 'recall', { sentence: '.notice p', line: '.held .label', move: '.held bdi', count: '.held li > span', 'to come again': '.held p',
      link: '.held a', map: '.map .labels', key: '.key', kept: '.account [aria-disabled]', button: '.account button', note: '.account [role=status]' });
    add('links of the account', false, style('.held a', 'recall').textDecorationColor, paper);
    add('labels on the map', true, style('.map .labels', 'recall').fill, paper);
    for (const kind of ['missed', 'new']) add(`${kind} positions on the map`, false, style(`.map .${kind}`, 'recall').stroke, paper);
    add('met positions on the map', false, style('.map .read', 'recall').fill, paper);
    return pairs";

/// Shows the lesson with everything in it that has a colour.
#[track_caller]
fn show(browser: &Browser, css: &str) {
    browser.width(Some(1280));
    browser.show(&with_sheet(browser, css), LESSON);
    // At the branch point, with a square in hand and an answer to what was asked; then the map.
    browser.js("line().go(3);
         if (!inside('.map')) button('map').click();
         openDesk();
         inside('.typed').value = 'Ke4';
         button('enter').click();
         await painted()");
}

/// The same with questions and a recall.
#[track_caller]
fn show_questions(browser: &Browser, css: &str) {
    browser.show(&with_sheet(browser, css), QUESTIONS);
    browser.js("localStorage.clear(); await drawn(line('recall'))");
}

fn pairs(browser: &Browser, paper: Option<&str>, of: &str) -> Vec<Pair> {
    let pairs = browser.js_with(&format!("{COLOURS}\n{of}"), json!(paper));
    serde_json::from_value(pairs).expect("pairs of colours")
}

#[track_caller]
fn assert_told(browser: &Browser, paper: Option<&str>, page: &str, of: &str) {
    let pairs = pairs(browser, paper, of);
    assert!(pairs.len() > 40, "{page}: only {} pairs", pairs.len());
    let weak: Vec<String> = pairs
        .iter()
        .map(|pair| (pair, ratio(pair.fore, pair.back)))
        .filter(|(pair, ratio)| *ratio < if pair.is_text { TEXT } else { DRAWN })
        .map(|(pair, ratio)| {
            format!(
                "{}: {ratio:.2} ({:?} on {:?})",
                pair.what, pair.fore, pair.back
            )
        })
        .collect();
    assert!(weak.is_empty(), "{page}:\n{}", weak.join("\n"));
}

#[track_caller]
fn told_on(browser: &Browser, css: &str) {
    show(browser, css);
    assert_told(browser, None, css, PAIRS);
    show_questions(browser, css);
    assert_told(browser, None, css, ASKED);
}

fn white(browser: &Browser) {
    told_on(browser, "body { background: #fff; color: #000 }");
}

fn cream(browser: &Browser) {
    told_on(browser, "body { background: #f6ecd6; color: #3d2b1f }");
}

fn dark(browser: &Browser) {
    told_on(browser, "body { background: #222428; color: #d9d9d6 }");
}

fn black(browser: &Browser) {
    told_on(browser, "body { background: #000; color: #fff }");
}

fn both(browser: &Browser) {
    for is_dark in [false, true] {
        browser.dark(is_dark);
        // No colours of its own: what the browser takes for either scheme.
        told_on(
            browser,
            ":root { color-scheme: light dark; background: Canvas }",
        );
    }
}

fn squares(browser: &Browser) {
    for css in [
        "body { background: #fff; color: #111 }",
        "body { background: #1a1a1a; color: #e6e6e6 }",
    ] {
        show(browser, css);
        let pairs = pairs(browser, None, PAIRS);
        let ground = |name: &str| {
            let pair = pairs
                .iter()
                .find(|pair| pair.what == format!("black pieces on {name} squares"));
            luminance(pair.expect("a pair of that name").back)
        };
        assert!(
            ground("light") > ground("dark") + 0.08,
            "{css}: {} and {}",
            ground("light"),
            ground("dark")
        );
    }
    // The path of dark squares covers a1, at the bottom left, and not h1.
    let covered = browser.js(
        "const covers = (x, y) => inside('.dark').isPointInFill(new DOMPoint(x, y));
         return [covers(32, 480), covers(480, 480), covers(480, 32)]",
    );
    assert_eq!(covered, json!([true, false, true]));
}

fn marks(browser: &Browser) {
    for (css, is_dark) in [
        ("body { background: #fff; color: #111 }", false),
        ("body { background: #1a1a1a; color: #e6e6e6 }", true),
    ] {
        show(browser, css);
        let found = browser.js_with(
            &format!(
                "{COLOURS}
                 const wide = (selector) => parseFloat(style(selector).strokeWidth);
                 const edge = mix(style('.light').fill, style('.edge').stroke).join() !== mix(style('.light').fill).join();
                 return ['.ring', '.shaft'].map((selector) => [mix(style(selector).stroke), edge, 2 * wide(selector) > wide('.edge')])"
            ),
            serde_json::Value::Null,
        );
        let found: Vec<([u8; 3], bool, bool)> = serde_json::from_value(found).expect("colours");
        for (color, has_edge, is_wide) in found {
            let [red, green, blue] = color;
            assert!(red > green && red > blue, "{css}: {color:?}");
            assert_eq!(luminance(color) > 0.3, is_dark, "{css}: {color:?}");
            assert_eq!((has_edge, is_wide), (is_dark, true), "{css}");
        }
    }
}

fn forced(browser: &Browser) {
    let css = "body { background: #f6ecd6; color: #3d2b1f }";
    for (show, of) in [(show as fn(&Browser, &str), PAIRS), (show_questions, ASKED)] {
        show(browser, css);
        browser.force_colors(true);
        browser.js("await painted()");
        let paper = browser.text(
            "const probe = document.createElement('p'); probe.style.setProperty('background-color', 'Canvas');
             document.body.append(probe); const { backgroundColor } = getComputedStyle(probe); probe.remove(); return backgroundColor",
        );
        assert_told(browser, Some(&paper), "forced colours", of);
        browser.force_colors(false);
    }
}

fn forced_moves(browser: &Browser) {
    show(browser, "body { background: #f6ecd6; color: #3d2b1f }");
    browser.force_colors(true);
    let framed = browser.js(
        "const canvas = Object.assign(document.createElement('canvas'), { width: 1, height: 1 }).getContext('2d', { willReadFrequently: true });
         const seen = (color) => { canvas.fillStyle = color; canvas.clearRect(0, 0, 1, 1); canvas.fillRect(0, 0, 1, 1); return [...canvas.getImageData(0, 0, 1, 1).data].join(); };
         const probe = document.createElement('p'); probe.style.setProperty('background-color', 'Canvas');
         document.body.append(probe);
         const paper = seen(getComputedStyle(probe).backgroundColor);
         probe.remove();
         return all('.move').filter((move) => !['0,0,0,0', paper].includes(seen(getComputedStyle(move).borderTopColor))).map((move) => move.textContent)",
    );
    browser.force_colors(false);
    assert_eq!(framed, json!(["2.c4"]));
}
