//! The ways in which notation gets into a page: fences, a `pre`, an address, a property.

use crate::board::assert_drawn;
use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use serde_json::json;

pub const CASES: &[Case] = &[
    Everywhere(
        "a fenced block becomes a lesson with the id of its tag, and holds the pre",
        fence,
    ),
    InOne(
        "fences are told by the class of code, pre or wrapper, and a highlighter's wrapper goes",
        classes,
    ),
    InOne(
        "blocks that are switched off or of another language stay as they are",
        left_alone,
    ),
    InOne("lessons without an id are named in page order", ids),
    Everywhere(
        "a served file is a source, and a number names its second game",
        served,
    ),
    Everywhere(
        "the property text is a source before and after the upgrade",
        property,
    ),
    Everywhere("children that come 50 ms late are a source", late),
    InOne(
        "a file that is missing is said in the element, above its own content",
        missing,
    ),
    Everywhere("a served file in Latin-1 is read", latin_1),
    Everywhere(
        "a file that gives no answer is said after a while, and shown when it comes",
        silent,
    ),
    Everywhere(
        "a number of a game that no file has is no number of another",
        too_large,
    ),
    Everywhere(
        "without the attribute the side of the tag is below again",
        side,
    ),
    InOne(
        "what is written reaches the page's script letter for letter",
        to_the_letter,
    ),
];

const FENCE: &str = "[Id \"my-line\"]\n\n1. e4 e5 2. Nf3 *\n";

fn fence(browser: &Browser) {
    browser.visit("/ten-quiet-moves/");
    let found = browser.js("const element = line();
         return [element.id, element.children.length, element.firstElementChild.localName,
           element.parentElement.localName, document.querySelectorAll('pre').length]");
    assert_eq!(found, json!(["ten-quiet-moves", 1, "pre", "article", 1]));
    browser.click("return button('next')");
    assert_eq!(browser.js("return line().current.moves"), json!(["e4"]));
    assert_drawn(browser, "ten-quiet-moves", false);
}

fn classes(browser: &Browser) {
    let body = format!(
        "<section id=\"code\"><pre><code class=\"language-pgn\">{FENCE}</code></pre></section>
         <section id=\"lang\"><pre><code class=\"lang-pgn\">1. d4 d5 *</code></pre></section>
         <section id=\"pre\"><pre class=\"wide language-pgn\"><code>1. d4 d5 *</code></pre></section>
         <section id=\"wrapper\"><div class=\"language-pgn code-block\"><div class=\"highlight\"><pre \
            class=\"highlight\"><code><span class=\"n\">1.</span> <span>d4</span> <span>d5</span> *\
            </code></pre></div></div></section>
         <section id=\"figure\"><figure class=\"highlight\"><pre><code class=\"language-pgn\">1. d4 d5 *\
            </code></pre></figure></section>
         <section id=\"talk\"><div class=\"highlight\"><p>Some words.</p><pre><code class=\"language-pgn\">\
            1. d4 d5 *</code></pre></div></section>"
    );
    browser.show(SCRIPT, &body);
    let shape = "return [...document.querySelectorAll('section')].map((section) => {
        const element = section.querySelector('ply-line');
        return [section.id, element?.parentElement === section, element?.children.length, element?.next()];
    })";
    assert_eq!(
        browser.js(shape),
        json!([
            ["code", true, 1, true],
            ["lang", true, 1, true],
            ["pre", true, 1, true],
            ["wrapper", true, 1, true],
            ["figure", true, 1, true],
            // This wrapper holds more than the block, so only the block is replaced.
            ["talk", false, 1, true],
        ])
    );
    assert_eq!(
        browser.js("return line('talk').textContent.includes('Some words.')"),
        true
    );
}

fn left_alone(browser: &Browser) {
    let off = "<pre data-plyline=\"off\"><code class=\"language-pgn\">1. e4 *</code></pre>
               <div data-plyline=\"quiet off\"><pre><code class=\"language-pgn\">1. e4 *</code></pre></div>
               <pre><code class=\"language-js\">1. e4</code></pre>
               <pre><code class=\"language-pgnx\">1. e4</code></pre>
               <pre>1. e4</pre>
               <ply-line><pre><code class=\"language-pgn\">1. e4 *</code></pre></ply-line>";
    browser.show(SCRIPT, off);
    assert_eq!(
        browser.js("return document.querySelectorAll('ply-line').length"),
        1
    );
    assert_eq!(
        browser.js("return document.querySelectorAll('main > pre, main > div > pre').length"),
        5
    );
}

fn ids(browser: &Browser) {
    let block = "<pre><code class=\"language-pgn\">1. e4 *</code></pre>";
    let body = format!(
        "{block}<pre><code class=\"language-pgn\">{FENCE}</code></pre>
         <ply-line><pre>1. d4 *</pre></ply-line><p id=\"lesson-3\">taken</p>
         <ply-line id=\"own\"><pre>1. c4 *</pre></ply-line>{block}"
    );
    browser.show(SCRIPT, &body);
    let ids = browser
        .js("return [...document.querySelectorAll('ply-line')].map((element) => element.id)");
    assert_eq!(
        ids,
        json!(["lesson", "my-line", "lesson-2", "own", "lesson-4"])
    );
}

fn served(browser: &Browser) {
    let body = "<ply-line id=\"one\" src=\"/two-games.pgn\"></ply-line>
                <ply-line id=\"two\" src=\"two-games.pgn#2\"><p>Not yet loaded.</p></ply-line>
                <ply-line id=\"three\" src=\"two-games.pgn#3\"></ply-line>";
    // There are two games in it.
    browser.expect("plyline three:");
    browser.show(SCRIPT, body);
    let tags = browser.js("return ['one', 'two'].map((id) => line(id).lesson.tags.Event)");
    assert_eq!(tags, json!(["The first", "The second"]));
    browser.click("return button('next', 'two')");
    assert_eq!(browser.js("return line('two').current.san"), "d4");
    assert_drawn(browser, "two", false);
    let third = browser.js("return [line('three').lesson, codes(line('three'))]");
    assert_eq!(third, json!([null, ["P043"]]));
    browser.js("line('one').src = 'two-games.pgn#2'; await pause(0); for (let wait = 0; wait < 100 && line('one').lesson.tags.Event !== 'The second'; wait += 1) await pause(20)");
    assert_eq!(
        browser.js("return line('one').lesson.tags.Event"),
        "The second"
    );
}

fn property(browser: &Browser) {
    let body = "<ply-line id=\"early\"></ply-line><script src=\"/early.js\"></script>
                <ply-line id=\"both\"><pre>1. e4 *</pre></ply-line>";
    browser.show(SCRIPT, body);
    assert_eq!(
        browser.js("return [line('early').text, line('early').next(), line('early').current.san]"),
        json!(["1. c4 e5 2. g3 *", true, "c4"])
    );
    for text in ["1. d4 *", "1. Nf3 d5 *"] {
        browser.js_with("told.splice(0); line('both').text = given", json!(text));
        browser.until("told.length === 1");
    }
    browser.click("return button('next', 'both')");
    assert_eq!(browser.js("return line('both').current.san"), "Nf3");
    assert_eq!(
        browser.js("return told.map(({ type }) => type)"),
        json!(["ply-ready", "ply-moved"]),
        "one click is one step, however often the text was set"
    );
    assert_drawn(browser, "both", false);
    let made = browser.js("const element = document.createElement('ply-line');
         element.text = '1. b3 *';
         const before = [element.current, element.lesson, element.next(), element.findings];
         document.querySelector('main').append(element);
         await element.ready;
         return [before, element.next(), element.current.san]");
    assert_eq!(made, json!([[null, null, false, []], true, "b3"]));
}

fn late(browser: &Browser) {
    browser.show(SCRIPT, "<p>The lesson comes later.</p>");
    let shown = browser.js("const element = document.createElement('ply-line');
         element.id = 'late';
         document.querySelector('main').append(element);
         await pause(50);
         element.append(document.createElement('p'));
         await pause(10);
         const pre = document.createElement('pre');
         pre.append('1. e4 e5 *');
         element.append(pre);
         await element.ready;
         element.next();
         return [element.current.san, told.map(({ type }) => type)]");
    assert_eq!(shown, json!(["e4", ["ply-ready", "ply-moved"]]));
    browser.js("await drawn(line('late'))");
    assert_drawn(browser, "late", false);
}

fn missing(browser: &Browser) {
    browser.expect("plyline gone: ");
    browser.allow("404"); // the engine's own word for it
    let body = "<ply-line id=\"gone\" src=\"/no-such-file.pgn\"><p>The lesson is about 1.e4.</p></ply-line>
                <ply-line id=\"good\"><pre>1. e4 e5 *</pre></ply-line>";
    browser.show(SCRIPT, body);
    let told = browser.js("return told.filter(({ id }) => id === 'gone').map(({ type, detail }) => [type, detail.reason])");
    assert_eq!(told, json!([["ply-failed", "source"]]));
    let sentence = browser.text("return [...line('gone').shadowRoot.children].filter(visible).map((part) => part.textContent).join('')");
    assert!(sentence.contains("no-such-file.pgn"), "{sentence}");
    assert_eq!(
        browser.js("return visible(line('gone').querySelector('p'))"),
        true,
        "its own content is there"
    );
    assert_eq!(
        browser.js("return [line('gone').current, line('gone').next(), line('gone').findings]"),
        json!([null, false, []])
    );
    assert_drawn(browser, "good", false);
}

fn latin_1(browser: &Browser) {
    browser.show(SCRIPT, "<ply-line src=\"/latin-1.pgn\"></ply-line>");
    assert!(
        browser
            .text("return line().shadowRoot.textContent")
            .contains("Caf\u{e9}")
    );
    let codes = browser.js("return codes(line())");
    assert_eq!(
        codes,
        json!(["P004"]),
        "the contract (section 4): Latin-1 with a finding"
    );
}

/// Letters that mean something to what carries data from the core to the script.
fn to_the_letter(browser: &Browser) {
    let said = "say \"so\" \\ {\u{1}\u{1f}\u{7f} é😀";
    browser.show(
        SCRIPT,
        "<ply-line id=\"both\"><pre>1. e4 *</pre></ply-line>",
    );
    browser.js_with(
        "told.splice(0); line('both').text = `[Event \"here\"]\\n[__proto__ \"none\"]\\n\\n1. e4 {${given}} *`",
        json!(said),
    );
    browser.until("told.length === 1");
    assert_eq!(
        browser.js(
            "const { lesson } = line('both');
             return [lesson.node(1).comment, Object.entries(lesson.tags), lesson.node(1).ask, lesson.node(1).nags]"
        ),
        json!([said, [["Event", "here"]], null, []])
    );
}

fn silent(browser: &Browser) {
    // What waits for an answer waits less here (a driver may wait by the same function), and the
    // server takes its own time.
    let script = "const { setTimeout: wait } = globalThis;
         globalThis.setTimeout = (call, after, ...given) => wait(call, after === 20_000 ? 60 : after, ...given);
         globalThis.fetch = () => new Promise((resolve) => { globalThis.answer = () => resolve(new Response('1. e4 e5 *')) });";
    let name = format!("{}-silent.js", browser.engine.name());
    browser.site.write(&name, script);
    browser.expect("plyline slow: ");
    let body =
        "<ply-line id=\"slow\" src=\"/slow.pgn\"><p>The lesson is about 1.e4.</p></ply-line>";
    browser.show(
        &format!("<script src=\"/{name}\"></script>\n{SCRIPT}"),
        body,
    );
    let said = "return [told.map(({ type, detail }) => [type, detail.reason]), inside('.failed').textContent, visible(line().querySelector('p'))]";
    assert_eq!(
        browser.js(said),
        json!([
            [["ply-failed", "source"]],
            "The moves could not be loaded: /slow.pgn (no answer yet)",
            true
        ])
    );
    browser.js("answer()");
    browser.until("line().current && inside('svg')");
    browser.click("return button('next')");
    assert_drawn(browser, "slow", false);
}

fn too_large(browser: &Browser) {
    browser.expect("plyline large:");
    let body = "<ply-line id=\"large\" src=\"/two-games.pgn#4294967297\"></ply-line>";
    browser.show(SCRIPT, body);
    assert_eq!(
        browser.js("return [line().current, line().findings[0].code]"),
        json!([null, "P043"])
    );
    let read =
        "const { lesson, findings } = await plyline.readLesson('1. e4 *', { game: 4294967297 });
         return [lesson, findings[0].code]";
    assert_eq!(browser.js(read), json!([null, "P043"]));
}

fn side(browser: &Browser) {
    let body =
        "<ply-line id=\"x\" side=\"white\"><pre>[Side \"black\"]\n\n1. e4 e5 *</pre></ply-line>";
    browser.show(SCRIPT, body);
    assert_drawn(browser, "x", false);
    browser.js("line().removeAttribute('side')");
    assert_drawn(browser, "x", true);
    browser.js("line().side = 'white'");
    assert_drawn(browser, "x", false);
    browser.js("line().side = 'blue'");
    assert_drawn(browser, "x", true);
}
