//! Moves named in an article: found, linked, and nothing else of the page changed.

use crate::harness::Case::{self, Everywhere, InOne};
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    Everywhere(
        "moves named in an article are linked in the order in which it names them",
        linked,
    ),
    InOne(
        "a move is found where other elements divide its sentence, and linked where it stands in one",
        divided,
    ),
    Everywhere(
        "an article without what was put into it is byte for byte what it was",
        unchanged,
    ),
    InOne(
        "nothing is read inside links, code, controls, drawings, what is switched off or ours",
        left_alone,
    ),
    InOne("blocks end paragraphs, and line breaks do not", blocks),
    InOne(
        "a move that the lesson does not hold is linked as an aside",
        asides,
    ),
    InOne(
        "what cannot be played stays text, and a finding says why",
        findings,
    ),
    InOne(
        "with `debug` what was found in an article is shown with its lesson",
        debug,
    ),
    Everywhere(
        "an article waits for a lesson that comes late, and says where there is none",
        late,
    ),
    InOne(
        "`[Prose \"yes\"]` reads the article around its lesson, and puts nothing round it",
        tagged,
    ),
    InOne("two articles keep what they name apart", two),
    InOne("an article is read with the letters of its lesson", letters),
    Everywhere(
        "a link of an article moves the lesson and is written into the address",
        followed,
    ),
    Everywhere(
        "moves are kept from left to right in a right-to-left article",
        right_to_left,
    ),
];

const LESSON: &str = "<ply-line id=\"qg\"><pre>1. d4 d5 2. c4 e6 (2... c6 3. Nf3 Nf6) 3. Nc3 Nf6 4. cxd5 (4. Bg5 Be7 5. e3 O-O) exd5 5. Bg5 c6 *</pre></ply-line>";

/// Waits until the articles are read.
const READ: &str =
    "for (const element of document.querySelectorAll('ply-prose')) await element.ready;";
/// What was linked: the words and where they lead.
const LINKS: &str = "return [...document.querySelectorAll('ply-ref')].map((ref) => `${ref.textContent} ${ref.firstElementChild.getAttribute('href')}`)";

#[track_caller]
fn show(browser: &Browser, body: &str) {
    browser.show(SCRIPT, body);
    browser.js(READ);
}

#[track_caller]
fn assert_links(browser: &Browser, links: &[&str]) {
    assert_eq!(browser.js(LINKS), json!(links));
}

/// An article of these blocks.
fn article(blocks: &str) -> String {
    format!("{LESSON}<ply-prose id=\"a\" for=\"qg\">{blocks}</ply-prose>")
}

fn linked(browser: &Browser) {
    show(
        browser,
        &article(
            "<h2>The exchange: 4.cxd5</h2><p>After 4.cxd5 exd5 the bishop comes out, 5.Bg5,\nand on c5 stands nothing.</p><ul><li>The older 4.Bg5 Be7\n5.e3 O-O</li></ul>",
        ),
    );
    assert_links(
        browser,
        &[
            "4.cxd5 #qg/4.cxd5",
            "4.cxd5 #qg/4.cxd5",
            "exd5 #qg/4...exd5",
            "5.Bg5 #qg/5.Bg5",
            "4.Bg5 #qg/4.Bg5",
            "Be7 #qg/4...Be7",
            "5.e3 #qg/5.e3",
            "O-O #qg/5...O-O",
        ],
    );
    assert_eq!(
        browser.js("return document.querySelector('p ply-ref').outerHTML"),
        "<ply-ref for=\"qg\" at=\"4.cxd5\"><a href=\"#qg/4.cxd5\"><bdi dir=\"ltr\">4.cxd5</bdi></a></ply-ref>"
    );
    assert_eq!(browser.js("return line('a').findings"), json!([]));
}

fn divided(browser: &Browser) {
    show(
        browser,
        &article(
            "<p>After <em>4.cxd5</em> <b><i>exd5</i></b>, not <code>x</code> 5.Bg5. Then 4<b>.Bg5</b> and <span>Be7</span> \u{1d11e} 5.e3.</p>",
        ),
    );
    // 4.Bg5 is in two elements: it is known, and no link could hold it.
    assert_links(
        browser,
        &[
            "4.cxd5 #qg/4.cxd5",
            "exd5 #qg/4...exd5",
            "5.Bg5 #qg/5.Bg5",
            "Be7 #qg/4...Be7",
            "5.e3 #qg/5.e3",
        ],
    );
}

fn unchanged(browser: &Browser) {
    let blocks = "<!-- a note --><p class=\"x\">Take 4.cxd5, <em>4...exd5</em> 5.Bg5 c6.</p>\n<table><tr><td>4.Bg5</td><td>Be7</td></tr></table>tail 2.c4";
    let state = "const root = document.querySelector('ply-prose').cloneNode(true);
        for (const ref of root.querySelectorAll('ply-ref')) ref.replaceWith(...ref.querySelector('bdi').childNodes);
        root.normalize();
        const range = document.createRange();
        range.selectNodeContents(document.querySelector('ply-prose'));
        getSelection().removeAllRanges();
        getSelection().addRange(range);
        return [root.innerHTML, String(getSelection()), document.querySelector('ply-prose').textContent, document.querySelectorAll('ply-ref').length]";
    let path = browser.write("", &article(blocks));
    browser.open(&path);
    let before = browser.js(state);
    show(browser, &article(blocks));
    let after = browser.js(state);
    for at in 0..3 {
        assert_eq!(before[at], after[at]);
    }
    assert_eq!((&before[3], &after[3]), (&json!(0), &json!(7)));
    // The author's own text nodes are still in the page, split and moved.
    let empty = browser.js(
        "const walker = document.createTreeWalker(line('a'), NodeFilter.SHOW_TEXT);
         let empty = 0;
         while (walker.nextNode()) empty += walker.currentNode.length === 0;
         return empty",
    );
    assert_eq!(empty, 0);
}

fn left_alone(browser: &Browser) {
    let closed = [
        "<a href=\"#x\">4.cxd5</a>",
        "<button>4.cxd5</button>",
        "<code>4.cxd5</code>",
        "<pre>4.cxd5</pre>",
        "<kbd>4.cxd5</kbd>",
        "<samp>4.cxd5</samp>",
        "<textarea aria-label=\"a\">4.cxd5</textarea>",
        "<select aria-label=\"a\"><option>4.cxd5</option></select>",
        "<script type=\"text/plain\">4.cxd5</script>",
        "<svg><text y=\"10\">4.cxd5</text></svg>",
        "<math><mtext>4.cxd5</mtext></math>",
        "<p contenteditable>4.cxd5</p>",
        "<div data-plyline=\"off\"><p>4.cxd5</p></div>",
        "<ply-ref for=\"qg\" at=\"4.Bg5\"><b>4.cxd5</b></ply-ref>",
        "<ply-diagram for=\"qg\" at=\"4.Bg5\">4.cxd5</ply-diagram>",
    ];
    let blocks: String = closed
        .iter()
        .map(|part| format!("<div>{part}</div>"))
        .collect();
    show(
        browser,
        &article(&format!("<p>After 2.c4 comes</p>{blocks}<p>and 3.Nc3.</p>")),
    );
    let made = browser.js("return [...document.querySelectorAll('ply-ref bdi')].map(({ textContent }) => textContent)");
    assert_eq!(made, json!(["2.c4", "3.Nc3"]));
}

fn blocks(browser: &Browser) {
    // In a run a square is a move, and a run ends with its paragraph.
    show(
        browser,
        &article(
            "<p>After 2.c4</p><p>e6 is none.</p><div>See 2.c4 <div></div>e6 neither</div><p>But 2.c4<br>e6 is one.</p><ul><li>On 2.c4 <ul><li>here</li></ul>e6 no.</li></ul>",
        ),
    );
    assert_links(
        browser,
        &[
            "2.c4 #qg/2.c4",
            "2.c4 #qg/2.c4",
            "2.c4 #qg/2.c4",
            "e6 #qg/2...e6",
            "2.c4 #qg/2.c4",
        ],
    );
}

fn asides(browser: &Browser) {
    show(
        browser,
        &article("<p>After 3.Nc3 the quiet 3...Be7 is as good.</p>"),
    );
    assert_links(browser, &["3.Nc3 #qg/3.Nc3", "3...Be7 #qg/3.Nc3_Be7"]);
    browser.click("return document.querySelector('[at=\"3.Nc3_Be7\"] a')");
    assert_eq!(
        browser.js("return line('qg').current.aside"),
        json!(["Be7"])
    );
}

fn findings(browser: &Browser) {
    show(
        browser,
        &article("<p>\u{1d11e} After 3.Nc3 not 3...Nd6, which is far.</p><p>And 4.Qh8?</p>"),
    );
    let found = browser.js(
        "return line('a').findings.map(({ code, severity, message, from, to, help }) => [code, severity, message, from, to, Boolean(help)])",
    );
    assert_eq!(
        found[0],
        json!([
            "P012",
            "error",
            "\u{201c}3...Nd6\u{201d}: no black knight can reach d6",
            23,
            26,
            true
        ])
    );
    assert_eq!(found.as_array().map(Vec::len), Some(2));
    assert_links(browser, &["3.Nc3 #qg/3.Nc3"]);
}

fn debug(browser: &Browser) {
    let body = format!(
        "<div data-plyline=\"debug\">{}</div>",
        article("<p>After 3.Nc3 not 3...Nd6.</p>")
    );
    show(browser, &body);
    let shown = browser.js(
        "await pause(50); return all('.notes li', 'qg').map(({ textContent }) => textContent).filter((text) => text.includes('3...Nd6')).length",
    );
    assert_eq!(shown, 1);
}

fn late(browser: &Browser) {
    browser.show(
        SCRIPT,
        "<ply-prose id=\"a\" for=\"qg\"><p>After 4.cxd5.</p></ply-prose><ply-prose id=\"b\" for=\"none\"><p>After 4.cxd5.</p></ply-prose>",
    );
    browser.js("await pause(100);
         const lesson = document.createElement('ply-line');
         lesson.id = 'qg';
         lesson.text = '1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. cxd5 *';
         document.querySelector('main').append(lesson);
         await line('a').ready");
    assert_links(browser, &["4.cxd5 #qg/4.cxd5"]);
    let found = browser.js(
        "await line('b').ready;
         return [line('a').findings, line('b').findings.map(({ code }) => code), told.map(({ type }) => type)]",
    );
    assert_eq!(found, json!([[], ["P064"], ["ply-ready"]]));
    // A lesson that is read again: the article is not read twice.
    browser.js("line('qg').text = '1. d4 d5 2. c4 e6 3. Nc3 Nf6 4. cxd5 *'; await pause(200)");
    assert_links(browser, &["4.cxd5 #qg/4.cxd5"]);
}

fn tagged(browser: &Browser) {
    let lesson = LESSON.replace("<pre>", "<pre>[Prose \"yes\"]\n\n");
    browser.show(
        SCRIPT,
        &format!(
            "<p>Before 4.cxd5.</p><article id=\"art\"><p>After 4.cxd5 not 4...Nd2.</p>{lesson}<p>And 5.Bg5</p></article>"
        ),
    );
    browser.until("document.querySelectorAll('ply-ref').length === 2");
    assert_links(browser, &["4.cxd5 #qg/4.cxd5", "5.Bg5 #qg/5.Bg5"]);
    browser.until("line('qg').findings.at(-1)?.message.includes('4...Nd2')");
    assert_eq!(
        browser.js("return [line('art').parentElement.localName, line('art').children.length, line('qg').findings.filter(({ severity }) => severity === 'error').length]"),
        json!(["main", 3, 1])
    );
    // Without an article, main.
    browser.show(SCRIPT, &format!("<p>After 4.cxd5.</p><div>{lesson}</div>"));
    browser.until("document.querySelectorAll('main > p > ply-ref').length === 1");
}

fn two(browser: &Browser) {
    let other = "<ply-line id=\"other\"><pre>1. e4 e5 2. Nf3 Nc6 3. Bb5 *</pre></ply-line>";
    show(
        browser,
        &format!(
            "{LESSON}{other}<ply-prose for=\"qg\"><p>After 2.c4 e6 play <ply-prose for=\"other\">2.Nf3 Nc6</ply-prose> 3.Nc3.</p></ply-prose><ply-prose for=\"qg\"><p>Nf6 alone is nothing.</p></ply-prose>"
        ),
    );
    assert_links(
        browser,
        &[
            "2.c4 #qg/2.c4",
            "e6 #qg/2...e6",
            "2.Nf3 #other/2.Nf3",
            "Nc6 #other/2...Nc6",
            "3.Nc3 #qg/3.Nc3",
        ],
    );
}

fn letters(browser: &Browser) {
    let body = article("<p>Nach 3.Sc3 Sf6 und 3.Nc3.</p>")
        .replace("id=\"qg\"", "id=\"qg\" letters=\"de\"");
    show(browser, &body);
    assert_links(
        browser,
        &["3.Sc3 #qg/3.Nc3", "Sf6 #qg/3.Nc3_Nf6", "3.Nc3 #qg/3.Nc3"],
    );
}

fn followed(browser: &Browser) {
    show(browser, &article("<p>After 4.cxd5 exd5 White pins.</p>"));
    browser.click("return document.querySelectorAll('ply-ref a')[1]");
    assert_eq!(
        browser.js("return [line('qg').current.san, location.hash, document.activeElement.textContent, told.at(-1).detail.by]"),
        json!(["exd5", "#qg/4...exd5", "exd5", "reader"])
    );
    assert_eq!(
        browser.js("return document.querySelectorAll('ply-ref')[1].findings"),
        Value::Array(vec![])
    );
}

fn right_to_left(browser: &Browser) {
    show(
        browser,
        &article("<p dir=\"rtl\">\u{5d0}\u{5d7}\u{5e8}\u{5d9} 4.cxd5 exd5 \u{5d1}\u{5d0}</p>"),
    );
    let order = browser.js(
        "return [...document.querySelectorAll('ply-ref bdi')].map((part) => {
           const range = document.createRange();
           const left = (at) => { range.setStart(part.firstChild, at); range.setEnd(part.firstChild, at + 1); return range.getBoundingClientRect().left };
           return left(0) < left(part.textContent.length - 1);
         })",
    );
    assert_eq!(order, json!([true, true]));
}
