//! What a screen reader is given: roles and names as a browser computes them, kept as text in
//! tests/pages/hearing/spoken/ and to be read as one listens. `UPDATE_EXPECT=1` writes them again.

use crate::harness::Case::{self, Everywhere, InOne};
use crate::moving::hand::{hears, square};
use crate::support::browser::Browser;
use crate::support::browser::engine::Cap;
use crate::support::site::SCRIPT;
use serde_json::{Value, json};
use std::{env, fs};

pub const CASES: &[Case] = &[
    Everywhere(
        "spoken: the board, its grid and what stands around it",
        board,
    ),
    Everywhere(
        "spoken: the text with its moves, comments and variations",
        lines,
    ),
    Everywhere(
        "spoken: a branch point with a piece in hand and an answer",
        branch_point,
    ),
    Everywhere("spoken: a German page", german),
    InOne(
        "spoken: an element has one polite region, which is there from the first",
        one_region,
    ),
    InOne(
        "spoken: after each action the region says what has come of it",
        after_each,
    ),
    Everywhere(
        "spoken: of several quick steps the last alone is said",
        quick,
    ),
];

const LESSON: &str = "<ply-line><pre>{A small start, see @e4.} 1. e4 e5 (1... c5!? {The *Sicilian*: sharp.} 2. Nf3 (2. c3 {slow}) 2... d6 $10) \
                      2. Nf3! {attacks @!f3-e5 and [more](https://example.org/)} Nc6 3. Bb5 a6?! 4. O-O $14 Kd9 *</pre></ply-line>";

/// The accessibility tree of the lesson as lines: role, name, and other properties.
fn listened(browser: &Browser) -> String {
    let tree = browser.accessibility_tree();
    let nodes = tree["nodes"].as_array().cloned().unwrap_or_default();
    let find = |id: &Value| nodes.iter().find(|node| node["nodeId"] == *id);
    let mut text = String::new();
    let mut todo: Vec<(Value, usize)> = nodes
        .first()
        .map(|root| (root["nodeId"].clone(), 0))
        .into_iter()
        .collect();
    while let Some((id, depth)) = todo.pop() {
        let Some(node) = find(&id) else { continue };
        let role = node["role"]["value"].as_str().unwrap_or_default();
        let name = node["name"]["value"].as_str().unwrap_or_default();
        // What is not spoken: boxes, and the letters of each text again.
        let silent = node["ignored"] == true
            || matches!(
                role,
                "InlineTextBox" | "none" | "generic" | "RootWebArea" | "LineBreak"
            );
        let below = if silent { depth } else { depth + 1 };
        let is_space = role == "StaticText" && name.trim().is_empty();
        if !silent && !is_space {
            text.push_str(&"  ".repeat(depth));
            text.push_str(role);
            if !name.is_empty() {
                text.push_str(&format!(" \"{name}\""));
            }
            for property in node["properties"].as_array().into_iter().flatten() {
                let value = &property["value"]["value"];
                let said = property["name"].as_str().unwrap_or_default();
                let wanted = matches!(
                    said,
                    "expanded" | "selected" | "live" | "disabled" | "focused"
                );
                if wanted && (*value != false || said == "expanded") {
                    text.push_str(&format!(" {said}={value}"));
                }
            }
            text.push('\n');
        }
        // The name of a button holds its content.
        let whole = matches!(role, "button" | "link" | "gridcell" | "DisclosureTriangle");
        if !whole {
            let children = node["childIds"].as_array().into_iter().flatten();
            todo.extend(children.rev().map(|child| (child.clone(), below)));
        }
    }
    text
}

/// Compares the part of what is heard from a line that holds `from`, up to one that holds `to`,
/// with the fixture.
#[track_caller]
fn assert_heard(browser: &Browser, name: &str, from: &str, to: &str) {
    let whole = listened(browser);
    let start = whole
        .find(from)
        .unwrap_or_else(|| panic!("nothing says {from}:\n{whole}"));
    let start = whole[..start].rfind('\n').map_or(0, |at| at + 1);
    let end = whole[start..].find(to).map_or(whole.len(), |at| start + at);
    let end = whole[..end].rfind('\n').map_or(whole.len(), |at| at + 1);
    let heard = &whole[start..end];
    let path = format!(
        "{}/tests/pages/hearing/spoken/{name}.txt",
        env!("CARGO_MANIFEST_DIR")
    );
    if env::var_os("UPDATE_EXPECT").is_some() {
        fs::write(&path, heard).expect("the fixture can be written");
        return;
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    for (number, (kept, heard)) in kept.lines().zip(heard.lines()).enumerate() {
        assert_eq!(heard, kept, "{name}.txt, line {}", number + 1);
    }
    assert_eq!(
        heard.lines().count(),
        kept.lines().count(),
        "{name}.txt has other lines"
    );
}

fn board(browser: &Browser) {
    browser.needs(Cap::AccessibilityTree);
    browser.show(SCRIPT, LESSON);
    assert_heard(browser, "board", "grid \"Board\"", "\u{0}");
}

fn lines(browser: &Browser) {
    browser.needs(Cap::AccessibilityTree);
    browser.show(SCRIPT, LESSON);
    browser.js("line().go('line A')");
    assert_heard(browser, "lines", "A small start", "\u{0}");
    assert_heard(browser, "outline", "group \"Variations\"", "grid \"");
}

fn branch_point(browser: &Browser) {
    browser.needs(Cap::AccessibilityTree);
    browser.show(SCRIPT, LESSON);
    browser.js("line().go('1.e4'); openDesk()");
    square(browser, "e7");
    hears(browser, "e7, black pawn, in hand. It can go to e6 and e5.");
    assert_heard(browser, "branch-point", "row", "group \"Map");
}

fn german(browser: &Browser) {
    browser.needs(Cap::AccessibilityTree);
    let head = format!("<script defer src=\"/words/de.js\"></script>{SCRIPT}");
    browser.show(&head, &LESSON.replace("<ply-line", "<ply-line lang=\"de\""));
    browser.js("line().go('1.e4'); openDesk()");
    browser.until("inside('[role=status]').textContent.includes('Züge')");
    assert_heard(browser, "german", "group \"Varianten\"", "\u{0}");
}

fn one_region(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    let regions = "return all('[role=status], [role=alert], [role=log], [aria-live]').length";
    assert_eq!(browser.js(regions), 1);
    browser.js("window.region = inside('[role=status]')");
    browser.js("openDesk()");
    for step in [
        "button('next').click()",
        "button('turn').click()",
        "inside('[data-ask=describe]').click()",
        "button('next').click()",
        "inside('[data-fold]').click()",
        "button('map').click()",
        "line().play('a5')",
    ] {
        browser.js(step);
        assert_eq!(browser.js(regions), 1, "{step}");
        assert_eq!(
            browser.js("return region === inside('[role=status]') && region.isConnected"),
            true,
            "{step}"
        );
    }
}

fn after_each(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    assert_eq!(
        browser.text("return inside('[role=status]').textContent"),
        ""
    );
    for (step, words) in [
        (
            "button('next').click()",
            "White pawn from e2 to e4. 2 moves go on from here: 1...e5 and 1...c5.",
        ),
        (
            "all('.next button')[1].click()",
            "Black pawn from c7 to c5, worth a thought, with a comment. 2 moves go on from here: 2.Nf3 and 2.c3.",
        ),
        (
            "openDesk(); inside('[data-ask=comment]').click()",
            "The Sicilian: sharp.",
        ),
        (
            "inside('[data-ask=moves]').click()",
            "2.Nf3: White knight from g1 to f3. 2.c3: White pawn from c2 to c3.",
        ),
        (
            "inside('[data-ask=where]').click()",
            "On line A, after 1...c5, White to move.",
        ),
        (
            "button('back').click()",
            "White pawn from e2 to e4. 2 moves go on from here: 1...e5 and 1...c5.",
        ),
        ("button('top').click()", "The start of the lesson."),
        (
            "openDesk(); inside('[data-ask=comment]').click()",
            "A small start, see e4.",
        ),
        (
            "inside('[data-ask=last]').click()",
            "The start of the lesson.",
        ),
        (
            "line().go('4.O-O')",
            "White castles on the king\u{2019}s side, White stands a little better. The line ends here.",
        ),
        (
            "line().go('2...d6')",
            "Black pawn from d7 to d6, about level. The line ends here.",
        ),
        (
            "inside('[data-square=e4]').click()",
            "e4, white pawn, in hand. It can go to e5.",
        ),
        (
            "inside('[data-square=e5]').click()",
            "White pawn from e4 to e5. Not in the lesson.",
        ),
        (
            "button('home').click()",
            "Black pawn from d7 to d6, about level. The line ends here.",
        ),
    ] {
        browser.js(step);
        hears(browser, words);
    }
}

fn quick(browser: &Browser) {
    browser.show(SCRIPT, LESSON);
    browser.js(
        "window.texts = [];
         const region = inside('[role=status]');
         new MutationObserver(() => texts.push(region.textContent)).observe(region, { characterData: true, subtree: true, childList: true });
         for (let step = 0; step < 4; step += 1) line().next()",
    );
    let last = "Black knight from b8 to c6.";
    hears(browser, last);
    assert_eq!(browser.js("return texts"), json!([last]));
}
