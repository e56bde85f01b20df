//! What a board's picture must show for a position.

use crate::support::browser::Browser;
use serde_json::json;

/// A square's side in the picture.
const SIDE: usize = 64;

/// The pieces of a FEN as `picture` in tests/support/browser/prelude.js writes them. White pieces have
/// the class `w`, black ones `s`.
pub fn picture(fen: &str, black_below: bool) -> Vec<String> {
    let placement = fen.split(' ').next().unwrap_or_default();
    let mut pieces = Vec::new();
    for (row, rank) in placement.split('/').enumerate() {
        let mut file = 0;
        for sign in rank.chars() {
            if let Some(empty) = sign.to_digit(10) {
                file += empty as usize;
                continue;
            }
            let kind = match sign.to_ascii_lowercase() {
                'p' => "pawn",
                'n' => "knight",
                'b' => "bishop",
                'r' => "rook",
                'q' => "queen",
                'k' => "king",
                other => panic!("{other} is no piece"),
            };
            let class = if sign.is_ascii_uppercase() { "w" } else { "s" };
            let (x, y) = if black_below {
                (7 - file, 7 - row)
            } else {
                (file, row)
            };
            pieces.push(format!("#{kind} {class} {} {}", x * SIDE, y * SIDE));
            file += 1;
        }
    }
    pieces.sort();
    pieces
}

/// The lesson of this id is at the position, and its board shows it.
#[track_caller]
pub fn assert_shows(browser: &Browser, id: &str, fen: &str, black_below: bool) {
    let shown = browser.js_with(
        "return { fen: line(given).current.fen, picture: picture(given), coordinates: coordinates(given) }",
        json!(id),
    );
    assert_eq!(shown["fen"], fen);
    assert_eq!(
        shown["picture"],
        json!(picture(fen, black_below)),
        "the picture of {fen}"
    );
    let signs = if black_below {
        ["hgfedcba", "12345678"]
    } else {
        ["abcdefgh", "87654321"]
    };
    assert_eq!(shown["coordinates"], json!(signs));
}

/// The same for wherever the lesson is.
#[track_caller]
pub fn assert_drawn(browser: &Browser, id: &str, black_below: bool) {
    let fen = browser.js_with("return line(given).current.fen", json!(id));
    assert_shows(
        browser,
        id,
        fen.as_str().expect("a lesson that is drawn"),
        black_below,
    );
}
