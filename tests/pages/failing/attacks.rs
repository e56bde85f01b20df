//! Strings that have run scripts in other people's pages, put wherever notation, attributes and
//! readers' typing can bring them: nothing runs, whatever the page's policy is.

use crate::harness::Case::{self, Everywhere, InOne};
use crate::hosting::takeover::baked;
use crate::support::browser::Browser;
use crate::support::site::{SCRIPT, page};
use serde_json::{Value, json};

pub const CASES: &[Case] = &[
    InOne(
        "attacks in notation stay text, without a policy and under the strict one",
        notation,
    ),
    InOne(
        "attacks in attributes stay values, without a policy and under the strict one",
        attributes,
    ),
    Everywhere("attacks typed as moves are answered as words", typed),
    Everywhere("attacks in baked lessons stay text", in_baked),
    Everywhere(
        "links lead to http, https and places in the lesson only",
        links,
    ),
    Everywhere("attacks as sources run nothing", sources),
    InOne(
        "what is between the parts of a drawing's text in a comment is left out of it",
        between_parts,
    ),
    Everywhere(
        "elements that are named as the document's methods are stop no lesson",
        names,
    ),
];

/// Each sets `attacked` where it runs. The sources are named from memory.
const ATTACKS: &[&str] = &[
    // OWASP, "XSS Filter Evasion Cheat Sheet" (from memory).
    "<script>attacked=1</script>",
    "<SCRIPT SRC=/attacked.js></SCRIPT>",
    "<IMG SRC=\"javascript:attacked=1;\">",
    "<IMG SRC=JaVaScRiPt:attacked=1>",
    "<IMG SRC=`javascript:attacked=1`>",
    "<a onmouseover=\"attacked=1\">xxs link</a>",
    "<IMG \"\"\"><SCRIPT>attacked=1</SCRIPT>\"\\>",
    "<IMG SRC=# onmouseover=\"attacked=1\">",
    "<IMG SRC=/ onerror=\"attacked=1\"></img>",
    "<img src=x onerror=\"&#0000106&#0000097&#0000118&#0000097attacked=1\">",
    "<IMG SRC=&#106;&#97;&#118;&#97;&#115;&#99;&#114;&#105;&#112;&#116;&#58;attacked=1>",
    "<IMG SRC=\"jav\tascript:attacked=1;\">",
    "<IMG SRC=\"jav&#x0A;ascript:attacked=1;\">",
    "<IMG SRC=\" &#14; javascript:attacked=1;\">",
    "<SCRIPT/XSS>attacked=1</SCRIPT>",
    "<BODY onload!#$%&()*~+-_.,:;?@[/|\\]^`=attacked=1>",
    "<<SCRIPT>attacked=1;//\\<</SCRIPT>",
    "<SCRIPT>attacked=1//",
    "<iframe src=javascript:attacked=1 <",
    "<iframe srcdoc=\"<script>parent.attacked=1</script>\">",
    "\\\";attacked=1;//",
    "</script><script>attacked=1;</script>",
    "</TITLE><SCRIPT>attacked=1;</SCRIPT>",
    "<INPUT TYPE=\"IMAGE\" SRC=\"javascript:attacked=1;\" autofocus onfocus=attacked=1>",
    "<BODY BACKGROUND=\"javascript:attacked=1\">",
    "<svg/onload=attacked=1>",
    "<svg><script>attacked=1</script></svg>",
    "<svg><animate onbegin=attacked=1 attributeName=x dur=1s>",
    "<svg><a xlink:href=\"javascript:attacked=1\"><text x=9 y=9>x</text></a></svg>",
    "<LINK REL=\"stylesheet\" HREF=\"javascript:attacked=1;\">",
    "<STYLE>@import'/attacked.css';</STYLE>",
    "<DIV STYLE=\"background-image: url(javascript:attacked=1)\">",
    "<META HTTP-EQUIV=\"refresh\" CONTENT=\"0;url=javascript:attacked=1;\">",
    "<TABLE><TD BACKGROUND=\"javascript:attacked=1\">",
    "<BASE HREF=\"javascript:attacked=1;//\">",
    "<OBJECT TYPE=\"text/x-scriptlet\" DATA=\"javascript:attacked=1\"></OBJECT>",
    "<EMBED SRC=\"data:image/svg+xml;base64,PHN2Zz48c2NyaXB0PmF0dGFja2VkPTE8L3NjcmlwdD48L3N2Zz4=\">",
    "<video><source onerror=\"attacked=1\"></video>",
    "<details open ontoggle=attacked=1>",
    "<math><maction actiontype=\"statusline\" xlink:href=\"javascript:attacked=1\">x</maction></math>",
    "'\"><img src=x onerror=attacked=1>",
    "\" onmouseover=attacked=1 x=\"",
    "' autofocus onfocus=attacked=1 x='",
    "` onpointerover=attacked=1 `",
    "{{constructor.constructor('attacked=1')()}}",
    "${attacked=1}",
    // HTML standard, what its parser does with text that changes meaning where it is (from
    // memory): end tags, comments, templates, noscript, plaintext, foreign content.
    "</pre></ply-line><script>attacked=1</script>",
    "</template><img src=x onerror=attacked=1>",
    "</style><img src=x onerror=attacked=1>",
    "</textarea></title><img src=x onerror=attacked=1>",
    "<!--><img src=x onerror=attacked=1>-->",
    "--!><img src=x onerror=attacked=1>",
    "<![CDATA[><img src=x onerror=attacked=1>]]>",
    "<noscript><p title=\"</noscript><img src=x onerror=attacked=1>\">",
    "<math><mtext><table><mglyph><style><!--</style><img title=\"--&gt;&lt;img src=x onerror=attacked=1&gt;\">",
    "<svg></p><style><a id=\"</style><img src=x onerror=attacked=1>\">",
    "<plaintext><img src=x onerror=attacked=1>",
    "<select><template shadowrootmode=open><img src=x onerror=attacked=1></template></select>",
    "<form id=x><button form=x formaction=\"javascript:attacked=1\">",
    "<a id=attributes><a id=attributes name=innerHTML>",
    "&lt;img src=x onerror=attacked=1&gt;",
    "\u{202e}<img src=x onerror=attacked=1>\u{2066}",
    "\0<img src=x onerror=attacked=1>",
    "\u{feff}<img src=x onerror=attacked=1>",
    "+ADw-script+AD4-attacked=1+ADw-/script+AD4-",
    "%3Cimg%20src=x%20onerror=attacked=1%3E",
    "\u{ff1c}img src=x onerror=attacked=1\u{ff1e}",
];

/// Addresses that would do more than lead somewhere.
const ADDRESSES: &[&str] = &[
    "javascript:attacked=1",
    "JaVaScRiPt:attacked=1",
    " javascript:attacked=1",
    "java\tscript:attacked=1",
    "java\nscript:attacked=1",
    "\u{1}javascript:attacked=1",
    "javascript&colon;attacked=1",
    "&#106;avascript:attacked=1",
    "javascript://example.org/%0Aattacked=1",
    "http:javascript:attacked=1\" onclick=\"attacked=1",
    "data:text/html,<script>attacked=1</script>",
    "vbscript:attacked=1",
    "blob:https://example.org/x",
    "filesystem:https://example.org/x",
    "file:///etc/passwd",
    "view-source:https://example.org/",
    "//example.org/x",
    "/x",
    "ws://example.org/",
    "intent:#Intent;end",
    "#\" onclick=attacked=1 x=\"",
    "#javascript:attacked=1",
];

/// Waits for what a running script would do, and says what is wrong in the page.
const TROUBLE: &str = "for (const image of document.images) await image.decode().catch(() => null);
    await painted(); await pause(0);
    const wrong = [];
    if (globalThis.attacked !== undefined) wrong.push('something has run');
    const known = new Set('div nav ol ul li button span b p figure figcaption svg defs pattern path rect text g use circle input em strong i a bdi slot details summary'.split(' '));
    for (const element of document.querySelectorAll('ply-line')) {
      for (const part of element.shadowRoot?.querySelectorAll(\":not(link[href='/plyline.css'])\") ?? []) {
        if (!known.has(part.localName)) wrong.push(`an element ${part.localName}`);
        for (const { name, value } of part.attributes) {
          if (/^on|^style$|^srcdoc$|^formaction$|^ping$/i.test(name)) wrong.push(`an attribute ${name}`);
          if (/^(src|action|data|xlink:href)$/i.test(name) || (name === 'href' && !/^(https?:\\/\\/|#)/.test(value))) wrong.push(`${part.localName} ${name}=${value}`);
        }
      }
    }
    return [...new Set(wrong)]";

/// A folder without any policy, and the site under the strict one. Returns the page's path.
fn write(browser: &Browser, is_strict: bool, body: &str) -> String {
    if is_strict {
        return browser.write(SCRIPT, body);
    }
    let folder = format!("{}-open", browser.engine.name());
    let all = "default-src * data: blob: 'unsafe-inline' 'unsafe-eval'";
    browser.site.write(&format!("{folder}/policy.txt"), all);
    let head = format!("<script src=\"/record.js\"></script>\n{SCRIPT}");
    browser
        .site
        .write(&format!("{folder}/page.html"), page(&head, body));
    format!("/{folder}/page.html")
}

/// Opens an empty page and runs a script there for each attack, under both policies.
#[track_caller]
fn assert_harmless(browser: &Browser, attacks: &[&str], script: &str) {
    browser.allow("plyline"); // what holds no lesson says so
    browser.allow("404");
    for is_strict in [false, true] {
        browser.visit(&write(
            browser,
            is_strict,
            "<ply-line id=\"good\"><pre>1. e4 e5 *</pre></ply-line>",
        ));
        let made = browser.js_with(
            &format!(
                "const make = (attack, at) => {{ {script} }};
                 const main = document.querySelector('main');
                 const made = given.map((attack, at) => {{ const element = make(attack, at); element.id ||= `attack-${{at}}`; main.append(element); return element; }});
                 for (const element of made) await drawn(element);
                 return made.filter(({{ made, shadowRoot }}) => made > 0 || shadowRoot).length"
            ),
            json!(attacks),
        );
        assert_eq!(
            made,
            json!(attacks.len()),
            "all are drawn, or say that they cannot be"
        );
        assert_eq!(browser.js(TROUBLE), json!([]), "strict: {is_strict}");
        // The page itself is as it was.
        let page = browser.js("return [line('good').next(), document.querySelectorAll('main > :not(ply-line, h1)').length]");
        assert_eq!(page, json!([true, 0]));
    }
}

fn notation(browser: &Browser) {
    let script = r#"const element = document.createElement("ply-line");
        const tag = attack.replace(/["\\]/g, "\\$&");
        const comment = attack.replaceAll("}", "");
        element.setAttribute("data-plyline", "debug");
        element.text = `[Event "${tag}"]\n[White "${tag}"]\n[Letters "${tag}"]\n[${attack} "x"]\n\n` +
          `{${comment}} 1. d4 {${comment} @${attack} @d5-${attack} *${comment}* **${comment}** [${comment}](https://example.org/${comment}) [${comment}](#${comment}) [%cmd ${comment}]} ` +
          `d5 ${attack} (1... e5 {Choose: ${comment}} 2. ${attack}) (1... c5 {Ask: ${comment} Hint: ${comment} Because: ${comment}}) 2. c4 $9${attack} ; ${attack}\n e6 ${attack} *\n\n` +
          `[Event "${tag}"]\n\n1. e4 {${attack}} *`;
        return element;"#;
    assert_harmless(browser, ATTACKS, script);
    // The text is there to be read, and the first comment says what was written.
    let said = browser.js(
        "return all('.lines', 'attack-0')[0].textContent.includes('<script>attacked=1</script>')",
    );
    assert_eq!(said, true);
}

fn attributes(browser: &Browser) {
    let script = r#"const element = document.createElement("ply-line");
        for (const name of ["id", "at", "side", "class", "title", "data-plyline-baked"]) element.setAttribute(name, attack);
        element.lang = attack;
        element.text = "1. d4 d5 (1... e5) 2. c4 *";
        queueMicrotask(() => { element.at = attack; element.side = attack; element.go(attack); element.play(attack); element.next(attack); });
        return element;"#;
    assert_harmless(browser, ATTACKS, script);
}

fn sources(browser: &Browser) {
    browser.allow("Content Security Policy");
    browser.allow("Content-Security-Policy");
    browser.allow("Fetch API cannot load");
    browser.allow("Cross-Origin");
    browser.allow("Not allowed to load");
    browser.allow("Security Error");
    browser.allow("ERR_");
    browser.allow("example.org");
    let script = "const element = document.createElement('ply-line'); element.setAttribute('src', attack); return element;";
    let mine: Vec<&str> = ADDRESSES
        .iter()
        .filter(|address| !address.contains("example.org"))
        .chain(ATTACKS)
        .copied()
        .collect();
    assert_harmless(browser, &mine, script);
}

fn links(browser: &Browser) {
    let script = r#"const element = document.createElement("ply-line");
        element.text = `1. d4 {[words](${attack}) [words]( ${attack} ) ${attack} <${attack}> [words][1] [1]: ${attack}} d5 *`;
        return element;"#;
    assert_harmless(browser, ADDRESSES, script);
    // A click on what is left of them goes nowhere.
    browser.js("for (const element of document.querySelectorAll('ply-line')) element.shadowRoot.querySelectorAll('.to').forEach((link) => link.click())");
    assert_eq!(browser.js(TROUBLE), json!([]));
}

fn typed(browser: &Browser) {
    for is_strict in [false, true] {
        browser.visit(&write(
            browser,
            is_strict,
            "<ply-line id=\"good\"><pre>1. e4 e5 *</pre></ply-line>",
        ));
        let answers = browser.js_with(
            "openDesk();
             const field = inside('.typed');
             const answers = [];
             for (const attack of given) {
               field.value = attack;
               button('enter').click();
               answers.push(inside('[role=status]').textContent.length > 0);
             }
             return answers.every(Boolean)",
            json!(ATTACKS),
        );
        assert_eq!(answers, Value::Bool(true));
        assert_eq!(browser.js(TROUBLE), json!([]), "strict: {is_strict}");
    }
    // And as a reader types: by keys.
    browser.js("inside('.typed').value = ''; inside('.typed').focus()");
    browser.type_text("<img src=x onerror=attacked=1>");
    browser.press('\u{E007}');
    assert_eq!(browser.js(TROUBLE), json!([]));
    assert_eq!(
        browser.js("return inside('[role=status]').childElementCount"),
        json!(0)
    );
}

fn in_baked(browser: &Browser) {
    browser.allow("plyline");
    let lessons: String = ATTACKS
        .iter()
        .enumerate()
        .map(|(at, attack)| {
            let comment = attack.replace('}', "");
            let text = format!("1. d4 {{{comment} *{comment}* [{comment}](https://example.org/{comment})}} d5 ({attack} 1... e5 {{{comment}}}) 2. {attack} *");
            baked(&text, &text).replacen("id=\"lesson\"", &format!("id=\"baked-{at}\""), 1)
        })
        .collect();
    for is_strict in [false, true] {
        let path = write(
            browser,
            is_strict,
            &format!("<link rel=\"stylesheet\" href=\"/plyline.css\">{lessons}"),
        );
        browser.open(&path);
        browser.until("customElements.get('ply-line') && [...document.querySelectorAll('ply-line')].every(({ current }) => current)");
        assert_eq!(
            browser.js("return document.querySelectorAll('ply-line').length"),
            json!(ATTACKS.len())
        );
        assert_eq!(
            browser
                .js("return document.querySelectorAll('main > :not(ply-line, h1, link)').length"),
            0,
            "nothing has left its lesson"
        );
        // As they are in the page, and taken over by the script.
        assert_eq!(browser.js(TROUBLE), json!([]), "strict: {is_strict}");
        browser.js("await settled()");
        assert_eq!(browser.js(TROUBLE), json!([]), "strict: {is_strict}");
    }
}

/// `src/web/morph.rs` writes new nodes as parts, each with a NUL after it.
fn between_parts(browser: &Browser) {
    browser.show(SCRIPT, "<ply-line><pre>1. d4 *</pre></ply-line>");
    let found = browser.js(
        "const parts = ['<img', 'src=x', 'onerror=attacked=1', '', '', '\"after', '', '', ''];
         line().text = `1. e4 {Before ${parts.join('\\0')} it.} e5 *`;
         for (let turn = 0; turn < 60 && !inside('.lines').textContent.includes('Before'); turn += 1) await painted();
         const text = inside('.lines').textContent;
         return [all('img').length, typeof attacked, text.includes('Before <imgsrc=xonerror=attacked=1') && text.includes('it.'), text.includes('\\0')]",
    );
    assert_eq!(found, json!([0, "undefined", true, false]));
}

fn names(browser: &Browser) {
    // All but what this test asks by itself.
    let named = [
        "addEventListener",
        "baseURI",
        "createElement",
        "createElementNS",
        "createTextNode",
        "documentElement",
        "querySelector",
        "querySelectorAll",
        "readyState",
    ];
    let images: String = named
        .map(|name| format!("<img name=\"{name}\" alt=\"\">\n"))
        .concat();
    let body = "<ply-line id=\"one\"><pre>1. e4 e5 (1... c5 {sound}) 2. Nf3 *</pre></ply-line>
                <pre><code class=\"language-pgn\">[Id \"two\"]\n\n1. d4 d5 *</code></pre>
                <ply-quiz id=\"quiz\" for=\"one\">What now?</ply-quiz>
                <ply-diagram id=\"still\" for=\"one\" at=\"1.e4\"></ply-diagram>
                <ply-prose id=\"prose\" for=\"one\"><p>After 1.e4 e5 comes 2.Nf3.</p></ply-prose>";
    let path = browser.write(SCRIPT, &format!("{images}{body}"));
    browser.open(&path);
    browser.until("line('prose').ready");
    let shown = browser.js(
        "const ids = ['one', 'two', 'quiz', 'still', 'prose'];
         for (const id of ids) await line(id).ready;
         for (const id of ids.slice(0, 3)) await drawn(line(id));
         for (let turn = 0; turn < 60 && !inside('svg', 'still'); turn += 1) await painted();
         line('one').next();
         return [line('one').current.san, coordinates('one')[0], line('two').current.node, line('quiz').state,
           Boolean(inside('svg', 'still')), line('prose').getElementsByTagName('ply-ref').length,
           told.filter(({ type }) => type === 'ply-failed').length]",
    );
    assert_eq!(shown, json!(["e4", "abcdefgh", 0, "open", true, 3, 0]));
}
