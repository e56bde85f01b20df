//! The rooms that pages give to a lesson: narrow, hidden at first, floating, many in a row.

use super::hosts::{LESSON, never_at_rest, with_sheet};
use crate::board::assert_drawn;
use crate::harness::Case::{self, Everywhere};
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    Everywhere(
        "a lesson inside closed details or a hidden tab is drawn when it is opened",
        hidden_first,
    ),
    Everywhere(
        "in flex, grid, float, table and inline boxes a lesson is never narrower than 20rem or the space",
        boxes,
    ),
    Everywhere(
        "at 320 pixels nothing scrolls sideways, also with the map and the desk open",
        narrow,
    ),
    Everywhere(
        "on a narrow page the board folds to its caption, and opens again",
        folded_board,
    ),
    Everywhere("text of twice the size cuts and covers nothing", large_text),
    Everywhere(
        "a reader's own spacing of text reaches the lesson and cuts nothing",
        spacing,
    ),
    Everywhere(
        "an element that is moved without leaving the page keeps its place and its focus",
        moved_before,
    ),
    Everywhere(
        "a pre that arrives empty is read when its text is there",
        filled_late,
    ),
    Everywhere(
        "a diagram has its place before it is drawn, so that what stands below it does not move",
        its_place,
    ),
    Everywhere(
        "what is drawn above the view moves nothing that is in view",
        above,
    ),
    Everywhere(
        "at rest a page is drawn to its end, and where it is read nothing moves",
        at_rest,
    ),
    Everywhere(
        "of a hundred lessons those near the view are drawn at once, the others when they come near or the page rests",
        hundred,
    ),
];

const SIDEWAYS: &str = "return document.scrollingElement.scrollWidth - innerWidth";

fn folded_board(browser: &Browser) {
    let shown = "return ['.plate', 'figcaption', '.fold'].map((part) => visible(inside(part)))";
    browser.width(Some(390));
    browser.show(SCRIPT, LESSON);
    assert_eq!(browser.js(shown), json!([true, true, true]));
    browser.click("return button('shut')");
    assert_eq!(browser.js(shown), json!([false, true, true]));
    assert_eq!(
        browser.js("return [line().shadowRoot.activeElement === button('shut'), button('shut').textContent]"),
        json!([true, "show board"])
    );
    browser.click("return button('next')");
    assert_eq!(
        browser.js("return [inside('figcaption').textContent, visible(inside('.plate'))]"),
        json!(["after 1.d4, Black to move", false]),
        "the caption goes on, and a step opens nothing"
    );
    browser.width(Some(1280));
    assert_eq!(
        browser.js(shown),
        json!([true, true, false]),
        "in the margin the board lies over nothing"
    );
    browser.width(Some(390));
    browser.click("return button('shut')");
    assert_eq!(browser.js(shown), json!([true, true, true]));
}

fn hidden_first(browser: &Browser) {
    let body = format!(
        "<details id=\"box\"><summary>The lesson</summary>{}</details>
         <div id=\"tab\" hidden>{}</div>",
        LESSON.replace("\"lesson\"", "\"a\""),
        LESSON.replace("\"lesson\"", "\"b\"")
    );
    browser.width(Some(1280));
    browser.open(&browser.write(SCRIPT, &body));
    browser.until("line('a')?.current && line('b')?.current");
    // What does not wait for the view works before it is seen.
    assert_eq!(
        browser
            .js("line('a').go(3); return [line('a').made, line('b').made, line('a').current.san]"),
        json!([null, null, "c4"])
    );
    browser.js(
        "document.getElementById('box').open = true; document.getElementById('tab').hidden = false",
    );
    browser.until("line('a').made !== null && line('b').made !== null");
    assert_drawn(browser, "a", false);
    assert_drawn(browser, "b", false);
    let wide = browser.js("return ['a', 'b'].map((id) => inside('.margin', id).getBoundingClientRect().left > inside('.lines', id).getBoundingClientRect().right)");
    assert_eq!(
        wide,
        json!([true, true]),
        "laid out for the width that it has"
    );
    // Hidden and shown again, it is where it was.
    browser.js("const { classList } = document.getElementById('tab'); document.getElementById('tab').hidden = true; line('b').next(); document.getElementById('tab').hidden = false");
    assert_drawn(browser, "b", false);
}

fn boxes(browser: &Browser) {
    let css = "body { margin: 16px } .flex { display: flex } .grid { display: grid; grid-template-columns: auto auto; justify-content: start }
        .column { display: flex; flex-direction: column; align-items: center } .float ply-line, .wrapped > div { float: left }
        .inline > div { display: inline-block } .table { display: table } .table > div { display: table-cell }
        .fit > div { width: fit-content } .absolute { position: relative; min-height: 3rem } .absolute > ply-line { position: absolute }
        .page { display: grid } section { clear: both; overflow: hidden }";
    let line = "<ply-line><pre>1. d4 d5 *</pre></ply-line>";
    let kinds = [
        ("flex", line.to_owned()),
        ("grid", line.to_owned()),
        ("column", line.to_owned()),
        ("float", line.to_owned()),
        ("absolute", line.to_owned()),
        ("wrapped", format!("<div>{line}</div>")),
        ("inline", format!("<div>{line}</div>")),
        ("table", format!("<div>{line}</div>")),
        ("fit", format!("<div>{line}</div>")),
        ("page", format!("<article>{line}</article>")),
        ("flex", format!("<div>{line}</div><aside>Beside.</aside>")),
    ];
    let body: String = kinds
        .iter()
        .map(|(kind, inner)| format!("<section class=\"{kind}\">{inner}</section>"))
        .collect();
    for width in [320, 1280] {
        browser.width(Some(width));
        browser.show(&with_sheet(browser, css), &body);
        let widths: Vec<f64> = serde_json::from_value(
            browser.js("return [...document.querySelectorAll('ply-line')].map((element) => element.getBoundingClientRect().width)"),
        )
        .expect("numbers");
        for ((kind, _), wide) in kinds.iter().zip(&widths) {
            // At 320 pixels a box that shrinks to what it holds leaves some of the space.
            let least = if width == 320 { 220.0 } else { 319.5 };
            assert!(*wide >= least, "{kind} at {width}: {wide}");
            assert!(
                *wide <= f64::from(width) - 31.0,
                "{kind} at {width}: {wide}"
            );
        }
        assert!(browser.js(SIDEWAYS).as_i64() <= Some(0), "{width}");
    }
}

/// A lesson with what is hard to break into lines.
fn unbreakable() -> String {
    let word = "x".repeat(150);
    let address = format!("https://example.org/{}", "path/".repeat(30));
    format!(
        "<ply-line id=\"lesson\" data-plyline=\"debug\"><pre>[Event \"{word}\"]\n\n1. d4 {{{word} [{word}]({address}) {address}}} d5 2. c4 {{Choose: {word}}} e6 \
         (2... dxc4 {{{word}}} 3. e4 (3. Nf3 (3. e3 (3. Nc3 (3. a4 a5) a6) a6) a6)) 3. Nc3 Nf6 4. {word} *\n\n[Event \"{word}\"]\n\n1. e4 *</pre></ply-line>"
    )
}

fn narrow(browser: &Browser) {
    browser.width(Some(320));
    browser.show(
        &with_sheet(browser, "body { margin: 16px }"),
        &unbreakable(),
    );
    let wide = "const host = line().getBoundingClientRect();
        return all('*').filter((element) => !element.closest('svg, .said, .mapbox') && element.getBoundingClientRect().right > host.right + 1.5)
          .map((element) => [element.localName, element.className, element.getBoundingClientRect().right])";
    for step in [
        "",
        "line().go(3)",
        "button('map').click()",
        "openDesk()",
        "line().play('a6'); line().play('a4')",
    ] {
        browser.js(&format!("{step}; await painted()"));
        assert_eq!(browser.js(wide), json!([]), "{step}");
        assert!(browser.js(SIDEWAYS).as_i64() <= Some(0), "{step}");
    }
    assert_eq!(
        browser.js("return inside('[data-square=e4]').getBoundingClientRect().width >= 24"),
        true
    );
}

/// Text that its own box cuts, and buttons that lie over each other.
const CUT: &str = "const cut = all('button, p, figcaption, li, b, summary').filter(visible).filter((element) =>
      getComputedStyle(element).overflow !== 'visible' && !element.matches('.said, .folded > p') && element.scrollWidth > element.clientWidth + 1);
    const buttons = all('.controls button, .next button, .outline button, .panel button').filter(visible).map((element) => [element, element.getBoundingClientRect()]);
    const over = buttons.filter(([one, a], at) => buttons.slice(at + 1).some(([other, b]) =>
      !one.contains(other) && Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 1));
    const spill = all('.controls button, figcaption, .next b, .outline button').filter(visible).filter((element) => {
      const { right, left } = element.getBoundingClientRect(); const host = line().getBoundingClientRect();
      return right > host.right + 1 || left < host.left - 1; });
    return [...cut, ...over.map(([element]) => element), ...spill].map((element) => element.outerHTML)";

fn large_text(browser: &Browser) {
    for width in [390, 1280] {
        browser.width(Some(width));
        for css in ["html { font-size: 200% }", "body { font-size: 200% }"] {
            browser.show(&with_sheet(browser, css), LESSON);
            browser.js("line().go(3); openDesk(); await painted()");
            assert_eq!(browser.js(CUT), json!([]), "{css} at {width}");
            assert!(browser.js(SIDEWAYS).as_i64() <= Some(0), "{css} at {width}");
        }
    }
}

fn spacing(browser: &Browser) {
    browser.width(Some(390));
    // WCAG 2.2, success criterion 1.4.12, as readers' tools set it: on every element.
    let css = "* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important }";
    browser.show(&with_sheet(browser, css), LESSON);
    browser.js("line().go(3); openDesk(); await painted()");
    let spaced = browser.js(
        "return ['.move', '.lines p', '.controls button', '.next b', 'figcaption'].filter((name) => !(parseFloat(getComputedStyle(inside(name)).letterSpacing) > 1))",
    );
    assert_eq!(spaced, json!([]));
    assert_eq!(browser.js(CUT), json!([]));
    assert!(browser.js(SIDEWAYS).as_i64() <= Some(0));
}

fn moved_before(browser: &Browser) {
    browser.show(SCRIPT, &format!("{LESSON}<section id=\"there\"></section>"));
    let kept = browser.js(
        "const there = document.getElementById('there');
         const element = line();
         if (!there.moveBefore) return null;
         element.go('line A');
         button('next').focus();
         told.splice(0);
         there.moveBefore(element, null);
         return [element.parentElement === there, element.current.san, element.shadowRoot.activeElement === button('next'), told.length]",
    );
    // An engine without moveBefore has nothing to keep.
    assert!(
        kept == Value::Null || kept == json!([true, "dxc4", true, 0]),
        "{kept}"
    );
    browser.click("return button('next')");
    assert_drawn(browser, "lesson", false);
}

fn filled_late(browser: &Browser) {
    browser.show(SCRIPT, "<p>The lesson comes later.</p>");
    let told = browser.js("const element = document.createElement('ply-line');
         element.id = 'late';
         const pre = document.createElement('pre');
         element.append(pre);
         document.querySelector('main').append(element);
         await pause(30);
         const before = told.length;
         pre.append('1. e4 e5 *');
         await element.ready;
         return [before, element.next(), told.map(({ type }) => type)]");
    assert_eq!(told, json!([0, true, ["ply-ready", "ply-moved"]]));
}

fn its_place(browser: &Browser) {
    let head = never_at_rest(
        browser,
        "body { margin: 8px } .gap { height: 2000px } main { font: 18px/1.5 serif }",
    );
    let body = format!(
        "<p>Above.</p><div class=\"gap\"></div>
         <ply-diagram id=\"a\" at=\"2.c4\" for=\"lesson\"><p>The pawn on c4 attacks the one on d5.</p></ply-diagram><p>Below.</p>
         <ply-diagram id=\"b\" fen=\"8/5k2/8/8/3P4/8/4K3/8\"></ply-diagram><p>Below.</p>
         <ply-diagram id=\"c\" fen=\"8/5k2/8/8/3P4/8/4K3/8 b\"></ply-diagram><p>Below.</p><div class=\"gap\"></div>{LESSON}"
    );
    for width in [390, 1280] {
        browser.width(Some(if browser.engine.name() == "webkit" {
            width.max(460)
        } else {
            width
        }));
        browser.open(&browser.write(&head, &body));
        let places = "const places = () => [...document.querySelectorAll('main > p')].map((part) => part.getBoundingClientRect().top + scrollY);
             const ids = ['a', 'b', 'c'];";
        let before = browser.js(&format!(
            "{places} await customElements.whenDefined('ply-diagram');
             await Promise.all(ids.map((id) => line(id).ready));
             await painted();
             window.before = places();
             return ids.map((id) => all('.board', id).length)"
        ));
        assert_eq!(before, json!([0, 0, 0]), "not drawn yet");
        let moved = browser.js(&format!(
            "{places} scrollTo({{ top: 1500, behavior: 'instant' }});
             for (let turn = 0; turn < 60 && !ids.every((id) => all('.board', id).length); turn += 1) await painted();
             const after = places();
             return [ids.map((id) => all('.board', id).length), before.map((place, at) => Math.abs(Math.round(after[at] - place)))]"
        ));
        assert_eq!(moved[0], json!([1, 1, 1]));
        let far = |moved: &Value| moved.as_i64() > Some(2);
        let moved = moved[1].as_array().expect("places");
        assert!(!moved.iter().any(far), "{width}: {moved:?}");
    }
}

fn above(browser: &Browser) {
    let head = never_at_rest(
        browser,
        ".gap { height: 3000px } .few { height: 700px } html { scroll-behavior: smooth } ply-line, ply-recap { display: block }",
    );
    let body = format!(
        "<div class=\"gap\"></div>{LESSON}<ply-recap></ply-recap><div class=\"few\"></div><p id=\"seen\">Read here.</p><div class=\"gap\"></div>"
    );
    browser.open(&browser.write(&head, &body));
    browser.until("line()?.current");
    let moved = browser.js(
        "const seen = document.getElementById('seen');
         await document.querySelector('ply-recap').ready;
         const before = [line().made, line().offsetHeight];
         seen.scrollIntoView({ behavior: 'instant', block: 'center' });
         const { top } = seen.getBoundingClientRect();
         for (let turn = 0; turn < 60 && line().made === null; turn += 1) await painted();
         await painted();
         await pause(100);
         return [before[0], line().made > 0, line().offsetHeight > before[1] + 100, Math.abs(seen.getBoundingClientRect().top - top) <= 2]",
    );
    assert_eq!(moved, json!([null, true, true, true]));
}

fn at_rest(browser: &Browser) {
    let head = with_sheet(browser, ".gap { height: 3000px }");
    let gap = "<div class=\"gap\"></div>";
    let body = format!(
        "{gap}{}{gap}<p id=\"seen\">Read here.</p>{gap}{LESSON}<ply-recap for=\"lesson\"></ply-recap>",
        LESSON.replace("\"lesson\"", "\"above\"")
    );
    browser.open(&browser.write(&head, &body));
    let moved = browser.js(
        "const seen = document.getElementById('seen');
         seen.scrollIntoView({ behavior: 'instant', block: 'center' });
         const { top } = seen.getBoundingClientRect();
         const isDrawn = () => line('above').made && line().made && document.querySelector('ply-recap').shadowRoot?.querySelector('table');
         for (let turn = 0; turn < 100 && !isDrawn(); turn += 1) await pause(50);
         await painted();
         const length = document.documentElement.scrollHeight;
         const moved = Math.abs(seen.getBoundingClientRect().top - top);
         for (const height of [0, length]) { scrollTo({ top: height, behavior: 'instant' }); await pause(100); }
         return [Boolean(isDrawn()), moved <= 2, document.documentElement.scrollHeight - length]",
    );
    assert_eq!(moved, json!([true, true, 0]));
}

fn hundred(browser: &Browser) {
    browser.width(Some(1280));
    // The text between is what makes a page with many lessons long.
    let part = format!(
        "{}<div class=\"gap\"></div>",
        LESSON.replace(" id=\"lesson\"", "")
    );
    let head = never_at_rest(
        browser,
        ".gap { height: 1500px } ply-line { min-height: 300px }",
    );
    browser.open(&browser.write(&head, &part.repeat(100)));
    // Reading them is not what is measured here, and takes some seconds on a busy machine.
    browser.js("for (let turn = 0; turn < 500 && !document.querySelectorAll('ply-line')[99].current; turn += 1) await pause(20)");
    browser.until("document.querySelectorAll('ply-line')[99].current");
    browser.js("await painted(); await painted()");
    let drawn =
        "[...document.querySelectorAll('ply-line')].filter(({ made }) => made !== null).length";
    let first = browser.js(&format!("return {drawn}")).as_u64();
    assert!(
        (1..=3).contains(&first.expect("a count")),
        "{first:?} are drawn"
    );
    assert_eq!(browser.js("return line('lesson').made > 0"), true);
    browser.js("line('lesson-60').go('line A')");
    assert_eq!(browser.js("return line('lesson-60').made"), Value::Null);
    browser.js("line('lesson-60').scrollIntoView({ behavior: 'instant' })");
    browser.until("line('lesson-60').made !== null");
    assert_drawn(browser, "lesson-60", false);
    let then = browser.js(&format!("return {drawn}")).as_u64();
    assert!(then <= Some(8), "{then:?} are drawn");
    // One for each time that it rests, and those that are drawn already count too.
    let at_rest = format!(
        "for (let turn = 0; turn < 110; turn += 1) {{ globalThis.rest?.(); await 0; await pause(2) }}
         return {drawn}"
    );
    assert_eq!(browser.js(&at_rest), 100);
}
