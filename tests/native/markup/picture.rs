//! The board as a picture file of its own, read by XML and SVG readers that are not ours.

use crate::support::lesson;
use plyline::markup::{PICTURE_SIDE, picture_file};
use plyline::view::{Diagram, Words, diagram};
use roxmltree::{Document, Node};
use shakmaty::{Color, Square};

const SVG: &str = "http://www.w3.org/2000/svg";

/// A lesson's last position, with check, and marks of every kind.
fn drawn(side: Color) -> Diagram {
    let lesson = lesson("1. e4 d5 2. Bb5+ {See @c6, @!b5-c6-e8 and @?a7-a6.} *");
    diagram(&Words::default(), &lesson, 3, side, None)
}

fn is_shape(node: &Node<'_, '_>) -> bool {
    ["path", "rect", "use"].contains(&node.tag_name().name())
}

#[test]
fn the_file_is_xml_that_another_reader_takes_and_its_title_is_the_description() {
    let told = drawn(Color::White);
    let file = picture_file(&told.board, &told.description);
    let read = Document::parse(&file).expect("XML");
    let root = read.root_element();
    assert_eq!(root.tag_name().namespace(), Some(SVG));
    assert_eq!(root.attribute("role"), Some("img"));
    let title = root.first_element_child().expect("a title");
    assert_eq!(title.tag_name().name(), "title");
    assert_eq!(title.text(), Some(told.description.as_str()));
    let side = PICTURE_SIDE.to_string();
    assert_eq!(root.attribute("width"), Some(side.as_str()));
    assert_eq!(root.attribute("height"), Some(side.as_str()));
}

#[test]
fn a_description_with_signs_that_xml_lacks_or_that_mean_something_there_stays_text() {
    let told = drawn(Color::White);
    let file = picture_file(&told.board, "a<b>&\"c'\u{0}\u{b}\u{ffff}]]>\u{1F600}");
    let read = Document::parse(&file).expect("XML");
    let title = read
        .root_element()
        .first_element_child()
        .and_then(|it| it.text());
    assert_eq!(title, Some("a<b>&\"c']]>\u{1F600}"));
}

#[test]
fn it_needs_nothing_else_no_style_sheet_no_script_no_font_no_other_file() {
    let told = drawn(Color::White);
    let file = picture_file(&told.board, &told.description);
    let read = Document::parse(&file).expect("XML");
    let mut shapes = 0;
    for node in read.descendants().filter(Node::is_element) {
        let name = node.tag_name().name();
        let known = ["svg", "title", "defs", "g", "path", "rect", "use"];
        assert!(known.contains(&name), "<{name}>");
        for attribute in node.attributes() {
            let (name, value) = (attribute.name(), attribute.value());
            assert!(
                !name.starts_with("on") && !["class", "style"].contains(&name),
                "{name}"
            );
            assert!(
                !value.contains("url(") && !value.contains("var("),
                "{value}"
            );
            if name == "href" {
                let target = value.strip_prefix('#').expect("a place in the file");
                let mut all = read.descendants();
                assert!(all.any(|it| it.attribute("id") == Some(target)), "{value}");
            }
        }
        if is_shape(&node) {
            shapes += 1;
            let is_inked = node.ancestors().any(|it| it.attribute("fill").is_some());
            assert!(is_inked || name == "use", "{node:?} would be black");
        }
    }
    assert!(shapes > 50, "{shapes}");
}

#[test]
fn each_piece_stands_on_its_square_from_either_side() {
    for side in [Color::White, Color::Black] {
        let told = drawn(side);
        let file = picture_file(&told.board, "");
        let read = Document::parse(&file).expect("XML");
        let uses = read
            .descendants()
            .filter(|it| it.has_tag_name((SVG, "use")));
        let mut found: Vec<(i32, i32, String)> = uses
            .map(|it| {
                let number = |name| it.attribute(name).and_then(|n| n.parse().ok());
                let href = it.attribute("href").unwrap_or_default().to_owned();
                (number("x").expect("x"), number("y").expect("y"), href)
            })
            .collect();
        let mut wanted: Vec<(i32, i32, String)> = told
            .board
            .pieces
            .iter()
            .map(|(square, piece)| {
                let (x, y) = place(*square, side);
                let color = if piece.color.is_white() { "w" } else { "s" };
                let kind = format!("{:?}", piece.role).to_lowercase();
                (x, y, format!("#{color}-{kind}"))
            })
            .collect();
        found.sort();
        wanted.sort();
        assert_eq!(found.len(), 32);
        assert_eq!(found, wanted);
    }
}

/// The corner of a square: 64 units each, a8 or h1 first.
fn place(square: Square, side: Color) -> (i32, i32) {
    let name = square.to_string();
    let file = i32::from(name.as_bytes()[0] - b'a');
    let rank = i32::from(name.as_bytes()[1] - b'1');
    match side {
        Color::White => (file * 64, (7 - rank) * 64),
        Color::Black => ((7 - file) * 64, rank * 64),
    }
}

#[test]
fn only_pieces_that_are_on_the_board_are_defined() {
    let lesson = lesson("[SetUp \"1\"]\n[FEN \"8/8/4k3/8/8/4K3/8/8 w - - 0 1\"]\n\n*");
    let told = diagram(&Words::default(), &lesson, 0, Color::White, None);
    let file = picture_file(&told.board, &told.description);
    let read = Document::parse(&file).expect("XML");
    let ids: Vec<&str> = read
        .descendants()
        .filter_map(|it| it.attribute("id"))
        .collect();
    assert_eq!(ids, ["w-king", "s-king"]);
}

#[test]
fn the_same_board_gives_the_same_bytes() {
    let told = [drawn(Color::White), drawn(Color::White)];
    let [one, other] = told.map(|it| picture_file(&it.board, &it.description));
    assert_eq!(one, other);
    assert!(one.len() < 12_000, "{} bytes", one.len());
}
