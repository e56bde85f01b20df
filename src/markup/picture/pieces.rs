//! The pieces: our own drawing, 64 units a square, straight plinths and mitred corners as if
//! cut in wood. One drawing serves both sides; the style sheet gives body and details their ink.

use crate::markup::{Element, el};
use shakmaty::Role;

/// How a stroke of a piece is painted.
#[derive(Clone, Copy)]
enum Ink {
    /// Filled with the side's own tone, outlined with the pen.
    Body,
    /// A line inside the body.
    Line,
    /// A spot inside the body.
    Detail,
}

type Stroke = (Ink, &'static str);

/// The plinth that all pieces but the pawn stand on.
const PLINTH: Stroke = (Ink::Body, "M12.5 57 16.5 49.5h31L51.5 57z");

const KING: &[Stroke] = &[
    PLINTH,
    (
        Ink::Body,
        "M19.5 49.5 14.5 28c4.5-6.3 10.5-9.3 17.5-9.3s13 3 17.5 9.3l-5 21.5z",
    ),
    (
        Ink::Body,
        "M29.2 18.9l.4-2.6h-4.8v-5.7h4.8l-.3-3.6h5.4l-.3 3.6h4.8v5.7h-4.8l.4 2.6z",
    ),
    (
        Ink::Line,
        "M19 42.5h26M32 24v13M24.5 26.5l3 10.5M39.5 26.5l-3 10.5",
    ),
];

const QUEEN: &[Stroke] = &[
    PLINTH,
    (
        Ink::Body,
        "M20.5 49.5 12.5 20l9.3 9.8 2.6-16.3L32 28.5l7.6-15 2.6 16.3L51.5 20l-8 29.5z",
    ),
    (
        Ink::Body,
        "M28.4 10.8a3.6 3.6 0 1 0 7.2 0a3.6 3.6 0 1 0 -7.2 0z",
    ),
    (Ink::Line, "M20 42.5h24"),
];

const ROOK: &[Stroke] = &[
    PLINTH,
    (Ink::Body, "M20.5 49.5 22.5 27h19l2 22.5z"),
    (
        Ink::Body,
        "M16.5 12.5h7.6v5.3h4.6v-5.3h6.6v5.3h4.6v-5.3h7.6v11L42.5 27h-21l-5-3.5z",
    ),
    (Ink::Line, "M32 33.5v8.5"),
];

const BISHOP: &[Stroke] = &[
    PLINTH,
    (
        Ink::Body,
        "M25 49.5c1.8-2.2 2.3-3.6 2.4-6h9.2c.1 2.4.6 3.8 2.4 6z",
    ),
    (
        Ink::Body,
        "M32 10.5c6.8 6.2 10.2 13.3 10.2 20.5 0 3-.8 5.8-2.2 8.5H24c-1.4-2.7-2.2-5.5-2.2-8.5 0-7.2 3.4-14.3 10.2-20.5z",
    ),
    (Ink::Body, "M20.5 43.5l2.2-4.2h18.6l2.2 4.2z"),
    (Ink::Line, "M26.8 27h10.4M32 20.5v13.5"),
    (Ink::Body, "M32 4.8l3 3.2-3 3.2-3-3.2z"),
];

const KNIGHT: &[Stroke] = &[
    PLINTH,
    (
        Ink::Body,
        "M19.5 49.5c-.2-7.6 4-11.3 10-16.8l-2.8-1.4-7.4 5.2-6.5-4.2 1.4-6.4 8.7-10.7L24 6.5l6.8 5.8c10.9 1.5 16.4 10.3 16.4 22.7 0 5.6-.9 10.3-2.2 14.5z",
    ),
    (
        Ink::Line,
        "M33.8 18.8l5.2 1.4M37.2 25l5.3 1.2M38.8 31.8l4.7.8",
    ),
    (Ink::Detail, "M23.2 20.8l4-1.6-1 3.6z"),
];

const PAWN: &[Stroke] = &[
    (Ink::Body, "M23 49.1 28.6 28.6h6.8l5.6 20.5z"),
    (
        Ink::Body,
        "M23.9 19.1a8.1 8.1 0 1 0 16.2 0a8.1 8.1 0 1 0 -16.2 0z",
    ),
    (Ink::Body, "M22.8 30.9 26.7 26.4h10.6l3.9 4.5z"),
    (Ink::Body, "M15 57l3.7-7.9h26.6L49 57z"),
];

/// The definition that [`reference`] names, for each kind of piece.
pub(crate) fn definitions() -> Element {
    // The hatching of old prints: lines 1.1 wide every 4.5 units, at 45 degrees.
    let hatch = el("pattern")
        .with("id", "hatch")
        .with("width", "4.5")
        .with("height", "4.5")
        .with("patternUnits", "userSpaceOnUse")
        .with("patternTransform", "rotate(45)")
        .child(el("path").with("class", "hatch").with("d", "M0 0v4.5"));
    el("defs")
        .child(hatch)
        .children(Role::ALL.into_iter().map(|role| {
            let strokes = match role {
                Role::Pawn => PAWN,
                Role::Knight => KNIGHT,
                Role::Bishop => BISHOP,
                Role::Rook => ROOK,
                Role::Queen => QUEEN,
                Role::King => KING,
            };
            let paths = strokes.iter().map(|(ink, path)| {
                let class = match ink {
                    Ink::Body => "b",
                    Ink::Line => "d",
                    Ink::Detail => "e",
                };
                el("path").with("class", class).with("d", *path)
            });
            el("g").with("id", &reference(role)[1..]).children(paths)
        }))
}

/// What a `use` element names to draw this kind of piece.
pub(crate) fn reference(role: Role) -> &'static str {
    match role {
        Role::Pawn => "#pawn",
        Role::Knight => "#knight",
        Role::Bishop => "#bishop",
        Role::Rook => "#rook",
        Role::Queen => "#queen",
        Role::King => "#king",
    }
}
