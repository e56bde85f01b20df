//! Carrying a piece over the board. With a mouse a drag begins when the pointer leaves its
//! place; under a finger only after a short hold, so that the page scrolls otherwise.

use super::event::square_named;
use crate::markup;
use shakmaty::{Color, Square};
use wasm_bindgen::JsCast;
use web_sys::{Element, PointerEvent, ShadowRoot};

/// Pixels that a pointer moves before it is more than a click.
const START: f64 = 5.0;
/// Pixels that a finger may move while it holds.
const WANDER: f64 = 10.0;
/// Milliseconds that a finger holds before a drag begins.
const HOLD: f64 = 220.0;

/// A piece that is, or may soon be, carried. No node is kept: one that the core holds would keep its
/// element, and that the lesson, if the page lets go of it meanwhile.
pub struct Drag {
    from: Square,
    start: (f64, f64),
    since: f64,
    is_touch: bool,
    active: bool,
}

/// What a pointer's event means for the board.
pub enum Dragged {
    /// Nothing yet.
    Nothing,
    /// A piece was put from square to square.
    Put(Square, Square),
    /// It was put back, or off the board.
    Back,
}

impl Drag {
    /// Whether a piece is in the air, so that the page must not scroll.
    pub fn is_active(&self) -> bool {
        self.active
    }
}

/// Follows one event of a pointer; `side` is below.
pub fn follow(
    drag: &mut Option<Drag>,
    event: &PointerEvent,
    root: &ShadowRoot,
    side: Color,
) -> Dragged {
    match event.type_().as_str() {
        "pointerdown" => {
            *drag = begin(event, root, side);
            Dragged::Nothing
        }
        "pointermove" => {
            if carry(drag, event, root, side).is_none() {
                *drag = None;
            }
            Dragged::Nothing
        }
        _ => {
            let Some(ended) = drag.take().filter(|drag| drag.active) else {
                return Dragged::Nothing;
            };
            if let Some(piece) = piece_on(ended.from, root, side) {
                let _ = piece.remove_attribute("transform");
            }
            match under(event, root).filter(|_| event.type_() == "pointerup") {
                Some(to) if to != ended.from => Dragged::Put(ended.from, to),
                _ => Dragged::Back,
            }
        }
    }
}

fn point(event: &PointerEvent) -> (f64, f64) {
    (f64::from(event.client_x()), f64::from(event.client_y()))
}

fn begin(event: &PointerEvent, root: &ShadowRoot, side: Color) -> Option<Drag> {
    if event.button() != 0 || !event.is_primary() {
        return None;
    }
    let cell = event.target()?.dyn_into::<Element>().ok()?;
    let from = square_named(&cell.get_attribute("data-square")?)?;
    piece_on(from, root, side)?;
    Some(Drag {
        from,
        start: point(event),
        since: event.time_stamp(),
        is_touch: event.pointer_type() == "touch",
        active: false,
    })
}

/// The piece that is drawn on a square.
fn piece_on(square: Square, root: &ShadowRoot, side: Color) -> Option<Element> {
    let (x, y) = markup::corner(square, side);
    let piece = format!(".pieces > use[x=\"{x}\"][y=\"{y}\"]");
    root.query_selector(&piece).ok()?
}

/// Moves the piece with the pointer; `None` ends the drag before it began.
fn carry(
    drag: &mut Option<Drag>,
    event: &PointerEvent,
    root: &ShadowRoot,
    side: Color,
) -> Option<()> {
    let drag = drag.as_mut()?;
    let (x, y) = point(event);
    let (dx, dy) = (x - drag.start.0, y - drag.start.1);
    let far = dx.abs().max(dy.abs());
    if !drag.active {
        let held = event.time_stamp() - drag.since >= HOLD;
        match drag.is_touch {
            true if !held && far > WANDER => return None, // the page scrolls
            true if !held || far <= START => return Some(()),
            false if far <= START => return Some(()),
            _ => {}
        }
        drag.active = true;
        if let Some(cell) = event
            .target()
            .and_then(|target| target.dyn_into::<Element>().ok())
        {
            let _ = cell.set_pointer_capture(event.pointer_id());
        }
    }
    let board = root
        .query_selector(".board")
        .ok()??
        .get_bounding_client_rect();
    // The picture is 543 units wide; whole units need no float formatting.
    let units = 543.0 / board.width().max(1.0);
    let (x, y) = ((dx * units) as i32, (dy * units) as i32);
    let _ =
        piece_on(drag.from, root, side)?.set_attribute("transform", &format!("translate({x} {y})"));
    Some(())
}

/// The square under a pointer, which may be captured by another cell.
fn under(event: &PointerEvent, root: &ShadowRoot) -> Option<Square> {
    let (x, y) = point(event);
    let cells = root.query_selector_all("[data-square]").ok()?;
    (0..cells.length())
        .filter_map(|at| cells.item(at)?.dyn_into::<Element>().ok())
        .find_map(|cell| {
            let place = cell.get_bounding_client_rect();
            let inside = (place.left()..place.right()).contains(&x)
                && (place.top()..place.bottom()).contains(&y);
            inside
                .then(|| cell.get_attribute("data-square"))
                .flatten()
                .and_then(|name| square_named(&name))
        })
}
