//! The wasm build in a browser: the same numbers as native, and one element tree that is the
//! same page as text and as nodes. Run by tests/run.sh in Chromium and in Firefox.
#![cfg(target_family = "wasm")]

#[path = "native/spec/mod.rs"]
mod spec;
mod support;

use plyline::lesson::rules::count_paths;
use plyline::markup::{self, Element};
use plyline::nodes::morph;
use plyline::text::{Findings, Source};
use plyline::view::{self, State, Words};
use shakmaty::{CastlingMode, Chess};
use support::lesson;
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

const TEXT: &str = "{Look at *this* & <b>that</b>, \"please\".} 1. d4 d5 (1... Nf6 {quick} 2. c4 \
                    (2. Nf3 $14) 2... e6) 2. c4! e6 (2... dxc4 {@c4 and @!e2-e4\n\nChoose: for \
                    [more](https://example.org/?a=1&b=2)}) 3. Nc3 Nf9 4. Bg5 1-0";

fn tree(node: u32) -> Vec<Element> {
    let lesson = lesson(TEXT);
    let state = State::new(&lesson, node, shakmaty::Color::White);
    let source = Source::new("t", TEXT);
    markup::lesson(&view::page(
        &Words::default(),
        &lesson,
        &state,
        &Findings::default(),
        &source,
        &[],
    ))
}

fn document() -> web_sys::Document {
    let global = js_sys::global();
    let document = js_sys::Reflect::get(&global, &"document".into()).expect("a page");
    wasm_bindgen::JsCast::unchecked_into(document)
}

/// Two empty elements of the page.
fn places() -> (web_sys::Element, web_sys::Element) {
    let document = document();
    let make = || document.create_element("div").expect("an element");
    (make(), make())
}

#[wasm_bindgen_test]
fn nodes_and_text_are_the_same_page() {
    for node in 0..8 {
        let (made, parsed) = places();
        morph(&made, &tree(node));
        parsed.set_inner_html(&markup::html(&tree(node)));
        assert!(made.child_element_count() > 0);
        assert!(
            made.is_equal_node(Some(&parsed)),
            "at node {node}:\n{}\n{}",
            made.inner_html(),
            parsed.inner_html()
        );
    }
}

#[wasm_bindgen_test]
fn a_page_that_was_written_as_text_is_taken_over_without_a_new_node() {
    let (parsed, _) = places();
    parsed.set_inner_html(&markup::html(&tree(3)));
    assert_eq!(morph(&parsed, &tree(3)), 0);
}

#[wasm_bindgen_test]
fn any_page_becomes_any_other() {
    for from in 0..8 {
        for to in 0..8 {
            let (changed, fresh) = places();
            morph(&changed, &tree(from));
            morph(&changed, &tree(to));
            morph(&fresh, &tree(to));
            assert!(
                changed.is_equal_node(Some(&fresh)),
                "from node {from} to node {to}"
            );
        }
    }
}

#[wasm_bindgen_test]
fn the_move_generator_counts_what_is_published_in_wasm_too() {
    // Numbers widely published in the chess programming literature, as in outside.rs: this
    // build has other attack tables than the native one.
    for (depth, count) in [(1, 20), (2, 400), (3, 8_902), (4, 197_281)] {
        assert_eq!(count_paths(&Chess::default(), depth), count);
    }
    let busy = "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq -";
    let fen: shakmaty::fen::Fen = busy.parse().expect("a FEN without clocks");
    let busy: Chess = fen
        .into_position(CastlingMode::Standard)
        .expect("a position");
    for (depth, count) in [(1, 48), (2, 2_039), (3, 97_862)] {
        assert_eq!(count_paths(&busy, depth), count);
    }
}
