//! Counts from games beside the board and in the text.

use super::access::assert_clean_in_both;
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::browser::keys::ENTER;
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    Everywhere(
        "counts: what was played is beside the board and follows it, and a move there leads to its place",
        follows,
    ),
    Everywhere(
        "counts: they are written beside the moves of a branch on request, and stay where the lesson is drawn again",
        in_text,
    ),
    InOne(
        "counts: they come with modules too, from a file of their own",
        modules,
    ),
    InOne(
        "counts: without room beside the text they come with what can be asked, and move nothing",
        over,
    ),
    InOne(
        "counts: a file of another lesson or version is told, and the lesson goes on",
        amiss,
    ),
    InOne(
        "counts: a file with less in it than expected shows what it has, and another file takes its place",
        spare,
    ),
    Everywhere(
        "counts: who goes on by a move there with keys stays there",
        by_keys,
    ),
    InOne(
        "counts: a figure that a comment quotes is a sentence with its source, also where the lesson is drawn again",
        quoted,
    ),
    InOne("counts: on a German page they are German", german),
    InOne("counts: axe-core finds nothing in them", clean),
];

const MODULE: &str = "<script type=\"module\" src=\"/plyline.mjs\"></script>";
const START: &str = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq -";
const AFTER_D4: &str = "rnbqkbnr/pppppppp/8/8/3P4/8/PPP1PPPP/RNBQKBNR b KQkq -";
const AFTER_E4: &str = "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq -";

/// A file as `plyline tally` writes it: White wins, draws and losses of the start, of its moves and of the
/// position after 1.e4.
fn file(format: &str, start: &str) -> String {
    let results = |white: u64, drawn: u64, black: u64| json!({"1-0": white, "1/2-1/2": drawn, "0-1": black, "*": 0});
    let next = |san: &str, white, drawn, black| json!({"move": san, "games": white + drawn + black, "results": results(white, drawn, black)});
    let year = |games| json!({"games": games, "results": results(games, 0, 0)});
    json!({
        "plyline": format, "source": ["games.pgn"], "date": "2025.11.30", "filters": {"by": "year"},
        "games": 1000, "damaged": 2, "left": 0, "results": results(500, 300, 200),
        "positions": [
            {"fen": start, "games": 1000, "results": results(500, 300, 200), "predicted": {"games": 900, "sum": 49500},
             "next": [next("e4", 300, 200, 100), next("d4", 200, 90, 90), next("a3", 0, 10, 10)],
             "by": {"year": {"2023": year(200), "2024": year(300), "2025": year(500)}}},
            {"fen": AFTER_E4, "games": 600, "results": results(300, 200, 100), "next": []},
            {"fen": AFTER_D4, "games": 0, "results": results(0, 0, 0), "next": []},
        ],
    })
    .to_string()
}

fn lesson(browser: &Browser, format: &str, start: &str) -> String {
    let path = format!("counts-{}/c.json", browser.engine.name());
    browser.site.write(&path, file(format, start));
    format!(
        "<p>Some words.</p><ply-line id=\"one\" counts=\"/{path}\"><pre>1. e4 {{Ours.}} (1. d4 {{Theirs.}}) e5 *</pre></ply-line><p>After.</p>"
    )
}

const SAID: &str =
    "line().shadowRoot?.querySelector('.counts > summary')?.textContent.replaceAll('\\u00a0', ' ')";

fn show(browser: &Browser, head: &str) {
    let head = format!("<link rel=\"stylesheet\" href=\"/site.css\">\n{head}");
    browser.open(&browser.write(&head, &lesson(browser, "counts 1", START)));
    browser.until(SAID);
    // Beside an open map they wait until they are asked for.
    browser.js("button('map')?.getAttribute('aria-expanded') === 'true' && button('map').click()");
}

fn follows(browser: &Browser) {
    show(browser, SCRIPT);
    let said = || browser.js(&format!("return {SAID}"));
    let start = "1,000 games: White won 50 %, drawn 30 %, Black won 20 %";
    assert_eq!(said(), start);
    let rows = "return all('.counts > div > table tbody tr').map((row) => row.textContent.replaceAll('\\u00a0', ' '))";
    let shown = json!([
        "1.e4600 67 %",
        "1.d4380 64 %",
        "1.a3200 won, 10 drawn, 10 lost"
    ]);
    assert_eq!(browser.js(rows), shown);
    browser.js("inside('.counts').open = true; all('.counts button[data-go]')[1].click()");
    let at = "return [line().current.san, inside('.counts').hidden, inside('.counts > summary').textContent]";
    let none = json!(["d4", false, "no game of the collection came here"]);
    assert_eq!(browser.js(at), none);
    browser.js("line().go('1.e4')");
    let after = "600 games: White won 50 %, drawn 33 %, Black won 17 %";
    assert_eq!(said(), after);
    // Of what was not counted, in the lesson or beside it, nothing is said.
    browser.js("line().go('1.e4 e5')");
    assert_eq!(browser.js("return inside('.counts').hidden"), true);
    browser.js("line().back()");
    browser.js("line().play('h5')");
    assert_eq!(browser.js("return inside('.counts').hidden"), true);
    browser.js("line().back()");
    assert_eq!(browser.js("return inside('.counts').hidden"), false);
    assert_eq!(said(), after);
}

fn in_text(browser: &Browser) {
    show(browser, SCRIPT);
    let told =
        "return all('.lines .count').map((it) => it.textContent.trim().replaceAll('\\u00a0', ' '))";
    assert_eq!(browser.js(told), json!([]));
    browser.js("inside('.counts').open = true; inside('.counts [data-count]').click()");
    let both = json!([
        "(600 games, White\u{2019}s score 67 %)",
        "(380 games, White\u{2019}s score 64 %)"
    ]);
    assert_eq!(browser.js(told), both);
    // A lesson that is turned is drawn again as a whole.
    browser.js(
        "inside('[data-do=main-only]')?.click(); line().flip(); line().next(); await painted()",
    );
    assert_eq!(browser.js(told), both);
    assert_eq!(browser.js("return all('.counts').length"), 1);
    browser.js("inside('.counts [data-count]').click()");
    assert_eq!(browser.js(told), json!([]));
}

fn modules(browser: &Browser) {
    show(browser, MODULE);
    let loaded = "return performance.getEntriesByType('resource').map(({ name }) => name.split('/').pop()).filter((name) => /mjs/.test(name)).sort()";
    let all = json!([
        "plyline-core.mjs",
        "plyline-counts.mjs",
        "plyline-more.mjs",
        "plyline.mjs"
    ]);
    assert_eq!(browser.js(loaded), all);
}

fn over(browser: &Browser) {
    browser.width(Some(390));
    show(browser, SCRIPT);
    let tops = || {
        browser.js(
            "await painted();
             return [visible(inside('.counts')), inside('.lines').getBoundingClientRect().top, document.documentElement.scrollWidth <= innerWidth]",
        )
    };
    let before = tops();
    assert_eq!(before[0], false);
    browser.js("openDesk(); inside('.counts').open = true");
    let open = json!([true, before[1], true]);
    assert_eq!(tops(), open);
    browser.js("line().next()");
    assert_eq!(tops(), open);
    browser.width(None);
}

fn amiss(browser: &Browser) {
    browser.expect("counts");
    for (format, start) in [("counts 2", START), ("counts 1", AFTER_E4)] {
        browser.open(&browser.write(SCRIPT, &lesson(browser, format, start)));
        browser.js("await settled()");
        browser.until(
            "performance.getEntriesByType('resource').some(({ name }) => name.endsWith('c.json'))",
        );
        browser.js("await pause(200)");
        browser.js("line().next()");
        let there: Value = browser.js("return [all('.counts').length, line().current.san]");
        assert_eq!(there, json!([0, "e4"]), "{format}");
    }
}

fn spare(browser: &Browser) {
    let spare =
        json!({"plyline": "counts 1", "positions": [{"fen": START, "results": {"1-0": 40}}]});
    let path = format!("counts-{}/spare.json", browser.engine.name());
    browser.site.write(&path, spare.to_string());
    show(browser, SCRIPT);
    browser.js(&format!(
        "line().counts = '/{path}'; line().text = '1. e4 e5 *'"
    ));
    browser.until(&format!("{SAID}.startsWith('40 games')"));
    browser.js(
        "inside('.counts [data-count]').click(); line().next(); line().back(); await painted()",
    );
    assert_eq!(browser.js("return all('.counts').length"), 1);
    // A lesson without counts has none of another's.
    browser.js("line().counts = null; line().text = '1. d4 d5 *'");
    browser.until("all('.counts').length === 0");
    // And a lesson of another start takes none, until one comes that fits.
    browser.expect("of another lesson");
    browser.js(&format!("line().counts = '/{path}'; line().text = '[SetUp \"1\"]\\n[FEN \"4k3/8/8/8/8/8/4P3/4K3 w - - 0 1\"]\\n\\n1. e4 *'; await settled(); await pause(300)"));
    assert_eq!(browser.js("return all('.counts').length"), 0);
    browser.js("line().text = '1. c4 c5 *'");
    browser.until(&format!("{SAID}?.startsWith('40 games')"));
}

fn by_keys(browser: &Browser) {
    show(browser, SCRIPT);
    browser.js("inside('.counts').open = true; inside('.counts button[data-go]').focus()");
    browser.press(ENTER);
    let at = "return [line().current.san, Boolean(inside('.counts').contains(line().shadowRoot.activeElement))]";
    assert_eq!(browser.js(at), json!(["e4", true]));
}

fn quoted(browser: &Browser) {
    let text = "1. d4 {Old.\n\nCounts: 1906 games, 41 35 24, from a book} d5 (1... Nf6 {Counts: many, from a book}) *";
    let body = format!("<ply-line id=\"one\"><pre>{text}</pre></ply-line>");
    for head in [SCRIPT, MODULE] {
        browser.open(&browser.write(head, &body));
        browser.until("line().shadowRoot?.textContent.includes('Quoted')");
        let told = || {
            browser.js("await painted(); return inside('.lines').textContent.replaceAll('\\u00a0', ' ').match(/Quoted.*?\\.|Counts:.*?book/g)")
        };
        let both = json!([
            "Quoted from a book: 1,906 games: White won 41 %, drawn 35 %, Black won 24 %.",
            "Counts: many, from a book"
        ]);
        assert_eq!(told(), both);
        browser.js("line().flip()");
        assert_eq!(told(), both);
    }
}

fn german(browser: &Browser) {
    show(
        browser,
        &format!("<script defer src=\"/words/de.js\"></script>{SCRIPT}"),
    );
    browser.js("document.documentElement.lang = 'de'; line().flip()");
    browser.js("line().next()");
    let said = browser.text(&format!("return {SAID}"));
    assert_eq!(
        said,
        "600 Partien: Weiß gewann 50 %, remis 33 %, Schwarz gewann 17 %"
    );
}

fn clean(browser: &Browser) {
    for dark in [false, true] {
        browser.dark(dark);
        show(browser, SCRIPT);
        browser.js("openDesk(); for (const part of all('details')) part.open = true; inside('.counts [data-count]').click()");
        assert_clean_in_both(browser, &format!("counts, dark: {dark}"));
    }
}
