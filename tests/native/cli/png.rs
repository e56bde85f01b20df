//! Pictures as PNG: their size, and what is at a place, read by a decoder that is not ours.

use crate::support::lesson;
use plyline::cli::{og_image, png};
use plyline::markup::picture_file;
use plyline::view::{Words, diagram};
use resvg::tiny_skia::Pixmap;
use shakmaty::Color;

/// White pieces stand on e4 and e1, black ones on e8 and d5.
fn picture(side: Color) -> String {
    let lesson = lesson("[SetUp \"1\"]\n[FEN \"4r1k1/8/8/3q4/4R3/8/8/4Q1K1 w - - 0 1\"]\n\n*");
    let told = diagram(&Words::default(), &lesson, 0, side, None);
    picture_file(&told.board, &told.description)
}

/// Red, green and blue at a place, in units of the picture: the board begins at 36,12.
fn at(pixels: &Pixmap, scale: f32, (left, top): (f32, f32), (x, y): (i32, i32)) -> [u8; 3] {
    let place = |at: i32, edge: f32| (at as f32 * scale + edge) as u32;
    let pixel = pixels.pixel(place(x + 36, left), place(y + 12, top));
    let color = pixel.expect("within the picture").demultiply();
    assert_eq!(color.alpha(), 255);
    [color.red(), color.green(), color.blue()]
}

const LIGHT: [u8; 3] = [255; 3];
const DARK: [u8; 3] = [0xc4; 3];
const BLACK: [u8; 3] = [0; 3];
const WHITE: [u8; 3] = [0xfa; 3];

/// The corner of a square is at 64 units a file and rank; the middle of a rook's foot is 54 below.
fn looks_right(pixels: &Pixmap, scale: f32, edge: (f32, f32)) {
    let look = |file: i32, rank: i32, (x, y): (i32, i32)| {
        at(pixels, scale, edge, (file * 64 + x, (8 - rank) * 64 + y))
    };
    let corner = (4, 4);
    assert_eq!(look(0, 1, corner), DARK, "a1");
    assert_eq!(look(7, 1, corner), LIGHT, "h1");
    assert_eq!(look(0, 8, corner), LIGHT, "a8");
    assert_eq!(look(4, 4, corner), LIGHT, "e4");
    assert_eq!(look(3, 4, corner), DARK, "d4");
    let body = (32, 37);
    assert_eq!(look(3, 5, body), BLACK, "the queen on d5");
    assert_eq!(look(4, 1, body), WHITE, "the queen on e1");
    assert_eq!(look(4, 3, body), DARK, "nothing on e3");
    let rim = (13, 56);
    assert_eq!(look(4, 4, (32, 53)), WHITE, "the rook on e4");
    assert!(look(4, 4, rim)[0] < 120, "its line");
    assert_eq!(look(4, 8, (32, 53)), BLACK, "the rook on e8");
}

#[test]
fn a_png_has_the_width_asked_for_and_shows_the_squares_and_the_pieces() {
    for width in [280, 560, 1120] {
        let file = png(&picture(Color::White), width).expect("a PNG");
        let pixels = Pixmap::decode_png(&file).expect("a PNG");
        assert_eq!((pixels.width(), pixels.height()), (width, width));
        if width >= 560 {
            looks_right(&pixels, width as f32 / 560.0, (0.0, 0.0));
        }
    }
}

#[test]
fn a_preview_has_1200_by_630_pixels_with_the_board_in_the_middle() {
    let file = og_image(&picture(Color::White)).expect("a PNG");
    let pixels = Pixmap::decode_png(&file).expect("a PNG");
    assert_eq!((pixels.width(), pixels.height()), (1200, 630));
    looks_right(&pixels, 630.0 / 560.0, (285.0, 0.0));
    for place in [(0, 0), (1199, 0), (0, 629), (1199, 629), (250, 300)] {
        let color = pixels.pixel(place.0, place.1).expect("within").demultiply();
        assert_eq!([color.red(), color.green(), color.blue()], LIGHT);
    }
}

#[test]
fn the_board_turns_and_coordinates_are_drawn_without_a_font() {
    let pixels = [Color::White, Color::Black].map(|side| {
        let file = png(&picture(side), 560).expect("a PNG");
        Pixmap::decode_png(&file).expect("a PNG")
    });
    let inked = |pixels: &Pixmap, x: u32, y: u32, w: u32, h: u32| {
        let all = (x..x + w).flat_map(|x| (y..y + h).map(move |y| (x, y)));
        let dark = all.filter(|&(x, y)| pixels.pixel(x, y).is_some_and(|it| it.red() < 120));
        dark.collect::<Vec<_>>()
    };
    for (at, one) in pixels.iter().enumerate() {
        for index in 0..8 {
            assert!(
                inked(one, 0, 12 + index * 64, 34, 64).len() > 15,
                "a number, {at}"
            );
            assert!(
                inked(one, 36 + index * 64, 527, 64, 33).len() > 15,
                "a letter, {at}"
            );
        }
        assert!(inked(one, 0, 559, 560, 1).is_empty(), "cut off below");
        assert!(inked(one, 0, 0, 1, 560).is_empty(), "cut off to the left");
    }
    // a to h from White's side is h to a from Black's.
    let letter = |pixels: &Pixmap, index: u32| {
        let list = inked(pixels, 36 + index * 64, 527, 64, 33);
        list.iter()
            .map(|(x, y)| (x - index * 64, *y))
            .collect::<Vec<_>>()
    };
    let [white, black] = &pixels;
    for index in 0..8 {
        assert_eq!(letter(white, index), letter(black, 7 - index));
        assert_ne!(letter(white, index), letter(black, index));
    }
}

#[test]
fn what_cannot_be_drawn_is_said() {
    let svg = picture(Color::White);
    for width in [0, 10_001, u32::MAX] {
        let said = png(&svg, width).expect_err("no such width");
        assert!(said.contains(&width.to_string()), "{said}");
    }
    for broken in ["", "<svg", "<p>x</p>", &svg[..svg.len() / 2]] {
        let said = png(broken, 100).expect_err("no picture");
        assert!(said.starts_with("no picture to draw"), "{said}");
        assert_eq!(og_image(broken).expect_err("no picture"), said);
    }
}
