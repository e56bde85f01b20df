//! A board as an SVG file of its own: what `board` draws, with its colours written out, for where no
//! style sheet comes along (feeds, mail, other pages), and without text, so that no font is needed.

use super::board::board;
use super::pieces;
use crate::markup::html::of_xml;
use crate::markup::{Element, Markup, el, html};
use crate::view::Board;

/// Units of the picture's side, and pixels where nothing gives it another size.
pub const PICTURE_SIDE: i32 = 560;
/// The left and the top edge. The board begins at 0 and has 512 units; the rest is for coordinates.
const EDGE: (i32, i32) = (-36, -12);

// The colours of www/css/host.css where the page's ink is black and its paper is white.
const PAPER: &str = "#fff";
const PEN: &str = "#000";
/// Black at 0.23 over the paper.
const DARK: &str = "#c4c4c4";
/// Black at 0.74 over the paper.
const QUIET: &str = "#424242";
/// `oklch(0.985 0 0)`
const IVORY: &str = "#fafafa";
/// `oklch(0.4 0.12 15)`
const SIGN: &str = "#7b2432";

/// Attributes, and what they are.
type Inks = &'static [(&'static str, &'static str)];

/// What each class of the board's picture looks like, as `www/css/board.css` says.
const CLASSES: &[(&str, Inks)] = &[
    ("board", &[]),
    ("light", &[("fill", PAPER)]),
    ("dark", &[("fill", DARK)]),
    (
        "frame",
        &[("fill", "none"), ("stroke", PEN), ("stroke-width", "2")],
    ),
    ("names", &[("fill", "none"), ("stroke", QUIET)]),
    (
        "last",
        &[("fill", "none"), ("stroke", PEN), ("stroke-width", "4.4")],
    ),
    (
        "check",
        &[("fill", "none"), ("stroke", SIGN), ("stroke-width", "2.6")],
    ),
    (
        "held",
        &[("fill", "none"), ("stroke", SIGN), ("stroke-width", "3.4")],
    ),
    (
        "reach",
        &[("fill", "none"), ("stroke", SIGN), ("stroke-width", "2.6")],
    ),
    ("marks", &[]),
    (
        "ring",
        &[("fill", "none"), ("stroke", SIGN), ("stroke-width", "4.2")],
    ),
    (
        "shaft",
        &[("fill", "none"), ("stroke", SIGN), ("stroke-width", "3.4")],
    ),
    ("weak", &[("stroke-dasharray", "9 6")]),
    ("arrow", &[("fill", SIGN)]),
    ("pieces", &[]),
];

/// Classes of white and of black pieces, with the ink of their body and of its details.
const SIDES: [(&str, &str, &str); 2] = [("w", IVORY, PEN), ("s", PEN, IVORY)];

/// Classes that such paper does not show: the edge of signs is for dark pages, the hatching for
/// pages that ask for it.
const UNSEEN: &[&str] = &["edge", "hatched"];

/// A whole SVG file of a still board. Its title is the description; its ground is paper, so that it
/// can be read on dark pages too. It is a square of [`PICTURE_SIDE`], and the same board and
/// description give the same bytes.
pub fn picture_file(drawn: &Board, description: &str) -> String {
    let (x, y) = EDGE;
    let side = PICTURE_SIDE.to_string();
    let inside = board(drawn, None);
    let ground = el("rect")
        .with("x", x.to_string())
        .with("y", y.to_string())
        .with("width", side.clone())
        .with("height", side.clone())
        .with("fill", PAPER);
    let picture = el("svg")
        .with("xmlns", "http://www.w3.org/2000/svg")
        .with("viewBox", format!("{x} {y} {side} {side}"))
        .with("width", side.clone())
        .with("height", side)
        .with("role", "img")
        .child(el("title").text(&of_xml(description)))
        .child(definitions(&inside))
        .child(ground)
        .children(elements(&inside).filter_map(inked));
    html(&[picture])
}

fn elements(within: &Element) -> impl Iterator<Item = &Element> {
    within.children.iter().filter_map(|child| match child {
        Markup::Element(element) => Some(element),
        Markup::Text(_) => None,
    })
}

fn attribute<'e>(element: &'e Element, name: &str) -> Option<&'e str> {
    let mut list = element.attributes.iter();
    let (_, value) = list.find(|(known, _)| *known == name)?;
    Some(value)
}

/// The same element with its colours instead of its classes; none if there is nothing to see. Calls
/// itself as deep as the picture of a board is.
fn inked(element: &Element) -> Option<Element> {
    let classes = || attribute(element, "class").unwrap_or_default().split(' ');
    let is_empty = attribute(element, "d").is_some_and(str::is_empty);
    if is_empty || element.tag == "defs" || classes().any(|class| UNSEEN.contains(&class)) {
        return None;
    }
    let mut same = el(match element.tag {
        "text" => "g",
        tag => tag,
    });
    for (name, value) in &element.attributes {
        match (*name, element.tag) {
            ("class" | "aria-hidden", _) => {}
            ("href", _) => same = same.with("href", reference(element)),
            ("x" | "y", "text") => {}
            _ => same = same.with(name, value.clone()),
        }
    }
    for (_, inks) in classes().filter_map(|class| CLASSES.iter().find(|row| row.0 == class)) {
        for (name, value) in *inks {
            same = same.with(name, *value);
        }
    }
    match element.tag {
        "text" => Some(coordinates(element, same)),
        "g" => {
            let mut children = elements(element).filter_map(inked).peekable();
            children.peek()?;
            Some(same.children(children))
        }
        _ => Some(same),
    }
}

/// What the `use` of a piece names here: each side has a drawing of its own.
fn reference(piece: &Element) -> String {
    let side = attribute(piece, "class").unwrap_or_default();
    let kind = attribute(piece, "href").unwrap_or_default();
    format!("#{side}-{}", kind.trim_start_matches('#'))
}

/// The drawings of the pieces that are on the board, in the ink of their side.
fn definitions(board: &Element) -> Element {
    let mut used = Vec::new();
    let groups = elements(board).filter(|group| group.tag == "g");
    for piece in groups.flat_map(elements).filter(|piece| piece.tag == "use") {
        let name = reference(piece);
        if !used.contains(&name) {
            used.push(name);
        }
    }
    let all = pieces::definitions();
    let mut list = Vec::new();
    for (side, body, detail) in SIDES {
        for drawing in elements(&all).filter(|drawing| drawing.tag == "g") {
            let name = format!("#{side}-{}", attribute(drawing, "id").unwrap_or_default());
            if used.contains(&name) {
                let strokes = elements(drawing).map(|path| stroke(path, body, detail));
                list.push(el("g").with("id", name[1..].to_owned()).children(strokes)); // after "#"
            }
        }
    }
    el("defs").children(list)
}

/// A stroke of a piece, whose class says which of both inks it has.
fn stroke(path: &Element, body: &'static str, detail: &'static str) -> Element {
    let same = el("path").with("d", attribute(path, "d").unwrap_or_default().to_owned());
    match attribute(path, "class") {
        Some("d") => same
            .with("fill", "none")
            .with("stroke", detail)
            .with("stroke-width", "1.9"),
        Some("e") => same.with("fill", detail),
        _ => same
            .with("fill", body)
            .with("stroke", PEN)
            .with("stroke-width", "2.6"),
    }
}

/// Letters and numbers as strokes: the text says which, its attributes where.
fn coordinates(text: &Element, group: Element) -> Element {
    let places = |name| attribute(text, name).unwrap_or_default().split(' ');
    let signs = text.children.iter().filter_map(|child| match child {
        Markup::Text(signs) => Some(signs.as_str()),
        Markup::Element(_) => None,
    });
    let places = places("x").zip(places("y"));
    let paths = signs
        .flat_map(str::chars)
        .zip(places)
        .map(|(sign, (x, y))| {
            el("path")
                .with("transform", format!("translate({x} {y})skewX(-10)"))
                .with("d", strokes(sign))
        });
    group
        .with("stroke-width", "2")
        .with("stroke-linecap", "round")
        .with("stroke-linejoin", "round")
        .children(paths)
}

/// A coordinate in one stroke of the pen: its foot is at 0,0, a small letter 11 units high, a number 16.
fn strokes(sign: char) -> &'static str {
    match sign {
        'a' => "M4.5-11V0M4.5-5.5a4.5 5.5 0 1 1-9 0a4.5 5.5 0 1 1 9 0z",
        'b' => "M-4.5-17V0M-4.5-5.5a4.5 5.5 0 1 1 9 0a4.5 5.5 0 1 1-9 0z",
        'c' => "M4-9.5c-1-1-2.2-1.5-3.5-1.5c-2.8 0-5 2.4-5 5.5s2.2 5.5 5 5.5c1.3 0 2.5-.5 3.5-1.5",
        'd' => "M4.5-17V0M4.5-5.5a4.5 5.5 0 1 1-9 0a4.5 5.5 0 1 1 9 0z",
        'e' => {
            "M-4.5-5.8H4.5c0-3-1.8-5.2-4.5-5.2s-4.5 2.4-4.5 5.5s2 5.5 4.7 5.5c1.6 0 2.9-.6 3.9-1.6"
        }
        'f' => "M4.5-16.4c-.8-.4-1.5-.6-2.3-.6c-2 0-3.2 1.2-3.2 3.4V0M-4-10.6H3.5",
        'g' => {
            "M4.5-11V.4c0 2.9-1.8 4.4-4.4 4.4c-1.4 0-2.6-.4-3.6-1M4.5-5.5a4.5 5.5 0 1 1-9 0a4.5 5.5 0 1 1 9 0z"
        }
        'h' => "M-4-17V0M-4-6.5c0-2.8 1.7-4.5 4.2-4.5s3.8 1.6 3.8 4.3V0",
        '1' => "M-3.4-12.6L1-16V0",
        '2' => "M-4.3-12c.2-2.5 1.9-4 4.3-4s4.3 1.6 4.3 4c0 1.7-.8 2.9-2.4 4.6L-4.5 0H4.7",
        '3' => {
            "M-4.2-13.4c.8-1.7 2.2-2.6 4-2.6c2.4 0 4 1.4 4 3.7s-1.6 3.8-4 3.8h-1.2h1c2.7 0 4.7 1.6 4.7 4.2s-1.9 4.3-4.6 4.3c-2.2 0-3.8-1-4.6-3"
        }
        '4' => "M2.2 0V-16L-5-4.6H5.2",
        '5' => {
            "M3.8-16H-3.2l-.7 7c1-.8 2.2-1.2 3.5-1.2c2.8 0 4.7 2 4.7 5s-2 5.2-4.9 5.2c-2 0-3.5-.9-4.4-2.5"
        }
        '6' => "M-4.6-5a4.6 5 0 1 1 9.2 0a4.6 5 0 1 1-9.2 0zM-4.6-5c0-5 2-9 6.4-11",
        '7' => "M-4.5-16H4.6L-1.2 0",
        _ => {
            "M-3.8-12.2a3.8 3.8 0 1 1 7.6 0a3.8 3.8 0 1 1-7.6 0zM-4.6-4.2a4.6 4.2 0 1 1 9.2 0a4.6 4.2 0 1 1-9.2 0z"
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notation::comment::mark::{Mark, MarkKind};
    use crate::view::Board;
    use shakmaty::{Color, Square};
    use std::collections::BTreeMap;

    /// A board on which all is drawn that a board can have.
    fn full() -> Board {
        let mark = |kind, squares: &[Square]| Mark {
            kind,
            squares: squares.to_vec(),
        };
        let kinds = [MarkKind::Plain, MarkKind::Strong, MarkKind::Weak];
        let rings = kinds.map(|kind| mark(kind, &[Square::C5]));
        let arrows = kinds.map(|kind| mark(kind, &[Square::B4, Square::B5, Square::F8]));
        Board {
            last: Some((Square::E2, Square::E4)),
            check: Some(Square::E8),
            held: Some(Square::G1),
            reach: vec![Square::F3],
            marks: rings.into_iter().chain(arrows).collect(),
            pieces: vec![(Square::E8, Color::Black.king())],
            side: Color::White,
        }
    }

    fn classes(within: &Element, into: &mut Vec<String>) {
        let list = attribute(within, "class").unwrap_or_default();
        into.extend(list.split_whitespace().map(str::to_owned));
        for inner in elements(within).filter(|inner| inner.tag != "defs") {
            classes(inner, into);
        }
    }

    #[test]
    fn every_class_of_the_boards_picture_has_its_look_here() {
        let mut used = Vec::new();
        classes(&board(&full(), None), &mut used);
        assert!(used.len() > 20);
        for class in used {
            let is_known = CLASSES.iter().any(|row| row.0 == class)
                || UNSEEN.contains(&&*class)
                || SIDES.iter().any(|row| row.0 == class);
            assert!(is_known, "{class}");
        }
    }

    #[test]
    fn each_class_looks_as_the_style_sheet_has_it_on_white_paper() {
        let sheet = include_str!("../../../www/css/board.css");
        let mut told: BTreeMap<&str, BTreeMap<&str, &str>> = BTreeMap::new();
        for rule in sheet.split('}') {
            let rule = rule.rsplit("*/\n").next().unwrap_or_default();
            let Some((selectors, declared)) = rule.split_once('{') else {
                continue;
            };
            for class in selectors
                .split(',')
                .filter_map(|it| it.trim().strip_prefix('.'))
            {
                for (name, value) in declared.split(';').filter_map(|it| it.split_once(':')) {
                    let value = match value.trim() {
                        "currentColor" | "var(--pen)" => PEN,
                        "var(--light)" => PAPER,
                        "var(--dark)" => DARK,
                        "var(--quiet)" => QUIET,
                        "var(--sign)" => SIGN,
                        other => other,
                    };
                    let name = name.trim();
                    if ["fill", "stroke", "stroke-width", "stroke-dasharray"].contains(&name) {
                        told.entry(class).or_default().insert(name, value);
                    }
                }
            }
        }
        assert!(told.len() > 10);
        for (class, inks) in CLASSES.iter().filter(|row| row.0 != "names") {
            let here: BTreeMap<_, _> = inks.iter().copied().collect();
            assert_eq!(
                here,
                told.get(class).cloned().unwrap_or_default(),
                "{class}"
            );
        }
    }
}
