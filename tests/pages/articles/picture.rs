//! A board's picture as a file of its own, beside the diagram of the page.

use crate::harness::Case::{self, InOne};
use crate::support::browser::Browser;
use crate::support::site::SCRIPT;
use plyline::notation::comment::mark::{Mark, MarkKind};
use plyline::text::{Findings, Source};
use plyline::view::{Words, placed_diagram};
use shakmaty::{Color, Square};
use std::collections::BTreeSet;

pub const CASES: &[Case] = &[InOne(
    "a board's picture file has the colours of a diagram on a page in black and white",
    colours,
)];

/// Every colour of the diagram on white paper, as `#rrggbb`.
const COLOURS: &str = "
    const pen = Object.assign(document.createElement('canvas'), { width: 1, height: 1 }).getContext('2d', { willReadFrequently: true });
    const found = new Set();
    const add = (colour) => {
      if (colour === 'none') return;
      for (const ink of ['#fff', colour]) {
        pen.fillStyle = ink;
        pen.fillRect(0, 0, 1, 1);
      }
      const shown = [...pen.getImageData(0, 0, 1, 1).data].slice(0, 3);
      found.add('#' + shown.map((part) => part.toString(16).padStart(2, '0')).join(''));
    };
    const board = document.querySelector('ply-diagram').shadowRoot.querySelector('svg.board');
    for (const each of board.querySelectorAll(':scope > *, g:not(.pieces) path')) {
      const style = getComputedStyle(each);
      const shapes = ['path', 'rect', 'text'];
      if (!shapes.includes(each.localName) || style.display === 'none' || each.closest('defs')) continue;
      add(style.fill);
      add(style.stroke);
    }
    for (const piece of board.querySelectorAll('use')) {
      for (const name of ['--body', '--detail']) {
        piece.style.fill = `var(${name})`;
        add(getComputedStyle(piece).fill);
      }
    }
    return [...found].sort();";

fn colours(browser: &Browser) {
    browser.show(
        SCRIPT,
        "<ply-diagram fen=\"4k3/8/8/3q4/8/8/4Q3/4K3\" marks=\"c5 !e4 ?b4-b5\"></ply-diagram>",
    );
    browser.until("document.querySelector('ply-diagram').shadowRoot?.querySelector('svg.board')");
    let shown: BTreeSet<String> = serde_json::from_value(browser.js(COLOURS)).expect("colours");

    let source = Source::new("a", "4k3/8/8/3q4/8/8/4Q3/4K3");
    let (placement, _) = plyline::lesson::diagram::read(&source, &mut Findings::default());
    let mark = |kind, squares: &[Square]| Mark {
        kind,
        squares: squares.to_vec(),
    };
    let marks = vec![
        mark(MarkKind::Plain, &[Square::C5]),
        mark(MarkKind::Strong, &[Square::E4]),
        mark(MarkKind::Weak, &[Square::B4, Square::B5]),
    ];
    let placement = placement.expect("a placement");
    let told = placed_diagram(&Words::default(), &placement, Color::White, marks);
    let file = plyline::markup::picture_file(&told.board, "");
    let whole = |colour: &str| match colour.len() {
        4 => colour[1..]
            .chars()
            .fold("#".to_owned(), |so_far, it| format!("{so_far}{it}{it}")),
        _ => colour.to_owned(),
    };
    let inks = file.split('"').filter(|value| value.starts_with('#'));
    let inks = inks.filter(|value| value[1..].chars().all(|sign| sign.is_ascii_hexdigit()));
    assert_eq!(shown, inks.map(whole).collect());
}
