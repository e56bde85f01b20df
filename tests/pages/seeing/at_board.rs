//! What a reader of a narrow page sees without scrolling: answers, choices, map and field are at
//! the board that stays, and a step leaves room for the words about its move.

use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::browser::keys::ENTER;
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "on a narrow page the reason of a refusal is seen at the board, deep in the text too, and can be closed",
        refusal,
    ),
    Everywhere(
        "on a narrow page the next moves, the map and the field are seen at the board",
        in_sight,
    ),
    Everywhere(
        "the board that stays takes less than 40 % of the height of a narrow page",
        height,
    ),
    Everywhere(
        "what is answered or to be chosen pushes neither the text nor the map",
        nothing_jumps,
    ),
    Everywhere(
        "a step by next leaves room below its move for what is said of it",
        room,
    ),
    Everywhere(
        "at the end of the lesson the whole board is seen beside the text",
        whole_at_the_end,
    ),
    Everywhere(
        "an aside of many moves stays inside a narrow page, and breaks between its moves",
        long_aside,
    ),
    Everywhere(
        "on a narrow page the board's block is not higher beside the lesson than in it",
        not_higher,
    ),
    Everywhere(
        "on a narrow page a long outline opens on request, stays open, and a short one is there",
        long_outline,
    ),
    Everywhere(
        "the map follows the place on the board in both directions, and stays in the window",
        map_follows,
    ),
    Everywhere("the end of a line leads back to where it began", home),
    InOne("a choice names its move", choice),
    Everywhere(
        "the map names its lines, no name is cut, and none catches a click",
        labels,
    ),
    Everywhere(
        "with the map open on a narrow page, a step leaves its move in sight",
        beside_the_map,
    ),
];

const DEMO: &str = "/the-pawn-that-is-not-free/";
/// Whether the whole of an element can be seen and nothing lies over its middle.
const SEEN: &str = "const seen = (element) => {
  const { left, right, top, bottom } = element.getBoundingClientRect();
  const hit = line().shadowRoot.elementFromPoint((left + right) / 2, (top + bottom) / 2);
  return top >= 0 && bottom <= innerHeight && right <= innerWidth && element.contains(hit); };";

/// A phone, deep in the text, the board at the top of the screen.
fn deep(browser: &Browser) {
    browser.phone();
    browser.visit(DEMO);
    browser.js("line().go('6...Nxd5'); move(line().current.node).scrollIntoView({ block: 'center' }); await painted()");
}

fn refusal(browser: &Browser) {
    deep(browser);
    browser.js("inside('[data-square=h2]').click(); inside('[data-square=h5]').click()");
    let shown = format!("{SEEN} return seen(inside('.notice p'))");
    assert_eq!(browser.js(&shown), true);
    browser.click("return button('close')");
    assert_eq!(browser.js("return inside('.notice')"), json!(null));
    assert_eq!(browser.js("return line().current.san"), "Nxd5");
}

fn in_sight(browser: &Browser) {
    deep(browser);
    let choices =
        format!("line().go('4.Bg5'); await painted(); {SEEN} return all('.next button').map(seen)");
    assert_eq!(browser.js(&choices), json!([true, true]));
    browser.click("return button('map')");
    assert_eq!(
        browser.js(&format!("{SEEN} return seen(inside('.mapbox'))")),
        true
    );
    browser.click("return button('map')");
    browser.click("return button('desk')");
    assert_eq!(
        browser.js(&format!("{SEEN} return seen(inside('.typed'))")),
        true
    );
}

fn height(browser: &Browser) {
    deep(browser);
    let part = browser.js(
        "line().go('4.Bg5'); await painted(); return inside('.margin').getBoundingClientRect().height / innerHeight",
    );
    assert!(part.as_f64() < Some(0.4), "{part}");
}

fn nothing_jumps(browser: &Browser) {
    for width in [Some(500), None] {
        browser.width(width);
        browser.visit(DEMO);
        let below = if width.is_some() { ".lines" } else { ".mapbox" };
        let places = browser.js_with(
            "const [below] = given;
             const place = () => inside(below).getBoundingClientRect().top - inside('.board').getBoundingClientRect().top;
             const found = [];
             for (const step of [() => line().go('4.Bg5'), () => line().go('start'), () => line().go('3...Nf6')]) {
               step(); await painted(); found.push(place());
             }
             return found.map((top) => Math.round(top - found[0]))",
            json!([below]),
        );
        assert_eq!(places, json!([0, 0, 0]), "at {width:?}");
    }
}

fn room(browser: &Browser) {
    for width in [Some(500), None] {
        browser.width(width);
        browser.visit(DEMO);
        browser.js("inside('.lines').scrollIntoView({ behavior: 'instant' })");
        for _ in 0..14 {
            browser.js("button('next').click(); await painted()");
            let at = browser.js(
                "const { top, bottom } = inside('.move[aria-current]').getBoundingClientRect();
                 return [top >= 0, bottom / innerHeight]",
            );
            assert_eq!(at[0], true);
            assert!(at[1].as_f64() < Some(0.78), "{at} at {width:?}");
        }
    }
}

fn whole_at_the_end(browser: &Browser) {
    browser.visit(DEMO);
    browser.js(
        "while (button('next').getAttribute('aria-disabled') === 'false') button('next').click();
         await painted(); await pause(100)",
    );
    assert_eq!(browser.js("return line().current.san"), "axb4");
    let edges = browser.js(
        "const { top, bottom } = inside('.board').getBoundingClientRect(); return [top >= 0, bottom <= innerHeight]",
    );
    assert_eq!(edges, json!([true, true]));
}

fn long_aside(browser: &Browser) {
    deep(browser);
    browser.js("line().go('start')");
    let moves = "Nf3 Nf6 g3 g6 Bg2 Bg7 O-O O-O d3 d6 Nbd2 Nbd7".split(' ');
    for played in moves {
        browser.js_with("line().play(given)", json!(played));
    }
    let caption = browser.js(
        "await painted(); const { right } = inside('.margin').getBoundingClientRect();
         const wide = all('figcaption, figcaption bdi').filter((part) => part.getBoundingClientRect().right > right + 1);
         return [inside('figcaption b').textContent, wide.length, inside('figcaption').scrollWidth <= inside('figcaption').clientWidth]",
    );
    assert_eq!(
        caption,
        json!([
            "1.Nf3 Nf6 2.g3 g6 3.Bg2 Bg7 4.O-O O-O 5.d3 d6 6.Nbd2 Nbd7",
            0,
            true
        ])
    );
}

fn not_higher(browser: &Browser) {
    for width in [360, 390, 460] {
        if width < 460 && browser.engine.name() == "webkit" {
            continue; // its window is never so narrow
        }
        browser.width(Some(width));
        browser.visit(DEMO);
        let heights = browser.js("const margin = inside('.margin');
             line().go('3...Nf6');
             await painted();
             const heights = [margin.getBoundingClientRect().height];
             for (const played of 'Nf3 Be7 Bf4 O-O e3 c5 dxc5 Bxc5 Qc2 Nc6'.split(' ')) {
               line().play(played);
               await painted();
               heights.push(margin.getBoundingClientRect().height);
             }
             return heights.filter((height) => height > heights[0] + 1)");
        assert_eq!(heights, json!([]), "at {width}");
        let shown = browser.js(&format!(
            "const {{ top }} = inside('.margin').getBoundingClientRect();
             scrollTo(0, top + scrollY);
             await painted();
             {SEEN}
             const caption = inside('figcaption');
             return [seen(caption), seen(button('home')), caption.scrollHeight <= caption.clientHeight + 1,
               [...caption.querySelectorAll('bdi')].filter(visible).map((move) => move.textContent).join(' ')]"
        ));
        assert_eq!(
            shown,
            json!([true, true, true, "7.dxc5 Bxc5 8.Qc2 Nc6"]),
            "at {width}"
        );
    }
}

fn long_outline(browser: &Browser) {
    browser.phone();
    browser.visit(DEMO);
    let shown = "return [visible(inside('.outline li')), inside('summary').textContent]";
    assert_eq!(browser.js(shown), json!([false, "Variations (15)"]));
    browser.js("inside('summary').focus()");
    browser.press(ENTER);
    assert_eq!(browser.js(shown), json!([true, "Variations (15)"]));
    browser.click("return inside('.outline li:last-child button')");
    assert_eq!(browser.js("return line().current.line"), "G");
    assert_eq!(browser.js(shown), json!([true, "Variations (15)"]));
    browser.show(
        SCRIPT,
        "<ply-line><pre>1. e4 e5 (1... c5) 2. Nf3 *</pre></ply-line>",
    );
    let short = browser.js("return [visible(inside('.outline li')), inside('summary')]");
    assert_eq!(short, json!([true, null]));
    browser.width(None);
    browser.visit(DEMO);
    let wide = browser
        .js("return [visible(inside('.outline li')), inside('.outline').closest('details')]");
    assert_eq!(wide, json!([true, null]), "beside a margin there is room");
}

fn map_follows(browser: &Browser) {
    browser.visit("/the-jump-that-must-wait/");
    let inside = "await painted();
         const [mark, map] = ['.now', '.mapbox'].map((part) => inside(part).getBoundingClientRect());
         return [mark.left > map.left, mark.right <= map.right, mark.top > map.top, mark.bottom < map.bottom, map.bottom - inside('.margin').getBoundingClientRect().top < innerHeight]";
    // To the end of the main line, of the lowest line, and back to the start.
    for place in ["16.d5", "line B2", "10.Bxd8", "start"] {
        let there = browser.js_with(&format!("line().go(given); {inside}"), json!(place));
        assert_eq!(there, json!(vec![true; 5]), "{place}");
    }
    // Where it is opened, and while one steps.
    browser.js("line().go('16.d5'); button('map').click(); button('map').click()");
    for _ in 0..12 {
        assert_eq!(browser.js(inside), json!(vec![true; 5]));
        browser.js("button('back').click()");
    }
}

fn home(browser: &Browser) {
    browser.visit(DEMO);
    browser.js("line().go('line A'); while (line().next());");
    assert_eq!(browser.js("return line().current.line"), "A");
    let row = browser.js("return [all('.next li').length, inside('.next').innerText.replace(/\\s+/g, ' ').trim(), inside('.next').getAttribute('aria-label')]");
    assert_eq!(
        row,
        json!([
            1,
            "back to 3\u{2026}Nf6 where line A began",
            "The line ends here."
        ])
    );
    browser.click("return inside('.next button')");
    assert_eq!(
        browser.js("return [line().current.san, line().current.line]"),
        json!(["Nf6", null])
    );
    browser.js("while (line().next());");
    assert_eq!(
        browser.js("return [all('.next li').length, inside('.next').innerText.replace(/\\s+/g, ' ').trim()]"),
        json!([1, "back to the start the main line ends here"])
    );
    browser.click("return inside('.next button')");
    assert_eq!(browser.js("return line().current.node"), 0);
}

fn choice(browser: &Browser) {
    browser.show(
        SCRIPT,
        "<ply-line><pre>1. e4 {Choose:} e5 {Sound. Choose: } (1... c5 {Sharp.\n\nChoose: if you like a fight}) 2. Nf3 *</pre></ply-line>",
    );
    assert_eq!(
        browser.js("return all('.choice').map((row) => row.textContent)"),
        json!(["The choice: 1.e4", "if you like a fight: 1\u{2026}c5"])
    );
}

fn labels(browser: &Browser) {
    browser.visit(DEMO);
    let found = browser.js(
        "return [all('.labels text').map((label) => label.textContent), all('.outline .label').map((label) => label.lastChild.textContent),
           getComputedStyle(inside('.labels text')).pointerEvents,
           all('.labels text').filter((label) => { const { x, width } = label.getBBox(); return x + width > inside('.map').viewBox.baseVal.width; }).length]",
    );
    let sorted = |list: &serde_json::Value| {
        let mut names: Vec<String> = serde_json::from_value(list.clone()).expect("names");
        names.sort_unstable();
        names
    };
    assert!(!sorted(&found[0]).is_empty());
    assert_eq!(sorted(&found[0]), sorted(&found[1]));
    assert_eq!(found[2], "none");
    assert_eq!(found[3], 0);
}

fn beside_the_map(browser: &Browser) {
    deep(browser);
    browser.click("return button('map')");
    for _ in 0..3 {
        browser.click("return button('next')");
        let shown = format!("await painted(); {SEEN} return seen(move(line().current.node))");
        assert_eq!(browser.js(&shown), true);
    }
}
