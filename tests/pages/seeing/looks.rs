//! Pictures to look at, in target/looks: `cargo test --test pages -- looks chromium`. No part of
//! the ordinary run, because they prove nothing until somebody has looked.

use crate::harness::Case::{self, InOne};
use crate::hosting::hosts::with_sheet;
use crate::support::browser::Browser;
use crate::support::browser::engine::Cap;
use std::fs;
use std::path::Path;

pub const CASES: &[Case] = &[
    InOne(
        "the demo's pages, wide and narrow, light, dark, hatched, on paper and in forced colours",
        pages,
    ),
    InOne("the pieces at 20, 40 and 90 pixels", pieces),
    InOne("the small board at a sentence, light and dark", small),
    InOne(
        "the long lesson's text at its places, light and dark",
        places,
    ),
];

const LONG: &str = "/the-pawn-that-is-not-free/";

fn save(browser: &Browser, name: &str) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/looks");
    fs::create_dir_all(&folder).expect("a folder of the project");
    fs::write(folder.join(name), browser.picture()).expect("a picture can be written");
}

fn pages(browser: &Browser) {
    browser.needs(Cap::Medium);
    let media = [
        ("light", "", "light", false),
        ("dark", "", "dark", false),
        ("hatched", "", "light", false),
        ("hatched-dark", "", "dark", false),
        ("print", "print", "light", false),
        ("forced", "", "light", true),
        ("forced-dark", "", "dark", true),
    ];
    for (name, medium, scheme, is_forced) in media {
        for width in [390, 1280] {
            browser.medium(medium, scheme, is_forced);
            browser.width(Some(width));
            browser.visit(LONG);
            if name.starts_with("hatched") {
                browser.js("line().style.setProperty('--ply-square', 'hatch')");
            }
            browser.js("line().go('4.Bg5'); line().back(); line().next(); inside(innerWidth < 700 ? '.margin' : '.lesson').scrollIntoView(); await pause(300)");
            if medium == "print" {
                browser.js("dispatchEvent(new Event('beforeprint'))");
                browser.whole_page(width);
            }
            save(browser, &format!("{name}-{width}.png"));
            if medium == "print" {
                continue;
            }
            // Check and an arrow.
            browser.js("line().go('7...Bb4+'); inside(innerWidth < 700 ? '.margin' : '.lesson').scrollIntoView(); await pause(300)");
            save(browser, &format!("{name}-{width}-check.png"));
        }
    }
    browser.medium("", "light", false);
    fs::write(
        Path::new(env!("CARGO_MANIFEST_DIR")).join("target/looks/print.pdf"),
        {
            browser.visit(LONG);
            browser.pdf()
        },
    )
    .expect("a file can be written");
    for (name, path) in [
        ("home", "/"),
        ("jump", "/the-jump-that-must-wait/"),
        ("quiet", "/ten-quiet-moves/"),
    ] {
        for width in [390, 1280] {
            browser.width(Some(width));
            browser.visit(path);
            save(browser, &format!("{name}-{width}.png"));
        }
    }
    signs(browser);
}

/// A choice, sidelines, a verdict, and the end of the text.
fn places(browser: &Browser) {
    for dark in [false, true] {
        for width in [390, 1280] {
            browser.dark(dark);
            browser.width(Some(width));
            browser.visit("/the-jump-that-must-wait/");
            for (name, at) in [
                ("choice", "4...exd5"),
                ("side", "14.Nxe4"),
                ("end", "16.d5"),
            ] {
                let script = format!(
                    "line().go('{at}'); move(line().current.node).scrollIntoView({{ block: 'center' }}); await pause(300)"
                );
                browser.js(&script);
                let scheme = if dark { "dark" } else { "light" };
                save(browser, &format!("text-{name}-{scheme}-{width}.png"));
            }
        }
    }
    browser.dark(false);
}

/// Every sign on one board.
fn signs(browser: &Browser) {
    let body = "<ply-line><pre>1. d4 d5 2. c4 {Marks @e4 @!c5 @?d5 and @b1-c3 @!g1-f3 @?d1-a4 and the way @f1-e2-f3 @!g8-f6-e4 @?c8-g4-h5} e6 3. Nc3 *</pre></ply-line>";
    for (name, css) in [
        (
            "light",
            "body { background: #fdfaf2; color: #2a2118; font-family: serif }",
        ),
        (
            "dark",
            "body { background: #17181b; color: #ddd; font-family: serif }",
        ),
        (
            "hatched",
            "body { background: #fff; color: #000; font-family: serif } ply-line { --ply-square: hatch }",
        ),
        (
            "hatched-dark",
            "body { background: #17181b; color: #ddd; font-family: serif } ply-line { --ply-square: hatch }",
        ),
    ] {
        browser.width(Some(900));
        browser.show(&with_sheet(browser, css), body);
        browser.js("line().go(3); inside('[data-square=b8]').focus(); await pause(300)");
        browser.press('\u{E007}');
        browser.js("await painted()");
        save(browser, &format!("signs-{name}.png"));
    }
}

/// All twelve pieces on squares of both kinds, on a board and on the same one turned.
fn pieces(browser: &Browser) {
    let board = |id: &str, fen: &str| {
        format!("<ply-line id=\"{id}\"><pre>[FEN \"{fen}\"]\n\n*</pre></ply-line>")
    };
    let body = [
        board("even", "8/kqrbnp2/8/8/8/KQRBNP2/8/8 w - - 0 1"),
        board("odd", "8/1kqrbnp1/8/8/8/1KQRBNP1/8/8 w - - 0 1"),
    ]
    .concat();
    for (name, css) in [
        ("light", "body { background: #fff; color: #111 }"),
        ("dark", "body { background: #17181b; color: #ddd }"),
    ] {
        for side in [20.0, 40.0, 90.0] {
            // Of the picture's 543 units 512 are squares.
            let board = side * 8.0 * 543.0 / 512.0;
            // Small boards are in narrow lessons, large ones in wide ones.
            let (width, css) = match side < 50.0 {
                true => (1000, format!("{css} ply-line {{ max-width: 700px }}")),
                false => (2000, css.to_owned()),
            };
            browser.width(Some(width));
            browser.show(&with_sheet(browser, &css), &body);
            let script = format!("['even', 'odd'].forEach((id) => (inside('.plate', id).style.inlineSize = '{board}px'));
                document.querySelector('h1').remove(); await painted()");
            browser.js(&script);
            save(browser, &format!("pieces-{name}-{side}.png"));
        }
    }
}

fn small(browser: &Browser) {
    for dark in [false, true] {
        for width in [390, 1280] {
            browser.dark(dark);
            browser.width(Some(width));
            let head = with_sheet(browser, ".gap { height: 3000px }");
            let head = format!("<link rel=\"stylesheet\" href=\"/site.css\">{head}");
            let words = "<p>After <ply-ref at=\"3.Nf3 Nf6\">both knights are out</ply-ref> White can choose between \
                a quiet game, in which the pawn on c4 stays where it is, and a sharp one.</p>";
            let body = format!(
                "{0}{0}{0}<div class=\"gap\"></div><ply-line id=\"lesson\"><pre>1. d4 d5 2. c4 e6 3. Nf3 Nf6 *</pre></ply-line>",
                words
            );
            browser.show(&head, &body);
            browser.js("await document.querySelector('ply-ref').ready");
            browser.click("return document.querySelector('ply-ref a')");
            browser.js("await pause(200)");
            save(
                browser,
                &format!("small-{}-{width}.png", if dark { "dark" } else { "light" }),
            );
        }
    }
}
